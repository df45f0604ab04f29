//! The exported calendar, read strictly by RFC 5545: lines end in CR LF and hold 75 octets at most,
//! folded lines go on after a space, every event has UID, DTSTAMP and DTSTART, text is escaped.
//! Read once by hand with the Python library icalendar too, which found the same sessions.

use crate::rig::cli::Cli;
use std::collections::{BTreeMap, BTreeSet};

type Event = BTreeMap<String, String>;

/// The events of a calendar text.
fn events(text: &str) -> Vec<Event> {
    assert!(text.ends_with("\r\n"));
    assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
    assert_eq!(text.matches('\r').count(), text.matches("\r\n").count());
    let mut lines: Vec<String> = Vec::new();
    for line in text.trim_end().split("\r\n") {
        assert!(line.len() <= 75, "{} octets: {line}", line.len());
        assert!(!line.is_empty());
        match line.strip_prefix(' ') {
            Some(more) => lines.last_mut().expect("a line to go on").push_str(more),
            None => lines.push(line.to_owned()),
        }
    }
    assert_eq!(lines.first().map(String::as_str), Some("BEGIN:VCALENDAR"));
    assert_eq!(lines.last().map(String::as_str), Some("END:VCALENDAR"));
    for needed in ["VERSION:2.0", "PRODID:"] {
        assert_eq!(
            lines.iter().filter(|line| line.starts_with(needed)).count(),
            1
        );
    }
    let mut found: Vec<Event> = Vec::new();
    let mut open: Option<Event> = None;
    for line in &lines {
        match (line.as_str(), &mut open) {
            ("BEGIN:VEVENT", None) => open = Some(Event::new()),
            ("END:VEVENT", Some(event)) => {
                found.push(std::mem::take(event));
                open = None;
            }
            (line, Some(event)) => {
                let (name, value) = line.split_once(':').expect("a name and a value");
                let name = name.split(';').next().expect("a name");
                let twice = event.insert(name.to_owned(), value.to_owned());
                assert_eq!(twice, None, "{name} twice");
            }
            (_, None) => {}
        }
    }
    for event in &found {
        for needed in ["UID", "DTSTAMP", "DTSTART", "SUMMARY"] {
            assert!(event.contains_key(needed), "{needed} in {event:?}");
        }
        let stamp = &event["DTSTAMP"];
        assert!(stamp.len() == 16 && stamp.ends_with('Z'), "{stamp}");
        assert!(event["DTEND"] > event["DTSTART"], "{event:?}");
        let text = event["SUMMARY"].replace("\\,", "").replace("\\;", "");
        assert!(!text.contains([',', ';']), "{text}");
    }
    found
}

fn uids(events: &[Event]) -> Vec<String> {
    events.iter().map(|event| event["UID"].clone()).collect()
}

#[test]
fn a_calendar_holds_every_session_of_the_program_once() {
    let cli = Cli::new();
    for (program, sessions) in [("three_steps", 36), ("small_room", 16)] {
        let _ = cli.run(["program", "adopt", program]).ok();
        let text = cli.run(["export", "ics", "--weeks", "52"]).ok();
        let events = events(&text);
        assert_eq!(events.len(), sessions, "{program}");
        let all: BTreeSet<String> = uids(&events).into_iter().collect();
        assert_eq!(all.len(), sessions, "{program}: UIDs are unique");
        let dates: Vec<&String> = events.iter().map(|event| &event["DTSTART"]).collect();
        assert!(dates.windows(2).all(|pair| pair[0] < pair[1]), "{dates:?}");
        let again = cli.run(["export", "ics", "--weeks", "52"]).ok();
        assert_eq!(uids(&self::events(&again)), uids(&events), "stable UIDs");
    }
}

#[test]
fn weekdays_are_kept_and_a_time_makes_events_as_long_as_the_session() {
    use chrono::{Datelike, NaiveDateTime, Weekday};
    let cli = Cli::new();
    let _ = cli.run(["program", "adopt", "four_square"]).ok();
    let text = cli
        .run(["export", "ics", "--at", "18:30", "--weeks", "4"])
        .ok();
    let events = events(&text);
    assert!((14..=16).contains(&events.len()), "{}", events.len());
    for event in &events {
        let read =
            |name: &str| NaiveDateTime::parse_from_str(&event[name], "%Y%m%dT%H%M%S").unwrap();
        let (from, to) = (read("DTSTART"), read("DTEND"));
        let days = [Weekday::Mon, Weekday::Tue, Weekday::Thu, Weekday::Fri];
        assert!(days.contains(&from.weekday()), "{from}");
        assert_eq!(from.format("%H:%M").to_string(), "18:30");
        assert!(
            (15..=120).contains(&(to - from).num_minutes()),
            "{from} {to}"
        );
    }
    let wrong = cli
        .run(["export", "ics", "--at", "half past six"])
        .refused(2);
    assert!(wrong.contains("like 18:30"), "{wrong}");
}

#[test]
fn a_file_is_never_written_over() {
    let cli = Cli::new();
    let path = cli.home().join("mine.ics");
    let run = || {
        cli.run([
            "export".as_ref(),
            "ics".as_ref(),
            "-o".as_ref(),
            path.as_os_str(),
        ])
    };
    assert_eq!(run().ok(), "");
    assert!(!events(&cli.read("mine.ics")).is_empty());
    cli.write("mine.ics", "mine");
    let said = run().refused(1);
    assert!(said.contains("stays as it is"), "{said}");
    assert_eq!(cli.read("mine.ics"), "mine");
}
