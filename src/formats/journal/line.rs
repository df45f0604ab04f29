//! One line: its frame around the event, written and read.

use super::event::WireEvent;
use super::text::CivilText;
use super::{HIGHEST, LONGEST, VERSION, lean, seal};
use crate::domain::session::{Event, EventId, Stamped};
use ron::Options;
use ron::error::Error;
use ron::extensions::Extensions;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A line's value. The order of the fields is the order in which they are written.
#[derive(Serialize, Deserialize)]
struct WireLine {
    v: u32,
    id: String,
    n: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    session: Option<String>,
    at: CivilText,
    event: WireEvent,
}

/// As much of a line as every version has.
#[derive(Deserialize)]
struct WireHead {
    v: u32,
    id: String,
    n: u64,
}

/// Why an event cannot be written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Unwritable {
    /// Its line would be longer than [`LONGEST`].
    TooLong,
    /// Its line would not read back as the same event.
    Lossy(String),
}

impl fmt::Display for Unwritable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong => f.write_str("it is too long for a line of the journal"),
            Self::Lossy(why) => write!(f, "it would not read back as it is: {why}"),
        }
    }
}

/// What a value turned out to be.
pub(super) enum Value {
    /// An event.
    Event(Box<Stamped>),
    /// Something of a newer version, or an event that is not known.
    Unknown(Unknown),
    /// No line of a journal: why.
    Nonsense(String),
}

/// As much of an event as is known of one that is not.
pub(super) struct Unknown {
    pub(super) id: Option<EventId>,
    pub(super) n: u64,
    /// Whether a newer version wrote it.
    pub(super) newer: bool,
}

fn options() -> Options {
    Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .with_default_extension(Extensions::UNWRAP_VARIANT_NEWTYPES)
}

/// The event's line, sealed, without a line feed. A line that this gives reads back the same.
pub fn write_line(stamped: &Stamped) -> Result<String, Unwritable> {
    let line = WireLine {
        v: VERSION,
        id: stamped.id.0.clone(),
        n: stamped.n,
        session: stamped.session.as_ref().map(|session| session.0.clone()),
        at: CivilText(stamped.at),
        event: WireEvent::from(&stamped.event),
    };
    let value = options().to_string(&line);
    let mut text = value.map_err(|error| Unwritable::Lossy(error.to_string()))?;
    match read_value(&text) {
        Value::Event(same) if *same == *stamped => {}
        Value::Event(_) => return Err(Unwritable::Lossy("a value changes".to_owned())),
        Value::Unknown(_) => return Err(Unwritable::Lossy("an unknown value".to_owned())),
        Value::Nonsense(why) => return Err(Unwritable::Lossy(why)),
    }
    text += &seal::seal(&text);
    if text.len() > LONGEST {
        return Err(Unwritable::TooLong);
    }
    Ok(text)
}

/// Reads a line's value.
pub(super) fn read_value(text: &str) -> Value {
    let line = match lean::read(text) {
        Some(line) => line,
        None => match options().from_str::<WireLine>(text) {
            Ok(line) => line,
            Err(error) => return without_event(text, &error.code),
        },
    };
    if line.v > VERSION {
        return Value::Unknown(Unknown {
            id: event_id(line.id).ok(),
            n: line.n,
            newer: true,
        });
    }
    match stamped(line) {
        Ok(stamped) => Value::Event(Box::new(stamped)),
        Err(why) => Value::Nonsense(why),
    }
}

/// What to make of a value whose event cannot be read.
fn without_event(text: &str, error: &Error) -> Value {
    let Ok(WireHead { v, id, n }) = options().from_str::<WireHead>(text) else {
        return Value::Nonsense(in_words(error));
    };
    let unknown = |newer| {
        let id = event_id(id).ok();
        Value::Unknown(Unknown { id, n, newer })
    };
    if v > VERSION {
        return unknown(true);
    }
    match error {
        Error::NoSuchEnumVariant { outer, .. } if outer.as_deref() == Some("WireEvent") => {
            unknown(false)
        }
        error => Value::Nonsense(in_words(error)),
    }
}

/// What is wrong, in the names of the format's page and not of our types.
fn in_words(error: &Error) -> String {
    error.to_string().replace("`Wire", "`")
}

fn stamped(line: WireLine) -> Result<Stamped, String> {
    let id = event_id(line.id)?;
    if line.n > HIGHEST {
        return Err(format!("n is {}, more than any journal counts", line.n));
    }
    let event = Event::try_from(line.event)?;
    let session = match (line.session, &event) {
        (Some(session), _) => Some(event_id(session)?),
        (None, Event::Opened(_)) => Some(id.clone()),
        (None, _) => None,
    };
    Ok(Stamped {
        id,
        n: line.n,
        session,
        at: line.at.0,
        event,
    })
}

/// An id is printed and typed, so it is kept to what is safe to print and easy to type.
fn event_id(text: String) -> Result<EventId, String> {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || byte == b'-' || byte == b'_';
    if (1..=100).contains(&text.len()) && text.bytes().all(plain) {
        Ok(EventId(text))
    } else {
        Err("an id has 1 to 100 letters, digits and hyphens".to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::{WireLine, lean};

    /// What both readers make of a line is held together in `tests/suite/journal/lines.rs`; here,
    /// that the lean one reads what was written, whatever happened.
    #[test]
    fn the_lean_reader_reads_what_was_written() {
        let written = include_str!("../../../tests/data/journals/1.ron").lines();
        let values = written.filter_map(|line| line.split_once(" // crc "));
        let plain = values.filter(|(value, _)| !value.contains('\\'));
        let declined: Vec<&str> = plain
            .map(|(value, _)| value)
            .filter(|value| lean::read::<WireLine>(value).is_none())
            .collect();
        assert_eq!(declined, Vec::<&str>::new());
    }
}
