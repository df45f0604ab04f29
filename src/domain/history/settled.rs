//! Which events can be told once and for all, so that only what came later is told anew.

use crate::domain::session::{Event, EventId, Stamped, acts_on};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// So many of the last sessions stay open to change: a set of theirs can be amended or taken back
/// without everything before being told anew.
const OPEN_TO_CHANGE: usize = 8;

/// How many of the events, given in order, are settled: the fewest such that those behind them
/// stand alone. `is_whole` says whether an event's line was read as it was written.
pub fn settled(events: &[Stamped], is_whole: &dyn Fn(&EventId) -> bool) -> usize {
    let opening = |(k, event): (usize, &Stamped)| {
        let opens = matches!(event.event, Event::Opened(_));
        opens.then_some(k)
    };
    let openings = events.iter().enumerate().rev().filter_map(opening);
    let mut places: Vec<usize> = openings.take(OPEN_TO_CHANGE).collect();
    places.reverse();
    let alone = |place: &usize| {
        let (before, after) = events.split_at(*place);
        stand_alone(after, is_whole) && come_after(after, latest_import(before))
    };
    places.into_iter().find(alone).unwrap_or(events.len())
}

/// Whether events, given in order, say the same whatever stands before them: each belongs to a
/// session that was opened among them or to none, and acts on one of them or on none.
pub fn stand_alone(events: &[Stamped], is_whole: &dyn Fn(&EventId) -> bool) -> bool {
    let mut told: BTreeSet<&EventId> = BTreeSet::new();
    let mut opened: BTreeSet<&EventId> = BTreeSet::new();
    events.iter().all(|event| {
        let belongs = match (&event.event, &event.session) {
            (Event::Opened(_), Some(session)) => *session == event.id && opened.insert(session),
            // Days from elsewhere go among the sessions by their dates.
            (Event::Imported(_) | Event::ImportEnded(_), _) => false,
            (_, Some(session)) => opened.contains(session),
            (_, None) => true,
        };
        let acts = acts_on(&event.event).is_none_or(|target| told.contains(target));
        told.insert(&event.id);
        belongs && acts && is_whole(&event.id)
    })
}

/// The latest day among those that came from elsewhere.
pub fn latest_import(events: &[Stamped]) -> Option<NaiveDate> {
    let day = |event: &Stamped| match &event.event {
        Event::Imported(imported) => Some(imported.date),
        _ => None,
    };
    events.iter().filter_map(day).max()
}

/// Whether the sessions opened in these events come after all days that came from elsewhere.
pub fn come_after(events: &[Stamped], imported: Option<NaiveDate>) -> bool {
    let opened = |event: &&Stamped| matches!(event.event, Event::Opened(_));
    let mut days = events.iter().filter(opened).map(|event| event.at.date());
    imported.is_none_or(|imported| days.all(|day| imported < day))
}
