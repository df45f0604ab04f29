//! What was better than ever before.

use super::equations;
use crate::domain::exercise::ExerciseId;
use crate::domain::history::History;
use crate::domain::session::{Performed, Session, SetKind};
use crate::domain::units::{Load, Mass};

/// A thing that was better than ever before.
#[derive(Clone, PartialEq, Debug)]
pub struct Best {
    /// In which exercise.
    pub exercise: ExerciseId,
    /// What.
    pub what: BestWhat,
}

/// What was better.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum BestWhat {
    /// Estimated one-rep max, from ten reps or fewer (Epley), in the unit of the load.
    E1rm(Mass, crate::domain::units::Unit),
    /// The heaviest load for at least so many reps.
    LoadAtReps(Load, u32),
    /// The most reps (or the longest hold) with this load.
    MostAtLoad(Load, u32),
}

/// The records that a session's sets broke. A first outing breaks none: there is nothing to beat.
pub fn fallen(session: &Session, past: &History) -> Vec<Best> {
    let mut exercises: Vec<&ExerciseId> = Vec::new();
    for set in &session.sets {
        if !exercises.contains(&&set.record.exercise) {
            exercises.push(&set.record.exercise);
        }
    }
    exercises
        .into_iter()
        .flat_map(|exercise| of_exercise(exercise, session, past))
        .collect()
}

fn of_exercise(exercise: &ExerciseId, session: &Session, past: &History) -> Vec<Best> {
    let before: Vec<&Performed> = past
        .outings(exercise)
        .iter()
        .filter(|outing| outing.session != session.id)
        .flat_map(|outing| &outing.sets)
        .filter(|set| counts(set))
        .collect();
    if before.is_empty() {
        return Vec::new();
    }
    let today = session
        .sets
        .iter()
        .filter(|set| set.record.exercise == *exercise && counts(set));
    let today: Vec<&Performed> = today.collect();
    let best = |what| Best {
        exercise: exercise.clone(),
        what,
    };
    let found = [
        e1rm(&before, &today),
        load(&before, &today),
        most(&before, &today),
    ];
    found.into_iter().flatten().map(best).collect()
}

fn counts(set: &Performed) -> bool {
    set.record.kind != SetKind::Ramp && set.record.done.deciding() > 0 && !set.damaged
}

fn e1rm(before: &[&Performed], today: &[&Performed]) -> Option<BestWhat> {
    let top = |sets: &[&Performed]| {
        sets.iter()
            .filter_map(|set| set_e1rm(set))
            .max_by(|a, b| a.0.cmp(&b.0))
    };
    let (now, then) = (top(today)?, top(before)?);
    (now.0 > then.0).then_some(BestWhat::E1rm(now.0, now.1))
}

/// The estimated one-rep max of a set of ten reps or fewer with a mass, by Epley's equation.
fn set_e1rm(set: &Performed) -> Option<(Mass, crate::domain::units::Unit)> {
    let Load::Mass(weight) = set.record.load else {
        return None;
    };
    let reps = set.record.done.deciding();
    if set.record.done.is_hold() {
        return None;
    }
    let max = equations::for_records(weight.mass.amount(weight.unit), reps)?;
    Some((Mass::nearest(max, weight.unit)?, weight.unit))
}

fn load(before: &[&Performed], today: &[&Performed]) -> Option<BestWhat> {
    let heavier = |a: Load, b: Load| a.heavier(b) == Some(std::cmp::Ordering::Greater);
    let beats = |set: &&&Performed| {
        let (load, reps) = (set.record.load, set.record.done.deciding());
        let mut rivals = before
            .iter()
            .filter(|rival| rival.record.done.deciding() >= reps);
        !rivals.any(|rival| !heavier(load, rival.record.load))
            && before.iter().any(|rival| heavier(load, rival.record.load))
    };
    let best = today.iter().filter(beats).reduce(|a, b| {
        if heavier(b.record.load, a.record.load) {
            b
        } else {
            a
        }
    })?;
    Some(BestWhat::LoadAtReps(
        best.record.load,
        best.record.done.deciding(),
    ))
}

fn most(before: &[&Performed], today: &[&Performed]) -> Option<BestWhat> {
    let most_at = |load: Load| {
        let same = before.iter().filter(|set| set.record.load == load);
        same.map(|set| set.record.done.deciding()).max()
    };
    let beats = |set: &&&Performed| {
        most_at(set.record.load).is_some_and(|most| set.record.done.deciding() > most)
    };
    let best = today
        .iter()
        .filter(beats)
        .max_by_key(|set| set.record.done.deciding())?;
    Some(BestWhat::MostAtLoad(
        best.record.load,
        best.record.done.deciding(),
    ))
}
