//! A set as it was done: the record that outlives everything else.

use super::{Asked, SetKind};
use crate::domain::exercise::{Counts, ExerciseId};
use crate::domain::units::{Load, Odds, Predicted, Reps, Seconds, Spare};

/// What was done in a set.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Done {
    /// Reps of both sides together, or the same on each side.
    Reps(Reps),
    /// Reps of each side where they differ.
    RepsBySide {
        /// Left side.
        left: Reps,
        /// Right side.
        right: Reps,
    },
    /// Seconds held.
    Held(Seconds),
    /// Seconds held on each side where they differ.
    HeldBySide {
        /// Left side.
        left: Seconds,
        /// Right side.
        right: Seconds,
    },
}

impl Done {
    /// The count that decides: of sides, the lower.
    pub fn deciding(self) -> u32 {
        match self {
            Self::Reps(reps) => reps.get(),
            Self::RepsBySide { left, right } => left.min(right).get(),
            Self::Held(seconds) => seconds.get(),
            Self::HeldBySide { left, right } => left.min(right).get(),
        }
    }

    /// The counts of both sides; the same twice where they do not differ.
    pub fn by_side(self) -> (u32, u32) {
        match self {
            Self::Reps(reps) => (reps.get(), reps.get()),
            Self::RepsBySide { left, right } => (left.get(), right.get()),
            Self::Held(seconds) => (seconds.get(), seconds.get()),
            Self::HeldBySide { left, right } => (left.get(), right.get()),
        }
    }

    /// Whether seconds are counted.
    pub const fn is_hold(self) -> bool {
        match self {
            Self::Reps(_) | Self::RepsBySide { .. } => false,
            Self::Held(_) | Self::HeldBySide { .. } => true,
        }
    }
}

/// How a set came to its end.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Ended {
    /// At or above what was asked.
    AsAsked,
    /// Below it, since no more could be done.
    Short,
    /// Below it, on purpose: more could have been done.
    OnPurpose,
    /// Below it, by something else than the muscles: a call, a slip, pain.
    Interrupted,
}

/// How well a rest is known.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum RestKnown {
    /// The person said when the set began.
    Measured,
    /// Worked out from the usual pace; teaches nothing about recovery.
    Estimated,
}

/// The rest before a set.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Rest {
    /// How long.
    pub seconds: Seconds,
    /// How well it is known.
    pub known: RestKnown,
}

/// One set, self-contained: it can be read without the plan that it came from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SetRecord {
    /// Which item of the session, from 0.
    pub item: u16,
    /// What was done.
    pub exercise: ExerciseId,
    /// How its load counts.
    pub counts: Counts,
    /// Ramp, working or back-off.
    pub kind: SetKind,
    /// Number within its item and kind, from 1.
    pub number: u16,
    /// With what.
    pub load: Load,
    /// How much.
    pub done: Done,
    /// What was asked.
    pub asked: Asked,
    /// Whether it was an open set: as many as went well.
    pub open: bool,
    /// Reps in reserve, where the person said.
    pub spare: Option<Spare>,
    /// Rest before it; none before the first set, unknown where it cannot be told.
    pub rest: Option<Rest>,
    /// How long it took, where the person said when it began.
    pub lifted: Option<Seconds>,
    /// The odds stated for it when it was started.
    pub odds: Option<Odds>,
    /// The reps to failure predicted for it then, or seconds.
    pub predicted: Option<Predicted>,
    /// How it ended.
    pub ended: Ended,
}

impl SetRecord {
    /// Whether the set reached what was asked.
    pub fn reached(&self) -> bool {
        self.done.deciding() >= self.asked.count()
    }
}
