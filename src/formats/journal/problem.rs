//! What is wrong with a line, and what its person can do.

use super::check::Check;
use crate::domain::diagnostic::{Diagnostic, Severity, Span};
use crate::domain::session::EventId;

/// What is wrong with a piece of a journal.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Trouble {
    /// No event can be read here; why.
    Unreadable(String),
    /// The last line has neither an end nor sense: writing it was cut short.
    CutShort,
    /// So many zero bytes.
    Zeros(usize),
    /// Bytes before or behind an event that belong to nothing.
    Litter,
    /// A mark left by a merge.
    MergeMark,
    /// A line longer than any event's.
    TooLong(usize),
    /// A set whose checksum is wrong: shown, marked, and used for nothing else.
    DamagedSet(EventId),
    /// Another event whose checksum is wrong: not used.
    DamagedEvent(EventId),
    /// An event of a newer version: kept and skipped.
    Newer,
    /// An event that is not known: kept and skipped.
    Unknown,
    /// The same id stands elsewhere with another content, and that one is used.
    SameId {
        /// The id of both.
        id: EventId,
        /// The file of the one that is used.
        path: String,
        /// Its line, from 1.
        line: usize,
    },
    /// Lines end in carriage returns; told once for a file.
    CarriageReturns,
    /// The file opens with a byte order mark.
    ByteOrderMark,
    /// More pieces than are worth listing.
    More(usize),
    /// A folder, a link, a pipe: no plain file.
    NotPlain,
}

/// Something in a journal file that is not as it should be.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Problem {
    /// The file, as the person would name it.
    pub path: String,
    /// Line, from 1.
    pub line: usize,
    /// Bytes of the file before the piece.
    pub offset: usize,
    /// What is wrong.
    pub trouble: Trouble,
    /// The start of the line, as far as it is text.
    pub excerpt: String,
}

impl Problem {
    /// Something lies among the journal's files that is none.
    pub fn not_plain(path: &str) -> Self {
        Self {
            path: path.to_owned(),
            line: 1,
            offset: 0,
            trouble: Trouble::NotPlain,
            excerpt: String::new(),
        }
    }

    /// Whether the file is fine in spite of it: an editor's habit, or a newer version's event.
    pub const fn is_harmless(&self) -> bool {
        Check::of(&self.trouble).is_harmless()
    }

    /// The problem, fit to be shown.
    pub fn diagnostic(&self) -> Diagnostic {
        Diagnostic {
            severity: if self.is_harmless() {
                Severity::Warning
            } else {
                Severity::Error
            },
            path: self.path.clone(),
            span: Some(Span {
                line: self.line,
                column: 1,
                length: 1,
            }),
            excerpt: (!self.excerpt.is_empty()).then(|| self.excerpt.clone()),
            message: format!("{} (byte {})", self.message(), self.offset),
            advice: self.advice().to_owned(),
        }
    }

    fn message(&self) -> String {
        match &self.trouble {
            Trouble::Unreadable(why) => format!("no event can be read here: {why}"),
            Trouble::CutShort => "writing this line was cut short".to_owned(),
            Trouble::Zeros(count) => format!("{count} zero bytes"),
            Trouble::Litter => "bytes that belong to no event".to_owned(),
            Trouble::MergeMark => "a mark left by a merge".to_owned(),
            Trouble::TooLong(bytes) => format!("a line of {bytes} bytes, longer than any event"),
            Trouble::DamagedSet(id) => {
                format!("the checksum of set {id} is wrong: the line changed since it was written")
            }
            Trouble::DamagedEvent(id) => {
                format!("the checksum of {id} is wrong: the line changed since it was written")
            }
            Trouble::Newer => "an event of a newer version of the format".to_owned(),
            Trouble::Unknown => "an event that this version does not know".to_owned(),
            Trouble::SameId { id, path, line } => {
                format!("another event named {id} stands in {path}, line {line}")
            }
            Trouble::CarriageReturns => "lines end in carriage returns".to_owned(),
            Trouble::ByteOrderMark => "the file opens with a byte order mark".to_owned(),
            Trouble::NotPlain => "this is no plain file, and is not read".to_owned(),
            Trouble::More(count) => format!("{count} more pieces that cannot be used"),
        }
    }

    const fn advice(&self) -> &'static str {
        match self.trouble {
            Trouble::Unreadable(_) => {
                "all other lines are used; mend this one and delete its checksum, or leave it"
            }
            Trouble::CutShort => {
                "what was written in full before and after it is used; nothing needs to be done"
            }
            Trouble::Zeros(_) => "a power cut or a sync tool left them; all other lines are used",
            Trouble::Litter => "the event beside them is used; nothing needs to be done",
            Trouble::MergeMark => {
                "the events on both sides of it are used; the mark can be deleted"
            }
            Trouble::TooLong(_) => "all other lines are used; look at it in an editor",
            Trouble::DamagedSet(_) => {
                "the set is shown but teaches nothing; if you edited the line, delete its checksum"
            }
            Trouble::DamagedEvent(_) => {
                "the event is not used; if you edited the line, delete its checksum"
            }
            Trouble::Newer => "it is kept and skipped; a newer rackside reads it",
            Trouble::Unknown => "it is kept and skipped; a newer rackside may read it",
            Trouble::SameId { .. } => {
                "that one is used; if both are wanted, give this one an id of its own"
            }
            Trouble::CarriageReturns => "they are read all the same; an editor put them there",
            Trouble::ByteOrderMark => "it is read all the same; an editor put it there",
            Trouble::NotPlain => "put the journal file itself here, not a link to it",
            Trouble::More(_) => "this may be no journal at all: look at it in an editor",
        }
    }
}
