//! What was better than ever before.

use super::equations;
use crate::domain::exercise::ExerciseId;
use crate::domain::history::{History, Mark};
use crate::domain::session::Session;
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
    let others = past.outings(exercise).iter();
    let others = others.filter(|outing| outing.session != session.id);
    let before = others.flat_map(|outing| &outing.sets).filter_map(Mark::of);
    let before: Vec<Mark> = before.chain(past.bests(exercise).iter().copied()).collect();
    if before.is_empty() {
        return Vec::new();
    }
    let today = session
        .sets
        .iter()
        .filter(|set| set.record.exercise == *exercise);
    let today: Vec<Mark> = today.filter_map(Mark::of).collect();
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

fn e1rm(before: &[Mark], today: &[Mark]) -> Option<BestWhat> {
    let top = |marks: &[Mark]| {
        let told = marks.iter().filter_map(|mark| mark_e1rm(*mark));
        told.max_by(|a, b| a.0.cmp(&b.0))
    };
    let (now, then) = (top(today)?, top(before)?);
    (now.0 > then.0).then_some(BestWhat::E1rm(now.0, now.1))
}

/// The estimated one-rep max of ten reps or fewer with a mass, by Epley's equation.
fn mark_e1rm(mark: Mark) -> Option<(Mass, crate::domain::units::Unit)> {
    let Load::Mass(weight) = mark.load else {
        return None;
    };
    if mark.is_hold {
        return None;
    }
    let max = equations::for_records(weight.mass.amount(weight.unit), mark.count)?;
    Some((Mass::nearest(max, weight.unit)?, weight.unit))
}

fn load(before: &[Mark], today: &[Mark]) -> Option<BestWhat> {
    let heavier = |a: Load, b: Load| a.heavier(b) == Some(std::cmp::Ordering::Greater);
    let beats = |mark: &&Mark| {
        let mut rivals = before.iter().filter(|rival| rival.count >= mark.count);
        !rivals.any(|rival| !heavier(mark.load, rival.load))
            && before.iter().any(|rival| heavier(mark.load, rival.load))
    };
    let best = today
        .iter()
        .filter(beats)
        .reduce(|a, b| if heavier(b.load, a.load) { b } else { a })?;
    Some(BestWhat::LoadAtReps(best.load, best.count))
}

fn most(before: &[Mark], today: &[Mark]) -> Option<BestWhat> {
    let most_at = |load: Load| {
        let same = before.iter().filter(|mark| mark.load == load);
        same.map(|mark| mark.count).max()
    };
    let beats = |mark: &&Mark| most_at(mark.load).is_some_and(|most| mark.count > most);
    let best = today.iter().filter(beats).max_by_key(|mark| mark.count)?;
    Some(BestWhat::MostAtLoad(best.load, best.count))
}
