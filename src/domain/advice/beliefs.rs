//! What is believed of each exercise, folded from the journal and kept between questions.

use super::Context;
use super::ladder::Ladder;
use super::odds::Mind;
use super::past::least;
use crate::domain::exercise::{Exercise, ExerciseId, Sides};
use crate::domain::history::Outing;
use crate::domain::program::{Ask, RestWindow};
use crate::domain::session::{
    Boldness, Ended, Experience, Performed, RestKnown, SetKind, SetRecord,
};
use crate::domain::strength::belief::{
    Believed, Ending, HoldSeen, Learning, Noise, SetSeen, Start, Today, Track,
};
use crate::domain::units::Civil;
use chrono::Datelike;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

/// Rest before a set of which nothing is known, in seconds.
const USUAL_REST: f64 = 120.0;
/// The longest rest that a clock is believed, in seconds.
const LONGEST_REST: f64 = 3600.0;
/// Seconds of a rep, and share of the e1RM that it costs, in the first look at a lifter.
const REP_SECONDS: f64 = 3.0;
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

/// A session as evidence.
#[derive(Clone, PartialEq, Debug)]
struct Seen {
    day: i64,
    sets: Vec<SetSeen>,
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

/// Sets of an exercise in one session, and what was asked of them.
pub struct Work<'a> {
    at: Civil,
    deload: bool,
    ask: Option<Ask>,
    rest: Option<RestWindow>,
    sets: Vec<&'a Performed>,
}

impl<'a> Work<'a> {
    /// Those of an outing.
    pub fn of(outing: &'a Outing) -> Self {
        Self {
            at: outing.at,
            deload: outing.deload,
            ask: outing.ask,
            rest: outing.rest,
            sets: outing.sets.iter().collect(),
        }
    }

    /// The sets as evidence; none where they are no reps with a mass.
    fn seen(&self, exercise: &Exercise, ladder: &Ladder) -> Option<Seen> {
        let mut sets = Vec::with_capacity(self.sets.len());
        let mut before = None;
        for set in &self.sets {
            let record = &set.record;
            if record.done.is_hold() {
                return None;
            }
            let asked = record.asked.count();
            let failed = failed(record);
            sets.push(SetSeen {
                load: ladder.moved(record.load)?,
                reps: record.done.deciding(),
                asked,
                least: self.ask.map_or(asked, least).min(asked),
                ending: if failed {
                    Ending::Failed
                } else {
                    Ending::Stopped {
                        spare: record.spare.map(|spare| f64::from(spare.get())),
                    }
                },
                rest: self.rest_before(exercise, before, set),
                measured: record
                    .rest
                    .is_some_and(|rest| rest.known == RestKnown::Measured),
                evidence: self.is_evidence(record),
            });
            before = Some(*set);
        }
        (!sets.is_empty()).then_some(Seen {
            day: day_of(self.at),
            sets,
        })
    }

    /// The sets as holds; none where they are no seconds with a mass.
    pub fn held(&self, exercise: &Exercise, ladder: &Ladder) -> Option<Vec<HoldSeen>> {
        let mut sets = Vec::with_capacity(self.sets.len());
        let mut before = None;
        for set in &self.sets {
            let record = &set.record;
            sets.push(HoldSeen {
                load: ladder
                    .moved(record.load)
                    .filter(|_| record.done.is_hold())?,
                seconds: f64::from(record.done.deciding()),
                failed: failed(record),
                rest: self.rest_before(exercise, before, set),
                evidence: self.is_evidence(record),
            });
            before = Some(*set);
        }
        Some(sets)
    }

    fn is_evidence(&self, record: &SetRecord) -> bool {
        !self.deload && record.kind != SetKind::Ramp
    }

    /// Seconds from the set of this exercise before to this one: the other exercises of a group
    /// are rest for it.
    fn rest_before(&self, exercise: &Exercise, before: Option<&Performed>, set: &Performed) -> f64 {
        let record = &set.record;
        let planned = self.rest.map_or(USUAL_REST, |rest| {
            f64::from(u32::midpoint(rest.opens.get(), rest.closes.get()))
        });
        let told = record.rest.map(|rest| f64::from(rest.seconds.get()));
        let told = told.unwrap_or(planned);
        let sides = match exercise.sides {
            Sides::Both => 1.0,
            Sides::Each | Sides::Alternating => 2.0,
        };
        let each = if record.done.is_hold() {
            1.0
        } else {
            REP_SECONDS
        };
        let usual = f64::from(record.done.deciding()) * each * sides;
        let lifted = record.lifted.map_or(usual, |s| f64::from(s.get()));
        let gap = before.map_or(0.0, |before| set.at.since(before.at) as f64 / 1000.0) - lifted;
        if gap > told && gap < LONGEST_REST {
            gap
        } else {
            told
        }
    }
}

/// Whether a set came to its end since no more could be done: a miss, or an open set without a
/// word of more.
fn failed(record: &SetRecord) -> bool {
    let none_spare = record.spare.is_none_or(|spare| spare.get() == 0);
    match record.ended {
        Ended::Short => none_spare,
        Ended::AsAsked => record.open && none_spare,
        Ended::OnPurpose | Ended::Interrupted => false,
    }
}

pub(super) fn day_of(at: Civil) -> i64 {
    i64::from(at.date().num_days_from_ce())
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

/// Sets of an exercise that were done today.
#[derive(Clone, Copy, Default)]
pub struct Done<'a> {
    /// The sets, in order.
    pub sets: &'a [&'a Performed],
    /// What was asked of them.
    pub ask: Option<Ask>,
    /// The rest between them.
    pub rest: Option<RestWindow>,
    /// Whether it is deload work.
    pub deload: bool,
}

impl<'a> Done<'a> {
    /// The same as of a time.
    pub fn work(&self, at: Civil) -> Work<'a> {
        Work {
            at,
            deload: self.deload,
            ask: self.ask,
            rest: self.rest,
            sets: self.sets.to_vec(),
        }
    }
}
