//! Records in lines: a line for each exercise, or all of one.

use super::{NAME, Reading, cell, day_in_list, wrapped};
use crate::domain::diagnostic::neutral;
use crate::domain::exercise::ExerciseId;
use crate::domain::logbook::records::{Fell, Lifted, Records, Work};
use crate::domain::logbook::said::{amount, grouped, volume};

/// A line for each exercise of the days, the last done first.
pub fn list(reading: &Reading<'_>) -> Vec<String> {
    reading.each_exercise(line)
}

/// An exercise in a line: its best e1RM, else its longest hold or its most reps.
pub fn line(reading: &Reading<'_>, id: &ExerciseId) -> String {
    let records = Records::of(reading.history, reading.logbook, id);
    let name = cell(reading.catalogue.name(id), NAME);
    let best = records.max.map(|max| {
        let (best, unit) = (max.best.mass.amount(max.best.unit), max.best.unit);
        (format!("e1RM {} {unit}", amount(best)), max.day)
    });
    let most = |list: &[Fell<Lifted>], unit| {
        let most = list.iter().max_by_key(|fell| fell.best.count);
        most.map(|fell| (format!("{}{unit}", lifted(fell)), fell.day))
    };
    let best = best.or_else(|| most(&records.holds, " s"));
    let best = best.or_else(|| most(&records.most, ""));
    let said =
        best.map(|(best, when)| format!("{} {}", cell(&best, 16), day_in_list(reading, when)));
    let line = neutral(&format!("{name} {}", said.unwrap_or_default()));
    cell(&line, reading.width).trim_end().to_owned()
}

fn lifted(fell: &Fell<Lifted>) -> String {
    format!("{} × {}", fell.best.load, fell.best.count)
}

/// All records of one exercise.
pub fn one(reading: &Reading<'_>, id: &ExerciseId) -> Vec<String> {
    let records = Records::of(reading.history, reading.logbook, id);
    let mut lines = vec![reading.catalogue.name(id).to_owned()];
    if let Some(max) = records.max {
        let best = max.best.mass.amount(max.best.unit);
        let best = format!("{} {}", amount(best), max.best.unit);
        lines.push(row("best e1RM (Epley, as done)", &best, max.day));
    }
    if let Some(work) = records.work {
        let most = match work.best {
            Work::Volume(mass) => volume(mass, reading.unit),
            Work::Reps(reps) => format!("{} reps", grouped(reps.into())),
            Work::Seconds(seconds) => format!("{} s", grouped(seconds.into())),
        };
        lines.push(row("most work in a session", &most, work.day));
    }
    for (name, list, unit) in [
        ("heaviest for its reps", &records.heaviest, ""),
        ("most reps at each load", &records.most, ""),
        ("longest hold at each load", &records.holds, " s"),
    ] {
        for (k, fell) in list.iter().enumerate() {
            let head = if k == 0 { name } else { "" };
            lines.push(row(head, &format!("{}{unit}", lifted(fell)), fell.day));
        }
    }
    if lines.len() == 1 {
        lines.extend(wrapped("No work was recorded of it.", reading.width));
    }
    lines
}

fn row(name: &str, best: &str, when: chrono::NaiveDate) -> String {
    format!(
        "  {} {} {}",
        cell(name, 27),
        cell(best, 15),
        when.format("%-d %b %Y")
    )
}
