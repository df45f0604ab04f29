//! What files from elsewhere would add to a journal: the lines that it has not, byte for byte.

use super::problem::Problem;
use super::read::{Entry, Read, Unused, read};
use super::seal::Seal;
use super::union::Union;
use crate::domain::session::EventId;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A file from elsewhere.
#[derive(Clone, Debug)]
pub struct Other {
    /// The file, as the person would name it.
    pub path: String,
    /// All of it.
    pub bytes: Vec<u8>,
}

/// What files from elsewhere would add.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Merged {
    /// The lines, each with its line feed, in the order of their events.
    pub lines: Vec<u8>,
    /// How many events are among them that this version can use.
    pub events: usize,
    /// How many that it cannot: of a newer version, or damaged.
    pub unused: usize,
    /// What is not as it should be in those files, and where two tell one event differently.
    pub problems: Vec<Problem>,
}

/// What `others` would add to a journal of these files. An event that the journal has is not
/// added again, unless the other one would be used in its place. The result does not depend on the
/// order of the files, and adding it leaves nothing to add.
pub fn merge(journal: Vec<Read>, others: &[Other]) -> Merged {
    let mut union = Union::default();
    let mut aside: BTreeSet<EventId> = BTreeSet::new();
    for file in journal {
        aside.extend(file.unused.into_iter().filter_map(|unused| unused.id));
        let path: Arc<str> = file.path.into();
        for entry in file.entries {
            // What the journal's own files disagree on is no news here.
            union.put(&path, entry);
        }
    }
    let mut merged = Merged::default();
    let mut new: BTreeMap<EventId, (u64, &[u8])> = BTreeMap::new();
    let mut new_aside: BTreeMap<EventId, &[u8]> = BTreeMap::new();
    for other in others {
        let found = read(&other.bytes, &other.path);
        let path: Arc<str> = other.path.as_str().into();
        merged.problems.extend(found.problems);
        for entry in found.entries {
            let id = entry.stamped.id.clone();
            let line = (entry.stamped.n, entry.bytes(&other.bytes));
            match new.get_mut(&id) {
                // The same, written otherwise: which bytes are taken must not hang on the order.
                Some(held) if is_alike(&union, &entry) => {
                    *held = line.min(*held);
                    continue;
                }
                None if is_known(&union, &entry) => continue,
                Some(_) | None => {}
            }
            merged.problems.extend(union.put(&path, entry.clone()));
            if union.get(&id) == Some(&entry) {
                new.insert(id, line);
            }
        }
        for unused in &found.unused {
            let Some(id) = unused.id.clone().filter(|id| !aside.contains(id)) else {
                continue;
            };
            let piece = unused.bytes(&other.bytes);
            let held = new_aside.entry(id).or_insert(piece);
            *held = piece.min(held);
        }
    }
    (merged.events, merged.unused) = (new.len(), new_aside.len());
    let mut new: Vec<_> = new
        .into_iter()
        .map(|(id, (n, line))| (n, id, line))
        .collect();
    new.sort();
    let lines = new.into_iter().map(|(_, _, line)| line);
    for line in lines.chain(new_aside.into_values()) {
        merged.lines.extend_from_slice(line);
        merged.lines.push(b'\n');
    }
    merged
}

/// Whether what is held of an event says the same, and can be trusted alike.
fn is_alike(union: &Union, entry: &Entry) -> bool {
    let held = union.get(&entry.stamped.id);
    held.is_some_and(|held| held.stamped == entry.stamped && held.seal == entry.seal)
}

/// Whether the journal tells this event already, and as well.
fn is_known(union: &Union, entry: &Entry) -> bool {
    let as_good = |held: &Entry| held.seal != Seal::Wrong || entry.seal == Seal::Wrong;
    let held = union.get(&entry.stamped.id);
    held.is_some_and(|held| held.stamped == entry.stamped && as_good(held))
}

/// The bytes of an event.
fn piece(bytes: &[u8], offset: usize, length: usize) -> &[u8] {
    bytes.get(offset..offset + length).unwrap_or_default()
}

impl Unused {
    /// Its bytes in the file.
    pub(super) fn bytes<'a>(&self, file: &'a [u8]) -> &'a [u8] {
        piece(file, self.offset, self.length)
    }
}

impl Entry {
    /// Its bytes in the file.
    pub(super) fn bytes<'a>(&self, file: &'a [u8]) -> &'a [u8] {
        piece(file, self.offset, self.length)
    }
}
