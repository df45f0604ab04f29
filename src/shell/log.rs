//! A log of runs under the state directory: numbers and words of ours alone, so that nothing that a
//! person wrote can stand in it. It may be sent with a report, and deleted at any time.

use super::Storage;
use crate::domain::units::Civil;
use std::io;
use std::path::Path;

/// Something worth a line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Entry {
    /// A run began, with so many places of the journal that could not be read as written.
    Started {
        /// How many.
        problems: usize,
    },
    /// So many events could not be written to the journal.
    NotSaved {
        /// How many.
        events: usize,
    },
    /// A person left.
    Left,
    /// A signal of this number ended it.
    Signal(u8),
    /// A mistake in the program ended it.
    Panicked,
}

/// From this size on the older half goes.
const LARGE: usize = 64 * 1024;

/// The line of an entry.
fn line(entry: Entry, at: Civil) -> String {
    let what = match entry {
        Entry::Started { problems } => format!("started, {problems} problems in the journal"),
        Entry::NotSaved { events } => format!("{events} events not saved"),
        Entry::Left => "left".to_owned(),
        Entry::Signal(number) => format!("ended by signal {number}"),
        Entry::Panicked => "ended by a mistake in the program".to_owned(),
    };
    format!("{at} {} {what}\n", env!("CARGO_PKG_VERSION"))
}

/// Adds an entry to the log at a path.
///
/// # Errors
///
/// It cannot be written; nothing depends on it.
pub fn add(storage: &dyn Storage, path: &Path, (entry, at): (Entry, Civil)) -> io::Result<()> {
    let text = storage.read(path).unwrap_or_default();
    if text.len() > LARGE {
        let half = text.len() / 2;
        let from = text.iter().skip(half).position(|byte| *byte == b'\n');
        let younger = text.get(half + from.map_or(0, |from| from + 1)..);
        storage.replace(path, younger.unwrap_or_default())?;
    }
    storage.append(path, line(entry, at).as_bytes())
}
