//! What is taken back and brought back: events by voids, and what changed on the floor without an
//! event.

use super::super::model::{Floor, Model, Screen, Way};
use super::{Turn, floor};
use crate::domain::session::{
    Aside, Asides, Command, Event, EventId, SetKind, Stamped, Whereabouts, to_bring_back,
    to_take_back,
};
use crate::domain::units::{Load, Millis, Now};

/// One press moves the begin of the rest back by so much.
pub(super) const EARLIER: Millis = 15_000;

/// So many changes without an event can be taken back: enough for a key that is held down.
const MOST: usize = 200;

/// Notes something that changed without an event.
pub(super) fn note(floor: &mut Floor, aside: Aside) {
    floor.asides.undone.clear();
    floor.asides.done.push((floor.events.len(), aside));
    let over = floor.asides.done.len().saturating_sub(MOST);
    floor.asides.done.drain(..over);
}

/// What an earlier run noted: it can be taken back in this one.
pub(super) fn restore(floor: &mut Floor, asides: &Asides, now: Now) {
    floor.asides = asides.clone();
    for (_, aside) in &asides.done {
        let Aside::RestEarlier(id) = aside else {
            continue;
        };
        let mut sets = floor.session.sets.iter();
        let Some(set) = sets.find(|set| set.id == *id) else {
            continue;
        };
        // Of a set before the last one only its civil time is known, and the steps from it.
        let civil = now.boot.plus(-now.civil.since(set.at).max(0));
        let end = floor.ends.entry(id.clone()).or_insert(civil);
        *end = end.plus(-EARLIER);
    }
}

/// Takes back the last thing; says what it was.
pub(super) fn take_back(model: &mut Model, turn: &mut Turn) -> Option<String> {
    if let Screen::Floor(floor) = &mut model.screen
        && let Some(what) = take_aside(floor)
    {
        return Some(what.to_owned());
    }
    let mut last = to_take_back(&model.floor()?.events)?.clone();
    loop {
        if !floor::command(model, Command::TakeBack, turn) {
            return None;
        }
        heed(model);
        let before = model.floor().and_then(|floor| to_take_back(&floor.events));
        match before {
            Some(before) if one_key(&last, before) => last = before.clone(),
            Some(_) | None => return Some(named(&last.event)),
        }
    }
}

/// Sees whether a stop sign stands in the session as it now is.
pub(super) fn heed(model: &mut Model) {
    let pains = model.floor().map(|floor| &floor.session.pains);
    model.alarm = pains.is_some_and(|pains| {
        let mut whereabouts = pains.iter().map(|(_, pain)| pain.whereabouts);
        whereabouts.any(|it| it == Whereabouts::Alarm)
    });
}

/// Has the loads that the person chose since the last set hold again, where something learned took
/// their place.
pub(super) fn choose_again(floor: &mut Floor) {
    let last = floor.session.sets.last();
    let last = last.and_then(|set| place(floor, &set.id)).unwrap_or(0);
    let done = floor.asides.done.iter().filter(|(after, _)| *after > last);
    let ways: Vec<_> = done
        .filter_map(|(_, aside)| match aside {
            Aside::Load { of, after, .. } => Some((*of, *after)),
            Aside::RestEarlier(_) => None,
        })
        .collect();
    for (of, load) in ways {
        choose(floor, of, Some(load));
    }
}

/// Brings back what was taken back last; says whether there was something.
pub(super) fn bring_back(model: &mut Model, turn: &mut Turn) -> bool {
    if let Screen::Floor(floor) = &mut model.screen
        && bring_aside(floor)
    {
        return true;
    }
    let Some(floor) = model.floor() else {
        return false;
    };
    let mut back = to_bring_back(&floor.events)
        .and_then(|void| target(floor, void))
        .cloned();
    loop {
        if !floor::command(model, Command::BringBack, turn) {
            return false;
        }
        heed(model);
        let floor = model.floor();
        let next = floor.and_then(|floor| target(floor, to_bring_back(&floor.events)?));
        match (&back, next) {
            (Some(done), Some(next)) if one_key(done, next) => back = Some(next.clone()),
            (_, _) => return true,
        }
    }
}

/// What a void takes away.
fn target<'f>(floor: &'f Floor, void: &Stamped) -> Option<&'f Stamped> {
    let Event::Voided { target } = &void.event else {
        return None;
    };
    floor.events.iter().find(|event| event.id == *target)
}

/// Whether one key did both: it said that it hurts, and left out what loads it.
fn one_key(one: &Stamped, other: &Stamped) -> bool {
    let left_out = |event: &Stamped| matches!(event.event, Event::Skipped { whole: true, .. });
    let pain = |event: &Stamped| matches!(event.event, Event::Pain(_));
    let either = left_out(one) || left_out(other);
    one.at == other.at && either && (pain(one) || left_out(one)) && (pain(other) || left_out(other))
}

/// The place of an event among the floor's.
fn place(floor: &Floor, id: &EventId) -> Option<usize> {
    floor.events.iter().position(|event| event.id == *id)
}

fn take_aside(floor: &mut Floor) -> Option<&'static str> {
    let (after, _) = floor.asides.done.last()?;
    let event = to_take_back(&floor.events).and_then(|last| place(floor, &last.id));
    if event.is_some_and(|event| event >= *after) {
        return None;
    }
    let (_, aside) = floor.asides.done.pop()?;
    let what = match &aside {
        Aside::RestEarlier(set) => {
            shift(floor, set, EARLIER);
            "the rest's earlier start"
        }
        Aside::Load { of, before, .. } => {
            choose(floor, *of, *before);
            "the other load"
        }
    };
    floor.asides.undone.push((floor.events.len(), aside));
    Some(what)
}

fn bring_aside(floor: &mut Floor) -> bool {
    let Asides { undone, .. } = &floor.asides;
    let Some((after, _)) = undone.last() else {
        return false;
    };
    let void = to_bring_back(&floor.events).and_then(|void| place(floor, &void.id));
    let mut since = floor.events.iter().skip(*after);
    let new = since.any(|event| !matches!(event.event, Event::Voided { .. }));
    if new || void.is_some_and(|void| void >= *after) {
        return false;
    }
    let Some((_, aside)) = floor.asides.undone.pop() else {
        return false;
    };
    match &aside {
        Aside::RestEarlier(set) => shift(floor, set, -EARLIER),
        Aside::Load { of, after, .. } => choose(floor, *of, Some(*after)),
    }
    floor.asides.done.push((floor.events.len(), aside));
    true
}

/// The rest after a set begins so much later.
fn shift(floor: &mut Floor, set: &EventId, later: Millis) {
    if let Some(end) = floor.ends.get_mut(set) {
        *end = end.plus(later);
    }
}

fn choose(floor: &mut Floor, of: (usize, SetKind), load: Option<Load>) {
    match load {
        Some(load) => _ = floor.ways.insert(of, Way::chosen(load)),
        None => _ = floor.ways.remove(&of),
    }
}

/// What an event is called when it is taken back.
fn named(event: &Event) -> String {
    let what = match event {
        Event::Set(set) => return format!("set {}", set.number),
        Event::Spare { .. } => "the spare",
        Event::Skipped { whole: false, .. } => "the skipped set",
        Event::Skipped { whole: true, .. } => "what was left out",
        Event::PutOff { .. } => "the putting off",
        Event::Swapped { .. } => "the swap",
        Event::Added { .. } => "the added set",
        Event::Pain(_) => "the pain",
        Event::Note { .. } => "the note",
        Event::Paused => "the time out",
        Event::Resumed => "the end of the time out",
        Event::Amended { .. } => "the change of a set",
        Event::Opened(_)
        | Event::Closed(_)
        | Event::BodyWeight(_)
        | Event::Adopted(_)
        | Event::Chose(_)
        | Event::Eased { .. }
        | Event::Imported(_)
        | Event::ImportEnded(_)
        | Event::Voided { .. } => "the last thing",
    };
    what.to_owned()
}
