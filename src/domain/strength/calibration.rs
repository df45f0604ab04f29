//! How often stated odds came true: of sets, and of whole exercises, each under its own name.

use crate::domain::history::History;
use crate::domain::session::{Ended, PlannedItem, Session, SetKind, SetRecord};

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
    square: f64,
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
            }
            let planned = session.plan.iter().flat_map(|plan| &plan.items);
            for (place, item) in planned.enumerate() {
                let began = session.records(place).next().is_some();
                if let Some(odds) = item.odds.filter(|_| began) {
                    let came = of_item(session, place, item);
                    calibration.exercises.take(odds.chance(), came);
                }
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

/// Whether every working set made what the plan asked, with the planned load.
fn of_item(session: &Session, place: usize, item: &PlannedItem) -> Came {
    let own = |set: &&SetRecord| set.exercise == item.exercise && set.kind == SetKind::Working;
    let records = session.records(place).filter(|set| !set.damaged);
    let mut done = records.map(|set| &set.record).filter(own);
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
