//! The coming sessions as a calendar (RFC 5545).
//!
//! Each event has a UID that stays the same from one export to the next, so that a calendar that
//! takes the file again moves what it has. Times are those of the wall wherever the person is.

use crate::domain::program::Program;
use crate::domain::units::Civil;
use chrono::{DateTime, Duration, NaiveDate, NaiveTime, Utc};
use icalendar::{Calendar, Component, Event, EventLike};

/// A session as a calendar shows it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Entry {
    /// Phase, week and number within the week: what its UID is made of.
    pub place: (u16, u16, usize),
    /// Its day.
    pub date: NaiveDate,
    /// What it is called.
    pub title: String,
    /// What it holds, a line an exercise.
    pub lines: Vec<String>,
    /// How many minutes it takes.
    pub minutes: u32,
}

/// A calendar of these sessions of a program that was taken up `since`. Without a time of day they
/// are events of the whole day.
pub fn calendar(
    program: &Program,
    since: Option<NaiveDate>,
    entries: &[Entry],
    (at, now): (Option<NaiveTime>, Civil),
) -> String {
    let mut calendar = Calendar::empty();
    calendar
        .append_property(("VERSION", "2.0"))
        .append_property(("PRODID", "-//rackside//sessions//EN"))
        .append_property(("CALSCALE", "GREGORIAN"));
    let since = since.map_or_else(
        || "start".to_owned(),
        |date| date.format("%Y%m%d").to_string(),
    );
    for entry in entries {
        let (phase, week, number) = entry.place;
        let uid = format!(
            "{}-{since}-{phase}-{week}-{number}@rackside.invalid",
            program.id
        );
        let mut event = Event::new();
        event
            .uid(&uid)
            .timestamp(utc(now))
            .summary(&entry.title)
            .description(&entry.lines.join("\n"));
        match at {
            // The day after is the end of a whole day.
            None => {
                let next = entry.date.succ_opt().unwrap_or(entry.date);
                event.starts(entry.date).ends(next)
            }
            Some(time) => {
                let begins = entry.date.and_time(time);
                let ends = begins + Duration::minutes(i64::from(entry.minutes.max(1)));
                event.starts(begins).ends(ends)
            }
        };
        calendar.push(event.done());
    }
    calendar.to_string()
}

fn utc(now: Civil) -> DateTime<Utc> {
    DateTime::parse_from_rfc3339(&now.to_string()).map_or(DateTime::UNIX_EPOCH, |at| at.to_utc())
}
