//! An invented lifter's records, for demonstrations and measurements: never mixed with a person's.

mod chance;
mod lift;

use crate::domain::exercise::{Catalogue, Exercise, Pattern};
use crate::domain::gear::{Makeable, Place};
use crate::domain::program::{Ask, Phase, Program, Slot};
use crate::domain::session::{
    Asked, Closed, Ended, Event, EventId, Opened, Plan, PlannedItem, PlannedSet, Rest, RestKnown,
    SetKind, SetRecord, Stamped, done_of,
};
use crate::domain::units::{Civil, Load, Reps, Seconds, Spare};
use chance::Chance;
use lift::{Lift, Work};
use std::collections::BTreeMap;

/// The device that invented records name: it stands in every id and in the files' names.
pub const DEVICE: &str = "invented";

/// Milliseconds of a day.
const DAY: i64 = 86_400_000;
/// Records spread over sixty years at the most; beyond that several sessions fall on one day.
const LONGEST: i64 = 60 * 365 * DAY;
/// Usual time from one session to the next: three in a week.
const USUAL_GAP: i64 = 7 * DAY / 3;

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
    /// At least so many sets.
    pub sets: u64,
    /// The last session ends before this.
    pub until: Civil,
}

/// The sessions of an invention, oldest first.
pub struct Sessions<'a> {
    of: Invention<'a>,
    chance: Chance,
    lifts: BTreeMap<String, Lift>,
    makeable: BTreeMap<String, Vec<Makeable>>,
    next: Position,
    at: Civil,
    gap: i64,
    left: u64,
    given: u64,
}

/// A place in the program.
#[derive(Clone, Copy, Debug)]
struct Position {
    phase: usize,
    week: u8,
    day: usize,
    in_week: u8,
}

impl<'a> Invention<'a> {
    /// The sessions, oldest first.
    pub fn sessions(self) -> Sessions<'a> {
        let count = i64::try_from(self.sessions_needed())
            .unwrap_or(i64::MAX)
            .max(1);
        let gap = USUAL_GAP.min(LONGEST / count).max(1);
        Sessions {
            chance: Chance::new(self.seed),
            lifts: BTreeMap::new(),
            makeable: BTreeMap::new(),
            next: Position {
                phase: 0,
                week: 1,
                day: 0,
                in_week: 0,
            },
            at: self.until.plus(-gap * count),
            gap,
            left: self.sets,
            given: 0,
            of: self,
        }
    }

    /// How many sessions hold the sets, going through the program over and over.
    fn sessions_needed(&self) -> u64 {
        let mut position = Position {
            phase: 0,
            week: 1,
            day: 0,
            in_week: 0,
        };
        let (mut sets, mut sessions) = (0, 0);
        while sets < self.sets {
            sets += self
                .slots(position)
                .map(|(slot, sets)| u64::from(sets.min(slot.sets)))
                .sum::<u64>()
                .max(1);
            sessions += 1;
            position = self.after(position);
        }
        sessions
    }

    fn phase(&self, position: Position) -> Option<&'a Phase> {
        self.program.phases.get(position.phase)
    }

    /// The slots of a session with their sets: half of them, and one, in an easier week.
    fn slots(&self, position: Position) -> impl Iterator<Item = (&'a Slot, u8)> {
        let phase = self.phase(position);
        let easier = phase.is_some_and(|phase| phase.easier_weeks.contains(&position.week));
        let day = phase.and_then(|phase| phase.days.get(position.day));
        let slots = day.map_or(&[][..], |day| &day.slots);
        slots
            .iter()
            .map(move |slot| (slot, if easier { slot.sets / 2 + 1 } else { slot.sets }))
    }

    fn after(&self, position: Position) -> Position {
        let Some(phase) = self.phase(position) else {
            return position;
        };
        let day = (position.day + 1) % phase.days.len().max(1);
        if position.in_week + 1 < 3 {
            return Position {
                day,
                in_week: position.in_week + 1,
                ..position
            };
        }
        if position.week < phase.weeks {
            return Position {
                day,
                in_week: 0,
                week: position.week + 1,
                ..position
            };
        }
        let next = (position.phase + 1) % self.program.phases.len().max(1);
        Position {
            phase: next,
            week: 1,
            day: 0,
            in_week: 0,
        }
    }
}

impl Iterator for Sessions<'_> {
    type Item = Vec<Stamped>;

    fn next(&mut self) -> Option<Vec<Stamped>> {
        if self.left == 0 {
            return None;
        }
        let position = self.next;
        self.next = self.of.after(position);
        let begin = self.at.plus(self.chance.below(self.gap / 4 + 1));
        self.at = self.at.plus(self.gap);
        Some(self.session(position, begin))
    }
}

impl Sessions<'_> {
    fn session(&mut self, position: Position, begin: Civil) -> Vec<Stamped> {
        let easier = self
            .of
            .phase(position)
            .is_some_and(|p| p.easier_weeks.contains(&position.week));
        let slots: Vec<(&Slot, u8)> = self.of.slots(position).collect();
        let mut items = Vec::new();
        let mut works = Vec::new();
        for (slot, sets) in slots {
            if let Some((item, work)) = self.item(slot, sets, easier) {
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
        let phase = self.of.phase(position);
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
    fn item(&mut self, slot: &Slot, sets: u8, easier: bool) -> Option<(PlannedItem, Work)> {
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
        let work = lift.today(slot.ask, makeable, (easier, &mut self.chance))?;
        let planned = PlannedSet {
            kind: SetKind::Working,
            load: work.load,
            asked: work.asked,
            feeler: false,
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
            deload: easier,
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
        let mut fewest = u32::MAX;
        for (number, set) in item.sets.iter().enumerate() {
            if self.left == 0 {
                break;
            }
            self.left -= 1;
            let window = item.rest;
            let span = i64::from(window.closes.get() - window.opens.get());
            let rest = i64::from(window.opens.get()) + self.chance.below(span + 1);
            let able = work.able(number, &mut self.chance);
            let count = able.min(set.asked.count());
            fewest = fewest.min(count);
            *at = at.plus((rest + i64::from(count) * 3) * 1000);
            let says = self.chance.below(10) < 6;
            let spare = says.then(|| Spare::clamped(able.saturating_sub(count).min(9)));
            let rest = Rest {
                seconds: Seconds::clamped(u32::try_from(rest).unwrap_or(0)),
                known: RestKnown::Estimated,
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
                spare,
                rest: (k + number > 0).then_some(rest),
                lifted: None,
                odds: None,
                ended: if count < set.asked.count() {
                    Ended::Short
                } else {
                    Ended::AsAsked
                },
            };
            let id = self.id();
            events.push(self.stamp(id, session, *at, Event::Set(Box::new(record))));
        }
        if let Some(lift) = self.lifts.get_mut(item.exercise.as_str()) {
            lift.learn(item.ask, fewest, item.deload);
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
