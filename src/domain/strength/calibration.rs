//! How often stated odds came true, and how far predicted reps were off: of sets, and of whole
//! exercises, each under its own name.

use crate::domain::history::History;
use crate::domain::session::{Ended, PlannedItem, Session, SetKind, SetRecord};
use crate::domain::units::Predicted;

/// Ranges that stated odds fall into, each a tenth wide.
pub const BINS: usize = 10;
/// Fewer than so many say nothing yet.
pub const TOO_FEW: usize = 30;

/// Stated odds of one range, and what happened.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Bin {
    /// How many were stated.
    pub count: usize,
    /// How many of them came true.
    pub happened: usize,
    /// Sum of the chances stated.
    stated: f64,
}

impl Bin {
    /// The mean of the chances stated, 0 to 1; none of none.
    pub fn stated(&self) -> Option<f64> {
        (self.count > 0).then(|| self.stated / self.count as f64)
    }

    /// The share that came true, 0 to 1; none of none.
    pub fn came_true(&self) -> Option<f64> {
        (self.count > 0).then(|| self.happened as f64 / self.count as f64)
    }
}

/// Stated odds of one kind against what happened.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Score {
    /// By range, from 0 to 1.
    pub bins: [Bin; BINS],
    /// Those of which nobody can tell: skipped, swapped, cut short, done with another load.
    pub left_out: usize,
    /// The reps to failure that were predicted beside them.
    pub reps: Predictions,
    /// The same of seconds held.
    pub seconds: Predictions,
    square: f64,
}

/// Predicted counts to failure against those that sets told.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Predictions {
    /// How many sets told theirs: they failed, were open, or were reported with a few spare.
    pub told: usize,
    /// How many stopped at what was asked without a word: at least so many is all they say.
    pub untold: usize,
    over: f64,
    apart: f64,
}

/// A report of so many spare, or more, only says "at least".
const MANY: u32 = 4;

impl Predictions {
    fn take(&mut self, predicted: Predicted, set: &SetRecord) {
        let Some(actual) = to_failure(set) else {
            self.untold += 1;
            return;
        };
        let off = predicted.count() - f64::from(actual);
        self.told += 1;
        self.over += off;
        self.apart += off.abs();
    }

    /// How many were predicted too many, in the mean; negative: too
    /// few. None of none.
    pub fn mean_error(&self) -> Option<f64> {
        (self.told > 0).then(|| self.over / self.told as f64)
    }

    /// The mean distance of prediction and outcome. None of none.
    pub fn mean_distance(&self) -> Option<f64> {
        (self.told > 0).then(|| self.apart / self.told as f64)
    }
}

/// Reps to failure of a set that tells them, by the lifter's own count of what was spare; seconds
/// of a hold that came to its end.
fn to_failure(set: &SetRecord) -> Option<u32> {
    let done = set.done.deciding();
    let spare = set.spare.map(|spare| spare.get());
    match (set.ended, spare.filter(|_| !set.done.is_hold())) {
        (Ended::Interrupted, _) => None,
        (_, Some(spare)) => (spare < MANY).then_some(done + spare),
        (Ended::Short, None) => Some(done),
        (Ended::AsAsked, None) => set.open.then_some(done),
        (Ended::OnPurpose, None) => None,
    }
}

/// What became of something that was stated.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Came {
    True,
    False,
    Untold,
}

impl Score {
    fn take(&mut self, chance: f64, came: Came) {
        let happened = match came {
            Came::True => 1.0,
            Came::False => 0.0,
            Came::Untold => {
                self.left_out += 1;
                return;
            }
        };
        let place = ((chance * BINS as f64) as usize).min(BINS - 1);
        if let Some(bin) = self.bins.get_mut(place) {
            bin.count += 1;
            bin.happened += usize::from(came == Came::True);
            bin.stated += chance;
        }
        self.square += (chance - happened) * (chance - happened);
    }

    fn predicted(&mut self, predicted: Predicted, set: &SetRecord) {
        let kind = if set.done.is_hold() {
            &mut self.seconds
        } else {
            &mut self.reps
        };
        kind.take(predicted, set);
    }

    /// How many can be told.
    pub fn count(&self) -> usize {
        self.bins.iter().map(|bin| bin.count).sum()
    }

    /// All of them as one range.
    pub fn whole(&self) -> Bin {
        let mut whole = Bin::default();
        for bin in &self.bins {
            whole.count += bin.count;
            whole.happened += bin.happened;
            whole.stated += bin.stated;
        }
        whole
    }

    /// The mean squared difference between chance and outcome (Brier 1950): 0 is perfect, 0.25 is
    /// what "50 in 100" always gets. None of none.
    pub fn brier(&self) -> Option<f64> {
        (self.count() > 0).then(|| self.square / self.count() as f64)
    }

    /// The expected calibration error: the difference between stated and happened in each range,
    /// weighted by how many fell into it. None of none.
    pub fn calibration_error(&self) -> Option<f64> {
        let all = self.count();
        let off = |bin: &Bin| (bin.stated - bin.happened as f64).abs();
        (all > 0).then(|| self.bins.iter().map(off).sum::<f64>() / all as f64)
    }
}

/// Stated odds against what happened.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Calibration {
    /// Odds of the next set, as they stood when it was started.
    pub sets: Score,
    /// Odds of the exercise, as they stood when the session was opened.
    pub exercises: Score,
}

impl Calibration {
    /// Of everything that was recorded; sets read from damaged lines are left out.
    pub fn of(history: &History) -> Self {
        let mut calibration = Self::default();
        for session in &history.sessions {
            for set in session.sets.iter().filter(|set| !set.damaged) {
                if let Some(odds) = set.record.odds {
                    calibration.sets.take(odds.chance(), of_set(&set.record));
                }
                if let Some(predicted) = set.record.predicted {
                    calibration.sets.predicted(predicted, &set.record);
                }
            }
            let planned = session.plan.iter().flat_map(|plan| &plan.items);
            for (place, item) in planned.enumerate() {
                let began = session.records(place).next().is_some();
                if let Some(odds) = item.odds.filter(|_| began) {
                    let came = of_item(session, place, item);
                    calibration.exercises.take(odds.chance(), came);
                }
                predictions(session, place, item, &mut calibration.exercises);
            }
        }
        calibration
    }
}

fn of_set(set: &SetRecord) -> Came {
    match set.ended {
        _ if set.reached() => Came::True,
        Ended::AsAsked | Ended::Short => Came::False,
        Ended::OnPurpose | Ended::Interrupted => Came::Untold,
    }
}

/// The working sets of an item that were done as the exercise that was planned.
fn done_of<'a>(
    session: &'a Session,
    place: usize,
    item: &'a PlannedItem,
) -> impl Iterator<Item = &'a SetRecord> {
    let own = |set: &&SetRecord| set.exercise == item.exercise && set.kind == SetKind::Working;
    let records = session.records(place).filter(|set| !set.damaged);
    records.map(|set| &set.record).filter(own)
}

/// What was predicted of an item's sets when the session was opened, against what they told, as
/// long as each was done with the planned load.
fn predictions(session: &Session, place: usize, item: &PlannedItem, score: &mut Score) {
    let planned = item.sets.iter().filter(|set| set.kind == SetKind::Working);
    let pairs = planned.zip(done_of(session, place, item));
    for (planned, set) in pairs.take_while(|(planned, set)| set.load == planned.load) {
        if let Some(predicted) = planned.predicted {
            score.predicted(predicted, set);
        }
    }
}

/// Whether every working set made what the plan asked, with the planned load.
fn of_item(session: &Session, place: usize, item: &PlannedItem) -> Came {
    let mut done = done_of(session, place, item);
    for planned in item.sets.iter().filter(|set| set.kind == SetKind::Working) {
        let Some(set) = done.next().filter(|set| set.load == planned.load) else {
            return Came::Untold;
        };
        if set.done.deciding() >= planned.asked.count() {
            continue;
        }
        return match set.ended {
            Ended::AsAsked | Ended::Short => Came::False,
            Ended::OnPurpose | Ended::Interrupted => Came::Untold,
        };
    }
    Came::True
}
