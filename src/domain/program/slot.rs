//! One exercise's entry in a program's day: sets, reps, rest window, target effort.

use crate::domain::exercise::ExerciseId;
use crate::domain::units::{Reps, Seconds, Spare};
use std::fmt;

/// A slot's name within its program: stays the same from week to week, so that an edited program
/// keeps its history.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct SlotId(pub String);

impl fmt::Display for SlotId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// What each working set is asked for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ask {
    /// Reps from a minimum to a maximum; fixed when both are the same.
    Reps {
        /// The least that makes the set count as made.
        min: Reps,
        /// Where the load rises instead of the reps.
        max: Reps,
    },
    /// Seconds held, from a minimum to a maximum.
    Hold {
        /// The least that makes the set count as made.
        min: Seconds,
        /// Where a harder variant takes over.
        max: Seconds,
    },
}

/// How long to rest: advice, not an alarm.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RestWindow {
    /// Where it opens: before, recover.
    pub opens: Seconds,
    /// Where it closes: after, late.
    pub closes: Seconds,
}

/// Seconds of a rep: lowering, pause at the bottom, lifting (none: as fast as possible), pause at
/// the top.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Tempo {
    /// Lowering.
    pub lowering: u8,
    /// Pause at the bottom.
    pub bottom: u8,
    /// Lifting; `None` is X, as fast as possible.
    pub lifting: Option<u8>,
    /// Pause at the top.
    pub top: u8,
}

impl Tempo {
    /// Seconds that one rep takes; as fast as possible counts as one.
    pub fn rep_seconds(self) -> u32 {
        let lifting = self.lifting.unwrap_or(1);
        [self.lowering, self.bottom, lifting, self.top]
            .into_iter()
            .map(u32::from)
            .sum()
    }
}

impl fmt::Display for Tempo {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.lowering, self.bottom)?;
        match self.lifting {
            Some(seconds) => write!(f, "{seconds}")?,
            None => f.write_str("X")?,
        }
        write!(f, "{}", self.top)
    }
}

/// How a slot's next load is found.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Policy {
    /// Reps rise to the top of the range in every set, then the load rises.
    #[default]
    DoubleProgression,
    /// The load rises after two sessions with two reps over the goal in the last set.
    TwoForTwo,
}

/// One exercise's entry in a day.
#[derive(Clone, PartialEq, Debug)]
pub struct Slot {
    /// Its name within the program.
    pub id: SlotId,
    /// What is done.
    pub exercise: ExerciseId,
    /// Working sets.
    pub sets: u8,
    /// What each of them is asked for.
    pub ask: Ask,
    /// How long to rest between them.
    pub rest: RestWindow,
    /// Reps in reserve to aim for.
    pub spare: Option<Spare>,
    /// Tempo, where it is prescribed.
    pub tempo: Option<Tempo>,
    /// How the next load is found.
    pub policy: Policy,
    /// Slots of one day with the same group are done in turn, set by set.
    pub group: Option<u8>,
    /// A word of the program's author.
    pub note: String,
}
