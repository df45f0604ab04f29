//! All that can come to the program from outside, on one screen. Each comes with a `Now`.

use super::effect::Cue;
use super::keymap::Key;
use super::logbook::Book;
use crate::domain::advice::{Ahead, Foretold, Revision};
use crate::domain::exercise::ExerciseId;
use crate::domain::history::Lifter;
use crate::domain::schedule::Briefing;
use crate::domain::session::{EventId, PlannedItem, Whereabouts};
use crate::domain::strength::belief::Believed;
use std::sync::Arc;

/// Something that happened.
#[derive(Clone, PartialEq, Debug)]
pub enum Msg {
    /// A key was pressed.
    Key(Key),
    /// The deadline that the model asked for has come.
    Tick,
    /// These events are on the disk, synced.
    Recorded(Vec<EventId>),
    /// These events are not on the disk.
    NotSaved {
        /// Which.
        ids: Vec<EventId>,
        /// Why, in words.
        why: String,
    },
    /// A session was drawn up.
    DrawnUp(Box<Briefing>),
    /// It could not be.
    NotDrawnUp(String),
    /// The lifter's file is written.
    LifterWritten(Box<Lifter>),
    /// The answers could not be written, and why.
    LifterNotWritten(String),
    /// Something could not be written; the words say what and why.
    Failed(String),
    /// What the coming set should be now; none: as it stands.
    Revised {
        /// Which item of the session.
        item: usize,
        /// How many sets of the session were done when it was asked.
        after: usize,
        /// The answer.
        revision: Option<Revision>,
    },
    /// The odds of a coming set; none: nothing is known of them.
    Foretold {
        /// How many events of the session there were when it was asked.
        after: usize,
        /// Which set.
        ahead: Ahead,
        /// The answer.
        foretold: Option<Foretold>,
    },
    /// What can take an item's place, best first.
    StandIns {
        /// Which item of the session.
        item: usize,
        /// What must not be loaded.
        avoid: Option<Whereabouts>,
        /// What was found.
        found: Vec<PlannedItem>,
    },
    /// The program that is followed, week by week, in lines.
    Preview(Vec<String>),
    /// All that was recorded, digested.
    Book(Arc<Book>),
    /// What was believed of an exercise after each of its sessions.
    Believed(ExerciseId, Vec<Believed>),
    /// A sign could not be given as a sound.
    Unheard(Cue),
    /// What was shown can be read down to this: the first line shown then.
    Shown(usize),
    /// The terminal is in front of the person again after a stop.
    Continued,
}
