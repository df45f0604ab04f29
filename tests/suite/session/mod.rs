//! A session as the fold of its events, rule by rule, each against its plain wording.

mod commands;
mod fold;
mod hurts;
mod later;
mod turns;

use rackside::domain::exercise::{Counts, ExerciseId};
use rackside::domain::gear::PlaceId;
use rackside::domain::program::{Ask, Details, Policy, ProgramId, RestWindow, SlotId};
use rackside::domain::session::{
    Asked, Done, Ended, Event, EventId, Opened, Plan, PlannedItem, PlannedSet, Session, SetKind,
    SetRecord, Stamped,
};
use rackside::domain::units::{Civil, Load, Mass, Reps, Seconds, Spare, Unit, Weight};

/// So many kilograms.
fn kg(count: i64) -> Load {
    let mass = Mass::from_ng(count * Unit::Kg.nanograms());
    Load::Mass(Weight::new(mass, Unit::Kg))
}

fn reps(count: u32) -> Done {
    Done::Reps(Reps::clamped(count))
}

fn window(opens: u32, closes: u32) -> RestWindow {
    RestWindow {
        opens: Seconds::clamped(opens),
        closes: Seconds::clamped(closes),
    }
}

fn id(k: u64) -> EventId {
    EventId(format!("dev-run-{k}"))
}

/// So many seconds after six.
fn at(seconds: i64) -> Civil {
    let six = Civil::parse("2026-11-19T18:00:00.000+01:00").unwrap();
    six.plus(seconds * 1000)
}

fn planned(kind: SetKind, load: Load, asked: u32) -> PlannedSet {
    PlannedSet {
        kind,
        load,
        asked: Asked::Reps(Reps::clamped(asked)),
        feeler: false,
        open: false,
        predicted: None,
    }
}

/// An exercise of sets of these kinds, each of five reps with 20 kg.
fn item(name: &str, kinds: &[SetKind]) -> PlannedItem {
    PlannedItem {
        slot: SlotId(name.to_owned()),
        exercise: ExerciseId::new(name).unwrap(),
        sets: kinds.iter().map(|kind| planned(*kind, kg(20), 5)).collect(),
        ask: Ask::Reps {
            min: Reps::clamped(5),
            max: Reps::clamped(8),
        },
        rest: window(60, 180),
        spare: Some(Spare::clamped(2)),
        tempo: None,
        policy: Policy::DoubleProgression,
        group: None,
        details: Details::default(),
        deload: false,
        odds: None,
        reason: String::new(),
    }
}

/// An exercise of so many working sets.
fn work(name: &str, sets: usize) -> PlannedItem {
    item(name, &vec![SetKind::Working; sets])
}

fn plan(items: Vec<PlannedItem>) -> Plan {
    Plan {
        program: ProgramId::new("p").unwrap(),
        phase: 1,
        phase_name: "One".to_owned(),
        week: 1,
        weeks: 4,
        day: 1,
        day_name: "Day 1".to_owned(),
        place: PlaceId::new("home").unwrap(),
        items,
    }
}

/// A set of an item: of the coming set's kind, as asked.
fn set(item: u16, number: u16, done: Done) -> SetRecord {
    SetRecord {
        item,
        exercise: ExerciseId::new("a").unwrap(),
        counts: Counts::BarTotal,
        kind: SetKind::Working,
        number,
        load: kg(20),
        done,
        asked: Asked::Reps(Reps::clamped(5)),
        open: false,
        spare: None,
        rest: None,
        lifted: None,
        odds: None,
        predicted: None,
        ended: Ended::AsAsked,
    }
}

/// Events of one session, numbered from 1 and a minute apart, the first of them its opening.
fn events(items: Vec<PlannedItem>, then: Vec<Event>) -> Vec<Stamped> {
    let plan = plan(items);
    let opened = Event::Opened(Box::new(Opened { plan }));
    let all = std::iter::once(opened).chain(then);
    let stamped = all.zip(1..).map(|(event, k)| Stamped {
        id: id(k),
        n: k,
        session: Some(id(1)),
        at: at(60 * (k as i64 - 1)),
        event,
    });
    stamped.collect()
}

fn did(item: u16, number: u16, count: u32) -> Event {
    Event::Set(Box::new(set(item, number, reps(count))))
}

fn fold(items: Vec<PlannedItem>, then: Vec<Event>) -> Session {
    Session::fold(&events(items, then)).unwrap()
}

/// The coming set as item and place.
fn coming(session: &Session) -> Option<(usize, usize)> {
    session.coming().map(|coming| (coming.item, coming.cell))
}
