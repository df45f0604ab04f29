//! Who may write to the journal: one process at a time, by a lock beside it.

use super::{Error, Home, Storage, disk};
use crate::app::kept::Access;
use std::fs::{File, TryLockError};
use std::io;

/// What came of asking for the journal.
#[derive(Debug)]
pub enum Hold {
    /// It is ours until this goes. Without a file where the file system has no locks: then nothing
    /// keeps a second process away, and whole lines and ids have to do.
    Ours(Option<File>),
    /// Another process has it; what it wrote of itself.
    Others(String),
    /// The lock cannot be had, and so the journal cannot be written.
    Unusable(Error),
}

impl Hold {
    /// Asks for the journal of a home.
    pub fn take(home: &Home, storage: &dyn Storage) -> Self {
        let path = home.lock();
        let file = match disk::open_lock(&path) {
            Ok(file) => file,
            Err(why) => return Self::Unusable(Error::file("lock", &path)(why)),
        };
        match disk::lock(&file) {
            Ok(()) => Self::Ours(Some(file)),
            Err(TryLockError::WouldBlock) => {
                let who = storage.read(&path).unwrap_or_default();
                Self::Others(String::from_utf8_lossy(&who).trim().to_owned())
            }
            Err(TryLockError::Error(why)) if has_no_locks(&why) => Self::Ours(None),
            Err(TryLockError::Error(why)) => Self::Unusable(Error::file("lock", &path)(why)),
        }
    }

    /// What may be done to the journal so.
    pub fn access(&self) -> Access {
        match self {
            Self::Ours(Some(_)) => Access::Writes,
            Self::Ours(None) => Access::WritesUnlocked,
            Self::Others(process) => Access::OthersWrite(held_by(process)),
            Self::Unusable(why) => Access::CannotWrite(why.to_string()),
        }
    }

    /// The lock, where the journal may be written.
    ///
    /// # Errors
    ///
    /// It may not: why.
    pub fn writable(self) -> Result<Option<File>, Error> {
        match self {
            Self::Ours(lock) => Ok(lock),
            Self::Others(process) => Err(Error::Said(held_by(&process))),
            Self::Unusable(why) => Err(why),
        }
    }
}

/// Who holds the journal, and what to do about it.
fn held_by(process: &str) -> String {
    format!(
        "another rackside (process {process}) has this journal open: go on there, or leave it first"
    )
}

/// Whether the file system cannot lock at all: some that are shared over a network.
fn has_no_locks(why: &io::Error) -> bool {
    use rustix::io::Errno;
    let known = [Errno::NOLCK, Errno::NOSYS, Errno::OPNOTSUPP, Errno::INVAL];
    let code = why.raw_os_error();
    known.iter().any(|errno| Some(errno.raw_os_error()) == code)
}
