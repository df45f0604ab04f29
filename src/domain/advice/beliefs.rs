//! What is believed of each exercise, folded from the journal and kept between questions.

use super::Context;
use super::evidence::{Done, Seen, Work, day_of};
use super::ladder::Ladder;
use super::odds::Mind;
use crate::domain::exercise::{Exercise, ExerciseId};
use crate::domain::session::{Boldness, Experience};
use crate::domain::strength::belief::{
    Believed, Ending, Learning, Noise, SetSeen, Start, Today, Track,
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
    /// How fast strength was taken to come.
    pub learning: Learning,
    /// How many sessions were folded.
    pub sessions: usize,
    /// A sign of them all, in order.
    pub evidence: u64,
    /// What they came to.
    pub track: Track,
    /// What they told of the lifter's noise.
    pub noise: Noise,
}

/// What is believed of one exercise on a day, after the sets done so far.
#[derive(Clone, Debug)]
pub struct Day {
    today: Today,
    earlier: Option<Today>,
    noise: Noise,
    sessions: u32,
    boldness: Boldness,
}

impl Day {
    /// The same, ready for questions.
    pub fn mind(&self) -> Mind<'_> {
        Mind {
            forecast: self.today.forecast(),
            earlier: self.earlier.as_ref().map(Today::forecast),
            noise: &self.noise,
            sessions: self.sessions,
            boldness: self.boldness,
        }
    }
}

impl Folded {
    fn new(first: &SetSeen, learning: Learning) -> Self {
        // Nothing is copied from a table of what people lift: the first working load is a first
        // look at this lifter, and no more than that.
        let reps = f64::from(first.least) - 1.0 + FIRST_SPARE;
        let start = Start {
            expected: first.load * (1.0 + REP_COST * reps),
            spread: FIRST_LOOK_SPREAD,
            guess: None,
            learning,
        };
        Self {
            learning,
            sessions: 0,
            evidence: 0,
            track: Track::new(start),
            noise: Noise::default(),
        }
    }

    fn take(&mut self, session: &Seen) {
        self.track.take(session.day, &session.sets, &mut self.noise);
        self.evidence = session.sign_after(self.evidence);
        self.sessions += 1;
    }

    /// Whether these sessions begin with those that were folded.
    fn leads_to(&self, sessions: &[Seen], learning: Learning) -> bool {
        let folded = sessions.get(..self.sessions);
        let sign = |folded: &[Seen]| folded.iter().fold(0, |sign, seen| seen.sign_after(sign));
        self.learning == learning && folded.map(sign) == Some(self.evidence)
    }
}

impl Seen {
    /// A sign of this session, behind those of which `before` is one.
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

    /// The belief from these sessions, oldest first: what is kept of a beginning of them is used.
    fn folded(
        &self,
        id: &ExerciseId,
        sessions: &[Seen],
        learning: Learning,
    ) -> Option<Arc<Folded>> {
        let kept = self.known.borrow().get(id).cloned();
        let kept = kept.or_else(|| self.recall.as_ref()?(id).map(Arc::new));
        let mut folded = match kept.filter(|kept| kept.leads_to(sessions, learning)) {
            Some(kept) if kept.sessions == sessions.len() => {
                self.known.borrow_mut().insert(id.clone(), kept.clone());
                return Some(kept);
            }
            Some(kept) => (*kept).clone(),
            None => Folded::new(first_work(sessions)?, learning),
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
        let first = first_work(&sessions).map(|first| Folded::new(first, learning));
        let Some(mut folded) = first else {
            return Vec::new();
        };
        let after = |session: &Seen| {
            folded.take(session);
            let (mean, spread) = folded.track.belief().strength();
            Believed {
                day: i32::try_from(session.day).unwrap_or(i32::MAX),
                mean,
                spread,
            }
        };
        sessions.iter().map(after).collect()
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
            _ if !sessions.is_empty() => beliefs.folded(&exercise.id, &sessions, learning)?,
            Some(today) => {
                let first = first_work(std::slice::from_ref(today))?;
                Arc::new(Folded::new(first, learning))
            }
            None => return None,
        };
        let day = day_of(self.now);
        let mut noise = folded.noise.clone();
        let mut now = folded.track.begin(day, &noise);
        let earlier = folded.track.begin_without_last(day, &noise);
        for set in today.iter().flat_map(|today| &today.sets) {
            let chances = now.observe(set);
            noise.learn_set(set, chances);
        }
        Some(Day {
            today: now,
            earlier,
            noise,
            sessions: folded.track.sessions(),
            boldness: self.lifter.boldness,
        })
    }
}
