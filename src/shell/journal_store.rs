//! The journal's files, read.

use super::{Error, Home, Storage};
use crate::app::update::is_over;
use crate::domain::history::History;
use crate::domain::session::Stamped;
use crate::domain::units::Now;
use crate::formats::journal::{Problem, Reader, Record, union};
use std::path::{Path, PathBuf};

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

/// What the journal of a home tells.
///
/// # Errors
///
/// A folder or a file cannot be read. What a file holds is never an error: it is reported.
pub fn read_journal(home: &Home, storage: &dyn Storage) -> Result<Record, Error> {
    let files = JournalFiles::of(home, storage)?;
    let mut reads = Vec::with_capacity(files.paths.len());
    for path in &files.paths {
        let mut reader = Reader::new(&path.to_string_lossy());
        let scanned = storage.scan(path, &mut |bytes| reader.feed(bytes));
        scanned.map_err(Error::file("read", path))?;
        reads.push(reader.finish());
    }
    let mut record = union(reads);
    let others = files.others.iter();
    let told = others.map(|path| Problem::not_plain(&path.to_string_lossy()));
    record.problems.extend(told);
    Ok(record)
}

/// The events of all but the session that is still on, which is no past. One that was left for too
/// long is over.
pub fn past(record: &Record, now: Now) -> Vec<Stamped> {
    let whole = History::with_damaged(record.events.clone(), &record.damaged);
    let on = whole
        .open_session()
        .filter(|session| !is_over(session, now));
    let on = on.map(|session| &session.id);
    let past = |event: &&Stamped| on.is_none() || event.session.as_ref() != on;
    record.events.iter().filter(past).cloned().collect()
}
