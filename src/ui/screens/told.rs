//! Sets and outings as a lifter would say them.

use crate::domain::exercise::{Coaching, Exercise};
use crate::domain::history::Outing;
use crate::domain::session::{Asked, Done, Performed, SetKind};
use crate::domain::units::{Load, Spare};
use crate::domain::words;

/// What was done, in as few cells as possible.
pub fn done(done: Done) -> String {
    match done {
        Done::Reps(reps) => reps.to_string(),
        Done::RepsBySide { left, right } => format!("{left}/{right}"),
        Done::Held(seconds) => format!("{}s", seconds.get()),
        Done::HeldBySide { left, right } => format!("{}/{}s", left.get(), right.get()),
    }
}

/// Sets grouped by load: "22 kg 8 8 7, 2 spare".
pub fn sets<'s>(sets: impl Iterator<Item = &'s Performed>) -> String {
    let mut groups: Vec<(Load, Vec<String>, Option<Spare>)> = Vec::new();
    for set in sets.filter(|set| set.record.kind != SetKind::Ramp) {
        let record = &set.record;
        match groups.last_mut() {
            Some((load, counts, spare)) if *load == record.load => {
                counts.push(done(record.done));
                *spare = record.spare.or(*spare);
            }
            _ => groups.push((record.load, vec![done(record.done)], record.spare)),
        }
    }
    let group = |(load, counts, spare): (Load, Vec<String>, Option<Spare>)| {
        let spare = spare
            .map(|spare| format!(", {spare} spare"))
            .unwrap_or_default();
        format!("{load}: {}{spare}", counts.join(" "))
    };
    groups.into_iter().map(group).collect::<Vec<_>>().join("; ")
}

/// An outing with its day.
pub fn outing(outing: &Outing) -> String {
    format!("{}  {}", day(outing), sets(outing.sets.iter()))
}

/// The day of an outing, and that it was lighter on purpose, where it was.
pub fn day(outing: &Outing) -> String {
    let easier = if outing.deload { ", easier" } else { "" };
    format!("{}{easier}", words::day(outing.at.date()))
}

/// The load and the count of a set: "24 kg × 8", "body × 12", "hold 30 s".
pub fn work(load: Load, asked: Asked) -> String {
    match (load, asked) {
        (Load::Body(weight), Asked::Hold(seconds)) if weight.mass.ng() == 0 => {
            format!("hold {} s", seconds.get())
        }
        (load, Asked::Hold(seconds)) => format!("{load}, hold {} s", seconds.get()),
        (load, Asked::Reps(reps)) => format!("{load} × {reps}"),
    }
}

/// How an exercise is done, as a coach would say it.
pub fn coaching(exercise: &Exercise) -> [String; 4] {
    let Coaching {
        set_up,
        movement,
        faults,
        stop,
    } = &exercise.coaching;
    [
        format!("getting set: {set_up}"),
        format!("movement: {movement}"),
        format!("faults: {faults}"),
        stop.clone(),
    ]
}
