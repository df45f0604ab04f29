//! What outlives a run, and what a run begins with.

use super::model::Desk;
use crate::domain::history::{History, Lifter, Prefs};
use crate::domain::schedule::Briefing;
use crate::domain::session::{Draft, EventId, Stamped};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What was written in this run, and what of it is not on the disk yet.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Ledger {
    /// First parts of this run's event ids: `<device>-<run>`.
    pub origin: String,
    /// How many ids were given out.
    pub given: u64,
    /// The highest `n` seen.
    pub highest: u64,
    /// Events on their way to the disk.
    pub saving: Vec<EventId>,
    /// Events that could not be written.
    pub not_saved: Vec<EventId>,
    /// Why, as last heard.
    pub why: String,
    /// All events of this run, in order.
    pub written: Vec<Stamped>,
}

/// Who begins: what the model is made from.
#[derive(Clone, PartialEq, Debug)]
pub struct Beginning {
    /// What does not change.
    pub desk: Arc<Desk>,
    /// Who trains, once they have said.
    pub lifter: Option<Lifter>,
    /// First parts of this run's event ids.
    pub origin: String,
    /// The highest `n` in the journal.
    pub highest: u64,
    /// What was done before this run.
    pub past: Arc<History>,
    /// The session left open, with its events and the briefing of its plan.
    pub open: Option<Box<Open>>,
    /// What the person prefers.
    pub prefs: Prefs,
}

/// A session left open.
#[derive(Clone, PartialEq, Debug)]
pub struct Open {
    /// Its events, in order, unresolved.
    pub events: Vec<Stamped>,
    /// Which of them are sets read from damaged lines: done, and no evidence.
    pub damaged: BTreeSet<EventId>,
    /// Its plan, with last time's numbers.
    pub briefing: Briefing,
    /// What the last run kept of it, in this run's instants.
    pub draft: Option<Draft>,
}
