//! What the journal says of the past: sessions, each exercise's outings, and what was chosen.

mod fold;
mod outing;
mod pace;
mod prefs;
mod settled;

pub use outing::{MOST_REPS, Mark, Outing, Outings, Recall, Told};
pub use pace::Pace;
pub use prefs::{Ground, Preference, Prefs};
pub use settled::{come_after, latest_import, settled, stand_alone};

use crate::domain::exercise::ExerciseId;
use crate::domain::gear::PlaceId;
use crate::domain::program::ProgramId;
use crate::domain::session::{Adopted, Boldness, EventId, Experience, Session, Stray, Whereabouts};
use crate::domain::units::{Civil, Unit, Weight};
use chrono::NaiveDate;
use outing::boundary;
use std::collections::BTreeMap;

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
    /// The last day of a lighter week that was taken.
    pub eased_until: Option<NaiveDate>,
}

impl Choices {
    /// The program that holds on a day: what was taken up last of what has begun by then.
    pub fn adopted_on(&self, date: NaiveDate) -> Option<&Adoption> {
        let begun = |adoption: &&Adoption| adoption.adopted.from <= date;
        self.adopted.iter().rev().find(begun)
    }
}

/// The last sessions that decide on the next one.
const SESSIONS: usize = 64;

/// What the journal says.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct History {
    /// All sessions that are not forgotten, in the order in which they were opened; imported ones
    /// by their day.
    pub sessions: Vec<Session>,
    /// How many were before them, and are forgotten.
    pub forgotten: usize,
    /// What was chosen.
    pub choices: Choices,
    /// Pains, in order.
    pub pains: Vec<PainReport>,
    /// Body weights, each with the day on which it was said, in the order of the journal.
    pub weighed: Vec<(NaiveDate, Weight)>,
    /// Events that act on nothing.
    pub strays: Vec<Stray>,
    /// By exercise.
    pub outings: BTreeMap<ExerciseId, Outings>,
}

impl History {
    /// The outings of an exercise that are not forgotten, oldest first.
    pub fn outings(&self, exercise: &ExerciseId) -> &[Outing] {
        let outings = self.outings.get(exercise);
        outings.map_or(&[], |outings| outings.told().kept.as_slice())
    }

    /// The outings of an exercise that decide on the next one, oldest first: at most the last 150,
    /// without that of a session that is still on.
    pub fn recent(&self, exercise: &ExerciseId) -> impl Iterator<Item = &Outing> {
        self.last(exercise, self.open_session().map(|session| &session.id))
    }

    /// The same, that of a session that is still on among them.
    pub fn recent_by_now(&self, exercise: &ExerciseId) -> impl Iterator<Item = &Outing> {
        self.last(exercise, None)
    }

    fn last<'a>(
        &'a self,
        exercise: &ExerciseId,
        without: Option<&'a EventId>,
    ) -> impl Iterator<Item = &'a Outing> {
        let before = move |outing: &&Outing| Some(&outing.session) != without;
        let kept = self.outings(exercise);
        let forgotten = self.outings.get(exercise);
        let forgotten = forgotten.map_or(0, |outings| outings.told().forgotten);
        let count = forgotten + kept.iter().filter(before).count();
        let first = boundary(count).saturating_sub(forgotten);
        kept.iter().filter(before).skip(first)
    }

    /// What was best in the outings of an exercise that are forgotten.
    pub fn bests(&self, exercise: &ExerciseId) -> &[Mark] {
        let outings = self.outings.get(exercise);
        outings.map_or(&[], |outings| outings.told().bests.as_slice())
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

    /// The last sessions: what the schedule looks at.
    pub fn recent_sessions(&self) -> &[Session] {
        let first = self.sessions.len().saturating_sub(SESSIONS);
        self.sessions.get(first..).unwrap_or_default()
    }

    /// How many sessions there were.
    pub const fn count(&self) -> usize {
        self.forgotten + self.sessions.len()
    }

    /// The session that was left open, if the last one was.
    pub fn open_session(&self) -> Option<&Session> {
        let ours = self.last_own();
        ours.filter(|s| s.closed.is_none() && s.plan.is_some())
    }

    /// Whether a session was recorded here.
    pub fn has_own(&self) -> bool {
        self.last_own().is_some()
    }

    /// The last session that was recorded here.
    fn last_own(&self) -> Option<&Session> {
        self.sessions.iter().rfind(|s| s.source.is_none())
    }

    /// The same with the last sessions told as these: at least as many as are told here.
    #[must_use]
    pub fn reaching(mut self, sessions: Vec<Session>) -> Self {
        self.forgotten = self.count().saturating_sub(sessions.len());
        self.sessions = sessions;
        self
    }

    /// Forgets what no question about the next session looks at; records stay.
    pub fn forget(&mut self) {
        let first = self.sessions.len().saturating_sub(SESSIONS);
        self.forgotten += self.sessions.drain(..first).count();
        self.strays.clear();
        for outings in self.outings.values_mut() {
            outings.forget();
        }
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
            eased_until: _,
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
