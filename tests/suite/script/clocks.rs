//! Clocks on the wall that are set, change with the season, or with the place: records keep their
//! order and their offset, a rest is neither negative nor eternal.

use crate::rig::script::Script;
use chrono::{DateTime, Duration, FixedOffset};
use rackside::domain::history::History;
use rackside::domain::session::RestKnown;
use rackside::domain::units::Civil;

impl Script {
    /// Sets the clock on the wall by so many minutes, and its zone to so many minutes east. The
    /// time that truly passes is the other clock's.
    fn set_wall(mut self, minutes: i64, east: i32) -> Self {
        let at = DateTime::parse_from_rfc3339(&self.now.civil.to_string()).expect("a time");
        let zone = FixedOffset::east_opt(east * 60).expect("an offset");
        let at = (at + Duration::minutes(minutes)).with_timezone(&zone);
        self.now.civil = Civil::new(at);
        self
    }
}

/// Set back and forward by minutes and years; the end of summer time; a flight to the west.
const SET: [(i64, i32); 6] = [
    (-180, 60),
    (180, 60),
    (-5 * 525_600, 60),
    (0, 0),
    (0, 60),
    (0, -5 * 60),
];

#[test]
fn a_rest_is_counted_by_no_clock_on_the_wall() {
    for (minutes, east) in SET {
        let script = Script::known().keys("<enter>").wait_s(120).keys("<enter>");
        let script = script.wait_s(40).set_wall(minutes, east).wait_s(1);
        let rest = script.floor().rest(script.now).expect("a rest");
        assert_eq!(
            rest.elapsed, 41_000,
            "wall moved by {minutes} min, zone {east}"
        );
        let script = script.wait_s(39).keys(" ").wait_s(20).keys("<enter>");
        let set = &script.sets()[1];
        let rest = set.rest.expect("a rest");
        assert_eq!((rest.seconds.get(), rest.known), (80, RestKnown::Measured));
        assert_eq!(set.lifted.expect("measured").get(), 20);
    }
}

#[test]
fn records_keep_their_order_and_say_their_offset() {
    for (minutes, east) in SET {
        let script = Script::known().keys("<enter>").wait_s(120).keys("<enter>");
        let script = script.set_wall(minutes, east).wait_s(120).keys("6<enter>");
        let mut events = script.journal.clone();
        events.reverse();
        let history = History::of(events);
        let sets = &history.sessions.last().expect("a session").sets;
        let done: Vec<u32> = sets.iter().map(|set| set.record.done.deciding()).collect();
        assert_eq!(done.last(), Some(&6), "order is told by n, not by the wall");
        let at = sets.last().expect("a set").at.to_string();
        let sign = if east < 0 { '-' } else { '+' };
        assert!(
            at.ends_with(&format!("{sign}{:02}:00", east.abs() / 60)),
            "{at}"
        );
    }
}

#[test]
fn a_session_killed_while_the_wall_was_set_goes_on_with_a_rest_that_can_be() {
    for (minutes, east) in SET {
        let script = Script::known().keys("<enter>").wait_s(120).keys("<enter>");
        let script = script.wait_s(40).set_wall(minutes, east).again();
        let elapsed = script.floor().rest(script.now).expect("a rest").elapsed;
        assert_eq!(
            elapsed, 40_000,
            "the same start of the machine: its own clock tells"
        );
    }
}

#[test]
fn without_a_draft_the_wall_is_believed_within_reason() {
    for (minutes, east) in SET {
        let mut script = Script::known().keys("<enter>").wait_s(120).keys("<enter>");
        script.draft = None;
        let script = script.wait_s(40).set_wall(minutes, east).again();
        let elapsed = script.floor().rest(script.now).expect("a rest").elapsed;
        assert!(
            (0..4 * 3_600_000).contains(&elapsed),
            "{elapsed} ms after {minutes} min"
        );
    }
}
