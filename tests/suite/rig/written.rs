//! Records written down set by set, for tests of what they say.

use super::training::{civil, weight};
use rackside::domain::exercise::{Catalogue, ExerciseId};
use rackside::domain::gear::PlaceId;
use rackside::domain::history::History;
use rackside::domain::program::{Ask, Details, Policy, ProgramId, RestWindow, SlotId};
use rackside::domain::session::{
    Asked, Closed, Done, Ended, Event, EventId, Opened, Plan, PlannedItem, SetKind, SetRecord,
    Stamped,
};
use rackside::domain::units::{Civil, Load, Reps, Seconds, Spare, Unit};
use rackside::formats::table::catalogue;

/// A set to write down.
#[derive(Clone)]
pub struct Wrote {
    pub exercise: &'static str,
    pub kind: SetKind,
    pub load: Load,
    pub done: Done,
    pub spare: Option<u32>,
}

impl Wrote {
    /// A working set of so many reps with so many kilograms.
    pub fn work(exercise: &'static str, kg: f64, reps: u32) -> Self {
        Self {
            exercise,
            kind: SetKind::Working,
            load: Load::Mass(weight(kg, Unit::Kg)),
            done: Done::Reps(Reps::clamped(reps)),
            spare: None,
        }
    }

    pub fn spare(mut self, spare: u32) -> Self {
        self.spare = Some(spare);
        self
    }

    pub fn kind(mut self, kind: SetKind) -> Self {
        self.kind = kind;
        self
    }

    pub fn body(mut self, added: f64) -> Self {
        self.load = Load::Body(weight(added, Unit::Kg));
        self
    }

    pub fn held(mut self, seconds: u32) -> Self {
        self.done = Done::Held(Seconds::clamped(seconds));
        self
    }
}

/// Records, session by session.
#[derive(Default)]
pub struct Written {
    pub events: Vec<Stamped>,
    pub catalogue: Catalogue,
}

impl Written {
    pub fn new() -> Self {
        Self {
            events: Vec::new(),
            catalogue: catalogue(None).expect("the exercises that ship are sound"),
        }
    }

    /// The same, where exercises were read before.
    pub fn with(catalogue: Catalogue) -> Self {
        Self {
            events: Vec::new(),
            catalogue,
        }
    }

    pub fn history(&self) -> History {
        History::of(self.events.clone())
    }

    pub fn write(&mut self, session: Option<&EventId>, at: Civil, event: Event) -> EventId {
        let n = self.events.len() as u64 + 1;
        let id = EventId(format!("device-run-{n:06}"));
        self.events.push(Stamped {
            session: session
                .cloned()
                .or_else(|| matches!(event, Event::Opened(_)).then(|| id.clone())),
            id: id.clone(),
            n,
            at,
            event,
        });
        id
    }

    /// A session opened at a time, its last set so many minutes later.
    pub fn session(&mut self, at: &str, minutes: i64, sets: &[Wrote]) -> EventId {
        self.on(civil(at), (minutes, false), sets)
    }

    /// The same, of deload work.
    pub fn deload(&mut self, at: &str, minutes: i64, sets: &[Wrote]) -> EventId {
        self.on(civil(at), (minutes, true), sets)
    }

    /// A session by its instant.
    pub fn on(&mut self, at: Civil, (minutes, deload): (i64, bool), sets: &[Wrote]) -> EventId {
        let mut exercises: Vec<&str> = Vec::new();
        for set in sets {
            if !exercises.contains(&set.exercise) {
                exercises.push(set.exercise);
            }
        }
        let items = exercises.iter().map(|name| item(name, deload)).collect();
        let opened = Event::Opened(Box::new(Opened { plan: plan(items) }));
        let id = self.write(None, at, opened);
        for (k, set) in (1..).zip(sets) {
            let share = minutes * 60_000 * k / sets.len() as i64;
            let place = exercises.iter().position(|name| *name == set.exercise);
            let record = self.record(place.expect("one of them") as u16, set);
            self.write(Some(&id), at.plus(share), Event::Set(Box::new(record)));
        }
        id
    }

    /// Closes a session with its effort.
    pub fn close(&mut self, session: &EventId, effort: u8) {
        let at = self.events.last().expect("an event").at;
        let effort = Some(effort);
        self.write(Some(session), at, Event::Closed(Closed { effort }));
    }

    fn record(&self, item: u16, set: &Wrote) -> SetRecord {
        let exercise = id(set.exercise);
        let known = self.catalogue.get(&exercise).expect("a known exercise");
        let count = set.done.deciding();
        SetRecord {
            item,
            counts: known.counts,
            exercise,
            kind: set.kind,
            number: 1,
            load: set.load,
            done: set.done,
            asked: if set.done.is_hold() {
                Asked::Hold(Seconds::clamped(count))
            } else {
                Asked::Reps(Reps::clamped(count))
            },
            open: false,
            spare: set.spare.map(Spare::clamped),
            rest: None,
            lifted: None,
            odds: None,
            predicted: None,
            ended: Ended::AsAsked,
        }
    }
}

pub fn id(name: &str) -> ExerciseId {
    ExerciseId::new(name).expect("a name")
}

fn plan(items: Vec<PlannedItem>) -> Plan {
    Plan {
        program: ProgramId::new("p").expect("a name"),
        phase: 1,
        phase_name: "Base".to_owned(),
        week: 1,
        weeks: 4,
        day: 1,
        day_name: "Day 1".to_owned(),
        place: PlaceId::new("room").expect("a name"),
        items,
    }
}

fn item(exercise: &str, deload: bool) -> PlannedItem {
    PlannedItem {
        slot: SlotId("slot".to_owned()),
        exercise: id(exercise),
        sets: Vec::new(),
        ask: Ask::Reps {
            min: Reps::clamped(8),
            max: Reps::clamped(12),
        },
        rest: RestWindow {
            opens: Seconds::clamped(60),
            closes: Seconds::clamped(120),
        },
        spare: None,
        tempo: None,
        policy: Policy::ByOdds,
        group: None,
        details: Details::default(),
        deload,
        odds: None,
        reason: String::new(),
    }
}
