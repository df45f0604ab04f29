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
    /// All events of this run, and before them those of the session that it went on with, in order.
    pub written: Vec<Stamped>,
}

/// What this run may do to the journal.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Access {
    /// Write to it.
    Writes,
    /// Write to it, though nothing keeps a second process from doing so too.
    WritesUnlocked,
    /// Only look at it: another process, of which these are the words, has it open.
    OthersWrite(String),
    /// Only look at it: it cannot be written, and why.
    CannotWrite(String),
}

impl Access {
    /// Whether nothing is to be written.
    pub const fn looks_only(&self) -> bool {
        match self {
            Self::Writes | Self::WritesUnlocked => false,
            Self::OthersWrite(_) | Self::CannotWrite(_) => true,
        }
    }
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
    /// What this run may do to the journal.
    pub access: Access,
    /// Places in the journal that could not be used as they are.
    pub unread: usize,
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
