//! The logbook as it is leafed through: what it is read from, which page, what is open.

use super::model::{BriefingScreen, Desk};
use crate::domain::exercise::ExerciseId;
use crate::domain::history::{History, Lifter};
use crate::domain::logbook::Logbook;
use crate::domain::logbook::told::sessions::{Which, one};
use crate::domain::logbook::told::{Reading, strength};
use crate::domain::session::{EventId, Session, Stamped, Typed};
use crate::domain::strength::belief::Believed;
use crate::domain::units::{Civil, Unit};
use std::collections::BTreeMap;
use std::sync::Arc;

/// How far back a logbook is read: years that nobody looks at are left where they are.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Depth {
    /// As far as views of months look.
    Months,
    /// So many sessions at least.
    Sessions(usize),
    /// To the first one.
    All,
}

/// What was recorded, digested.
#[derive(Clone, PartialEq, Debug)]
pub struct Book {
    /// The events, unresolved.
    pub events: Vec<Stamped>,
    /// How many of this run's events are among them.
    pub taken: usize,
    /// What they tell.
    pub history: Arc<History>,
    /// Its digests.
    pub logbook: Logbook,
    /// How often stated odds came true, in lines; of all sessions or none.
    pub odds: Vec<String>,
    /// How many sessions lie further back than was read.
    pub earlier: usize,
}

/// A page of the logbook.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum View {
    /// A list of sessions; each set by set.
    Sessions,
    /// A list of exercises; each with a picture.
    Strength,
    /// Hard sets by muscle and week, and the weeks.
    Work,
    /// Pairs that should keep pace.
    Balance,
    /// A list of exercises; each with what was best.
    Records,
    /// How often stated odds came true.
    Odds,
    /// When to back off.
    Deload,
}

impl View {
    /// All of them, in order.
    pub const ALL: [Self; 7] = [
        Self::Sessions,
        Self::Strength,
        Self::Work,
        Self::Balance,
        Self::Records,
        Self::Odds,
        Self::Deload,
    ];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Sessions => "sessions",
            Self::Strength => "strength",
            Self::Work => "work",
            Self::Balance => "balance",
            Self::Records => "records",
            Self::Odds => "odds",
            Self::Deload => "deload",
        }
    }

    /// Whether it is a list of which one thing can be opened.
    pub const fn is_list(self) -> bool {
        match self {
            Self::Sessions | Self::Strength | Self::Records => true,
            Self::Work | Self::Balance | Self::Odds | Self::Deload => false,
        }
    }
}

/// Something that a list holds.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Entry {
    /// A session, by its opening event.
    Session(EventId),
    /// An exercise.
    Exercise(ExerciseId),
}

/// What was changed from here, so that it can be taken back, the last first.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Changes {
    /// The events that changed something.
    pub done: Vec<EventId>,
    /// The voids that took one of them back.
    pub undone: Vec<EventId>,
}

/// The logbook on the screen.
#[derive(Clone, PartialEq, Debug)]
pub struct LogbookScreen {
    /// When it was opened: the day that it is read on.
    pub opened: Civil,
    /// Where it was opened from.
    pub behind: BriefingScreen,
    /// What it is read from, once that was read.
    pub book: Option<Arc<Book>>,
    /// How far back it is read.
    pub depth: Depth,
    /// Which page.
    pub view: View,
    /// The marked entry of its list, from 0.
    pub marked: usize,
    /// What is open of the list.
    pub open: Option<Entry>,
    /// The first line shown of a page; in an open session the marked set, from 0.
    pub at: usize,
    /// What sessions must mention, and exercises be called.
    pub search: String,
    /// What is being typed about the marked set.
    pub typed: Typed,
    /// What was changed from here.
    pub changes: Changes,
    /// What was believed of exercises that were opened.
    pub believed: BTreeMap<ExerciseId, Vec<Believed>>,
}

impl LogbookScreen {
    /// The logbook at its first page.
    pub fn new(behind: BriefingScreen, opened: Civil) -> Self {
        Self {
            opened,
            behind,
            book: None,
            depth: Depth::Months,
            view: View::Sessions,
            marked: 0,
            open: None,
            at: 0,
            search: String::new(),
            typed: Typed::Nothing,
            changes: Changes::default(),
            believed: BTreeMap::new(),
        }
    }

    /// How the book is read, in so many columns and rows.
    pub fn reading<'a>(
        &self,
        book: &'a Book,
        (desk, lifter): (&'a Desk, Option<&Lifter>),
        (width, rows): (usize, usize),
    ) -> Reading<'a> {
        let today = self.opened.date();
        let usual = Reading::usual_days(today);
        let days = match self.view {
            View::Sessions | View::Records => Reading::EVER,
            View::Strength | View::Work | View::Balance | View::Odds | View::Deload => usual,
        };
        Reading {
            history: &book.history,
            logbook: &book.logbook,
            catalogue: &desk.catalogue,
            unit: lifter.map_or(Unit::Kg, |lifter| lifter.unit),
            today,
            days,
            width,
            rows,
        }
    }

    /// What the list holds, the last first, as far as it fits the search.
    pub fn entries(&self, reading: &Reading<'_>) -> Vec<Entry> {
        let text = self.search.trim();
        match self.view {
            View::Sessions => {
                let sessions = reading.history.sessions.iter().rev();
                let sessions = sessions.filter(|session| !session.sets.is_empty());
                let found = |session: &&Session| {
                    text.is_empty() || Which::mentions(text, session, reading.catalogue)
                };
                let found = sessions.filter(found);
                found.map(|s| Entry::Session(s.id.clone())).collect()
            }
            View::Strength | View::Records => {
                let called = |id: &ExerciseId| {
                    let name = reading.catalogue.name(id).to_lowercase();
                    name.contains(&text.to_lowercase()) || id.as_str().contains(text)
                };
                let exercises = reading.exercises().into_iter();
                let called = exercises.filter(|(id, _)| called(id));
                called.map(|(id, _)| Entry::Exercise(id.clone())).collect()
            }
            View::Work | View::Balance | View::Odds | View::Deload => Vec::new(),
        }
    }

    /// The place of the open session in the history.
    pub fn open_session(&self, history: &History) -> Option<usize> {
        let Some(Entry::Session(id)) = &self.open else {
            return None;
        };
        history
            .sessions
            .iter()
            .position(|session| session.id == *id)
    }

    /// How far back must be read for what is on the screen: further where the mark comes to the end
    /// of the sessions that were read.
    pub fn wants(&self, reading: &Reading<'_>) -> Depth {
        let read = reading.history.sessions.len();
        match self.view {
            View::Records | View::Odds => Depth::All,
            View::Sessions if !self.search.trim().is_empty() => Depth::All,
            View::Sessions if self.marked + 1 >= self.entries(reading).len() => {
                Depth::Sessions(read.saturating_mul(4))
            }
            View::Sessions | View::Strength | View::Work | View::Balance | View::Deload => {
                self.depth
            }
        }
    }

    /// The places of the open session's sets, in the order in which they are shown.
    pub fn sets(&self, reading: &Reading<'_>) -> Vec<usize> {
        let place = self.open_session(reading.history);
        let lines = place.map_or_else(Vec::new, |place| one(reading, place));
        lines.into_iter().filter_map(|(_, set)| set).collect()
    }

    /// The exercise whose strength is open: what is asked of it.
    pub fn asked(&self) -> Option<strength::Asked> {
        match (&self.open, self.view) {
            (Some(Entry::Exercise(id)), View::Strength) => Some(strength::Asked {
                exercise: id.clone(),
                load: None,
                equation: None,
            }),
            (Some(_) | None, _) => None,
        }
    }
}
