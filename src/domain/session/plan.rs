//! What a session is planned to be: exercises, sets, loads, and why.

use crate::domain::exercise::ExerciseId;
use crate::domain::gear::PlaceId;
use crate::domain::program::{Ask, Details, Policy, ProgramId, RestWindow, SlotId, Tempo};
use crate::domain::units::{Load, Odds, Predicted, Reps, Seconds, Spare};
use std::fmt;

/// What a set is for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum SetKind {
    /// On the way to the working load; no evidence.
    Ramp,
    /// The work.
    Working,
    /// Lighter work after a top set.
    BackOff,
}

/// What a set is asked for, never below the slot's minimum.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Asked {
    /// Repetitions; each side's where sides take turns.
    Reps(Reps),
    /// Seconds held; each side's where sides take turns.
    Hold(Seconds),
}

impl Asked {
    /// The bare number.
    pub const fn count(self) -> u32 {
        match self {
            Self::Reps(reps) => reps.get(),
            Self::Hold(seconds) => seconds.get(),
        }
    }
}

impl fmt::Display for Asked {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Reps(reps) => reps.fmt(f),
            Self::Hold(seconds) => write!(f, "{} s", seconds.get()),
        }
    }
}

/// A set as planned.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PlannedSet {
    /// Ramp, working or back-off.
    pub kind: SetKind,
    /// With what.
    pub load: Load,
    /// How much.
    pub asked: Asked,
    /// A feeler: the load is not known yet, and reps in reserve are asked for.
    pub feeler: bool,
    /// An open set: what is asked is the least, and as many as go well are done.
    pub open: bool,
    /// Reps to failure that were predicted of it, or seconds.
    pub predicted: Option<Predicted>,
}

/// One exercise of a session, as planned.
#[derive(Clone, PartialEq, Debug)]
pub struct PlannedItem {
    /// The program's slot.
    pub slot: SlotId,
    /// What is done.
    pub exercise: ExerciseId,
    /// Its sets, ramp sets first, in the order in which they are done.
    pub sets: Vec<PlannedSet>,
    /// What the slot asks of a working set.
    pub ask: Ask,
    /// Rest between its sets.
    pub rest: RestWindow,
    /// Reps in reserve to aim for.
    pub spare: Option<Spare>,
    /// Tempo, where it is prescribed.
    pub tempo: Option<Tempo>,
    /// The policy that found the load.
    pub policy: Policy,
    /// Items of the same group are done in turn, set by set.
    pub group: Option<u8>,
    /// What sets its work apart from equal sets.
    pub details: Details,
    /// Whether this is deload work: no evidence.
    pub deload: bool,
    /// Odds of the exercise: every working set reaches the reps asked.
    pub odds: Option<Odds>,
    /// Why this load, in one sentence.
    pub reason: String,
}

/// A whole session as planned.
#[derive(Clone, PartialEq, Debug)]
pub struct Plan {
    /// The program.
    pub program: ProgramId,
    /// Phase of the program, from 1.
    pub phase: u16,
    /// Its name.
    pub phase_name: String,
    /// Week of the phase, from 1.
    pub week: u16,
    /// Weeks of the phase.
    pub weeks: u16,
    /// Day of the phase, from 1.
    pub day: u16,
    /// Its name.
    pub day_name: String,
    /// Where.
    pub place: PlaceId,
    /// The exercises, in order.
    pub items: Vec<PlannedItem>,
}

impl Plan {
    /// How far an item of a group is behind the others once so many of its sets are done: its ramp
    /// sets come first, then the one with the fewest sets of work behind it.
    fn behind(&self, item: usize, done: usize) -> (bool, usize) {
        let sets = self.items.get(item).map_or(&[][..], |item| &item.sets);
        let ramp = |set: &PlannedSet| set.kind == SetKind::Ramp;
        let work = sets.iter().take(done).filter(|set| !ramp(set)).count();
        (!sets.get(done).is_some_and(ramp), work)
    }

    /// Its sets in the order of doing, by item and set: items of one group take turns.
    pub fn turns(&self) -> Vec<(usize, usize)> {
        let mut behind = vec![0; self.items.len()];
        let mut turns = Vec::new();
        let open = |behind: &[usize], k: usize| {
            let sets = self.items.get(k).map_or(0, |item| item.sets.len());
            behind.get(k).is_some_and(|done| *done < sets)
        };
        while let Some(first) = (0..self.items.len()).find(|k| open(&behind, *k)) {
            let group = |k: usize| self.items.get(k).and_then(|item| item.group);
            let turn = |k: usize| k == first || group(k).is_some() && group(k) == group(first);
            let of_group = (0..self.items.len()).filter(|k| open(&behind, *k) && turn(*k));
            let next =
                of_group.min_by_key(|k| self.behind(*k, behind.get(*k).copied().unwrap_or(0)));
            let Some((item, done)) = next.and_then(|k| Some((k, behind.get_mut(k)?))) else {
                break;
            };
            turns.push((item, *done));
            *done += 1;
        }
        turns
    }
}
