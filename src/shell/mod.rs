//! The only place with effects: files, clocks, threads, the terminal.

mod advisor;
mod belief_store;
mod book;
mod cache_store;
mod clock;
mod desk;
mod desktop;
mod disk;
mod event_loop;
mod face;
mod hold;
mod home;
mod journal_queue;
mod journal_store;
mod journal_writer;
mod keeper;
mod log;
mod past;
mod settings;
mod signals;
mod sound;
mod state_store;
mod terminal;

pub use belief_store::BeliefStore;
pub use cache_store::{Back, CacheStore, Reached};
pub use clock::now;
pub use desk::{Loaded, Text, material, own_programs, read_catalogue, read_text};
pub use disk::{Disk, Storage};
pub use event_loop::{Ended, Start, run};
pub use home::Home;
pub use journal_store::{
    JournalFiles, read_bytes, read_files, read_journal, record_event, record_import, write_new,
};
pub use journal_writer::{JournalWriter, Left, Report};
pub use past::Past;
pub use settings::{Flags, Form, Origin, Settings, Settled, When};
pub use signals::outlive_limits;
pub use sound::{Sounds, play};
pub use state_store::{StateStore, new_name};
pub use terminal::mishaps;

use crate::domain::diagnostic::{Diagnostic, neutral};
use std::fmt;
use std::io;
use std::panic::resume_unwind;
use std::path::{Path, PathBuf};

/// Something could not be done: what, where, and why.
#[derive(Debug)]
pub enum Error {
    /// A file or folder refused.
    File {
        /// What was being done: "read", "write", ...
        doing: &'static str,
        /// The file or folder.
        path: PathBuf,
        /// Why not.
        why: io::Error,
    },
    /// Files that a person wrote have problems.
    Problems(Vec<Diagnostic>),
    /// Something else, in words.
    Said(String),
}

impl Error {
    pub(crate) fn file(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> Self {
        move |why| Self::File {
            doing,
            path: path.to_owned(),
            why,
        }
    }
}

/// Which program this is: another build may tell the past otherwise.
fn engine() -> String {
    let own = std::env::current_exe().and_then(|path| Disk.stamp(&path));
    format!("{} {:?}", env!("CARGO_PKG_VERSION"), own.ok())
}

/// What a home holds beside its journal, and what that tells, read side by side: neither hangs on
/// the other.
pub fn read_both(
    home: &Home,
    storage: &dyn Storage,
) -> (Result<Loaded, Error>, Result<Past, Error>) {
    std::thread::scope(|scope| {
        let past = || read_past(home, storage);
        let thread = std::thread::Builder::new().spawn_scoped(scope, past);
        let loaded = Loaded::from(home, storage);
        let past = match thread {
            Ok(thread) => thread.join().unwrap_or_else(|why| resume_unwind(why)),
            Err(_) => past(),
        };
        (loaded, past)
    })
}

/// What a home's journal tells, as far as the next session hangs on it.
///
/// # Errors
///
/// A folder or a file cannot be read. What a file holds is never an error: it is counted.
pub fn read_past(home: &Home, storage: &dyn Storage) -> Result<Past, Error> {
    CacheStore::of(home, storage).past()
}

/// What helps where files cannot be kept.
const ELSEWHERE: &str = "\n  make it yours to write, or set RACKSIDE_HOME=DIR to keep everything \
    under a folder that is";

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File { doing, path, why } => {
                let path = neutral(&path.to_string_lossy());
                write!(f, "cannot {doing} {path}: {why}")?;
                match why.kind() {
                    io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
                        f.write_str(ELSEWHERE)
                    }
                    io::ErrorKind::NotFound if *doing != "read" => f.write_str(ELSEWHERE),
                    _ => Ok(()),
                }
            }
            Self::Problems(problems) => {
                let texts: Vec<String> = problems.iter().map(ToString::to_string).collect();
                f.write_str(&texts.join("\n"))
            }
            Self::Said(words) => f.write_str(&neutral(words)),
        }
    }
}

impl std::error::Error for Error {}
