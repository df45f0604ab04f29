//! The end of a journal file as it reads: where what is settled can be told from what is not.

use crate::domain::session::EventId;
use crate::formats::journal::{Read, Seal};

/// An event's place in the order of all.
pub type Key = (u64, EventId);

/// So many of a file's last events are looked at.
const LOOKED_AT: usize = 4096;

/// The end of a file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct End {
    /// Bytes of the file before what was read.
    from: usize,
    /// Bytes that were read.
    length: usize,
    /// The last events, in the order of the file, each with its place there.
    last: Vec<(Key, usize)>,
    /// The highest of the events before them.
    before: Option<Key>,
    /// What can not be used as it is stands before this place.
    trouble: usize,
}

impl End {
    /// The end of what was read behind so many bytes.
    pub fn of(read: &Read, from: u64) -> Self {
        let key = |stamped: &crate::domain::session::Stamped| (stamped.n, stamped.id.clone());
        let first = read.entries.len().saturating_sub(LOOKED_AT);
        let (before, last) = read.entries.split_at(first);
        let highest = before.iter().map(|e| (e.stamped.n, &e.stamped.id)).max();
        let problems = read.problems.iter().map(|problem| problem.offset + 1);
        let unused = read.unused.iter().map(|unused| unused.offset + 1);
        Self {
            from: usize::try_from(from).unwrap_or(usize::MAX),
            length: read.length,
            last: last.iter().map(|e| (key(&e.stamped), e.offset)).collect(),
            before: highest.map(|(n, id)| (n, id.clone())),
            trouble: problems.chain(unused).max().unwrap_or(0),
        }
    }

    /// How many bytes of the file hold all of its events up to this one, and whatever cannot be
    /// used, and none of the later ones; `None` where they cannot be told apart so.
    pub fn settled(&self, upto: &Key) -> Option<u64> {
        let later = self.last.iter().position(|(key, _)| key > upto);
        let later = later.unwrap_or(self.last.len());
        let behind = self.last.get(later..)?;
        let bytes = behind.first().map_or(self.length, |(_, offset)| *offset);
        let apart = behind.iter().all(|(key, _)| key > upto)
            && self.before.as_ref().is_none_or(|before| before <= upto)
            && self.trouble <= bytes;
        let bytes = self.from.checked_add(bytes)?;
        apart
            .then_some(bytes)
            .and_then(|bytes| u64::try_from(bytes).ok())
    }
}

/// Whether everything that was read is as it was written.
pub fn is_clean(read: &Read) -> bool {
    let right = |entry: &crate::formats::journal::Entry| entry.seal == Seal::Right;
    read.problems.is_empty() && read.unused.is_empty() && read.entries.iter().all(right)
}
