//! Events on their way to the disk, known to the thread that writes and to the one that waits: a
//! disk that does not answer must not take them with it.

use crate::domain::session::{Event, EventId, Stamped};
use crate::domain::units::Civil;
use crate::formats::journal::{file_name, write_line};
use std::collections::{BTreeMap, VecDeque};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

/// A queue that two threads know. Never held while the disk is at work.
#[derive(Clone, Debug)]
pub(super) struct Shared(Arc<Mutex<Queue>>);

impl Shared {
    pub(super) fn new(queue: Queue) -> Self {
        Self(Arc::new(Mutex::new(queue)))
    }

    pub(super) fn with<T>(&self, act: impl FnOnce(&mut Queue) -> T) -> T {
        act(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

/// An event on its way to the disk.
#[derive(Clone, Debug)]
pub(super) struct Pending {
    pub(super) id: EventId,
    pub(super) path: PathBuf,
    /// Its line, with its line feed.
    pub(super) line: String,
}

/// An event that no line can hold.
#[derive(Debug)]
struct Unwritable {
    id: EventId,
    /// All that it says.
    text: String,
    /// Why; taken once it has been told.
    why: Option<String>,
}

/// Events on their way to the disk, in order.
#[derive(Debug)]
pub(super) struct Queue {
    journal: PathBuf,
    device: String,
    pending: VecDeque<Pending>,
    unwritable: Vec<Unwritable>,
    /// The year that each session was opened in.
    years: BTreeMap<EventId, i32>,
}

impl Queue {
    pub(super) fn of(journal: PathBuf, device: &str) -> Self {
        Self {
            journal,
            device: device.to_owned(),
            pending: VecDeque::new(),
            unwritable: Vec::new(),
            years: BTreeMap::new(),
        }
    }

    pub(super) fn resume(&mut self, session: &EventId, opened: Civil) {
        self.years.insert(session.clone(), opened.year());
    }

    pub(super) fn take(&mut self, event: Stamped) {
        if let (Event::Opened(_), Some(session)) = (&event.event, &event.session) {
            self.years.insert(session.clone(), event.at.year());
        }
        let year = event.session.as_ref().and_then(|s| self.years.get(s));
        let year = year.copied().unwrap_or(event.at.year());
        match write_line(&event) {
            Ok(line) => self.pending.push_back(Pending {
                id: event.id,
                path: self.journal.join(file_name(year, &self.device)),
                line: format!("{line}\n"),
            }),
            Err(why) => self.unwritable.push(Unwritable {
                text: format!("{event:?}"),
                id: event.id,
                why: Some(why.to_string()),
            }),
        }
    }

    /// The events that no line can hold and that nobody was told of yet, and why the last cannot.
    pub(super) fn refusals(&mut self) -> Option<(Vec<EventId>, String)> {
        let mut ids = Vec::new();
        let mut last = None;
        for event in &mut self.unwritable {
            if let Some(why) = event.why.take() {
                ids.push(event.id.clone());
                last = Some(why);
            }
        }
        last.map(|why| (ids, why))
    }

    pub(super) fn first(&self) -> Option<Pending> {
        self.pending.front().cloned()
    }

    /// The first is on the disk.
    pub(super) fn done(&mut self) {
        self.pending.pop_front();
    }

    pub(super) fn put_back(&mut self, lines: Vec<Pending>) {
        for line in lines.into_iter().rev() {
            self.pending.push_front(line);
        }
    }

    pub(super) fn ids(&self) -> Vec<EventId> {
        self.pending.iter().map(|line| line.id.clone()).collect()
    }

    pub(super) fn pending(&self) -> Vec<Pending> {
        self.pending.iter().cloned().collect()
    }

    /// What the events say that no line can hold.
    pub(super) fn unwritable(&self) -> Vec<String> {
        self.unwritable.iter().map(|e| e.text.clone()).collect()
    }

    /// Everything that is not known to be on the disk.
    pub(super) fn lines(&self) -> Vec<String> {
        let pending = self.pending.iter().map(|p| p.line.trim_end().to_owned());
        self.unwritable().into_iter().chain(pending).collect()
    }
}
