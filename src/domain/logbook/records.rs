//! The best of an exercise, and when each fell: the first time counts.

use super::set::SetDigest;
use super::{Digest, Logbook, SessionDigest};
use crate::domain::exercise::ExerciseId;
use crate::domain::history::History;
use crate::domain::strength::equations::Equation;
use crate::domain::units::{Load, Mass, Weight};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// A best, and when it fell.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Fell<T> {
    /// What.
    pub best: T,
    /// On which day.
    pub day: NaiveDate,
    /// In which session, by its place in the history.
    pub session: usize,
}

/// Work of one session: what is told of it hangs on how the exercise counts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Work {
    /// Volume load.
    Volume(Mass),
    /// Reps in all, where no mass is handled.
    Reps(u32),
    /// Seconds held in all.
    Seconds(u32),
}

impl Work {
    const fn amount(self) -> i64 {
        match self {
            Self::Volume(mass) => mass.ng(),
            Self::Reps(count) | Self::Seconds(count) => count as i64,
        }
    }
}

/// A load, and reps or seconds done with it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Lifted {
    /// With what.
    pub load: Load,
    /// Reps, or seconds, of the lower side.
    pub count: u32,
}

/// The records of an exercise: of its working and back-off sets, those of deloads too.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Records {
    /// Best estimated one-rep max: Epley's, from ten reps or fewer, as done; of work to
    /// which mass is added, with the part of the body that moves; of the body alone none.
    pub max: Option<Fell<Weight>>,
    /// The heaviest loads: each the best for its count of reps or more, heaviest first.
    pub heaviest: Vec<Fell<Lifted>>,
    /// The most reps at each load, heaviest first.
    pub most: Vec<Fell<Lifted>>,
    /// The longest holds, one at each load, heaviest first.
    pub holds: Vec<Fell<Lifted>>,
    /// Most work in one session.
    pub work: Option<Fell<Work>>,
}

impl Records {
    /// The records of an exercise.
    pub fn of(history: &History, logbook: &Logbook, exercise: &ExerciseId) -> Self {
        let mut records = Self::default();
        let (mut most, mut holds) = (Best::new(), Best::new());
        for (session, digest) in logbook.of_exercise(exercise) {
            let when = When::of(session);
            let done = history.sessions.get(session.place);
            for set in digest.work() {
                let record = done.and_then(|done| done.sets.get(set.place));
                let Some(record) = record.map(|set| &set.record) else {
                    continue;
                };
                if record.counts.is_loaded() {
                    records.take_max(when, set);
                }
                let fell = when.fell(Lifted {
                    load: record.load,
                    count: set.done,
                });
                take_most(if set.held { &mut holds } else { &mut most }, fell);
            }
            records.take_work(when, digest);
        }
        records.most = most.into_values().rev().collect();
        records.holds = holds.into_values().rev().collect();
        records.heaviest = heaviest(&records.most);
        records
    }

    fn take_max(&mut self, when: When, set: &SetDigest) {
        let max = set.shown_max(Equation::Epley).zip(set.moved);
        let max = max.and_then(|(max, moved)| {
            let mass = Mass::nearest(max, moved.unit)?;
            Some(Weight::new(mass, moved.unit))
        });
        if let Some(max) = max
            && self.max.is_none_or(|best| max.mass > best.best.mass)
        {
            self.max = Some(when.fell(max));
        }
    }

    fn take_work(&mut self, when: When, digest: &Digest) {
        let count = digest.work().map(|set| set.done).sum();
        let work = if digest.volume > Mass::ZERO {
            Work::Volume(digest.volume)
        } else if digest.work().all(|set| set.held) {
            Work::Seconds(count)
        } else {
            Work::Reps(count)
        };
        let best = self.work.map_or(0, |fell| fell.best.amount());
        if work.amount() > best {
            self.work = Some(when.fell(work));
        }
    }
}

#[derive(Clone, Copy)]
struct When {
    day: NaiveDate,
    session: usize,
}

impl When {
    const fn of(session: &SessionDigest) -> Self {
        Self {
            day: session.day,
            session: session.place,
        }
    }

    const fn fell<T: Copy>(self, best: T) -> Fell<T> {
        Fell {
            best,
            day: self.day,
            session: self.session,
        }
    }
}

/// Loads in order: bands below the body, the body below implements, each kind by its own measure.
fn rank(load: Load) -> (u8, i64) {
    match load {
        Load::Band(step) => (0, step.0.into()),
        Load::Body(weight) => (1, weight.mass.ng()),
        Load::Mass(weight) => (2, weight.mass.ng()),
    }
}

/// The most at each load.
type Best = BTreeMap<(u8, i64), Fell<Lifted>>;

fn take_most(best: &mut Best, fell: Fell<Lifted>) {
    let kept = best.entry(rank(fell.best.load)).or_insert(fell);
    if fell.best.count > kept.best.count {
        *kept = fell;
    }
}

/// Of the most reps at each load, heaviest first, those that no heavier load was done for.
fn heaviest(most: &[Fell<Lifted>]) -> Vec<Fell<Lifted>> {
    let mut kept: Vec<Fell<Lifted>> = Vec::new();
    for fell in most {
        let beaten = kept.last().is_some_and(|heavier| {
            rank(heavier.best.load).0 == rank(fell.best.load).0
                && heavier.best.count >= fell.best.count
        });
        if !beaten {
            kept.push(*fell);
        }
    }
    kept
}
