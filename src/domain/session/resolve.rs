//! Which events hold once amendments, voids and later reports have acted on them.

use super::imports::Imports;
use super::{Amendment, Event, EventId, SetRecord, Stamped};
use std::collections::{BTreeMap, BTreeSet};

/// Something that acts on an event that it cannot act on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stray {
    /// The event that acts.
    pub id: EventId,
    /// What it would act on.
    pub target: EventId,
    /// Why it does not.
    pub why: StrayWhy,
}

/// Why an event acts on nothing.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum StrayWhy {
    /// No such event is known.
    Unknown,
    /// The target is later: only earlier events can be acted on.
    NotEarlier,
    /// The target is not a set.
    NotASet,
    /// The target would end the import that this day is part of, and was never written.
    Unfinished,
}

/// The events that hold, in order, each set as last amended.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Resolved {
    /// What holds; voids, amendments and late reports have been worked in and left out.
    pub events: Vec<Stamped>,
    /// What acted on nothing.
    pub strays: Vec<Stray>,
}

/// Sorts events into their order, (n, id).
pub fn sort(events: &mut [Stamped]) {
    events.sort_by(|a, b| (a.n, &a.id).cmp(&(b.n, &b.id)));
}

/// Works voids, amendments and late reports of spare into the events that they act on. Expects
/// the events in order and each id once.
pub fn resolve(events: Vec<Stamped>) -> Resolved {
    let places = places(&events);
    let mut strays = Vec::new();
    let holds = which_hold(&events, &places, &mut strays);
    let mut changes: BTreeMap<usize, Vec<Amendment>> = BTreeMap::new();
    for (k, event) in events.iter().enumerate() {
        if let (Some(true), Some((target, change))) = (holds.get(k), change_of(&event.event)) {
            match target_set(k, target, &places, &events) {
                Ok(place) => changes.entry(place).or_default().push(change),
                Err(why) => {
                    strays.push(Stray {
                        id: event.id.clone(),
                        target: target.clone(),
                        why,
                    });
                }
            }
        }
    }
    let mut kept = Vec::with_capacity(events.len());
    for (k, (mut event, holds)) in events.into_iter().zip(holds).enumerate() {
        if !holds || acts_on(&event.event).is_some() {
            continue;
        }
        if let Event::Set(record) = &mut event.event {
            for change in changes.remove(&k).unwrap_or_default() {
                amend(record, &change);
            }
        }
        kept.push(event);
    }
    Resolved {
        events: kept,
        strays,
    }
}

/// Which events are used. With the opening of a session goes all that belongs to it, with the end
/// of an import all its days, save that voids act wherever they stand.
fn which_hold(
    events: &[Stamped],
    places: &BTreeMap<&EventId, usize>,
    strays: &mut Vec<Stray>,
) -> Vec<bool> {
    let voided = voided(events, places, strays);
    let gone = |is: fn(&Event) -> bool| -> BTreeSet<&EventId> {
        let away = voided.keys().filter_map(|k| events.get(*k));
        away.filter(|e| is(&e.event)).map(|e| &e.id).collect()
    };
    let sessions = gone(|event| matches!(event, Event::Opened(_)));
    let ended = gone(|event| matches!(event, Event::ImportEnded(_)));
    let imports = Imports::of(events);
    strays.extend(imports.unfinished(events));
    let with_another = |event: &Stamped| {
        let session = event.session.as_ref();
        session.is_some_and(|session| sessions.contains(session)) || imports.is_out(event, &ended)
    };
    let holds = |(k, event): (usize, &Stamped)| !voided.contains_key(&k) && !with_another(event);
    events.iter().enumerate().map(holds).collect()
}

/// The places of the events that voids take away, and of the last void that does.
pub(super) fn resolved_away(events: &[Stamped]) -> BTreeMap<usize, usize> {
    voided(events, &places(events), &mut Vec::new())
}

/// Where the events stand that others act on.
fn places(events: &[Stamped]) -> BTreeMap<&EventId, usize> {
    let targets = events.iter().filter_map(|event| acts_on(&event.event));
    let targets: BTreeSet<&EventId> = targets.collect();
    let places = events.iter().enumerate().map(|(k, event)| (&event.id, k));
    places.filter(|(id, _)| targets.contains(id)).collect()
}

/// The event that an event acts on, where it acts on one.
pub fn acts_on(event: &Event) -> Option<&EventId> {
    match event {
        Event::Voided { target } => Some(target),
        event => change_of(event).map(|(target, _)| target),
    }
}

/// From the last event back: an event is taken away by a later void that is not.
fn voided(
    events: &[Stamped],
    places: &BTreeMap<&EventId, usize>,
    strays: &mut Vec<Stray>,
) -> BTreeMap<usize, usize> {
    let mut voided: BTreeMap<usize, usize> = BTreeMap::new();
    for (k, event) in events.iter().enumerate().rev() {
        let Event::Voided { target } = &event.event else {
            continue;
        };
        if voided.contains_key(&k) {
            continue;
        }
        let why = match places.get(target) {
            Some(place) if *place < k => {
                voided.entry(*place).or_insert(k);
                continue;
            }
            Some(_) => StrayWhy::NotEarlier,
            None => StrayWhy::Unknown,
        };
        strays.push(Stray {
            id: event.id.clone(),
            target: target.clone(),
            why,
        });
    }
    voided
}

fn change_of(event: &Event) -> Option<(&EventId, Amendment)> {
    match event {
        Event::Amended { target, change } => Some((target, change.clone())),
        Event::Spare { set, spare } => Some((
            set,
            Amendment {
                spare: Some(*spare),
                ..Amendment::default()
            },
        )),
        Event::Opened(_)
        | Event::Set(_)
        | Event::Skipped { .. }
        | Event::PutOff { .. }
        | Event::Swapped { .. }
        | Event::Added { .. }
        | Event::Pain(_)
        | Event::Note { .. }
        | Event::Paused
        | Event::Resumed
        | Event::Closed(_)
        | Event::BodyWeight(_)
        | Event::Adopted(_)
        | Event::Chose(_)
        | Event::Eased { .. }
        | Event::Imported(_)
        | Event::ImportEnded(_)
        | Event::Voided { .. } => None,
    }
}

fn target_set(
    actor: usize,
    target: &EventId,
    places: &BTreeMap<&EventId, usize>,
    events: &[Stamped],
) -> Result<usize, StrayWhy> {
    let place = *places.get(target).ok_or(StrayWhy::Unknown)?;
    if place >= actor {
        return Err(StrayWhy::NotEarlier);
    }
    match events.get(place).map(|e| &e.event) {
        Some(Event::Set(_)) => Ok(place),
        _ => Err(StrayWhy::NotASet),
    }
}

/// Changes what the amendment names, nothing else.
pub fn amend(record: &mut SetRecord, change: &Amendment) {
    let Amendment {
        load,
        done,
        spare,
        ended,
    } = change;
    if let Some(load) = load {
        record.load = *load;
    }
    if let Some(done) = done {
        record.done = *done;
    }
    if let Some(spare) = spare {
        record.spare = Some(*spare);
    }
    if let Some(ended) = ended {
        record.ended = *ended;
    }
}
