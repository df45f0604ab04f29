//! Which imports are whole: one that was cut short while it was written counts for nothing.

use super::{Event, EventId, ImportPart, Stamped, Stray, StrayWhy};
use std::collections::{BTreeMap, BTreeSet};

/// The imports among some events: what is there of each.
pub(super) struct Imports<'a> {
    ended: BTreeSet<&'a EventId>,
    days: BTreeMap<&'a EventId, u32>,
}

fn part(event: &Event) -> Option<&ImportPart> {
    match event {
        Event::Imported(imported) => imported.part.as_ref(),
        _ => None,
    }
}

impl<'a> Imports<'a> {
    pub(super) fn of(events: &'a [Stamped]) -> Self {
        let is_end = |e: &&Stamped| matches!(e.event, Event::ImportEnded(_));
        let mut days: BTreeMap<&EventId, u32> = BTreeMap::new();
        for part in events.iter().filter_map(|e| part(&e.event)) {
            *days.entry(&part.import).or_default() += 1;
        }
        Self {
            ended: events.iter().filter(is_end).map(|e| &e.id).collect(),
            days,
        }
    }

    /// Whether all of an import was written: its end, which comes after everything else was on the
    /// disk, or, where only that was damaged since, every day.
    fn is_whole(&self, part: &ImportPart) -> bool {
        self.ended.contains(&part.import)
            || self
                .days
                .get(&part.import)
                .is_some_and(|days| *days >= part.days)
    }

    /// Whether an event is a day of an import that is not whole, or that was taken away.
    pub(super) fn is_out(&self, event: &Stamped, gone: &BTreeSet<&EventId>) -> bool {
        let part = part(&event.event);
        part.is_some_and(|part| gone.contains(&part.import) || !self.is_whole(part))
    }

    /// The imports that are not whole, each by the first of its days.
    pub(super) fn unfinished(&self, events: &[Stamped]) -> Vec<Stray> {
        let mut told = BTreeSet::new();
        let mut strays = Vec::new();
        for event in events {
            let Some(part) = part(&event.event).filter(|part| !self.is_whole(part)) else {
                continue;
            };
            if told.insert(&part.import) {
                strays.push(Stray {
                    id: event.id.clone(),
                    target: part.import.clone(),
                    why: StrayWhy::Unfinished,
                });
            }
        }
        strays
    }
}
