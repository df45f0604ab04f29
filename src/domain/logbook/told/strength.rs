//! Strength in lines: a line for each exercise, or a picture of one.

use super::{NAME, Reading, cell, wrapped};
use crate::domain::diagnostic::neutral;
use crate::domain::exercise::{Counts, Exercise, ExerciseId};
use crate::domain::logbook::plot::Plot;
use crate::domain::logbook::said::{amount, day, percent};
use crate::domain::logbook::strength::{Measure, Strength};
use crate::domain::logbook::trend::{TOO_FEW, Trend, Verdict};
use crate::domain::strength::belief::Believed;
use crate::domain::strength::equations::Equation;
use crate::domain::units::{Load, Unit};
use crate::domain::words;
use chrono::{Datelike, NaiveDate};

/// Standard deviations to either side that hold 90 in 100.
const NINETY: f64 = 1.645;
/// Rows of a picture with its axes, at least and at most; the words about it take the others.
const ROWS: (usize, usize) = (8, 24);
const WORDS: usize = 7;

/// What is shown of one exercise.
#[derive(Clone, Debug)]
pub struct Asked {
    /// Which.
    pub exercise: ExerciseId,
    /// Reps at this load.
    pub load: Option<Load>,
    /// A published equation beside it.
    pub equation: Option<Equation>,
}

/// A line for each exercise of the days, the last done first.
pub fn list(reading: &Reading<'_>) -> Vec<String> {
    reading.each_exercise(line)
}

/// An exercise in a line.
pub fn line(reading: &Reading<'_>, id: &ExerciseId) -> String {
    let records = (reading.history, reading.logbook);
    let exercise = reading.catalogue.get(id);
    let found = exercise.and_then(|e| Strength::of(records, e, reading.days, None));
    let name = cell(reading.catalogue.name(id), NAME);
    let said = found.map_or_else(
        || "nothing tells of strength".to_owned(),
        |found| format!("{} {}", cell(&now(&found), 8), short(&found)),
    );
    let line = neutral(&format!("{name} {said}"));
    cell(&line, reading.width).trim_end().to_owned()
}

/// Where it stands: on the trend's line, or as the last session has it.
fn now(found: &Strength) -> String {
    let last = found.sessions.iter().rev().find_map(|shown| shown.point);
    let value = last.map(|last| {
        let value = found.trend.map_or(last.value, |trend| trend.at(last.day));
        libm::exp(value)
    });
    value.map_or_else(String::new, |value| with_unit(value, found.measure))
}

fn with_unit(value: f64, measure: Measure) -> String {
    match measure {
        Measure::Max(unit) => format!("{} {unit}", amount(value)),
        Measure::Reps(_) => format!("{} reps", amount(value)),
        Measure::Hold(_) => format!("{} s", amount(value)),
    }
}

fn short(found: &Strength) -> String {
    let Some(trend) = &found.trend else {
        return format!("too few: {}", words::count(found.sessions.len(), "session"));
    };
    match trend.verdict() {
        Verdict::Up => format!("up {} a month", percent(trend.monthly())),
        Verdict::Down => format!("down {} a month", percent(trend.monthly())),
        Verdict::NoChange => "no clear change".to_owned(),
    }
}

/// One exercise: what is shown, a picture, and what it says.
pub fn one(reading: &Reading<'_>, asked: &Asked, believed: &[Believed]) -> Vec<String> {
    let id = &asked.exercise;
    let name = reading.catalogue.name(id);
    let records = (reading.history, reading.logbook);
    let exercise = reading.catalogue.get(id);
    let found = exercise.and_then(|e| Strength::of(records, e, reading.days, asked.load));
    let (Some(exercise), Some(found)) = (exercise, found) else {
        let (since, until) = (day(reading.days.0), day(reading.days.1));
        let text = format!("{name}: nothing that tells of strength from {since} to {until}.");
        return wrapped(&text, reading.width);
    };
    let check = asked.equation.map(|equation| check(reading, id, equation));
    let head = format!("{name}, {}", what(exercise, found.measure));
    let mut lines = wrapped(&head, reading.width);
    let plot = Plot {
        check: check.iter().flatten().copied().collect(),
        ..plot(reading, &found, believed)
    };
    let believed = &plot.band;
    let rows = reading.rows.saturating_sub(WORDS).clamp(ROWS.0, ROWS.1);
    lines.extend(plot.lines((reading.width, rows)));
    let marks = [
        Some("• a set, ● several"),
        (!believed.is_empty()).then_some("░ believed, 90 in 100"),
        found.trend.is_some().then_some("─ the trend"),
        check.is_some().then_some("+ the equation"),
    ];
    let marks: Vec<&str> = marks.into_iter().flatten().collect();
    lines.extend(wrapped(&marks.join("; "), reading.width));
    lines.extend(wrapped(&verdict(&found), reading.width));
    lines.extend(wrapped(&stands(&found, believed), reading.width));
    if let (Some(equation), Some(check)) = (asked.equation, check) {
        lines.extend(wrapped(
            &checked(equation, &check, found.measure),
            reading.width,
        ));
    }
    lines
}

/// What is drawn of an exercise, without an equation.
pub fn plot(reading: &Reading<'_>, found: &Strength, believed: &[Believed]) -> Plot {
    Plot {
        points: points(found),
        band: band(found, believed, reading.days),
        check: Vec::new(),
        line: found
            .trend
            .map_or_else(Vec::new, |trend| fitted(found, &trend)),
    }
}

/// What the axis counts.
pub fn what(exercise: &Exercise, measure: Measure) -> String {
    match (measure, exercise.counts) {
        (Measure::Max(unit), counts) => {
            let of = match counts {
                Counts::PerHand => " of one hand",
                Counts::BodyPlus { .. } => " with the body's part",
                Counts::OneDumbbell | Counts::BarTotal | Counts::Body { .. } | Counts::Band => "",
            };
            format!("estimated one-rep max{of}, {unit}")
        }
        (Measure::Reps(load), _) => format!("reps to failure with {load}"),
        (Measure::Hold(load), _) => format!("seconds held with {load}"),
    }
}

fn points(found: &Strength) -> Vec<(f64, f64)> {
    let of = |shown: &crate::domain::logbook::strength::Shown| {
        let day = f64::from(shown.day.num_days_from_ce());
        shown
            .sets
            .clone()
            .into_iter()
            .map(move |value| (day, value))
    };
    found.sessions.iter().flat_map(of).collect()
}

fn fitted(found: &Strength, trend: &Trend) -> Vec<(f64, f64)> {
    let days = found.sessions.iter().filter_map(|shown| shown.point);
    days.map(|point| (point.day, libm::exp(trend.at(point.day))))
        .collect()
}

/// What was believed after each session, in the measure's unit; only of one-rep maxes.
fn band(
    found: &Strength,
    believed: &[Believed],
    (since, until): (NaiveDate, NaiveDate),
) -> Vec<(f64, f64, f64)> {
    let Measure::Max(unit) = found.measure else {
        return Vec::new();
    };
    let in_unit = Unit::Kg.nanograms() as f64 / unit.nanograms() as f64;
    let days = since.num_days_from_ce()..=until.num_days_from_ce();
    believed
        .iter()
        .filter(|at| days.contains(&at.day))
        .map(|at| {
            let end = |z: f64| libm::exp(at.mean + z * at.spread) * in_unit;
            (f64::from(at.day), end(-NINETY), end(NINETY))
        })
        .collect()
}

/// What the trend says, in a sentence.
pub fn verdict(found: &Strength) -> String {
    let Some(trend) = &found.trend else {
        let count = words::count(found.sessions.len(), "session");
        return format!("Too little to tell: {count}; {TOO_FEW} over three weeks are the fewest.");
    };
    let off = percent(trend.monthly_band());
    let monthly = percent(trend.monthly());
    let sessions = words::count(trend.sessions, "session");
    let weeks = words::count(libm::round(trend.days / 7.0) as usize, "week");
    let over = format!("over {sessions} in {weeks}");
    match trend.verdict() {
        Verdict::NoChange => {
            let way = if trend.monthly() < 0.0 { "down" } else { "up" };
            format!(
                "No change that we can tell, {over}: {way} {monthly} a month, give or take {off}."
            )
        }
        verdict => {
            let way = if verdict == Verdict::Up { "Up" } else { "Down" };
            let (whole, band) = trend.whole();
            let (whole, band) = (percent(whole), percent(band));
            format!(
                "{way} {monthly} a month, give or take {off}: {whole} {over}, give or take {band}."
            )
        }
    }
}

/// Where it stands now, in a sentence.
pub fn stands(found: &Strength, believed: &[(f64, f64, f64)]) -> String {
    let about = now(found);
    match believed.last() {
        Some((_, low, high)) => {
            let (low, high) = (amount(*low), with_unit(*high, found.measure));
            format!("Its sets show about {about} now; believed, 90 in 100: {low} to {high}.")
        }
        None if about.is_empty() => "Its sets only say \"at least\".".to_owned(),
        None => format!("Its sets show about {about} now."),
    }
}

/// The best of each session by an equation, day and value.
pub fn check(reading: &Reading<'_>, id: &ExerciseId, equation: Equation) -> Vec<(f64, f64)> {
    let days = reading.days.0..=reading.days.1;
    let sessions = reading.logbook.of_exercise(id);
    let sessions =
        sessions.filter(|(session, digest)| !digest.deload && days.contains(&session.day));
    let of = |(session, digest): (
        &crate::domain::logbook::SessionDigest,
        &crate::domain::logbook::Digest,
    )| {
        let max = digest.one_rep_max(equation)?;
        Some((f64::from(session.day.num_days_from_ce()), max))
    };
    sessions.filter_map(of).collect()
}

fn checked(equation: Equation, check: &[(f64, f64)], measure: Measure) -> String {
    let best = check.iter().map(|(_, max)| *max).reduce(f64::max);
    match (check.last(), best) {
        (Some((_, last)), Some(best)) => format!(
            "By {equation}: last {}, best {}.",
            with_unit(*last, measure),
            with_unit(best, measure)
        ),
        _ => format!("By {equation}: no set of ten reps or fewer to failure."),
    }
}
