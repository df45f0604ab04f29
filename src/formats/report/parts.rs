//! The page's parts: the views' own words and numbers, beside their charts.

use super::{charts, escaped};
use crate::domain::exercise::{Exercise, Muscle};
use crate::domain::logbook::records::{Fell, Lifted, Records, Work};
use crate::domain::logbook::said::{amount, day, grouped, minutes, volume};
use crate::domain::logbook::strength::Strength;
use crate::domain::logbook::told::strength::{plot, stands, verdict, what};
use crate::domain::logbook::told::work::{RANGE, means, weeks};
use crate::domain::logbook::told::{self, Reading};
use crate::domain::logbook::week::WeekDigest;
use crate::domain::strength::belief::Believed;
use crate::domain::strength::calibration::Calibration;
use crate::domain::words::{self, caution};
use crate::formats::calibration;

/// Weeks in a chart, and in the table.
const CHARTED: u64 = 52;
const TABLED: usize = 12;

fn section(heading: &str, inside: &str) -> String {
    format!("<section>\n<h2>{heading}</h2>\n{inside}</section>\n")
}

fn paragraph(text: &str) -> String {
    format!("<p>{}</p>\n", escaped(text))
}

/// Lines of a view, as they are.
fn lines(lines: &[String]) -> String {
    let lines: Vec<String> = lines.iter().map(|line| escaped(line)).collect();
    format!("<pre class=\"told\">{}</pre>\n", lines.join("\n"))
}

fn table(heads: &[&str], rows: &[Vec<String>]) -> String {
    let cells = |tag: &str, cells: &mut dyn Iterator<Item = &str>| {
        let cells = cells.map(|cell| format!("<{tag}>{}</{tag}>", escaped(cell)));
        format!("<tr>{}</tr>\n", cells.collect::<String>())
    };
    let head = cells("th", &mut heads.iter().copied());
    let rows = rows
        .iter()
        .map(|row| cells("td", &mut row.iter().map(String::as_str)));
    format!(
        "<div class=\"wide\"><table>\n<thead>{head}</thead>\n<tbody>{}</tbody>\n</table></div>\n",
        rows.collect::<String>()
    )
}

fn figure(heading: &str, chart: &str, below: &str) -> String {
    let heading = escaped(heading);
    format!("<figure>\n<h3>{heading}</h3>\n{chart}<figcaption>{below}</figcaption>\n</figure>\n")
}

pub(super) fn summary(reading: &Reading<'_>) -> String {
    let within = |s: &&crate::domain::logbook::SessionDigest| {
        (reading.days.0..=reading.days.1).contains(&s.day) && !s.exercises.is_empty()
    };
    let sessions: Vec<_> = reading.logbook.sessions.iter().filter(within).collect();
    let sets: usize = sessions
        .iter()
        .flat_map(|session| &session.exercises)
        .map(|digest| digest.work().count())
        .sum();
    let took: u32 = sessions.iter().filter_map(|session| session.minutes).sum();
    let moved = sessions.iter().map(|session| session.volume()).sum();
    paragraph(&format!(
        "{}, {} of work, {}, volume load {}.",
        words::count(sessions.len(), "session"),
        words::count(sets, "set"),
        minutes(took),
        volume(moved, reading.unit),
    ))
}

pub(super) fn strength(
    reading: &Reading<'_>,
    believed: &dyn Fn(&Exercise) -> Vec<Believed>,
) -> String {
    let records = (reading.history, reading.logbook);
    let mut figures = String::new();
    let mut silent = Vec::new();
    for (id, _) in reading.exercises() {
        let exercise = reading.catalogue.get(id);
        let found = exercise.and_then(|e| {
            let found = Strength::of(records, e, reading.days, None)?;
            (found.sessions.len() > 1).then_some((e, found))
        });
        let Some((exercise, found)) = found else {
            silent.push(reading.catalogue.name(id));
            continue;
        };
        let picture = plot(reading, &found, &believed(exercise));
        let below = [
            paragraph(&verdict(&found)),
            paragraph(&stands(&found, &picture.band)),
            format!(
                "<p class=\"dim\">{}</p>\n",
                escaped(&what(exercise, found.measure))
            ),
        ];
        figures += &figure(&exercise.name, &charts::strength(&picture), &below.concat());
    }
    let silent = match silent.is_empty() {
        true => String::new(),
        false => paragraph(&format!("Too little to draw: {}.", silent.join(", "))),
    };
    let legend = "<p class=\"dim\">Dots are sets, the line is the trend, the band is what is \
                  believed, 90 in 100. Easier sessions are left out.</p>\n";
    section(
        "Strength",
        &format!("{legend}<div class=\"charts\">\n{figures}</div>\n{silent}"),
    )
}

pub(super) fn work(reading: &Reading<'_>) -> String {
    let weeks = weeks(reading, CHARTED);
    let last = weeks.len().saturating_sub(TABLED);
    let table_weeks = weeks.get(last..).unwrap_or_default();
    let mean = means(table_weeks);
    let mean: Vec<(Muscle, f64)> = Muscle::ALL
        .into_iter()
        .map(|muscle| (muscle, mean.get(&muscle).copied().unwrap_or(0.0)))
        .collect();
    let by_week = |of: &dyn Fn(&WeekDigest) -> f64| {
        let values: Vec<_> = weeks.iter().map(|week| (week.week, of(week))).collect();
        charts::by_week(&values)
    };
    let (least, most) = RANGE;
    let range = format!(
        "Mean of the whole weeks below. Shaded, the range {least} to {most} a week: Schoenfeld et \
         al. 2017 and Baz-Valle et al. 2022, of muscles trained to grow. Half a set where a muscle \
         assists."
    );
    let unit = reading.unit;
    let volume_load = by_week(&|week| week.volume.amount(unit));
    let load = by_week(&|week| f64::from(week.loads.iter().sum::<u32>()));
    let figures = [
        figure(
            "Weekly hard sets",
            &charts::muscles(&mean, RANGE),
            &paragraph(&range),
        ),
        figure(&format!("Volume load by week, {unit}"), &volume_load, ""),
        figure("Load by week, effort times minutes", &load, ""),
    ];
    let heads = [
        "week",
        "days",
        "time",
        "hard sets",
        "volume load",
        "load",
        "monotony",
        "strain",
    ];
    let rows: Vec<Vec<String>> = table_weeks.iter().map(|week| row(week, reading)).collect();
    let note = "Load is effort times minutes, + where not every session was told; monotony is the \
                mean day by the sample standard deviation of days, strain is load times monotony \
                (Foster 1998), of whole weeks. Differences below about 30 % are noise (Wallace et \
                al. 2014).";
    let inside = format!(
        "<div class=\"charts\">\n{}</div>\n{}{}",
        figures.concat(),
        table(&heads, &rows),
        paragraph(note)
    );
    section("Work", &inside)
}

fn row(week: &WeekDigest, reading: &Reading<'_>) -> Vec<String> {
    let dash = || "–".to_owned();
    let foster = week.foster();
    let load: u32 = week.loads.iter().sum();
    let partial = if week.told == week.sessions { "" } else { "+" };
    let monotony = foster.and_then(|foster| foster.monotony);
    let strain = foster.and_then(|foster| foster.strain);
    vec![
        week.week.to_string(),
        week.days.to_string(),
        minutes(week.minutes),
        week.hard_sets.to_string(),
        volume(week.volume, reading.unit),
        match week.told {
            0 => dash(),
            _ => format!("{}{partial}", grouped(load.into())),
        },
        monotony.map_or_else(dash, |monotony| format!("{monotony:.2}")),
        strain.map_or_else(dash, |strain| grouped(strain.round() as i64)),
    ]
}

pub(super) fn balance(reading: &Reading<'_>) -> String {
    section("Balance", &lines(&told::balance::lines(reading)))
}

pub(super) fn records(reading: &Reading<'_>) -> String {
    let lifted = |fell: &Fell<Lifted>, unit: &str| {
        let text = format!("{} × {}{unit}", fell.best.load, fell.best.count);
        (text, fell.day)
    };
    let mut rows = Vec::new();
    for (id, _) in reading.exercises() {
        let records = Records::of(reading.history, reading.logbook, id);
        let max = records.max.map(|max| {
            let (best, unit) = (max.best.mass.amount(max.best.unit), max.best.unit);
            (format!("{} {unit}", amount(best)), max.day)
        });
        let most = |list: &[Fell<Lifted>], unit: &str| {
            let most = list.iter().max_by_key(|fell| fell.best.count);
            most.map(|fell| lifted(fell, unit))
        };
        let work = records.work.map(|work| {
            let text = match work.best {
                Work::Volume(mass) => volume(mass, reading.unit),
                Work::Reps(reps) => format!("{} reps", grouped(reps.into())),
                Work::Seconds(seconds) => format!("{} s", grouped(seconds.into())),
            };
            (text, work.day)
        });
        let told = [
            ("best e1RM (Epley, as done)", max),
            (
                "heaviest",
                records.heaviest.first().map(|fell| lifted(fell, "")),
            ),
            ("most reps", most(&records.most, "")),
            ("longest hold", most(&records.holds, " s")),
            ("most work in a session", work),
        ];
        let mut name = reading.catalogue.name(id);
        for (what, found) in told {
            let Some((best, when)) = found else {
                continue;
            };
            rows.push(vec![name.to_owned(), what.to_owned(), best, day(when)]);
            name = "";
        }
    }
    section(
        "Records",
        &table(&["exercise", "record", "best", "first done"], &rows),
    )
}

pub(super) fn odds(reading: &Reading<'_>) -> String {
    let found = Calibration::of(reading.history);
    let told = calibration::lines(&found);
    let told: Vec<String> = told.lines().map(str::to_owned).collect();
    let axes = "<p class=\"dim\">From left to right what was stated, upwards what came true, in a \
                hundred; on the line both are the same.</p>\n";
    let figures: String = [
        ("Odds of a set", &found.sets),
        ("Odds of an exercise", &found.exercises),
    ]
    .into_iter()
    .filter(|(_, score)| score.count() > 0)
    .map(|(name, score)| figure(name, &charts::odds(score), ""))
    .collect();
    let drawn = match figures.is_empty() {
        true => String::new(),
        false => format!("{axes}<div class=\"charts\">\n{figures}</div>\n"),
    };
    section("Odds", &format!("{drawn}{}", lines(&told)))
}

pub(super) fn backing_off(reading: &Reading<'_>) -> String {
    section("Backing off", &lines(&told::backing_off::lines(reading)))
}

pub(super) fn meanings() -> String {
    let text = "A hard set is a working or back-off set with no more than four reps said to be \
                spare, deloads left out; both sides are one set. Weeks begin on Monday. One-rep \
                maxes are estimates from sets of ten reps or fewer. None of this is advice from a \
                professional.";
    let cautions: String = caution::CAUTION
        .iter()
        .map(|text| paragraph(text))
        .collect();
    section(
        "What the numbers mean",
        &format!("{}{cautions}", paragraph(text)),
    )
}
