//! All files of a journal as one: a union by id, whatever their order and however often read.

use super::line::write_line;
use super::problem::{Problem, Trouble};
use super::read::{Entry, Read};
use super::seal::Seal;
use crate::domain::session::{EventId, Stamped, sort};
use std::collections::{BTreeMap, BTreeSet, btree_map};

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
    path: String,
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
        for entry in file.entries {
            record.problems.extend(held.put(&file.path, entry));
        }
    }
    for (id, Held { entry, .. }) in held.0 {
        if entry.seal == Seal::Wrong {
            record.damaged.insert(id);
        }
        record.events.push(entry.stamped);
    }
    sort(&mut record.events);
    record
}

/// The event that is used of each id.
#[derive(Default)]
pub(super) struct Union(BTreeMap<EventId, Held>);

impl Union {
    /// The event that is used of an id.
    pub(super) fn get(&self, id: &EventId) -> Option<&Entry> {
        self.0.get(id).map(|held| &held.entry)
    }

    /// Takes an event in; where its id stands elsewhere with another content, says which one is
    /// not used.
    pub(super) fn put(&mut self, path: &str, entry: Entry) -> Option<Problem> {
        let path = path.to_owned();
        let new = Held { path, entry };
        match self.0.entry(new.entry.stamped.id.clone()) {
            btree_map::Entry::Vacant(place) => {
                place.insert(new);
                None
            }
            btree_map::Entry::Occupied(mut place) => meet(place.get_mut(), new),
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
        path: loser.path,
        line: loser.entry.line,
        offset: loser.entry.offset,
        trouble: Trouble::SameId {
            id: held.entry.stamped.id.clone(),
            path: held.path.clone(),
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
