//! From the bytes of a file to its events, and a report of everything else in it.

use super::frame::{Part, Place};
use super::line::{Unknown, Value, read_value};
use super::problem::{Problem, Trouble};
use super::seal::{self, Seal};
use super::{HIGHEST, LONGEST};
use crate::domain::session::{Event, EventId, Stamped};
use std::borrow::Cow;

/// An event with its place in a file.
#[derive(Clone, PartialEq, Debug)]
pub struct Entry {
    /// The event.
    pub stamped: Stamped,
    /// What its checksum says; where that is wrong, the event is a set.
    pub seal: Seal,
    /// Line, from 1.
    pub line: usize,
    /// Bytes of the file before it.
    pub offset: usize,
    /// Its bytes, checksum included.
    pub length: usize,
}

/// An event that is kept and not used: of a newer version, not known, or damaged.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Unused {
    /// Its name, where that can be read.
    pub id: Option<EventId>,
    /// Whether its checksum is wrong.
    pub damaged: bool,
    /// Line, from 1.
    pub line: usize,
    /// Bytes of the file before it.
    pub offset: usize,
    /// Its bytes, checksum included.
    pub length: usize,
}

/// What a file holds.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Read {
    /// The file, as the person would name it.
    pub path: String,
    /// Its events; the order is told by `n`, not by where they stand.
    pub entries: Vec<Entry>,
    /// Events that are kept and not used, each with its problem.
    pub unused: Vec<Unused>,
    /// Everything that is not as it should be.
    pub problems: Vec<Problem>,
    /// The highest `n` of an undamaged line, of unknown events too; 0 where there is none.
    pub highest_n: u64,
    /// How many bytes it has.
    pub length: usize,
}

/// So many problems of one file are listed, and then counted.
const LISTED: usize = 1000;
const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// Reads a journal file. Any bytes will do.
pub fn read(bytes: &[u8], path: &str) -> Read {
    let mut reader = Reader::new(path);
    reader.feed(bytes);
    reader.finish()
}

/// Reads a journal file chunk by chunk, so that a line without an end needs no memory.
#[derive(Debug)]
pub struct Reader {
    read: Read,
    unlisted: usize,
    carriage_returns: bool,
    part: Part,
}

impl Reader {
    /// A reader of the file that the person would name so.
    pub fn new(path: &str) -> Self {
        Self {
            read: Read {
                path: path.to_owned(),
                ..Read::default()
            },
            unlisted: 0,
            carriage_returns: false,
            part: Part::default(),
        }
    }

    /// Takes the next bytes of the file.
    pub fn feed(&mut self, bytes: &[u8]) {
        for piece in bytes.split_inclusive(|byte| *byte == b'\n') {
            self.part.take(piece);
            if piece.ends_with(b"\n") {
                self.end_line(true);
            }
        }
    }

    /// What the file held.
    pub fn finish(mut self) -> Read {
        self.end_line(false);
        self.read.length = self.part.place().offset;
        if self.unlisted > 0 {
            let last = self.read.problems.last();
            let (line, offset) = last.map_or((1, 0), |last| (last.line, last.offset));
            self.read.problems.push(Problem {
                path: self.read.path.clone(),
                line,
                offset,
                trouble: Trouble::More(self.unlisted),
                excerpt: String::new(),
            });
        }
        self.read
    }

    fn end_line(&mut self, ended: bool) {
        let mut part = self.part.next();
        let place = part.place();
        if part.zeros > 0 {
            self.report(place, Trouble::Zeros(part.zeros), b"");
        }
        match part.too_long() {
            Some(bytes) => {
                let bytes = bytes - usize::from(ended);
                self.report(place, Trouble::TooLong(bytes), &part.kept);
            }
            None => self.line(&part.kept, place.after(part.zeros), ended),
        }
        part.kept.clear();
        self.part.kept = part.kept;
    }

    fn report(&mut self, place: Place, trouble: Trouble, bytes: &[u8]) {
        if self.read.problems.len() >= LISTED {
            self.unlisted += 1;
            return;
        }
        let start = bytes.get(..bytes.len().min(160)).unwrap_or_default();
        let text = String::from_utf8_lossy(start);
        self.read.problems.push(Problem {
            path: self.read.path.clone(),
            line: place.line,
            offset: place.offset,
            trouble,
            excerpt: text.chars().take(80).collect(),
        });
    }

    /// Takes a line with its line feed, where it has one.
    fn line(&mut self, piece: &[u8], mut place: Place, ended: bool) {
        let mut line = piece.strip_suffix(b"\n").unwrap_or(piece);
        if let Some(rest) = line.strip_prefix(BYTE_ORDER_MARK) {
            line = rest;
            self.report(place, Trouble::ByteOrderMark, b"");
            place.offset += BYTE_ORDER_MARK.len();
        }
        if let Some(rest) = line.strip_suffix(b"\r") {
            line = rest;
            if !std::mem::replace(&mut self.carriage_returns, true) {
                self.report(place, Trouble::CarriageReturns, b"");
            }
        }
        let (line, place) = self.without_zeros(line, place);
        if line.is_empty() {
            return;
        }
        if line.len() > LONGEST {
            self.report(place, Trouble::TooLong(line.len()), line);
        } else if is_merge_mark(line) {
            self.report(place, Trouble::MergeMark, line);
        } else {
            self.pieces(line, place, ended);
        }
    }

    /// Blanks and runs of zeros around a line belong to nobody; the zeros are reported.
    fn without_zeros<'a>(&mut self, line: &'a [u8], mut place: Place) -> (&'a [u8], Place) {
        let empty = |byte: &u8| byte.is_ascii_whitespace() || *byte == 0;
        let start = line.iter().position(|byte| !empty(byte));
        let start = start.unwrap_or(line.len());
        let end = line.iter().rposition(|byte| !empty(byte));
        let end = end.map_or(start, |last| last + 1);
        let (before, rest) = line.split_at(start);
        let (inner, behind) = rest.split_at(end - start);
        let zeros = before.iter().chain(behind).filter(|byte| **byte == 0);
        let zeros = zeros.count();
        if zeros > 0 {
            self.report(place, Trouble::Zeros(zeros), b"");
        }
        place.offset += start;
        (inner, place)
    }

    /// Takes a line that may hold events run together: a line feed may have been lost.
    fn pieces(&mut self, line: &[u8], place: Place, ended: bool) {
        let mut rest = line;
        let mut at = place;
        while let Some((value, behind)) = seal::first_right(rest) {
            self.sealed(value, at.of(rest.len() - behind.len()));
            let next = behind.trim_ascii_start();
            at.offset += rest.len() - next.len();
            rest = next;
        }
        if !rest.is_empty() {
            at.is_inside = rest.len() < line.len();
            self.rest(rest, at, ended);
        }
    }

    /// Takes what does not begin with a value that is as it was written; some may stand in it.
    fn rest(&mut self, line: &[u8], place: Place, ended: bool) {
        let mut taken = 0;
        for (start, segment) in seal::segments(line) {
            let Some((value, behind)) = seal::first_right(segment) else {
                continue;
            };
            let before = line.get(taken..start).unwrap_or_default();
            self.leftover(before, place.inside(taken), true);
            let length = segment.len() - behind.len();
            self.sealed(value, place.inside(start).of(length));
            taken = start + segment.len() - behind.len();
        }
        let behind = line.get(taken..).unwrap_or_default();
        if taken == 0 && !place.is_inside {
            self.unsealed(behind, place, ended);
        } else {
            self.leftover(behind, place.inside(taken), ended);
        }
    }

    /// Takes what stands before, between or behind events in one line.
    fn leftover(&mut self, bytes: &[u8], place: Place, ended: bool) {
        let from_text = bytes.trim_ascii_start();
        let place = place.after(bytes.len() - from_text.len());
        let bytes = from_text.trim_ascii_end();
        if bytes.starts_with(b"(") {
            self.unsealed(bytes, place, ended);
        } else if !bytes.is_empty() {
            self.report(place, Trouble::Litter, bytes);
        }
    }

    /// Takes a value that is as it was written.
    fn sealed(&mut self, value: &[u8], place: Place) {
        let known = match std::str::from_utf8(value) {
            Ok(text) => read_value(text),
            Err(_) => Value::Nonsense(String::new()),
        };
        match known {
            Value::Event(stamped) => self.keep(*stamped, Seal::Right, place),
            Value::Unknown(unknown) => self.unknown(unknown, place, value),
            // As it was written, and not read: written by a version that knew more.
            Value::Nonsense(_) => {
                self.put_aside(None, false, place);
                self.report(place, Trouble::Newer, value);
            }
        }
    }

    /// Takes one value whose checksum is absent or wrong, or says why there is none.
    fn unsealed(&mut self, piece: &[u8], place: Place, ended: bool) {
        let place = place.of(piece.len());
        let sealed = seal::open(piece);
        let (text, is_text) = text(sealed.value);
        let mut seal = if is_text { sealed.seal } else { Seal::Wrong };
        let mut found = read_value(&text);
        let cut = seal::up_to_bracket(piece).filter(|value| value.len() < piece.len());
        if let (Value::Nonsense(_), Seal::Absent, Some(value)) = (&found, seal, cut) {
            found = read_value(&String::from_utf8_lossy(value));
            seal = Seal::Wrong;
        }
        match (found, seal) {
            (Value::Event(stamped), Seal::Right | Seal::Absent) => {
                self.keep(*stamped, seal, place);
            }
            (Value::Event(stamped), Seal::Wrong) => self.damaged(*stamped, place, piece),
            (Value::Unknown(unknown), Seal::Right | Seal::Absent) => {
                self.unknown(unknown, place, piece);
            }
            (Value::Unknown(unknown), Seal::Wrong) => {
                self.put_aside(unknown.id, true, place);
                let why = "its checksum is wrong".to_owned();
                self.report(place, Trouble::Unreadable(why), piece);
            }
            (Value::Nonsense(_), _) if !ended => self.report(place, Trouble::CutShort, piece),
            (Value::Nonsense(why), _) => self.report(place, Trouble::Unreadable(why), piece),
        }
    }

    fn unknown(&mut self, unknown: Unknown, place: Place, bytes: &[u8]) {
        self.count(unknown.n);
        self.put_aside(unknown.id, false, place);
        let trouble = if unknown.newer {
            Trouble::Newer
        } else {
            Trouble::Unknown
        };
        self.report(place, trouble, bytes);
    }

    fn damaged(&mut self, stamped: Stamped, place: Place, line: &[u8]) {
        let id = stamped.id.clone();
        if matches!(stamped.event, Event::Set(_)) {
            self.keep(stamped, Seal::Wrong, place);
            self.report(place, Trouble::DamagedSet(id), line);
        } else {
            self.put_aside(Some(id.clone()), true, place);
            self.report(place, Trouble::DamagedEvent(id), line);
        }
    }

    fn put_aside(&mut self, id: Option<EventId>, damaged: bool, place: Place) {
        self.read.unused.push(Unused {
            id,
            damaged,
            line: place.line,
            offset: place.offset,
            length: place.length,
        });
    }

    fn keep(&mut self, stamped: Stamped, seal: Seal, place: Place) {
        match seal {
            Seal::Right | Seal::Absent => self.count(stamped.n),
            Seal::Wrong => {}
        }
        self.read.entries.push(Entry {
            stamped,
            seal,
            line: place.line,
            offset: place.offset,
            length: place.length,
        });
    }

    fn count(&mut self, n: u64) {
        if n <= HIGHEST {
            self.read.highest_n = self.read.highest_n.max(n);
        }
    }
}

/// The bytes as text, and whether they were text.
fn text(bytes: &[u8]) -> (Cow<'_, str>, bool) {
    match std::str::from_utf8(bytes) {
        Ok(text) => (Cow::Borrowed(text), true),
        Err(_) => (String::from_utf8_lossy(bytes), false),
    }
}

fn is_merge_mark(line: &[u8]) -> bool {
    let marks: [&[u8]; 4] = [b"<<<<<<<", b"=======", b">>>>>>>", b"|||||||"];
    marks.iter().any(|mark| line.starts_with(mark))
}
