//! The journal's files, read.

use super::hold::Hold;
use super::state_store::StateStore;
use super::{Error, Home, Storage};
use crate::domain::session::{Event, EventId, ImportEnded, ImportPart, Imported, Stamped};
use crate::domain::units::Civil;
use crate::formats::journal::{Problem, Read, Reader, Record, file_name, union, write_line};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The files of the journal and of what was rescued beside it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct JournalFiles {
    /// All files, in order of name.
    pub paths: Vec<PathBuf>,
    /// What bears such a name and is no plain file: told, and not read.
    pub others: Vec<PathBuf>,
}

impl JournalFiles {
    /// The files of a home. Copies that synchronising tools leave are among them: ids make their
    /// union safe.
    ///
    /// # Errors
    ///
    /// A folder cannot be read.
    pub fn of(home: &Home, storage: &dyn Storage) -> Result<Self, Error> {
        let mut found = Vec::new();
        for folder in [home.journal(), home.rescue()] {
            let names = storage
                .list(&folder)
                .map_err(Error::file("read", &folder))?;
            let ours = names
                .iter()
                .filter(|name| Path::new(name).extension() == Some("ron".as_ref()));
            found.extend(ours.map(|name| folder.join(name)));
        }
        let (paths, others) = found.into_iter().partition(|path| storage.is_plain(path));
        Ok(Self { paths, others })
    }
}

/// The files of a home's journal as they read, and what lies among them and is no plain file.
///
/// # Errors
///
/// A folder or a file cannot be read.
pub fn read_files(home: &Home, storage: &dyn Storage) -> Result<(Vec<Read>, Vec<Problem>), Error> {
    read_these(&JournalFiles::of(home, storage)?, storage)
}

/// The same of files that were found.
pub(super) fn read_these(
    files: &JournalFiles,
    storage: &dyn Storage,
) -> Result<(Vec<Read>, Vec<Problem>), Error> {
    let mut reads = Vec::with_capacity(files.paths.len());
    for path in &files.paths {
        let mut reader = Reader::new(&path.to_string_lossy());
        let scanned = storage.scan(path, &mut |bytes| reader.feed(bytes));
        scanned.map_err(Error::file("read", path))?;
        reads.push(reader.finish());
    }
    let others = files.others.iter();
    let others = others.map(|path| Problem::not_plain(&path.to_string_lossy()));
    Ok((reads, others.collect()))
}

/// What the journal of a home tells.
///
/// # Errors
///
/// A folder or a file cannot be read. What a file holds is never an error: it is reported.
pub fn read_journal(home: &Home, storage: &dyn Storage) -> Result<Record, Error> {
    let (reads, others) = read_files(home, storage)?;
    let mut record = union(reads);
    record.problems.extend(others);
    Ok(record)
}

/// All bytes of a file that a person named.
///
/// # Errors
///
/// It cannot be read.
pub fn read_bytes(path: &Path, storage: &dyn Storage) -> Result<Vec<u8>, Error> {
    storage.read(path).map_err(Error::file("read", path))
}

/// Writes a new file that a person named, whole and synced, or not at all.
///
/// # Errors
///
/// There is one already, or it cannot be written.
pub fn write_new(path: &Path, bytes: &[u8], storage: &dyn Storage) -> Result<(), Error> {
    let written = storage.create(path, bytes);
    let is_ours = |why: &io::Error| why.kind() != io::ErrorKind::AlreadyExists;
    if written.as_ref().is_err_and(is_ours) {
        // What was begun is ours to take away; where even that fails, the error tells.
        let _ = storage.remove(path);
    }
    written.map_err(Error::file("write", path))
}

/// Writes one event into a home's journal, outside a session: `decide` says which, from what the
/// journal tells, and to which session it belongs. The event is on the disk, synced, when this
/// returns.
///
/// # Errors
///
/// Another process holds the journal, it cannot be read or written, or `decide` refuses.
pub fn record_event(
    home: &Home,
    storage: &Arc<dyn Storage>,
    decide: impl FnOnce(&Record) -> Result<(Option<EventId>, Event), Error>,
) -> Result<Stamped, Error> {
    let _held = Hold::take(home, storage.as_ref()).writable()?;
    let record = read_journal(home, storage.as_ref())?;
    let (session, event) = decide(&record)?;
    let ours = Ours::of(home, storage, &record);
    let opened = record
        .events
        .iter()
        .find(|e| Some(&e.id) == session.as_ref());
    let stamped = Stamped {
        session,
        ..ours.stamped(1, event)
    };
    let year = opened.map_or(ours.at, |e| e.at).year();
    ours.append(year, std::slice::from_ref(&stamped))?;
    Ok(stamped)
}

/// Writes an import into a home's journal: `decide` says which days, from what the journal tells.
/// The days go to the disk in one piece, and only when that is synced the end without which they
/// count for nothing. Gives that end; none where there is no day.
///
/// # Errors
///
/// Another process holds the journal, it cannot be read or written, or `decide` refuses.
pub fn record_import(
    home: &Home,
    storage: &Arc<dyn Storage>,
    decide: impl FnOnce(&Record) -> Result<Vec<Imported>, Error>,
) -> Result<Option<Stamped>, Error> {
    let _held = Hold::take(home, storage.as_ref()).writable()?;
    let record = read_journal(home, storage.as_ref())?;
    let imported = decide(&record)?;
    let days = u32::try_from(imported.len()).unwrap_or(u32::MAX);
    let Some(source) = imported.first().map(|day| day.source.clone()) else {
        return Ok(None);
    };
    let ours = Ours::of(home, storage, &record);
    let end = Event::ImportEnded(ImportEnded { source, days });
    let end = ours.stamped(u64::from(days) + 1, end);
    let part = ImportPart {
        import: end.id.clone(),
        days,
    };
    let day = |(k, day): (u64, Imported)| {
        let part = Some(part.clone());
        ours.stamped(k, Event::Imported(Box::new(Imported { part, ..day })))
    };
    let days: Vec<Stamped> = (1..).zip(imported).map(day).collect();
    ours.append(ours.at.year(), &days)?;
    ours.append(ours.at.year(), std::slice::from_ref(&end))?;
    Ok(Some(end))
}

/// What this process writes outside a session: its ids, and its files.
struct Ours<'a> {
    home: &'a Home,
    storage: &'a Arc<dyn Storage>,
    device: String,
    origin: String,
    highest_n: u64,
    at: Civil,
}

impl<'a> Ours<'a> {
    fn of(home: &'a Home, storage: &'a Arc<dyn Storage>, record: &Record) -> Self {
        let state = StateStore::of(home, storage.clone());
        let device = state.device();
        Self {
            home,
            storage,
            origin: state.origin(&device),
            device,
            highest_n: record.highest_n,
            at: super::now().civil,
        }
    }

    /// The k-th event, from 1.
    fn stamped(&self, k: u64, event: Event) -> Stamped {
        Stamped {
            id: EventId(format!("{}-{k}", self.origin)),
            n: self.highest_n + k,
            session: None,
            at: self.at,
            event,
        }
    }

    /// Appends the lines of events in one piece, synced.
    fn append(&self, year: i32, events: &[Stamped]) -> Result<(), Error> {
        let path = self.home.journal().join(file_name(year, &self.device));
        let mut text = String::new();
        for event in events {
            let line = write_line(event);
            text += &line.map_err(|why| Error::Said(format!("not recorded: {why}")))?;
            text.push('\n');
        }
        let written = self.storage.append(&path, text.as_bytes());
        written.map_err(Error::file("record in", &path))
    }
}
