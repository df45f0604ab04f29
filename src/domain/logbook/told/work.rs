//! Work in lines: hard sets by muscle and week, then the weeks themselves.

use super::{Reading, cell, wrapped};
use crate::domain::exercise::Muscle;
use crate::domain::logbook::said::{grouped, minutes, sets, volume};
use crate::domain::logbook::week::{Week, WeekDigest};
use std::collections::BTreeMap;

/// Weekly hard sets of a muscle: at least ten (Schoenfeld et al. 2017; ACSM 2026 as told in news),
/// no more than twenty (Baz-Valle et al. 2022: 12 to 20 in trained young men).
pub const RANGE: (f64, f64) = (10.0, 20.0);
/// Cells of a muscle's name, of a week, of the mean with its mark.
const NAME: usize = 16;
const WEEK: usize = 5;
const MEAN: usize = 13;

/// Muscles of which weekly sets were counted in the studies, or that are commonly trained alone.
const TOLD: [Muscle; 13] = [
    Muscle::Chest,
    Muscle::FrontDeltoid,
    Muscle::SideDeltoid,
    Muscle::RearDeltoid,
    Muscle::Triceps,
    Muscle::Biceps,
    Muscle::Lats,
    Muscle::UpperBack,
    Muscle::Abdominals,
    Muscle::Glutes,
    Muscle::Quadriceps,
    Muscle::Hamstrings,
    Muscle::Calves,
];

/// The weeks of the days, at most so many.
pub fn weeks(reading: &Reading<'_>, most: u64) -> Vec<WeekDigest> {
    let last = Week::of(reading.days.1.min(reading.today));
    let first = reading.logbook.first_week().unwrap_or(last);
    let first = first.max(Week::of(reading.days.0)).max(last.back(most - 1));
    reading
        .logbook
        .weeks((first, last), reading.catalogue, reading.today)
}

/// The mean of weekly hard sets by muscle over the weeks that are over.
pub fn means(weeks: &[WeekDigest]) -> BTreeMap<Muscle, f64> {
    let over: Vec<&WeekDigest> = weeks.iter().filter(|week| week.over).collect();
    let mut means = BTreeMap::new();
    for (muscle, sets) in over.iter().flat_map(|week| &week.hard) {
        *means.entry(*muscle).or_insert(0.0) += sets / over.len() as f64;
    }
    means
}

/// The view.
pub fn lines(reading: &Reading<'_>) -> Vec<String> {
    let room = reading.width.saturating_sub(NAME + MEAN) / WEEK;
    let weeks = weeks(reading, u64::try_from(room.clamp(1, 12)).unwrap_or(1));
    if weeks.iter().all(|week| week.sessions == 0) {
        return vec!["No session in these weeks.".to_owned()];
    }
    let mut lines = muscles(&weeks);
    let (least, most) = RANGE;
    let text = format!(
        "Range {least} to {most} a week: Schoenfeld et al. 2017 and Baz-Valle et al. 2022, of \
         muscles trained to grow. Half a set where a muscle assists. The mean is of whole weeks."
    );
    lines.extend(wrapped(&text, reading.width));
    lines.push(String::new());
    lines.extend(by_week(&weeks, reading));
    lines
}

fn muscles(weeks: &[WeekDigest]) -> Vec<String> {
    let heads: String = weeks
        .iter()
        .map(|week| format!("{:>WEEK$}", week.week.to_string().split_off(5)))
        .collect();
    let mut lines = vec![format!("{}{heads}   mean", cell("hard sets", NAME))];
    let means = means(weeks);
    let others = weeks.iter().flat_map(|week| week.hard.keys().copied());
    let mut told: Vec<Muscle> = TOLD.to_vec();
    for muscle in others {
        if !told.contains(&muscle) {
            told.push(muscle);
        }
    }
    for muscle in told {
        let of = |week: &WeekDigest| {
            let hard = week.hard.get(&muscle).copied().unwrap_or(0.0);
            let hard = if hard > 0.0 {
                sets(hard)
            } else {
                "·".to_owned()
            };
            format!("{hard:>WEEK$}")
        };
        let cells: String = weeks.iter().map(of).collect();
        let mean = weeks.iter().any(|week| week.over).then(|| {
            let mean = means.get(&muscle).copied().unwrap_or(0.0);
            format!("{:>7} {}", sets(mean), mark(muscle, mean))
        });
        let line = format!(
            "{}{cells}{}",
            cell(&muscle.to_string(), NAME),
            mean.unwrap_or_default()
        );
        lines.push(line.trim_end().to_owned());
    }
    lines
}

/// Where a mean lies against the range; only of the muscles that it is told of.
fn mark(muscle: Muscle, mean: f64) -> &'static str {
    match mean {
        _ if !TOLD.contains(&muscle) => "",
        mean if mean < RANGE.0 => "below",
        mean if mean > RANGE.1 => "above",
        _ => "in",
    }
}

fn by_week(weeks: &[WeekDigest], reading: &Reading<'_>) -> Vec<String> {
    let mut lines = vec!["week   days    time   volume load   load  monotony  strain".to_owned()];
    for week in weeks {
        let name = week.week.to_string().split_off(5);
        let foster = week.foster();
        let dash = || "–".to_owned();
        let load: u32 = week.loads.iter().sum();
        let partial = if week.told == week.sessions { "" } else { "+" };
        let load = if week.told > 0 {
            format!("{}{partial}", grouped(load.into()))
        } else {
            dash()
        };
        let monotony = foster.and_then(|f| f.monotony).map(|m| format!("{m:.2}"));
        let strain = foster.and_then(|f| f.strain);
        let strain = strain.map(|strain| grouped(libm::round(strain) as i64));
        lines.push(format!(
            "{name:<6} {:>4} {:>7} {:>13} {load:>6} {:>9} {:>7}",
            week.days,
            minutes(week.minutes),
            volume(week.volume, reading.unit),
            monotony.unwrap_or_else(dash),
            strain.unwrap_or_else(dash),
        ));
    }
    let text = "Load is effort times minutes, + where not every session was told; monotony is the \
        mean day by the sample standard deviation of days, strain is load times monotony (Foster \
        1998), of whole weeks. Differences below about 30 % are noise (Wallace et al. 2014).";
    lines.extend(wrapped(text, reading.width));
    lines
}
