//! One exercise's entry in a program's day: sets, reps, rest window, target effort.

use crate::domain::exercise::{ExerciseId, Sides};
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

impl RestWindow {
    /// The middle of it, in seconds.
    pub const fn middle(self) -> u32 {
        u32::midpoint(self.opens.get(), self.closes.get())
    }
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
    /// The heaviest load whose odds are good enough, as far as the belief goes; where it says
    /// nothing, double progression.
    #[default]
    ByOdds,
    /// Reps rise to the top of the range in every set, then the load rises.
    DoubleProgression,
    /// The load rises after two sessions with two reps over the goal in the last set.
    TwoForTwo,
}

/// Lighter sets behind the working sets.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct BackOff {
    /// How many.
    pub sets: u8,
    /// Their load, in percent of that of the working sets.
    pub percent: u8,
    /// What each of them is asked for.
    pub ask: Ask,
}

/// What sets a slot's work apart from equal sets with one rest between them.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Details {
    /// Whether the last working set is open: as many as go well.
    pub open_last: bool,
    /// What all working sets come to together, in reps.
    pub total: Option<Reps>,
    /// Lighter sets behind the working sets.
    pub back_off: Option<BackOff>,
    /// The rest before the next exercise of the group.
    pub inside: Option<RestWindow>,
    /// How sides take turns, where that is not the exercise's usual way.
    pub sides: Option<Sides>,
    /// A word of the program's author.
    pub note: String,
}

/// What a week of a wave asks for: only what is given differs from the slot.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Step {
    /// Working sets.
    pub sets: Option<u8>,
    /// What each of them is asked for.
    pub ask: Option<Ask>,
    /// Reps in reserve to aim for.
    pub spare: Option<Spare>,
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
    /// What each of them is asked for; of a total, what a set's share of it comes to.
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
    /// What differs from week to week: the first of it in week 1, and from the first again after
    /// the last.
    pub wave: Vec<Step>,
    /// What sets its work apart from equal sets.
    pub details: Details,
}

impl Slot {
    /// What the slot asks for in a week of its phase, from 1: nothing of it differs any more.
    #[must_use]
    pub fn in_week(&self, week: u16) -> Self {
        let mut slot = self.clone();
        slot.wave = Vec::new();
        let place = usize::from(week.max(1) - 1) % self.wave.len().max(1);
        if let Some(step) = self.wave.get(place) {
            slot.sets = step.sets.unwrap_or(slot.sets);
            slot.ask = step.ask.unwrap_or(slot.ask);
            slot.spare = step.spare.or(slot.spare);
        }
        slot
    }

    /// Hard sets of it: working and back-off sets.
    pub fn hard_sets(&self) -> u32 {
        let behind = self.details.back_off.map_or(0, |back_off| back_off.sets);
        u32::from(self.sets) + u32::from(behind)
    }
}

impl Ask {
    /// What a set's share of so many reps in all comes to: half of it makes the set count as made,
    /// since the total decides.
    pub fn share(total: Reps, sets: u8) -> Self {
        let share = total.get().div_ceil(u32::from(sets.max(1)));
        Self::Reps {
            min: Reps::clamped(share.div_ceil(2)),
            max: Reps::clamped(share),
        }
    }

    /// The least that makes a set count as made.
    pub const fn least(self) -> u32 {
        match self {
            Self::Reps { min, .. } => min.get(),
            Self::Hold { min, .. } => min.get(),
        }
    }

    /// The most that its range holds.
    pub const fn most(self) -> u32 {
        match self {
            Self::Reps { max, .. } => max.get(),
            Self::Hold { max, .. } => max.get(),
        }
    }
}

impl fmt::Display for Ask {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = match self {
            Self::Reps { .. } => "",
            Self::Hold { .. } => " s",
        };
        let (least, most) = (self.least(), self.most());
        if least == most {
            write!(f, "{most}{unit}")
        } else {
            write!(f, "{least}-{most}{unit}")
        }
    }
}
