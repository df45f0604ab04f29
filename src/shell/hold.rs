//! Who may write to the journal: one process at a time, by a lock beside it.

use super::{Error, Home, Storage, disk};
use crate::app::kept::Access;
use std::fs::{File, TryLockError};
use std::io;
use std::path::Path;

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
            Err(TryLockError::Error(why)) => Self::without_lock(&path, why),
        }
    }

    /// What an error of the lock itself comes to.
    fn without_lock(path: &Path, why: io::Error) -> Self {
        if has_no_locks(&why) {
            Self::Ours(None)
        } else {
            Self::Unusable(Error::file("lock", path)(why))
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

#[cfg(test)]
mod tests {
    use super::Hold;
    use crate::app::kept::Access;
    use std::io;

    /// The numbers are those of Linux (asm-generic/errno.h): ENOLCK, ENOSYS, EOPNOTSUPP and EINVAL
    /// say that there are no locks here; EIO and EACCES that there are, and this one cannot be had.
    #[test]
    #[cfg(target_os = "linux")]
    fn where_there_are_no_locks_the_journal_is_written_and_after_an_error_it_is_not() {
        let access = |errno| {
            let why = io::Error::from_raw_os_error(errno);
            Hold::without_lock("/home/lock".as_ref(), why).access()
        };
        for errno in [37, 38, 95, 22] {
            assert_eq!(access(errno), Access::WritesUnlocked, "{errno}");
        }
        for errno in [5, 13] {
            let access = access(errno);
            let is_refused = matches!(&access, Access::CannotWrite(why)
                if why.contains("cannot lock /home/lock"));
            assert!(is_refused, "{errno}: {access:?}");
        }
    }
}
