//! What is kept of a journal beside it, so that a start need not read all of it: what its settled
//! part tells, and by what signs to know that the files still begin with that part. Derived: it
//! can be deleted at any time, and is thrown away whenever anything about it is off.

mod belief;
mod codec;
mod end;
mod milestone;
mod shapes;
mod sum;

pub use end::{End, Key, is_clean};
pub use milestone::{Milestone, milestones, sound, thinned};
pub use sum::Sum;

use crate::domain::history::History;
use crate::domain::session::{Event, Stamped};
use chrono::NaiveDate;
pub use codec::Kept;
use codec::{Bytes, kept_struct, put_text, take_text};
use std::sync::Arc;

/// What the settled part of a journal tells.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Cache {
    /// The files, each with how much of it is settled.
    pub files: Vec<Settled>,
    /// The last settled event: all that is told later comes after it.
    pub upto: Option<Key>,
    /// How many sessions were opened in it.
    pub opened: usize,
    /// The latest day on which one was.
    pub latest: Option<NaiveDate>,
    /// The first day on which a set was done.
    pub begun: Option<NaiveDate>,
    /// Places in it from which on the files can be read, in order.
    pub milestones: Vec<Milestone>,
    /// The latest day that came from elsewhere.
    pub imported: Option<NaiveDate>,
    /// The highest `n` seen.
    pub highest_n: u64,
    /// How many places in the files could not be used as they are.
    pub faults: usize,
    /// How many were not as they should be, harmless ones among them.
    pub problems: usize,
    /// What is told, as far as the next session hangs on it.
    pub history: Arc<History>,
}

impl Cache {
    /// Goes on behind these events, the next that settle: from where it stood the files can be
    /// read on.
    pub fn pass(&mut self, events: &[Stamped], nearest: usize) {
        if self.upto.is_some() {
            let before = self.files.iter().filter(|file| file.bytes > 0);
            let day = self.latest.into_iter().chain(self.imported).max();
            self.milestones.push(Milestone {
                opened: self.opened,
                day: day.unwrap_or(NaiveDate::MIN),
                before: before.map(|file| (file.path.clone(), file.bytes)).collect(),
            });
        }
        for event in events {
            if matches!(event.event, Event::Opened(_)) {
                self.opened += 1;
                self.latest = self.latest.max(Some(event.at.date()));
            }
        }
        let milestones = std::mem::take(&mut self.milestones);
        self.milestones = thinned(milestones, self.opened, nearest);
    }
}

/// How much of a file is settled.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Settled {
    /// The file.
    pub path: String,
    /// What it looked like from outside when that was found.
    pub stamp: Stamp,
    /// Its settled bytes: whole lines.
    pub bytes: u64,
    /// Their checksum.
    pub sum: u32,
}

/// What a file looks like from outside.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Stamp {
    /// On which device.
    pub device: u64,
    /// Which file of it.
    pub inode: u64,
    /// How many bytes.
    pub size: u64,
    /// When it was last changed, in nanoseconds since 1970.
    pub modified: i64,
}

impl Settled {
    /// A file of which nothing is settled.
    pub fn nothing_of(path: &str) -> Self {
        Self {
            path: path.to_owned(),
            ..Self::default()
        }
    }
}

kept_struct! {
    Cache {
        files, upto, opened, latest, begun, milestones, imported, highest_n, faults, problems,
        history,
    }
    Milestone { opened, day, before }
    Settled { path, stamp, bytes, sum }
    Stamp { device, inode, size, modified }
}

/// How a file of ours begins.
const MARK: &[u8] = b"rackside cache, can be deleted\n";

/// The bytes of something that this engine keeps.
pub fn write(kept: &impl Kept, engine: &str) -> Vec<u8> {
    let mut value = Vec::new();
    put_text(engine, &mut value);
    kept.put(&mut value);
    let checksum = crc32fast::hash(&value).to_le_bytes();
    [MARK, &checksum, &value].concat()
}

/// What these bytes hold; `None` where anything is off, or another engine wrote them.
pub fn read<T: Kept>(bytes: &[u8], engine: &str) -> Option<T> {
    let (checksum, value) = bytes.strip_prefix(MARK)?.split_at_checked(4)?;
    if checksum != crc32fast::hash(value).to_le_bytes() {
        return None;
    }
    let mut value = Bytes(value);
    if take_text(&mut value)? != engine {
        return None;
    }
    let kept = T::take(&mut value)?;
    value.0.is_empty().then_some(kept)
}
