//! How a command ends: its exit code, and what is said when it could not do its job.

use crate::domain::diagnostic::{Diagnostic, Severity, neutral};
use crate::domain::words::Letters;
use crate::shell;
use std::io::{self, Write};
use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, Ordering};

/// How the process ends. The numbers are a promise to scripts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Exit {
    /// Done; warnings may stand on standard error.
    Done,
    /// Something failed.
    Error,
    /// The command line was wrong, or the place it ran in.
    Usage,
    /// A check or a file has problems.
    Problems,
    /// Sets were rescued outside the journal.
    Rescued,
    /// Ended by the signal of this number.
    Signal(u8),
}

impl Exit {
    /// The number that the calling process sees.
    pub const fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Error => 1,
            Self::Usage => 2,
            Self::Problems => 3,
            Self::Rescued => 4,
            Self::Signal(number) => 128_u8.saturating_add(number),
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.code())
    }
}

/// Why a command could not do its job.
#[derive(Debug)]
pub enum Failure {
    /// Standard output refused the result.
    Output(io::Error),
    /// Anything else: the exit code and what to tell the person.
    Said(Exit, String),
}

impl Failure {
    /// Something failed.
    pub fn error(text: impl Into<String>) -> Self {
        Self::Said(Exit::Error, text.into())
    }

    /// The command line was wrong, or the place it ran in.
    pub fn usage(text: impl Into<String>) -> Self {
        Self::Said(Exit::Usage, text.into())
    }

    /// A file that a person wrote, or a check, has problems.
    pub fn problems(text: impl Into<String>) -> Self {
        Self::Said(Exit::Problems, text.into())
    }

    /// Tells the person on `err` and gives the exit code. A reader that went away is no failure.
    pub(super) fn report(&self, err: &mut dyn Write) -> Exit {
        match self {
            Self::Output(error) if error.kind() == io::ErrorKind::BrokenPipe => Exit::Done,
            Self::Output(error) => {
                say(err, &format!("rackside: cannot write the result: {error}"));
                Exit::Error
            }
            Self::Said(exit, text) => {
                say(err, text);
                *exit
            }
        }
    }
}

impl From<shell::Error> for Failure {
    fn from(error: shell::Error) -> Self {
        let exit = match error {
            shell::Error::Problems(_) => Exit::Problems,
            shell::Error::File { .. } | shell::Error::Said(_) => Exit::Error,
        };
        Self::Said(exit, format!("{error}"))
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Output(error)
    }
}

/// Whether messages are spelled in ASCII alone.
static ASCII: AtomicBool = AtomicBool::new(false);

/// Spells messages from now on in the characters that can be shown.
pub fn spell_in(letters: Letters) {
    ASCII.store(letters == Letters::Ascii, Ordering::Relaxed);
}

/// One message, each line of it made harmless: it may quote a file or an argument. Where even
/// standard error is closed, nobody is left to tell.
fn say(err: &mut dyn Write, text: &str) {
    let letters = if ASCII.load(Ordering::Relaxed) {
        Letters::Ascii
    } else {
        Letters::Unicode
    };
    for line in text.trim_end().lines() {
        let _ = writeln!(err, "{}", letters.spell(&neutral(line)));
    }
}

/// A problem on standard error that does not keep the command from ending well.
pub fn tell(problem: &Diagnostic) {
    let severity = Severity::Warning;
    let problem = Diagnostic {
        severity,
        ..problem.clone()
    };
    say(&mut io::stderr(), &problem.to_string());
}

/// A warning on standard error: the command goes on and ends well.
pub fn warn(text: &str) {
    say(&mut io::stderr(), &format!("warning: {text}"));
}
