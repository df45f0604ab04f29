//! An invented lifter's records, for demonstrations and measurements: never mixed with a person's.

mod calendar;
mod chance;
mod lift;
mod position;

use crate::domain::exercise::{Catalogue, Exercise, Pattern, Sides};
use crate::domain::gear::{Makeable, Place};
use crate::domain::program::{Ask, Details, Program, Slot};
use crate::domain::session::{
    Asked, Closed, Ended, Event, EventId, Opened, Plan, PlannedItem, PlannedSet, Rest, RestKnown,
    SetKind, SetRecord, Stamped, done_of,
};
use crate::domain::units::{Civil, Load, Millis, Reps, Seconds, Spare};
use calendar::{DAY, beginnings};
use chance::Chance;
use lift::{Day, Lift, Work};
use position::{Position, sessions_for};
use std::collections::BTreeMap;

/// The device that invented records name: it stands in every id and in the files' names.
pub const DEVICE: &str = "invented";

/// More days than this between two sessions are a lay-off.
const LAY_OFF: i64 = 10;

/// What an invention is made of.
#[derive(Clone, Copy, Debug)]
pub struct Invention<'a> {
    /// All exercises.
    pub catalogue: &'a Catalogue,
    /// What the lifter follows, over and over.
    pub program: &'a Program,
    /// Where.
    pub place: &'a Place,
    /// The same seed gives the same records.
    pub seed: u64,
    /// So many sets; the last session is cut short where they end in it.
    pub sets: u64,
    /// The last session falls on a day before this one.
    pub until: Civil,
}

/// The sessions of an invention, oldest first.
pub struct Sessions<'a> {
    of: Invention<'a>,
    chance: Chance,
    lifts: BTreeMap<String, Lift>,
    makeable: BTreeMap<String, Vec<Makeable>>,
    position: Position,
    beginnings: std::vec::IntoIter<Civil>,
    last: Option<Civil>,
    left: u64,
    given: u64,
}

impl<'a> Invention<'a> {
    /// The sessions, oldest first.
    pub fn sessions(self) -> Sessions<'a> {
        let mut chance = Chance::new(self.seed);
        let count = sessions_for(self.sets, self.program);
        let beginnings = beginnings(count, self.until, &mut chance).into_iter();
        Sessions {
            chance,
            lifts: BTreeMap::new(),
            makeable: BTreeMap::new(),
            position: Position::BEGINNING,
            beginnings,
            last: None,
            left: self.sets,
            given: 0,
            of: self,
        }
    }
}

impl Iterator for Sessions<'_> {
    type Item = Vec<Stamped>;

    fn next(&mut self) -> Option<Vec<Stamped>> {
        let begin = self.beginnings.next().filter(|_| self.left > 0)?;
        let position = self.position;
        self.position = position.after(self.of.program);
        let away = self
            .last
            .replace(begin)
            .map_or(0, |last| begin.since(last) / DAY);
        let day = Day {
            easier: position.is_easier(self.of.program),
            back: away > LAY_OFF,
        };
        Some(self.session(position, day, begin))
    }
}

impl Sessions<'_> {
    fn session(&mut self, position: Position, today: Day, begin: Civil) -> Vec<Stamped> {
        let mut items = Vec::new();
        let mut works = Vec::new();
        for (slot, sets) in position.slots(self.of.program) {
            if let Some((item, work)) = self.item(slot, sets, today) {
                items.push(item);
                works.push(work);
            }
        }
        let plan = self.plan(position, items);
        let id = self.id();
        let mut events = vec![self.stamp(
            id.clone(),
            &id,
            begin,
            Event::Opened(Box::new(Opened { plan: plan.clone() })),
        )];
        let mut at = begin;
        for (k, (item, work)) in plan.items.iter().zip(&works).enumerate() {
            self.work(&mut events, (k, item, work), &mut at, &id);
        }
        let effort = Some(u8::try_from(5 + self.chance.below(4)).unwrap_or(5));
        let closing = self.id();
        events.push(self.stamp(
            closing,
            &id,
            at.plus(60_000),
            Event::Closed(Closed { effort }),
        ));
        events
    }

    fn plan(&self, position: Position, items: Vec<PlannedItem>) -> Plan {
        let phase = position.of(self.of.program);
        let day = phase.and_then(|phase| phase.days.get(position.day));
        let number = |place: usize| u16::try_from(place + 1).unwrap_or(1);
        Plan {
            program: self.of.program.id.clone(),
            phase: number(position.phase),
            phase_name: phase.map(|phase| phase.name.clone()).unwrap_or_default(),
            week: u16::from(position.week),
            weeks: phase.map_or(1, |phase| u16::from(phase.weeks)),
            day: number(position.day),
            day_name: day.map(|day| day.name.clone()).unwrap_or_default(),
            place: self.of.place.id.clone(),
            items,
        }
    }

    /// What is planned for a slot, and how strong the lifter is at it today.
    fn item(&mut self, slot: &Slot, sets: u8, today: Day) -> Option<(PlannedItem, Work)> {
        let exercise = self.of.catalogue.get(&slot.exercise)?;
        let key = slot.exercise.as_str();
        if !self.makeable.contains_key(key) {
            let made = self.of.place.makeable(exercise.implement());
            self.makeable.insert(key.to_owned(), made);
        }
        let makeable = self.makeable.get(key)?;
        let lift = self
            .lifts
            .entry(key.to_owned())
            .or_insert_with(|| Lift::new(start(exercise)));
        let work = lift.today(slot.ask, makeable, (today, &mut self.chance))?;
        let planned = PlannedSet {
            kind: SetKind::Working,
            load: work.load,
            asked: work.asked,
            feeler: false,
            open: false,
            predicted: None,
        };
        let item = PlannedItem {
            slot: slot.id.clone(),
            exercise: slot.exercise.clone(),
            sets: vec![planned; usize::from(sets)],
            ask: slot.ask,
            rest: slot.rest,
            spare: slot.spare,
            tempo: slot.tempo,
            policy: slot.policy,
            group: slot.group,
            details: Details::default(),
            deload: today.easier,
            odds: None,
            reason: "invented".to_owned(),
        };
        Some((item, work))
    }

    /// The sets of an item, one after the other.
    fn work(
        &mut self,
        events: &mut Vec<Stamped>,
        (k, item, work): (usize, &PlannedItem, &Work),
        at: &mut Civil,
        session: &EventId,
    ) {
        let Some(exercise) = self.of.catalogue.get(&item.exercise) else {
            return;
        };
        let mut worst: Option<u32> = None;
        for (number, set) in item.sets.iter().enumerate() {
            if self.left == 0 {
                break;
            }
            self.left -= 1;
            let rest = self.rest(item);
            let able = work.able(number, &mut self.chance);
            let count = able.min(set.asked.count());
            worst = Some(worst.map_or(able, |worst| worst.min(able)));
            *at =
                at.plus(i64::from(rest.seconds.get()) * 1000 + lifting(exercise, set.asked, count));
            let ended = if count < set.asked.count() {
                Ended::Short
            } else {
                Ended::AsAsked
            };
            let record = SetRecord {
                item: u16::try_from(k).unwrap_or(u16::MAX),
                exercise: item.exercise.clone(),
                counts: exercise.counts,
                kind: SetKind::Working,
                number: u16::try_from(number + 1).unwrap_or(u16::MAX),
                load: set.load,
                done: done_of(set.asked, count),
                asked: set.asked,
                open: false,
                spare: self.said(set.asked, able - count),
                rest: (k + number > 0).then_some(rest),
                lifted: None,
                odds: None,
                predicted: None,
                ended,
            };
            let id = self.id();
            events.push(self.stamp(id, session, *at, Event::Set(Box::new(record))));
        }
        let lift = self.lifts.get_mut(item.exercise.as_str());
        if let (Some(lift), Some(able)) = (lift, worst) {
            lift.learn(item.ask, able, item.deload);
        }
    }

    /// A rest inside its window.
    fn rest(&mut self, item: &PlannedItem) -> Rest {
        let (opens, closes) = (item.rest.opens.get(), item.rest.closes.get());
        let more = self.chance.below(i64::from(closes) - i64::from(opens) + 1);
        Rest {
            seconds: Seconds::clamped(opens + u32::try_from(more).unwrap_or(0)),
            known: RestKnown::Estimated,
        }
    }

    /// What is said to be spare: not after every set, not of a hold, and nothing far from the last
    /// rep, where nobody can tell.
    fn said(&mut self, asked: Asked, spare: u32) -> Option<Spare> {
        let says = self.chance.below(10) < 6;
        match asked {
            Asked::Reps(_) if says && spare <= 5 => Some(Spare::clamped(spare)),
            Asked::Reps(_) | Asked::Hold(_) => None,
        }
    }

    fn id(&mut self) -> EventId {
        self.given += 1;
        EventId(format!("{DEVICE}-s{}-{}", self.of.seed, self.given))
    }

    fn stamp(&self, id: EventId, session: &EventId, at: Civil, event: Event) -> Stamped {
        Stamped {
            id,
            n: self.given,
            session: Some(session.clone()),
            at,
            event,
        }
    }
}

/// How long a set takes, three seconds a rep.
fn lifting(exercise: &Exercise, asked: Asked, count: u32) -> Millis {
    let one_side = match asked {
        Asked::Reps(_) => 3000 * i64::from(count),
        Asked::Hold(_) => 1000 * i64::from(count),
    };
    match exercise.sides {
        Sides::Both => one_side,
        Sides::Each | Sides::Alternating => 2 * one_side,
    }
}

/// The load, in kilograms, that the invented lifter could lift once at the beginning.
fn start(exercise: &Exercise) -> f64 {
    match exercise.pattern {
        Pattern::Squat | Pattern::Hinge | Pattern::HipDrive => 30.0,
        Pattern::Lunge | Pattern::PushAcross | Pattern::PullAcross => 20.0,
        Pattern::PushOverhead | Pattern::PullOverhead => 14.0,
        Pattern::ElbowFlexion | Pattern::ElbowExtension => 10.0,
        Pattern::ShoulderRaise | Pattern::ShoulderFly => 7.0,
        Pattern::Shrug
        | Pattern::Wrist
        | Pattern::KneeExtension
        | Pattern::KneeFlexion
        | Pattern::HipSide
        | Pattern::CalfRaise
        | Pattern::TrunkFlexion
        | Pattern::TrunkExtension
        | Pattern::TrunkRotation
        | Pattern::Carry => 12.0,
    }
}

/// The fewest and the most that a slot asks for, as bare numbers, and how to say them.
fn bounds(ask: Ask) -> (u32, u32, fn(u32) -> Asked) {
    match ask {
        Ask::Reps { min, max } => (min.get(), max.get(), |n| Asked::Reps(Reps::clamped(n))),
        Ask::Hold { min, max } => (min.get(), max.get(), |n| Asked::Hold(Seconds::clamped(n))),
    }
}

/// The kilograms of a load; a body or a band weighs as what it is worth at one.
fn kilograms(load: Load) -> Option<f64> {
    match load {
        Load::Mass(weight) => Some(weight.mass.kg()),
        Load::Body(_) | Load::Band(_) => None,
    }
}
