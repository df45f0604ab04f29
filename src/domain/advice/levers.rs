//! What makes a set harder where the next load is too far: the tempo, a pause, another variant, a
//! set more. Coaching custom, no source.

use super::situation::Situation;
use crate::domain::exercise::Sides;
use crate::domain::program::Tempo;

/// Seconds of a slow lowering, and of a pause.
const SLOW: u8 = 4;
const PAUSE: u8 = 2;
/// The tempo of a slot that names none.
const USUAL: Tempo = Tempo {
    lowering: 2,
    bottom: 0,
    lifting: Some(1),
    top: 0,
};
/// The most sets that one more makes sense of.
const MANY_SETS: u8 = 5;

/// The first lever that the exercise and its slot leave, in words that stand behind a colon.
pub fn lever(at: &Situation<'_>) -> Option<String> {
    slower(at)
        .or_else(|| variant(at))
        .or_else(|| (at.slot.sets < MANY_SETS).then(|| "add a set".to_owned()))
}

/// A slower lowering; where that is slow already, a pause at the bottom. Not of lifts that are
/// practised as a skill, nor of holds; no pause where the spine carries the load.
fn slower(at: &Situation<'_>) -> Option<String> {
    let tempo = at.slot.tempo.unwrap_or(USUAL);
    if at.exercise.technical || at.holds() {
        return None;
    }
    if tempo.lowering < SLOW {
        return Some(format!("take {SLOW} s to lower each rep"));
    }
    let rests = tempo.bottom < PAUSE && !at.exercise.loads_spine;
    rests.then(|| format!("pause {PAUSE} s at the bottom of each rep"))
}

/// The harder variant, and whether it is one side at a time.
fn variant(at: &Situation<'_>) -> Option<String> {
    let harder = at.catalogue.get(at.exercise.harder.as_ref()?)?;
    let one_side = harder.sides != Sides::Both && at.exercise.sides == Sides::Both;
    let how = if one_side { ", one side at a time" } else { "" };
    Some(format!("go on to {}{how}", harder.name))
}
