//! Deload and stall in lines: what the numbers say, what could be done.

use super::{NAME, Reading, cell, wrapped};
use crate::domain::logbook::backing_off::{BackingOff, Lately, Lift, Rest, Suggestion, USUAL};
use crate::domain::logbook::said::{day, grouped, percent};
use crate::domain::words;

/// The view.
pub fn lines(reading: &Reading<'_>) -> Vec<String> {
    let records = (reading.history, reading.logbook);
    let found = BackingOff::of(records, reading.catalogue, reading.today);
    let mut lines = vec![last(&found)];
    if let Some((week, usual)) = found.load {
        let [week, usual] = [week, usual].map(|load| grouped(libm::round(load) as i64));
        let text = format!("Load of last week {week}, of the four before {usual} in the mean.");
        lines.extend(wrapped(&text, reading.width));
    }
    lines.extend(wrapped(suggestion(&found), reading.width));
    lines.push(String::new());
    let head = "Lifts of the last three weeks: their last three times against those before";
    lines.extend(wrapped(head, reading.width));
    for lift in &found.lifts {
        let name = cell(reading.catalogue.name(&lift.exercise), NAME);
        let line = format!("  {name} {}", lately(lift));
        lines.push(cell(&line, reading.width).trim_end().to_owned());
    }
    if found.lifts.is_empty() {
        lines.push("  none".to_owned());
    }
    lines
}

fn last(found: &BackingOff) -> String {
    let weeks = words::count(usize::try_from(found.weeks).unwrap_or(0), "week");
    match found.rest {
        Some(Rest::Easier(when)) => {
            format!("Last easier session {}, {weeks} ago.", day(when))
        }
        Some(Rest::LayOff(end, days)) => {
            format!("Lay-off of {days} days up to {}, {weeks} ago.", day(end))
        }
        None => format!("No easier session and no lay-off yet, in {weeks}."),
    }
}

/// What could be done, in a sentence or two.
pub const fn suggestion(found: &BackingOff) -> &'static str {
    match found.suggestion {
        Suggestion::TooLittle => "Too few sessions to say anything.",
        Suggestion::Fresh => "You backed off not long ago: go on.",
        Suggestion::GoOn => "Nothing calls for an easier week.",
        Suggestion::Usual => {
            "An easier week about now would be usual (every 4 to 8 weeks: Rogerson et al. 2024): \
             half to two thirds of the sets, 85 to 90 % of the load, four spare. Yours to decide."
        }
        Suggestion::Stopped => {
            "Two lifts or more have stopped: an easier week could help. Half to two thirds of the \
             sets, 85 to 90 % of the load, four spare. Yours to decide."
        }
    }
}

fn lately(lift: &Lift) -> String {
    let change = lift.change.map_or_else(String::new, |change| {
        let way = if change < 0.0 { "down" } else { "up" };
        format!("{way} {}", percent(change))
    });
    match lift.lately {
        Lately::Missed => "missed its least twice".to_owned(),
        Lately::Falls => format!("falls: {change}"),
        Lately::Holds => change,
        Lately::TooFew => "too few sessions to say".to_owned(),
    }
}

/// The usual spacing stands in the sentence above.
const _: () = assert!(USUAL.0 == 4 && USUAL.1 == 8);
