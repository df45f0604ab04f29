//! A lifter who trains: sessions planned, done as told, and written down as events.

use chrono::{DateTime, FixedOffset};
use rackside::domain::advice::{Beliefs, Context, Frame, plan_item, revise};
use rackside::domain::exercise::{Catalogue, Counts, ExerciseId};
use rackside::domain::gear::{Dumbbell, Place, PlaceId};
use rackside::domain::history::{History, Lifter};
use rackside::domain::program::{Ask, Details, Policy, ProgramId, RestWindow, Slot, SlotId};
use rackside::domain::session::{
    Boldness, Closed, Command, Entry, Event, EventId, Experience, Opened, Pain, Plan, PlannedItem,
    PlannedSet, Session, SetKind, Stamped, Whereabouts, decide, done_of,
};
use rackside::domain::units::{Civil, Load, Mass, Reps, Seconds, Spare, Unit, Weight};
use rackside::formats::table::catalogue;

/// What a lifter makes of a set: reps or seconds, and the spare that they tell.
pub type Made = (u32, Option<u32>);

/// A set that was done: its kind, its load, what was asked, what was done.
pub type DoneSet = (SetKind, Load, u32, u32);

/// A lifter, where they train, and all that was written down so far.
pub struct Training {
    pub catalogue: Catalogue,
    pub place: Place,
    pub lifter: Lifter,
    pub now: Civil,
    events: Vec<Stamped>,
    beliefs: Beliefs,
    /// Whether advice knows odds.
    pub believes: bool,
}

impl Training {
    pub fn with(place: Place) -> Self {
        let unit = place.unit;
        Self {
            catalogue: catalogue(None).expect("the exercises that ship are sound"),
            lifter: Lifter {
                unit,
                body_weight: None,
                experience: Experience::Intermediate,
                boldness: Boldness::Steady,
                place: place.id.clone(),
                program: ProgramId::new("p").expect("a name"),
            },
            place,
            now: civil("2026-01-05T18:00:00+00:00"),
            events: Vec::new(),
            beliefs: Beliefs::default(),
            believes: false,
        }
    }

    pub fn history(&self) -> History {
        History::of(self.events.clone())
    }

    pub fn pass(&mut self, days: i64) {
        self.now = self.now.plus(days * 86_400_000);
    }

    fn write(&mut self, session: Option<&EventId>, event: Event) -> EventId {
        let n = self.events.len() as u64 + 1;
        let id = EventId(format!("device-run-{n:06}"));
        self.events.push(Stamped {
            session: session.cloned().or_else(|| Some(id.clone())),
            id: id.clone(),
            n,
            at: self.now,
            event,
        });
        id
    }

    /// What would be planned now.
    pub fn plan(&self, slot: &Slot, frame: Frame) -> PlannedItem {
        let history = self.history();
        plan_item(&self.context(&history), slot, frame).expect("it can be done here")
    }

    pub fn context<'a>(&'a self, history: &'a History) -> Context<'a> {
        Context {
            catalogue: &self.catalogue,
            place: &self.place,
            history,
            lifter: &self.lifter,
            now: self.now,
            beliefs: self.believes.then_some(&self.beliefs),
        }
    }

    /// Trains one slot as planned, each set as `made` says, revised between sets; the item as it
    /// was planned and the sets as they were done come back.
    pub fn train(
        &mut self,
        slot: &Slot,
        frame: Frame,
        made: &mut dyn FnMut(&PlannedSet) -> Made,
    ) -> (PlannedItem, Vec<DoneSet>) {
        let item = self.plan(slot, frame);
        let done = self.carry_out(&item, made);
        (item, done)
    }

    /// Carries out a planned item as the only one of a session.
    pub fn carry_out(
        &mut self,
        item: &PlannedItem,
        made: &mut dyn FnMut(&PlannedSet) -> Made,
    ) -> Vec<DoneSet> {
        let opened = Event::Opened(Box::new(Opened {
            plan: plan_of(&self.place, item),
        }));
        let id = self.write(None, opened);
        let mut sets = Vec::new();
        while let Some((planned, event)) = self.coming(&id, made) {
            if let Event::Set(record) = &event {
                let (asked, done) = (planned.asked.count(), record.done.deciding());
                sets.push((planned.kind, planned.load, asked, done));
            }
            self.now = self.now.plus(120_000);
            self.write(Some(&id), event);
        }
        self.write(Some(&id), Event::Closed(Closed { effort: None }));
        sets
    }

    /// The coming set as it should be by now, and the record of it.
    fn coming(
        &self,
        id: &EventId,
        made: &mut dyn FnMut(&PlannedSet) -> Made,
    ) -> Option<(PlannedSet, Event)> {
        let history = self.history();
        let session = history.sessions.iter().find(|session| session.id == *id)?;
        let mut planned = session.planned(session.coming()?)?.clone();
        if let Some(revision) = revise(&self.context(&history), session, 0) {
            planned.load = revision.load;
            planned.asked = revision.asked;
        }
        let (count, spare) = made(&planned);
        let entry = Entry {
            counts: counts(&self.catalogue, session),
            load: planned.load,
            asked: planned.asked,
            done: done_of(planned.asked, count),
            spare: spare.map(Spare::clamped),
            rest: None,
            lifted: None,
            odds: None,
            predicted: None,
            open: planned.open,
            interrupted: false,
        };
        let event = decide(session, &self.events, Command::Record(Box::new(entry)));
        Some((planned, event.expect("a set is to come")))
    }

    /// A session in which one item was begun and hurt.
    pub fn hurt(&mut self, whereabouts: Whereabouts) {
        let last = self.events.iter().rev().find_map(|e| e.session.clone());
        let pain = Pain {
            item: None,
            whereabouts,
        };
        self.write(last.as_ref(), Event::Pain(pain));
    }
}

fn counts(catalogue: &Catalogue, session: &Session) -> Counts {
    let item = session.items.first().expect("an item");
    let exercise = catalogue.get(&item.planned.exercise);
    exercise.expect("a known exercise").counts
}

fn plan_of(place: &Place, item: &PlannedItem) -> Plan {
    Plan {
        program: ProgramId::new("p").expect("a name"),
        phase: 1,
        phase_name: String::new(),
        week: 1,
        weeks: 4,
        day: 1,
        day_name: String::new(),
        place: place.id.clone(),
        items: vec![item.clone()],
    }
}

pub fn civil(text: &str) -> Civil {
    Civil::new(DateTime::<FixedOffset>::parse_from_rfc3339(text).expect("a time"))
}

/// A place with pairs of fixed dumbbells, and everything that stands in a room.
pub fn dumbbells(unit: Unit, each: impl IntoIterator<Item = f64>) -> Place {
    let mut place = Place::empty(PlaceId::new("room").expect("a name"), "Room", unit);
    place.dumbbells = each
        .into_iter()
        .map(|amount| Dumbbell {
            weight: weight(amount, unit),
            count: 2,
        })
        .collect();
    place.fixtures = all_fixtures().into_iter().collect();
    place
}

fn all_fixtures() -> [rackside::domain::gear::Fixture; 7] {
    use rackside::domain::gear::Fixture::{
        Bench, DipBars, Floor, InclineBench, PullUpBar, Rack, Step,
    };
    [Bench, InclineBench, Floor, PullUpBar, DipBars, Rack, Step]
}

pub fn weight(amount: f64, unit: Unit) -> Weight {
    Weight::new(Mass::nearest(amount, unit).expect("a mass"), unit)
}

pub fn kg(amount: f64) -> Load {
    Load::Mass(weight(amount, Unit::Kg))
}

/// A slot of double progression.
pub fn slot(exercise: &str, sets: u8, (min, max): (u32, u32)) -> Slot {
    Slot {
        id: SlotId("slot".to_owned()),
        exercise: ExerciseId::new(exercise).expect("a name"),
        sets,
        ask: Ask::Reps {
            min: Reps::clamped(min),
            max: Reps::clamped(max),
        },
        rest: RestWindow {
            opens: Seconds::clamped(60),
            closes: Seconds::clamped(90),
        },
        spare: None,
        tempo: None,
        policy: Policy::DoubleProgression,
        group: None,
        wave: Vec::new(),
        details: Details::default(),
    }
}
