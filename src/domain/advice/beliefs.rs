//! What is believed of each exercise, folded from the journal and kept between questions.

use super::Context;
use super::evidence::{Done, Seen, Work, day_of};
use super::ladder::Ladder;
use super::odds::Mind;
use crate::domain::exercise::{Exercise, ExerciseId};
use crate::domain::session::{Boldness, Experience};
use crate::domain::strength::belief::{
    Believed, Ending, Holds, Learning, Noise, Others, SetSeen, Start, Today, Track,
};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

/// Share of the e1RM that a rep costs, in the first look at a lifter.
const REP_COST: f64 = 0.036;
/// Spread of ln(e1RM) around what a first load says: wider than around what is usual for a class,
/// since a person may begin far below what they can do.
const FIRST_LOOK_SPREAD: f64 = 0.42;
/// Reps in reserve that a first load is taken to leave.
const FIRST_SPARE: f64 = 2.0;

/// Where a belief from an earlier run may be found.
type Recall = Box<dyn Fn(&ExerciseId) -> Option<Folded> + Send>;

/// Beliefs as far as they were folded, by exercise: a question after a set costs that set alone.
#[derive(Default)]
pub struct Beliefs {
    known: RefCell<BTreeMap<ExerciseId, Arc<Folded>>>,
    /// Those that no earlier run had.
    new: RefCell<BTreeSet<ExerciseId>>,
    recall: Option<Recall>,
}

impl fmt::Debug for Beliefs {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let known = self.known.borrow();
        f.debug_struct("Beliefs")
            .field("known", &known.keys())
            .finish_non_exhaustive()
    }
}

/// What was folded of one exercise, and a sign of what it was folded from.
#[derive(Clone, PartialEq, Debug)]
pub struct Folded {
    /// How many sessions were folded.
    pub sessions: usize,
    /// A sign of them all, in order.
    pub evidence: u64,
    /// What they came to.
    pub learned: Learned,
}

/// What sessions of an exercise came to.
#[derive(Clone, PartialEq, Debug)]
pub enum Learned {
    /// Of reps with a mass.
    Reps {
        /// How fast strength was taken to come.
        learning: Learning,
        /// How strong the lifter is.
        track: Track,
        /// What was told of the lifter's noise.
        noise: Box<Noise>,
    },
    /// Of holds.
    Holds {
        /// The load of the first one, and the seconds that were asked of it.
        first: (f64, f64),
        /// How long the lifter holds.
        holds: Holds,
    },
}

/// A session that something is learned from.
pub(super) trait Lesson {
    /// A sign of this session, behind those of which `before` is one.
    fn sign_after(&self, before: u64) -> u64;

    /// Has it told.
    fn teach(&self, learned: &mut Learned);
}

/// What is believed of one exercise on a day, after the sets done so far.
#[derive(Clone, Debug)]
pub struct Day {
    day: i64,
    today: Today,
    before: Arc<Folded>,
    noise: Noise,
    sessions: u32,
    boldness: Boldness,
}

impl Day {
    /// The same, ready for questions.
    pub fn mind(&self) -> Mind<'_> {
        Mind {
            forecast: self.today.forecast(),
            earlier: Box::new(|| self.earlier()),
            noise: &self.noise,
            sessions: self.sessions,
            boldness: self.boldness,
        }
    }

    fn earlier(&self) -> Option<Today> {
        match &self.before.learned {
            Learned::Reps { track, noise, .. } => {
                track.begin_without_last(self.day, noise, &Others::default())
            }
            Learned::Holds { .. } => None,
        }
    }
}

/// How learning of an exercise begins.
#[derive(Clone, Copy)]
pub(super) enum Beginning<'a> {
    /// With a set of reps, by somebody whose strength comes so fast.
    Reps(&'a SetSeen, Learning),
    /// With a hold: its load, and the seconds that were asked of it.
    Hold(f64, f64),
}

/// Kilograms of one-rep max in the first look at an exercise of which no more is known than a first
/// working load and the reps that it was to make.
pub(super) fn first_look(load: f64, reps: u32) -> f64 {
    load * (1.0 + REP_COST * (f64::from(reps) - 1.0 + FIRST_SPARE))
}

impl Beginning<'_> {
    /// Before the first set.
    fn learned(self) -> Learned {
        match self {
            Self::Reps(first, learning) => {
                // Nothing is copied from a table of what people lift: the first working load is a
                // first look at this lifter, and no more than that.
                let start = Start {
                    expected: first_look(first.load, first.least),
                    spread: FIRST_LOOK_SPREAD,
                    guess: None,
                    learning,
                };
                Learned::Reps {
                    learning,
                    track: Track::new(start),
                    noise: Box::default(),
                }
            }
            Self::Hold(load, seconds) => Learned::Holds {
                first: (load, seconds),
                holds: Holds::new(load, seconds),
            },
        }
    }

    /// Whether something was learned from such a beginning. Of reps the sessions tell the rest.
    fn is_of(self, learned: &Learned) -> bool {
        match (self, learned) {
            (Self::Reps(_, fast), Learned::Reps { learning, .. }) => fast == *learning,
            (Self::Hold(load, seconds), Learned::Holds { first, .. }) => *first == (load, seconds),
            (Self::Reps(..), Learned::Holds { .. }) | (Self::Hold(..), Learned::Reps { .. }) => {
                false
            }
        }
    }
}

impl Folded {
    const fn new(learned: Learned) -> Self {
        Self {
            sessions: 0,
            evidence: 0,
            learned,
        }
    }

    fn take(&mut self, session: &impl Lesson) {
        session.teach(&mut self.learned);
        self.evidence = session.sign_after(self.evidence);
        self.sessions += 1;
    }

    /// Whether these sessions begin with those that were folded.
    fn leads_to(&self, sessions: &[impl Lesson], beginning: Beginning<'_>) -> bool {
        let folded = sessions.get(..self.sessions);
        let sign = folded.map(|folded| folded.iter().fold(0, |sign, seen| seen.sign_after(sign)));
        beginning.is_of(&self.learned) && sign == Some(self.evidence)
    }
}

impl Lesson for Seen {
    fn sign_after(&self, before: u64) -> u64 {
        let mut sign = DefaultHasher::new();
        (before, self.day, self.sets.len()).hash(&mut sign);
        for set in &self.sets {
            let ending = match set.ending {
                Ending::Failed => (1, None),
                Ending::Stopped { spare } => (0, spare.map(f64::to_bits)),
            };
            (set.load.to_bits(), set.rest.to_bits(), ending).hash(&mut sign);
            (set.reps, set.asked, set.least, set.evidence).hash(&mut sign);
        }
        sign.finish()
    }

    fn teach(&self, learned: &mut Learned) {
        if let Learned::Reps { track, noise, .. } = learned {
            track.take(self.day, &self.sets, noise);
        }
    }
}

impl Beliefs {
    /// Beliefs of which some may be found as an earlier run left them: what was folded from other
    /// sessions than the journal's is not used.
    pub fn recalled(recall: impl Fn(&ExerciseId) -> Option<Folded> + Send + 'static) -> Self {
        Self {
            recall: Some(Box::new(recall)),
            ..Self::default()
        }
    }

    /// Those that are new since this was last asked.
    pub fn news(&self) -> Vec<(ExerciseId, Arc<Folded>)> {
        let known = self.known.borrow();
        let new = self.new.take().into_iter();
        new.filter_map(|id| known.get(&id).cloned().map(|folded| (id, folded)))
            .collect()
    }

    /// What these sessions come to, oldest first: what is kept of the first of them is used.
    pub(super) fn folded(
        &self,
        id: &ExerciseId,
        sessions: &[impl Lesson],
        beginning: Beginning<'_>,
    ) -> Option<Arc<Folded>> {
        let kept = self.known.borrow().get(id).cloned();
        let kept = kept.or_else(|| self.recall.as_ref()?(id).map(Arc::new));
        let mut folded = match kept.filter(|kept| kept.leads_to(sessions, beginning)) {
            Some(kept) if kept.sessions == sessions.len() => {
                self.known.borrow_mut().insert(id.clone(), kept.clone());
                return Some(kept);
            }
            Some(kept) => (*kept).clone(),
            None => Folded::new(beginning.learned()),
        };
        for session in sessions.get(folded.sessions..)? {
            folded.take(session);
        }
        let folded = Arc::new(folded);
        self.new.borrow_mut().insert(id.clone());
        self.known.borrow_mut().insert(id.clone(), folded.clone());
        Some(folded)
    }
}

fn first_work(sessions: &[Seen]) -> Option<&SetSeen> {
    let mut sets = sessions.iter().flat_map(|session| &session.sets);
    sets.clone().find(|set| set.evidence).or(sets.next())
}

const fn learning(experience: Experience) -> Learning {
    match experience {
        Experience::Novice => Learning::Novice,
        Experience::Intermediate => Learning::Trained,
        Experience::Returning => Learning::Returning,
    }
}

impl Context<'_> {
    /// What was believed of an exercise after each of the sessions that its belief is folded from,
    /// in ln kg of what is moved.
    pub fn believed(&self, exercise: &Exercise) -> Vec<Believed> {
        let ladder = Ladder::new(exercise, self.lifter.body_weight, &[]);
        let outings = self.history.recent_by_now(&exercise.id);
        let sessions: Vec<Seen> = outings
            .filter_map(|outing| Work::of(outing).seen(exercise, &ladder))
            .collect();
        let learning = learning(self.lifter.experience);
        let Some(first) = first_work(&sessions) else {
            return Vec::new();
        };
        let mut learned = Beginning::Reps(first, learning).learned();
        let after = |session: &Seen| {
            session.teach(&mut learned);
            let Learned::Reps { track, .. } = &learned else {
                return None;
            };
            let (mean, spread) = track.belief().strength();
            Some(Believed {
                day: i32::try_from(session.day).unwrap_or(i32::MAX),
                mean,
                spread,
            })
        };
        sessions.iter().filter_map(after).collect()
    }

    /// What is believed of an exercise now, after these sets of today; none where nothing is kept
    /// of beliefs, the exercise was never done, or its work is not reps with a mass.
    pub(super) fn day(&self, exercise: &Exercise, done: &Done<'_>) -> Option<Day> {
        let beliefs = self.beliefs?;
        let ladder = Ladder::new(exercise, self.lifter.body_weight, &[]);
        let before = self.history.recent(&exercise.id);
        let sessions: Vec<Seen> = before
            .filter_map(|outing| Work::of(outing).seen(exercise, &ladder))
            .collect();
        let today = done.work(self.now).seen(exercise, &ladder);
        let learning = learning(self.lifter.experience);
        let folded = match &today {
            _ if !sessions.is_empty() => {
                let beginning = Beginning::Reps(first_work(&sessions)?, learning);
                beliefs.folded(&exercise.id, &sessions, beginning)?
            }
            Some(today) => {
                let first = first_work(std::slice::from_ref(today))?;
                Arc::new(Folded::new(Beginning::Reps(first, learning).learned()))
            }
            None => return None,
        };
        let Learned::Reps { track, noise, .. } = &folded.learned else {
            return None;
        };
        let sessions = track.sessions();
        let day = day_of(self.now);
        let mut noise = (**noise).clone();
        let mut now = track.begin(day, &noise, &Others::default());
        for set in today.iter().flat_map(|today| &today.sets) {
            let chances = now.observe(set);
            noise.learn_set(set, chances);
        }
        Some(Day {
            day,
            today: now,
            before: folded,
            noise,
            sessions,
            boldness: self.lifter.boldness,
        })
    }
}
