//! The digests: one of each session, one of each exercise in it, each worked out once.

use super::set::SetDigest;
use super::week::Week;
use crate::domain::exercise::{Catalogue, ExerciseId};
use crate::domain::history::History;
use crate::domain::session::Session;
use crate::domain::strength::equations::Equation;
use crate::domain::strength::volume;
use crate::domain::units::{Mass, Millis, Weight};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Milliseconds in a minute.
const MINUTE: Millis = 60_000;

/// One exercise in one session.
#[derive(Clone, PartialEq, Debug)]
pub struct Digest {
    /// What was done.
    pub exercise: ExerciseId,
    /// Whether it was deload work.
    pub deload: bool,
    /// Its undamaged sets, ramp sets among them, in order; never empty.
    pub sets: Vec<SetDigest>,
    /// Hard sets among them; of sides, both together are one.
    pub hard: u32,
    /// Volume load of its working and back-off sets.
    pub volume: Mass,
}

impl Digest {
    /// Its working and back-off sets.
    pub fn work(&self) -> impl Iterator<Item = &SetDigest> {
        self.sets.iter().filter(|set| set.work)
    }

    /// The highest one-rep max that its sets speak of, by a published equation.
    pub fn one_rep_max(&self, equation: Equation) -> Option<f64> {
        let maxes = self.sets.iter().filter_map(|set| set.one_rep_max(equation));
        maxes.max_by(f64::total_cmp)
    }
}

/// One session.
#[derive(Clone, PartialEq, Debug)]
pub struct SessionDigest {
    /// Its place in the history's sessions.
    pub place: usize,
    /// The day on which it was opened, where the person was: all its sets belong to it.
    pub day: NaiveDate,
    /// Whole minutes from its opening to its last set; of imported sets those that came with them.
    pub minutes: Option<u32>,
    /// How hard it was, 0 to 10, where the person said.
    pub effort: Option<u8>,
    /// Its exercises, in the order of their first sets.
    pub exercises: Vec<Digest>,
}

impl SessionDigest {
    fn of(place: usize, session: &Session, catalogue: &Catalogue, body: Option<Weight>) -> Self {
        let mut exercises: Vec<Digest> = Vec::new();
        let mut places: BTreeMap<&ExerciseId, usize> = BTreeMap::new();
        let undamaged = session.sets.iter().enumerate().filter(|(_, s)| !s.damaged);
        for (k, set) in undamaged {
            let record = &set.record;
            let at = *places.entry(&record.exercise).or_insert_with(|| {
                exercises.push(Digest {
                    exercise: record.exercise.clone(),
                    deload: session.planned_for(record).is_some_and(|p| p.deload),
                    sets: Vec::new(),
                    hard: 0,
                    volume: Mass::ZERO,
                });
                exercises.len() - 1
            });
            if let Some(digest) = exercises.get_mut(at) {
                let set = SetDigest::of(k, record, digest.deload, body);
                digest.hard += u32::from(set.hard);
                if set.work {
                    digest.volume = digest.volume + volume::of_set(record, catalogue);
                }
                digest.sets.push(set);
            }
        }
        let known = minutes(session).filter(|_| !exercises.is_empty());
        Self {
            place,
            day: session.opened.date(),
            minutes: known,
            effort: session.closed.as_ref().and_then(|(_, how)| how.effort),
            exercises,
        }
    }

    /// Effort times minutes (Foster et al. 2001); none where either is not known.
    pub fn load(&self) -> Option<u32> {
        Some(u32::from(self.effort?).saturating_mul(self.minutes?))
    }

    /// Volume load of all its exercises.
    pub fn volume(&self) -> Mass {
        self.exercises.iter().map(|digest| digest.volume).sum()
    }

    /// Hard sets of all its exercises.
    pub fn hard(&self) -> u32 {
        self.exercises.iter().map(|digest| digest.hard).sum()
    }

    /// Its week.
    pub fn week(&self) -> Week {
        Week::of(self.day)
    }
}

fn minutes(session: &Session) -> Option<u32> {
    let (end, known) = match (&session.source, &session.closed) {
        (None, _) => (session.last_at(), true),
        (Some(_), Some((closed, _))) => (*closed, *closed != session.opened),
        (Some(_), None) => (session.opened, false),
    };
    let took = end.since(session.opened).max(0) + MINUTE / 2;
    known.then(|| u32::try_from(took / MINUTE).unwrap_or(u32::MAX))
}

/// All digests.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Logbook {
    /// The sessions in the order of the history; of one whose sets are all damaged, or that has
    /// none, `exercises` is empty.
    pub sessions: Vec<SessionDigest>,
    by_exercise: BTreeMap<ExerciseId, Vec<(usize, usize)>>,
    /// The first day on which a set was done before these sessions, where there are others.
    begun: Option<NaiveDate>,
}

impl Logbook {
    /// Digests a whole history, in time linear in its sets. `body_weight` holds where the journal
    /// says none.
    pub fn of(history: &History, catalogue: &Catalogue, body_weight: Option<Weight>) -> Self {
        let mut logbook = Self::default();
        for (place, session) in history.sessions.iter().enumerate() {
            let body = history.body_weight_on(session.opened.date());
            let digest = SessionDigest::of(place, session, catalogue, body.or(body_weight));
            for (k, of_exercise) in digest.exercises.iter().enumerate() {
                let places = logbook
                    .by_exercise
                    .entry(of_exercise.exercise.clone())
                    .or_default();
                places.push((place, k));
            }
            logbook.sessions.push(digest);
        }
        logbook
    }

    /// The same where a set was done on that day, before all sessions of the history.
    #[must_use]
    pub fn begun_on(self, begun: Option<NaiveDate>) -> Self {
        Self { begun, ..self }
    }

    /// The first day on which a set was done.
    pub fn first_day(&self) -> Option<NaiveDate> {
        let done = self.sessions.iter().filter(|s| !s.exercises.is_empty());
        done.map(|session| session.day).chain(self.begun).min()
    }

    /// The exercises that were done, in order of id.
    pub fn exercises(&self) -> impl Iterator<Item = &ExerciseId> {
        self.by_exercise.keys()
    }

    /// The digests of an exercise, each with its session's, oldest first.
    pub fn of_exercise(
        &self,
        exercise: &ExerciseId,
    ) -> impl DoubleEndedIterator<Item = (&SessionDigest, &Digest)> {
        let places = self
            .by_exercise
            .get(exercise)
            .map_or(&[][..], Vec::as_slice);
        places.iter().filter_map(|(session, k)| {
            let session = self.sessions.get(*session)?;
            Some((session, session.exercises.get(*k)?))
        })
    }
}
