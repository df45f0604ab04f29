//! What the journal says of the past: sessions, each exercise's outings, and what was chosen.

mod pace;
mod prefs;

pub use pace::Pace;
pub use prefs::{Ground, Prefs};

use crate::domain::exercise::ExerciseId;
use crate::domain::gear::PlaceId;
use crate::domain::program::{Ask, ProgramId, RestWindow};
use crate::domain::session::{
    Adopted, Boldness, Choice, Ended, Event, EventId, Experience, Performed, Session, SetKind,
    SetRecord, Stamped, Stray, Whereabouts, resolve, sort,
};
use crate::domain::units::{Civil, Unit, Weight};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// One exercise in one session.
#[derive(Clone, PartialEq, Debug)]
pub struct Outing {
    /// The session.
    pub session: EventId,
    /// When the session was opened.
    pub at: Civil,
    /// Whether it was deload work: no evidence.
    pub deload: bool,
    /// What the slot asked of a working set, where it is known.
    pub ask: Option<Ask>,
    /// The rest that it asked for, where it is known.
    pub rest: Option<RestWindow>,
    /// The undamaged sets done, ramp sets among them, in order; never empty.
    pub sets: Vec<Performed>,
}

/// A pain that was reported.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PainReport {
    /// When.
    pub at: Civil,
    /// In which session.
    pub session: EventId,
    /// Where.
    pub whereabouts: Whereabouts,
    /// In which exercise, where one was on.
    pub exercise: Option<ExerciseId>,
}

/// A program that was taken up.
#[derive(Clone, PartialEq, Debug)]
pub struct Adoption {
    /// Which, from when, from which phase.
    pub adopted: Adopted,
    /// The day on which it was said.
    pub said: NaiveDate,
    /// The last session that was opened before it was said.
    pub after: Option<EventId>,
}

/// What was chosen and matters to training, each as it was chosen last.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Choices {
    /// Body weight.
    pub body_weight: Option<Weight>,
    /// Programs, in the order in which they were taken up.
    pub adopted: Vec<Adoption>,
    /// Place.
    pub place: Option<PlaceId>,
    /// Boldness.
    pub boldness: Option<Boldness>,
    /// Experience.
    pub experience: Option<Experience>,
}

impl Choices {
    /// The program that holds on a day: what was taken up last of what has begun by then.
    pub fn adopted_on(&self, date: NaiveDate) -> Option<&Adoption> {
        let begun = |adoption: &&Adoption| adoption.adopted.from <= date;
        self.adopted.iter().rev().find(begun)
    }
}

/// What the journal says.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct History {
    /// All sessions, in the order in which they were opened; imported ones by their day.
    pub sessions: Vec<Session>,
    /// What was chosen.
    pub choices: Choices,
    /// Pains, in order.
    pub pains: Vec<PainReport>,
    /// Body weights, each with the day on which it was said, in the order of the journal.
    pub weighed: Vec<(NaiveDate, Weight)>,
    /// Events that act on nothing.
    pub strays: Vec<Stray>,
    outings: BTreeMap<ExerciseId, Vec<Outing>>,
}

impl History {
    /// The history that these events tell, in whatever order they come, each id once.
    pub fn of(events: Vec<Stamped>) -> Self {
        Self::with_damaged(events, &BTreeSet::new())
    }

    /// The same, where some of the events are sets read from damaged lines: they stand in their
    /// sessions, marked, and are no evidence. One whose session nothing else tells of is left out.
    pub fn with_damaged(mut events: Vec<Stamped>, damaged: &BTreeSet<EventId>) -> Self {
        sort(&mut events);
        let resolved = resolve(events);
        let mut history = Self {
            strays: resolved.strays,
            ..Self::default()
        };
        let mut places: BTreeMap<EventId, usize> = BTreeMap::new();
        let mut imported: Vec<Session> = Vec::new();
        for event in &resolved.events {
            if let Event::Imported(sets) = &event.event {
                imported.push(Session::imported(event, sets));
                continue;
            }
            let Some(id) = &event.session else {
                history.choose(event);
                continue;
            };
            if damaged.contains(&event.id) && !places.contains_key(id) {
                continue;
            }
            let place = *places.entry(id.clone()).or_insert_with(|| {
                history.sessions.push(Session::new(id.clone(), event.at));
                history.sessions.len() - 1
            });
            history.sessions[place].apply(event);
        }
        history.weigh(&imported);
        history.put_among(imported);
        for session in &mut history.sessions {
            session.mark_damaged(damaged);
        }
        history.collect();
        history
    }

    fn choose(&mut self, event: &Stamped) {
        let choices = &mut self.choices;
        match &event.event {
            Event::BodyWeight(weight) => {
                choices.body_weight = Some(*weight);
                self.weighed.push((event.at.date(), *weight));
            }
            Event::Adopted(adopted) => choices.adopted.push(Adoption {
                adopted: adopted.clone(),
                said: event.at.date(),
                after: self.sessions.last().map(|session| session.id.clone()),
            }),
            Event::Chose(Choice::Place(place)) => choices.place = Some(place.clone()),
            Event::Chose(Choice::Boldness(boldness)) => choices.boldness = Some(*boldness),
            Event::Chose(Choice::Experience(level)) => choices.experience = Some(*level),
            Event::Opened(_)
            | Event::Set(_)
            | Event::Spare { .. }
            | Event::Skipped { .. }
            | Event::PutOff { .. }
            | Event::Swapped { .. }
            | Event::Added { .. }
            | Event::Pain(_)
            | Event::Note { .. }
            | Event::Paused
            | Event::Resumed
            | Event::Closed(_)
            | Event::Imported(_)
            | Event::ImportEnded(_)
            | Event::Amended { .. }
            | Event::Voided { .. } => {}
        }
    }

    /// Puts body weights that came from elsewhere among those that were said, by their day.
    fn weigh(&mut self, imported: &[Session]) {
        let weighed = |s: &Session| s.body_weight.map(|weight| (s.opened.date(), weight));
        let mut all: Vec<_> = imported.iter().filter_map(weighed).collect();
        all.append(&mut self.weighed);
        all.sort_by_key(|(day, _)| *day);
        self.weighed = all;
    }

    /// Puts sessions that came from elsewhere among the others by their day; those recorded here
    /// keep their order, whatever the clock said.
    fn put_among(&mut self, mut imported: Vec<Session>) {
        imported.sort_by_key(|session| session.opened.date());
        let mut imported = imported.into_iter().peekable();
        let mut all = Vec::with_capacity(self.sessions.len() + imported.len());
        for session in std::mem::take(&mut self.sessions) {
            let day = session.opened.date();
            while let Some(earlier) = imported.next_if(|other| other.opened.date() < day) {
                all.push(earlier);
            }
            all.push(session);
        }
        all.extend(imported);
        self.sessions = all;
    }

    /// Gathers outings and pains from the sessions.
    fn collect(&mut self) {
        for session in &self.sessions {
            let mut of_session: BTreeMap<&ExerciseId, Outing> = BTreeMap::new();
            for set in session.sets.iter().filter(|set| !set.damaged) {
                let outing = of_session.entry(&set.record.exercise);
                outing
                    .or_insert_with(|| Outing::of(session, set))
                    .sets
                    .push(set.clone());
            }
            for (exercise, outing) in of_session {
                self.outings
                    .entry(exercise.clone())
                    .or_default()
                    .push(outing);
            }
            for (at, pain) in &session.pains {
                let item = pain
                    .item
                    .and_then(|item| session.items.get(usize::from(item)));
                self.pains.push(PainReport {
                    at: *at,
                    session: session.id.clone(),
                    whereabouts: pain.whereabouts,
                    exercise: item.map(|item| item.planned.exercise.clone()),
                });
            }
        }
    }

    /// The outings of an exercise, oldest first.
    pub fn outings(&self, exercise: &ExerciseId) -> &[Outing] {
        self.outings.get(exercise).map_or(&[], Vec::as_slice)
    }

    /// The body weight that was last said by a day; before the first of them, the first. None
    /// where none was ever said.
    pub fn body_weight_on(&self, date: NaiveDate) -> Option<Weight> {
        let said = self.weighed.iter().rev().find(|(day, _)| *day <= date);
        said.or(self.weighed.first()).map(|(_, weight)| *weight)
    }

    /// The exercises that were ever done, in order of id.
    pub fn exercises(&self) -> impl Iterator<Item = &ExerciseId> {
        self.outings.keys()
    }

    /// The session that was left open, if the last one was.
    pub fn open_session(&self) -> Option<&Session> {
        let ours = self.sessions.iter().rfind(|s| s.source.is_none());
        ours.filter(|s| s.closed.is_none() && s.plan.is_some())
    }
}

impl Outing {
    fn of(session: &Session, set: &Performed) -> Self {
        let planned = session.planned_for(&set.record);
        Self {
            session: session.id.clone(),
            at: session.opened,
            deload: planned.is_some_and(|p| p.deload),
            ask: planned.map(|p| p.ask),
            rest: planned.map(|p| p.rest),
            sets: Vec::new(),
        }
    }

    /// Whether a working set of it stayed below the least, with nothing left.
    pub fn missed(&self) -> bool {
        let least = self.ask.map(Ask::least);
        let missed = |record: &SetRecord| {
            let least = least.unwrap_or_else(|| record.asked.count());
            let least = least.min(record.asked.count());
            record.kind == SetKind::Working
                && record.ended == Ended::Short
                && record.done.deciding() < least
                && record.spare.is_none_or(|spare| spare.get() == 0)
        };
        self.sets.iter().any(|set| missed(&set.record))
    }
}

/// The person who trains, as first asked and as chosen since.
#[derive(Clone, PartialEq, Debug)]
pub struct Lifter {
    /// The unit they read masses in.
    pub unit: Unit,
    /// Body weight, if they said.
    pub body_weight: Option<Weight>,
    /// Experience.
    pub experience: Experience,
    /// Boldness.
    pub boldness: Boldness,
    /// Where they train.
    pub place: PlaceId,
    /// What they follow.
    pub program: ProgramId,
}

impl Lifter {
    /// The same person after what they chose since, as it holds on a day.
    #[must_use]
    pub fn after(mut self, choices: &Choices, date: NaiveDate) -> Self {
        let Choices {
            body_weight,
            adopted: _,
            place,
            boldness,
            experience,
        } = choices;
        self.body_weight = body_weight.or(self.body_weight);
        self.experience = experience.unwrap_or(self.experience);
        self.boldness = boldness.unwrap_or(self.boldness);
        if let Some(place) = place {
            self.place = place.clone();
        }
        if let Some(adoption) = choices.adopted_on(date) {
            self.program = adoption.adopted.program.clone();
        }
        self
    }
}
