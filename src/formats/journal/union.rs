//! All files of a journal as one: a union by id, whatever their order and however often read.

use super::line::write_line;
use super::problem::{Problem, Trouble};
use super::read::{Entry, Read};
use super::seal::Seal;
use crate::domain::session::{EventId, Stamped, sort};
use std::collections::BTreeSet;
use std::collections::hash_map::{Entry as Slot, HashMap};
use std::sync::Arc;

/// What a journal tells.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Record {
    /// All events, each id once, in order; damaged sets among them.
    pub events: Vec<Stamped>,
    /// Which of them are damaged sets: shown, never evidence.
    pub damaged: BTreeSet<EventId>,
    /// Everything in the files that is not as it should be.
    pub problems: Vec<Problem>,
    /// The highest `n` seen; the next event gets one more.
    pub highest_n: u64,
}

impl Record {
    /// How many places in the files could not be used as they are.
    pub fn faults(&self) -> usize {
        let faults = self.problems.iter().filter(|p| !p.is_harmless());
        faults.count()
    }
}

/// An event with the file that it stands in.
struct Held {
    path: Arc<str>,
    entry: Entry,
}

/// Unites what was read. Of two events with one id and different contents the one whose checksum
/// is right is used, before one that has none, before one whose checksum is wrong.
pub fn union(files: Vec<Read>) -> Record {
    let mut record = Record::default();
    let mut held = Union::default();
    for file in files {
        record.highest_n = record.highest_n.max(file.highest_n);
        record.problems.extend(file.problems);
        let path: Arc<str> = file.path.into();
        for entry in file.entries {
            record.problems.extend(held.put(&path, entry));
        }
    }
    record.events.reserve(held.all.len());
    for Held { entry, .. } in held.all {
        if entry.seal == Seal::Wrong {
            record.damaged.insert(entry.stamped.id.clone());
        }
        record.events.push(entry.stamped);
    }
    sort(&mut record.events);
    record
}

/// The event that is used of each id.
#[derive(Default)]
pub(super) struct Union {
    all: Vec<Held>,
    /// Where each id stands among them.
    places: HashMap<EventId, usize>,
}

impl Union {
    /// The event that is used of an id.
    pub(super) fn get(&self, id: &EventId) -> Option<&Entry> {
        let held = self.all.get(*self.places.get(id)?);
        held.map(|held| &held.entry)
    }

    /// Takes an event in; where its id stands elsewhere with another content, says which one is
    /// not used.
    pub(super) fn put(&mut self, path: &Arc<str>, entry: Entry) -> Option<Problem> {
        let path = path.clone();
        let new = Held { path, entry };
        match self.places.entry(new.entry.stamped.id.clone()) {
            Slot::Vacant(place) => {
                place.insert(self.all.len());
                self.all.push(new);
                None
            }
            Slot::Occupied(place) => meet(self.all.get_mut(*place.get())?, new),
        }
    }
}

/// Keeps the better of two of one id; says which one is not used, where they differ.
fn meet(held: &mut Held, new: Held) -> Option<Problem> {
    let differ = held.entry.stamped != new.entry.stamped;
    let better = match new.entry.seal.cmp(&held.entry.seal) {
        std::cmp::Ordering::Less => true,
        std::cmp::Ordering::Greater => false,
        std::cmp::Ordering::Equal => differ && bytes(&new) < bytes(held),
    };
    let loser = if better {
        std::mem::replace(held, new)
    } else {
        new
    };
    differ.then(|| Problem {
        path: loser.path.to_string(),
        line: loser.entry.line,
        offset: loser.entry.offset,
        trouble: Trouble::SameId {
            id: held.entry.stamped.id.clone(),
            path: held.path.to_string(),
            line: held.entry.line,
        },
        excerpt: bytes_shown(&loser.entry),
    })
}

/// What decides between two that are trusted alike, so that the order of reading does not.
fn bytes(held: &Held) -> String {
    write_line(&held.entry.stamped).unwrap_or_default()
}

fn bytes_shown(entry: &Entry) -> String {
    let line = write_line(&entry.stamped).unwrap_or_default();
    line.chars().take(80).collect()
}
