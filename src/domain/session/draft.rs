//! What is kept of a running session beside its events, so that it can go on after anything.

use super::{EventId, SetKind};
use crate::domain::units::{Boot, Civil, Load, Seconds, Spare};

/// What the lifter is doing.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Beat {
    /// Getting ready, or resting since the last set.
    Resting,
    /// A hold is about to begin.
    LeadIn {
        /// When.
        until: Boot,
        /// How long the first side worked, when this is the second.
        first: Option<Seconds>,
        /// When the set begins, or the first side began.
        began: Boot,
        /// The seconds left that were last told.
        told: u8,
    },
    /// One side of a hold is done, and nothing counts the other one in yet.
    Between {
        /// What the first side held.
        first: Seconds,
        /// Since when the set is on.
        began: Boot,
    },
    /// Lifting, or holding.
    Lifting {
        /// Since when this side is worked.
        since: Boot,
        /// Since when the set is on.
        began: Boot,
        /// How long the first side worked, when this is the second.
        first: Option<Seconds>,
    },
}

/// Which signs of a rest were given.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Cued {
    /// None.
    #[default]
    Nothing,
    /// That it opened.
    Opened,
    /// That it closes soon.
    ClosesSoon,
    /// That it closed.
    Closed,
}

/// What is being typed on the floor.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub enum Typed {
    /// Nothing.
    #[default]
    Nothing,
    /// Reps or seconds, with spare once the point was typed.
    Count {
        /// Digits of the count.
        digits: String,
        /// After the point: the spare typed, if it was yet.
        spare: Option<Option<Spare>>,
    },
    /// The point alone: a digit says the spare of the set just done.
    SpareOfLast,
    /// The second side's count.
    OtherSide {
        /// The first side's.
        first: u32,
        /// The spare.
        spare: Option<Spare>,
        /// Digits so far.
        digits: String,
    },
    /// A load by name.
    Load(String),
}

/// What changed without an event, the last behind.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Asides {
    /// What stands, each with how many events there were when it was done.
    pub done: Vec<(usize, Aside)>,
    /// What was taken back, each with how many events there were then.
    pub undone: Vec<(usize, Aside)>,
}

/// One change without an event.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Aside {
    /// The rest after that set was moved back a step.
    RestEarlier(EventId),
    /// The person chose another load for the coming sets of an item and kind.
    Load {
        /// Which.
        of: (usize, SetKind),
        /// The load chosen before, if one was.
        before: Option<Load>,
        /// The load chosen since.
        after: Load,
    },
}

/// What is kept of a running session beside its events.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Draft {
    /// The session.
    pub session: EventId,
    /// The last set, and when it ended.
    pub end: Option<(EventId, Boot)>,
    /// When the draft was made, by both clocks: how a later run finds its own instants.
    pub at: (Boot, Civil),
    /// What the lifter was doing.
    pub beat: Beat,
    /// What was being typed.
    pub typed: Typed,
    /// Loads that the person chose, by item and kind of set.
    pub loads: Vec<(usize, SetKind, Load)>,
    /// What can be taken back beside events.
    pub asides: Asides,
    /// Which signs were given.
    pub cued: Cued,
}
