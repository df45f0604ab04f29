//! What is told before a session: the plan, last time's numbers, what to fetch, how long it takes.

use crate::domain::gear::PlaceId;
use crate::domain::history::{Outing, Pace};
use crate::domain::session::Plan;
use crate::domain::units::Seconds;

/// A session of a program, and why it is the one.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Today {
    /// Phase of the program, from 1.
    pub phase: u16,
    /// Week of the phase, from 1.
    pub week: u16,
    /// Day of the phase, from 1.
    pub day: u16,
    /// What it is called, for the person to choose by.
    pub name: String,
    /// Whether the week is an easier one.
    pub easier_week: bool,
    /// Why it is this one.
    pub why: String,
}

/// What a person wishes to train, other than what the program says.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Wish {
    /// At that place.
    pub place: Option<PlaceId>,
    /// That session.
    pub session: Option<Today>,
}

/// All that is told of one exercise before it is done.
#[derive(Clone, PartialEq, Debug)]
pub struct BriefedItem {
    /// The last time that it was done.
    pub last: Option<Outing>,
    /// What to fetch for its working load.
    pub fetch: String,
}

/// All that is told before a session.
#[derive(Clone, PartialEq, Debug)]
pub struct Briefing {
    /// Which session it is, and why.
    pub today: Today,
    /// The other sessions that can be chosen.
    pub others: Vec<Today>,
    /// What is planned.
    pub plan: Plan,
    /// By item of the plan.
    pub items: Vec<BriefedItem>,
    /// How long it will take.
    pub takes: Seconds,
    /// How fast this lifter is.
    pub pace: Pace,
    /// What could not be planned, and why.
    pub remarks: Vec<String>,
}
