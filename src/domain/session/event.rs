//! Events: all that is ever written down.

use super::{Done, Ended, Plan, PlannedItem, PlannedSet, SetRecord};
use crate::domain::exercise::{Exercise, Joint, Muscle};
use crate::domain::gear::PlaceId;
use crate::domain::program::ProgramId;
use crate::domain::units::{Civil, Load, Spare, Weight};
use chrono::NaiveDate;
use std::fmt;

/// An event's name, unique across devices: `<device>-<run>-<k>`.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct EventId(pub String);

impl fmt::Display for EventId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// An event with its place in the order of all events: by `n`, then by id.
#[derive(Clone, PartialEq, Debug)]
pub struct Stamped {
    /// Its name.
    pub id: EventId,
    /// One more than the highest seen when it was written.
    pub n: u64,
    /// The session that it belongs to, by the id of its opening event.
    pub session: Option<EventId>,
    /// When it happened, by the wall clock.
    pub at: Civil,
    /// What happened.
    pub event: Event,
}

/// What can happen.
#[derive(Clone, PartialEq, Debug)]
pub enum Event {
    /// A session began, with its whole plan.
    Opened(Box<Opened>),
    /// A set was done.
    Set(Box<SetRecord>),
    /// The person said how many reps were spare, after the fact.
    Spare {
        /// The set's event.
        set: EventId,
        /// Reps in reserve.
        spare: Spare,
    },
    /// An exercise, or its coming set alone, is left out.
    Skipped {
        /// Which item of the session.
        item: u16,
        /// Its coming set alone, or all that is left of it.
        whole: bool,
    },
    /// An exercise is done later: after all others.
    PutOff {
        /// Which item of the session.
        item: u16,
    },
    /// What is left of an exercise is done with another.
    Swapped {
        /// Which item of the session.
        item: u16,
        /// What takes its place.
        with: Box<PlannedItem>,
    },
    /// A set was added behind the last of an exercise.
    Added {
        /// Which item of the session.
        item: u16,
        /// The set.
        set: PlannedSet,
    },
    /// It hurt.
    Pain(Pain),
    /// A word of the person's.
    Note {
        /// What they wrote.
        text: String,
    },
    /// The session stands still.
    Paused,
    /// It goes on.
    Resumed,
    /// It is over.
    Closed(Closed),
    /// The person's body weight.
    BodyWeight(Weight),
    /// A program was taken up.
    Adopted(Adopted),
    /// Something that matters to training was chosen.
    Chose(Choice),
    /// The person took a lighter week, or went back to the full one.
    Eased {
        /// Its last day; none: it is over.
        until: Option<NaiveDate>,
    },
    /// The sets of one day came from elsewhere.
    Imported(Box<Imported>),
    /// All days of one import are written: without it an import counts for nothing.
    ImportEnded(ImportEnded),
    /// An earlier set is other than it was written.
    Amended {
        /// The set's event.
        target: EventId,
        /// What is different.
        change: Amendment,
    },
    /// An earlier event does not hold; voiding a void restores.
    Voided {
        /// The event.
        target: EventId,
    },
}

/// How a session began.
#[derive(Clone, PartialEq, Debug)]
pub struct Opened {
    /// What was planned.
    pub plan: Plan,
}

/// Where it hurts, and so what follows.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Whereabouts {
    /// A joint.
    Joint(Joint),
    /// A muscle.
    Muscle(Muscle),
    /// Chest, head, breath or numbness: the session stops.
    Alarm,
}

impl Whereabouts {
    /// Whether an exercise loads what hurts. Elbow and wrist are asked for together.
    pub fn is_loaded_by(self, exercise: &Exercise) -> bool {
        let both = [Joint::Elbow, Joint::Wrist];
        match self {
            Self::Alarm => true,
            Self::Joint(joint) if both.contains(&joint) => {
                exercise.joints.iter().any(|joint| both.contains(joint))
            }
            Self::Joint(joint) => exercise.joints.contains(&joint),
            Self::Muscle(muscle) => {
                exercise.prime.contains(&muscle) || exercise.assisting.contains(&muscle)
            }
        }
    }
}

/// Pain, as the person said it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Pain {
    /// Which item was on, if one was.
    pub item: Option<u16>,
    /// Where.
    pub whereabouts: Whereabouts,
}

/// How a session ended.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Closed {
    /// How hard the session was, 0 to 10, where the person said.
    pub effort: Option<u8>,
}

/// A program taken up.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Adopted {
    /// Which.
    pub program: ProgramId,
    /// From when.
    pub from: NaiveDate,
    /// From which phase, from 1.
    pub phase: u16,
}

/// How much the person has trained.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Experience {
    /// Little or not at all.
    #[default]
    Novice,
    /// For some months or more, without a break.
    Intermediate,
    /// Once, and now again.
    Returning,
}

/// How likely a suggested load must be to be made.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Boldness {
    /// Sooner heavier.
    Bold,
    /// In between.
    #[default]
    Steady,
    /// Sooner sure.
    Cautious,
}

/// Something chosen that matters to training.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Choice {
    /// Where sessions happen.
    Place(PlaceId),
    /// How bold suggestions are.
    Boldness(Boldness),
    /// How much the person has trained.
    Experience(Experience),
}

/// The sets of one day that came from elsewhere.
#[derive(Clone, PartialEq, Debug)]
pub struct Imported {
    /// The day they were done.
    pub date: NaiveDate,
    /// The name of what they came from.
    pub source: String,
    /// The sets, in order.
    pub sets: Vec<SetRecord>,
    /// The import of several days that it is part of; a day without one stands alone.
    pub part: Option<ImportPart>,
    /// How hard the day's session was, 0 to 10.
    pub effort: Option<u8>,
    /// How many minutes it took.
    pub minutes: Option<u32>,
    /// Body weight on the day.
    pub body_weight: Option<Weight>,
    /// What was noted, in order.
    pub notes: Vec<String>,
}

/// One day's place in an import of several.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ImportPart {
    /// The event that ends the import.
    pub import: EventId,
    /// How many days the import has.
    pub days: u32,
}

/// The end of an import: all its days are written. What voids it takes all of them away.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ImportEnded {
    /// The name of what was imported.
    pub source: String,
    /// How many days it has.
    pub days: u32,
}

/// What is different about an earlier set: only what is given changes.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Amendment {
    /// With what.
    pub load: Option<Load>,
    /// How much.
    pub done: Option<Done>,
    /// Reps in reserve.
    pub spare: Option<Spare>,
    /// How it ended.
    pub ended: Option<Ended>,
}
