//! Ramp sets: the way to a heavy load. Coaching custom, no handbook table.

use super::ladder::{Ladder, is_above};
use super::past::least;
use crate::domain::exercise::{Counts, Exercise, Role};
use crate::domain::program::{Ask, Slot};
use crate::domain::session::{Asked, PlannedSet, SetKind};
use crate::domain::units::{Load, Reps};

/// Share of the working load, and reps: for five reps or fewer.
const HEAVY: [(f64, u32); 4] = [(0.40, 6), (0.60, 5), (0.75, 3), (0.85, 1)];
/// For up to ten reps.
const MIDDLE: [(f64, u32); 2] = [(0.50, 8), (0.75, 4)];
/// For up to twelve reps.
const LIGHT: [(f64, u32); 1] = [(0.60, 6)];

/// The most, as a share of the working load, that still is practice.
const PRACTICE_SHARE: f64 = 0.5;
/// Reps with as little as can be had.
const PRACTICE: u32 = 8;
/// Total mass in hand, in kilograms, below which work is light: no ramp sets.
const LIGHT_WORK: f64 = 20.0;
/// Total mass in hand, in kilograms, from which two ramp sets are worth their time.
const HEAVY_WORK: f64 = 40.0;

/// The ramp sets before working sets with `load`: makeable loads, strictly rising, none above
/// 85 % of the working load. None where the work is not heavy.
pub fn ramp(exercise: &Exercise, slot: &Slot, ladder: &Ladder, load: Load) -> Vec<PlannedSet> {
    let heavy = exercise.role == Role::Compound && exercise.counts.is_loaded();
    let total = in_hand(exercise, load);
    let steps: &[(f64, u32)] = match (heavy && total >= LIGHT_WORK, slot.ask) {
        (false, _) | (true, Ask::Hold { .. }) => &[],
        (true, Ask::Reps { .. }) => match least(slot.ask) {
            ..=5 => &HEAVY,
            6..=10 if total >= HEAVY_WORK => &MIDDLE,
            6..=12 => &LIGHT,
            _ => &[],
        },
    };
    let mut sets: Vec<PlannedSet> = Vec::new();
    // A technical lift is first practised with as little as can be had; custom, no source.
    let begin = ladder
        .lightest()
        .filter(|_| exercise.technical && !steps.is_empty());
    let begin = begin.filter(|lightest| {
        ladder
            .within(load, PRACTICE_SHARE)
            .is_some_and(|most| !is_above(*lightest, most))
    });
    sets.extend(begin.map(|lightest| ramp_set(lightest, PRACTICE)));
    let practised = usize::from(!sets.is_empty() && steps.len() == HEAVY.len());
    for (share, reps) in steps.iter().skip(practised) {
        let Some(found) = ladder.within(load, *share) else {
            continue;
        };
        let rises = sets.last().is_none_or(|last| is_above(found, last.load));
        if rises && is_above(load, found) {
            sets.push(ramp_set(found, *reps));
        }
    }
    sets
}

fn ramp_set(load: Load, reps: u32) -> PlannedSet {
    PlannedSet {
        kind: SetKind::Ramp,
        load,
        asked: Asked::Reps(Reps::clamped(reps)),
        feeler: false,
        open: false,
        predicted: None,
    }
}

/// The mass in hand, in kilograms: both dumbbells of a pair; what is added to a body.
fn in_hand(exercise: &Exercise, load: Load) -> f64 {
    let hands = if exercise.counts == Counts::PerHand {
        2.0
    } else {
        1.0
    };
    load.entered()
        .map_or(0.0, |weight| weight.mass.kg() * hands)
}
