//! All that the program can do to the world, on one screen.

pub use crate::domain::cue::Cue;

use super::logbook::Depth;
use crate::domain::advice::Ahead;
use crate::domain::exercise::ExerciseId;
use crate::domain::history::{Lifter, Preference};
use crate::domain::schedule::Wish;
use crate::domain::session::{Draft, Item, Session, Stamped, Whereabouts};

/// Something for the shell to do.
#[derive(Clone, PartialEq, Debug)]
pub enum Effect {
    /// Append these events to the journal, in order, and say how it went.
    Append(Vec<Stamped>),
    /// Keep this of the running session, in place of what was kept before; none: keep nothing.
    KeepDraft(Option<Box<Draft>>),
    /// Write down who trains, once, and open the briefing.
    WriteLifter(Box<Lifter>),
    /// Draw up a session and answer with its briefing.
    DrawUp {
        /// What is wished for.
        wish: Wish,
        /// What happened in this run, beside what the journal held at its start.
        events: Vec<Stamped>,
    },
    /// Work out what the coming set of an item should be now.
    Revise(Box<Question>),
    /// Work out the odds of a coming set.
    Foretell(Box<Foretelling>),
    /// Find what can take an item's place here and now.
    FindStandIns {
        /// For what.
        question: Box<Question>,
        /// What must not be loaded.
        avoid: Option<Whereabouts>,
    },
    /// Tell of the program that is followed, week by week.
    Preview {
        /// What happened in this run, beside what the journal held at its start.
        events: Vec<Stamped>,
    },
    /// Read what was recorded, for the logbook and for what is planned from now on.
    ReadBook {
        /// What happened in this run, beside what the journal held at its start.
        events: Vec<Stamped>,
        /// How far back the logbook looks.
        depth: Depth,
    },
    /// Work out what was believed of an exercise after each of its sessions.
    Believe {
        /// Which.
        exercise: ExerciseId,
    },
    /// Give a sign.
    Cue(Cue),
    /// This sign comes within three seconds: make ready to give it.
    CueAhead(Cue),
    /// Tell the desktop, in place of what it was told before.
    Notify(Box<Told>),
    /// Ring the terminal's bell, so many times.
    Ring(usize),
    /// Remember this from now on, whatever else is preferred by now.
    Prefer(Preference),
    /// Stop here for now, and be brought back by the shell that started us.
    Suspend,
    /// End the program.
    Quit,
}

impl Effect {
    /// Whether it changes a file.
    pub const fn keeps_something(&self) -> bool {
        match self {
            Self::Append(_) | Self::KeepDraft(_) | Self::WriteLifter(_) | Self::Prefer(_) => true,
            Self::DrawUp { .. }
            | Self::Revise(_)
            | Self::Foretell(_)
            | Self::FindStandIns { .. }
            | Self::Preview { .. }
            | Self::ReadBook { .. }
            | Self::Believe { .. }
            | Self::Cue(_)
            | Self::CueAhead(_)
            | Self::Notify(_)
            | Self::Ring(_)
            | Self::Suspend
            | Self::Quit => false,
        }
    }
}

/// What the desktop is told: plain text.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Told {
    /// In a few words.
    pub title: String,
    /// The set that comes.
    pub body: String,
}

/// What [`Effect::Revise`] and others ask.
#[derive(Clone, PartialEq, Debug)]
pub struct Question {
    /// Which item of the session.
    pub index: usize,
    /// The item as it stands.
    pub item: Item,
    /// The session as it stands.
    pub session: Session,
}

/// What [`Effect::Foretell`] asks.
#[derive(Clone, PartialEq, Debug)]
pub struct Foretelling {
    /// The session as it stands.
    pub session: Session,
    /// How many events of it there are.
    pub after: usize,
    /// Which set.
    pub ahead: Ahead,
}
