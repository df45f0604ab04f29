//! A program: phases of weeks, days, and each exercise's slot with what it asks.

mod review;
mod slot;
mod volume;

pub use review::{Finding, For, Rule, Rules, review};
pub use slot::{Ask, BackOff, Details, Policy, RestWindow, Slot, SlotId, Step, Tempo};
pub use volume::hard_sets;

use super::units::name_type;

name_type! {
    /// A program's name in files: lower-case words joined by underscores.
    ProgramId
}

/// When a program's days come.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Rhythm {
    /// Days in turn, so many sessions a week, whenever the person can.
    Rotation {
        /// Sessions in a usual week: how many sessions make a week of the phase.
        per_week: u8,
    },
    /// Each day on its weekday, in the order of the phase's days.
    Weekdays(Vec<chrono::Weekday>),
    /// Days in turn, one every so many calendar days.
    Every {
        /// Calendar days from one session to the next.
        days: u8,
    },
}

/// Months of training.
#[derive(Clone, PartialEq, Debug)]
pub struct Program {
    /// Its name in files.
    pub id: ProgramId,
    /// Its name for people.
    pub name: String,
    /// What it is for, in a sentence or two.
    pub note: String,
    /// When its days come.
    pub rhythm: Rhythm,
    /// Its phases, in order.
    pub phases: Vec<Phase>,
}

/// Some weeks with one aim.
#[derive(Clone, PartialEq, Debug)]
pub struct Phase {
    /// Its name for people.
    pub name: String,
    /// What it is for.
    pub note: String,
    /// How many weeks it lasts.
    pub weeks: u8,
    /// Which of its weeks, from 1, are easier ones: fewer sets, lighter, no evidence.
    pub easier_weeks: Vec<u8>,
    /// Whether a week is made easier too when lifts have come to a stop.
    pub easier_on_stall: bool,
    /// Its days, in order.
    pub days: Vec<Day>,
}

/// What one session holds.
#[derive(Clone, PartialEq, Debug)]
pub struct Day {
    /// Its name for people ("Day 2", "Upper").
    pub name: String,
    /// Its exercises, in order.
    pub slots: Vec<Slot>,
}

impl Day {
    /// Its slots as a week of the phase, from 1, asks for them.
    pub fn in_week(&self, week: u16) -> Vec<Slot> {
        self.slots.iter().map(|slot| slot.in_week(week)).collect()
    }
}

impl Phase {
    /// Whether a week of it, from 1, is planned as an easier one.
    pub fn is_easier(&self, week: u16) -> bool {
        self.easier_weeks.iter().any(|w| u16::from(*w) == week)
    }
}

impl Rhythm {
    /// Sessions that make a week of a phase.
    pub fn per_week(&self) -> usize {
        match self {
            Self::Rotation { per_week } => usize::from(*per_week).max(1),
            Self::Weekdays(days) => days.len().max(1),
            Self::Every { days } => usize::from(7 / days.max(&1)).max(1),
        }
    }
}
