//! Named checks of a journal: what each is about, and what it finds.

use super::problem::{Problem, Trouble};
use super::read::Read;
use super::union::union;
use crate::domain::diagnostic::{Diagnostic, Severity, Span};
use crate::domain::session::{Event, EventId, Stamped, Stray, StrayWhy, resolve};
use std::collections::{BTreeMap, BTreeSet};

/// A check of a journal.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Check {
    /// Every byte belongs to an event.
    Lines,
    /// No line changed since it was written.
    Checksums,
    /// No two events share an id.
    Ids,
    /// What amends, voids or reports acts on an earlier event of the right kind.
    Targets,
    /// Every set belongs to a session that was opened.
    Sessions,
    /// No file is a copy that something else made.
    Copies,
    /// No editor left its marks.
    Habits,
    /// Every event is of a version that this program knows.
    Versions,
}

impl Check {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::Lines,
        Self::Checksums,
        Self::Ids,
        Self::Targets,
        Self::Sessions,
        Self::Copies,
        Self::Habits,
        Self::Versions,
    ];

    /// Whether what it finds is harmless: it runs when asked for.
    pub const fn is_harmless(self) -> bool {
        match self {
            Self::Habits | Self::Versions => true,
            Self::Lines
            | Self::Checksums
            | Self::Ids
            | Self::Targets
            | Self::Sessions
            | Self::Copies => false,
        }
    }

    /// Its name on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Lines => "lines",
            Self::Checksums => "checksums",
            Self::Ids => "ids",
            Self::Targets => "targets",
            Self::Sessions => "sessions",
            Self::Copies => "copies",
            Self::Habits => "habits",
            Self::Versions => "versions",
        }
    }

    /// What holds where it finds nothing.
    pub const fn about(self) -> &'static str {
        match self {
            Self::Lines => "every byte belongs to an event",
            Self::Checksums => "no line changed since it was written",
            Self::Ids => "no two events share an id",
            Self::Targets => "what amends, voids or reports acts on an earlier event",
            Self::Sessions => "every set belongs to a session that was opened",
            Self::Copies => "no file is a copy made by something else",
            Self::Habits => "no editor left carriage returns or a byte order mark",
            Self::Versions => "every event is of a version that this program knows",
        }
    }

    /// The check that finds this.
    pub(super) const fn of(trouble: &Trouble) -> Self {
        match trouble {
            Trouble::Unreadable(_)
            | Trouble::CutShort
            | Trouble::Zeros(_)
            | Trouble::Litter
            | Trouble::MergeMark
            | Trouble::TooLong(_)
            | Trouble::More(_)
            | Trouble::NotPlain => Self::Lines,
            Trouble::DamagedSet(_) | Trouble::DamagedEvent(_) => Self::Checksums,
            Trouble::SameId { .. } => Self::Ids,
            Trouble::CarriageReturns | Trouble::ByteOrderMark => Self::Habits,
            Trouble::Newer | Trouble::Unknown => Self::Versions,
        }
    }
}

/// Something that a check found.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Finding {
    /// Which check.
    pub check: Check,
    /// What, where, and what to do.
    pub diagnostic: Diagnostic,
}

/// Runs these checks over the files of a journal. `others` is what lies among them and is none.
pub fn check(files: Vec<Read>, others: Vec<Problem>, wanted: &[Check]) -> Vec<Finding> {
    let copies: Vec<Diagnostic> = files.iter().filter_map(|file| copy(&file.path)).collect();
    let places = places(&files);
    let record = union(files);
    let sessions = without_opening(&record.events, &places);
    let strays = resolve(record.events).strays;
    let problems = record.problems.iter().chain(&others);
    let told = problems.map(|p| (Check::of(&p.trouble), p.diagnostic()));
    let strays = strays.iter().map(|s| (Check::Targets, stray(s, &places)));
    let all = told
        .chain(strays)
        .chain(sessions.into_iter().map(|d| (Check::Sessions, d)))
        .chain(copies.into_iter().map(|d| (Check::Copies, d)));
    let findings = all.map(|(check, diagnostic)| Finding { check, diagnostic });
    let mut findings: Vec<Finding> = findings.filter(|f| wanted.contains(&f.check)).collect();
    let place = |d: &Diagnostic| (d.path.clone(), d.span.map(|span| span.line));
    findings.sort_by_key(|f| (f.check, place(&f.diagnostic)));
    findings
}

/// Where each event stands: file and line.
type Places = BTreeMap<EventId, (String, usize)>;

fn places(files: &[Read]) -> Places {
    let mut places = Places::new();
    for file in files {
        for entry in &file.entries {
            let id = entry.stamped.id.clone();
            let place = || (file.path.clone(), entry.line);
            places.entry(id).or_insert_with(place);
        }
    }
    places
}

/// A finding about an event.
fn about(id: &EventId, places: &Places, message: String, advice: &str) -> Diagnostic {
    let place = places.get(id);
    let line = place.map(|(_, line)| *line);
    Diagnostic {
        severity: Severity::Error,
        path: place.map(|(path, _)| path.clone()).unwrap_or_default(),
        span: line.map(|line| Span {
            line,
            column: 1,
            length: 1,
        }),
        excerpt: None,
        message,
        advice: advice.to_owned(),
    }
}

fn stray(stray: &Stray, places: &Places) -> Diagnostic {
    let Stray { id, target, why } = stray;
    let why = match why {
        StrayWhy::Unknown => "which is in no file",
        StrayWhy::NotEarlier => "which is not earlier",
        StrayWhy::NotASet => "which is no set",
        StrayWhy::Unfinished => {
            let message = format!("import {target} was cut short: none of its days counts");
            let advice = "import the same file again; these lines can stay as they are";
            return about(id, places, message, advice);
        }
    };
    let message = format!("{id} acts on {target}, {why}");
    let advice = "it does nothing; a file of another device may be missing here";
    about(id, places, message, advice)
}

/// Sets whose session nothing opened, told once a session.
fn without_opening(events: &[Stamped], places: &Places) -> Vec<Diagnostic> {
    let opening = |e: &&Stamped| matches!(e.event, Event::Opened(_));
    let mut known: BTreeSet<Option<&EventId>> = events
        .iter()
        .filter(opening)
        .map(|event| event.session.as_ref())
        .collect();
    let mut told = Vec::new();
    for event in events.iter().filter(|e| matches!(e.event, Event::Set(_))) {
        if known.insert(event.session.as_ref()) {
            let message = match &event.session {
                Some(session) => format!("nothing in any file opened session {session}"),
                None => format!("set {} belongs to no session", event.id),
            };
            let advice = "its sets count; what was planned is not known";
            told.push(about(&event.id, places, message, advice));
        }
    }
    told
}

/// Complains of a file whose name this program does not give.
fn copy(path: &str) -> Option<Diagnostic> {
    let name = path.rsplit('/').next().unwrap_or(path);
    let stem = name.strip_suffix(".ron").unwrap_or(name);
    let ours = |byte: u8| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-';
    let message = "something else made this file: it may be a copy";
    let advice = "its events are used, each once; if it holds nothing new, it can be moved away \
                  ('rackside journal merge' tells)";
    (!stem.bytes().all(ours)).then(|| Diagnostic::about(path, message, advice))
}
