//! What is to be expected of sets to come: odds, reserve, reps to failure.

use super::capacity::{REP_SECONDS, effort, left, spread};
use super::normal::Normal;
use super::today::{Active, Today, capacity};

/// Sets to come.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Ahead {
    /// With what, in the belief's unit.
    pub load: f64,
    /// Reps asked of each.
    pub asked: f64,
    /// The least that makes a set count as made.
    pub least: f64,
    /// How many.
    pub sets: u32,
    /// Seconds of rest before each; before the very first set of a session there is none to count.
    pub rest: f64,
}

/// What is to be expected of them. Lapses are left out.
#[derive(Clone, PartialEq, Debug)]
pub struct Outlook {
    /// Chance that every set makes the least.
    pub least: f64,
    /// Chance that every set makes what is asked.
    pub asked: f64,
    /// Chance that each set alone makes what is asked, given nothing of the others.
    pub each: Vec<f64>,
    /// Reps in reserve to expect of each set.
    pub spare: Vec<f64>,
    /// Reps to failure to expect of the next set: the middle of what is believed.
    pub reps: f64,
}

/// The cells that matter, ready for many questions.
pub struct Forecast<'a> {
    today: &'a Today,
    cells: Vec<Active>,
    normal: Normal,
}

impl Today {
    /// Makes ready for questions.
    pub fn forecast(&self) -> Forecast<'_> {
        Forecast {
            today: self,
            cells: self.active(),
            normal: Normal::new(),
        }
    }
}

impl Forecast<'_> {
    /// What is to be expected of these sets.
    pub fn outlook(&self, ahead: &Ahead) -> Outlook {
        let sets = ahead.sets as usize;
        let mut sum = Outlook {
            least: 0.0,
            asked: 0.0,
            each: vec![0.0; sets],
            spare: vec![0.0; sets],
            reps: 0.0,
        };
        let mut reps: Vec<(f64, f64)> = Vec::with_capacity(self.cells.len());
        let (fading, mut costs) = (self.fading(ahead), vec![0.0; sets]);
        for cell in &self.cells {
            let (mut least, mut asked) = (cell.weight, cell.weight);
            for set in 0..sets {
                let tired = self.tired(cell, &fading, costs.get(..set).unwrap_or_default());
                let there = capacity(cell.max, ahead.load, cell.lane, tired);
                let sd = spread(there);
                let makes = self.normal.below((there - ahead.asked) / sd);
                least *= if ahead.least < ahead.asked {
                    self.normal.below((there - ahead.least) / sd)
                } else {
                    makes
                };
                asked *= makes;
                if let (Some(each), Some(spare)) = (sum.each.get_mut(set), sum.spare.get_mut(set)) {
                    *each += cell.weight * makes;
                    *spare += cell.weight * (there - ahead.asked).max(0.0);
                }
                if set == 0 {
                    reps.push((there, cell.weight));
                }
                if let Some(cost) = costs.get_mut(set) {
                    *cost = effort(ahead.asked.min(there), there);
                }
            }
            sum.least += least;
            sum.asked += asked;
        }
        sum.reps = middle(reps) - 0.5;
        sum
    }

    /// The smallest reserve to expect of a set.
    pub fn hardest(&self, ahead: &Ahead) -> f64 {
        let (fading, mut costs) = (self.fading(ahead), vec![0.0; ahead.sets as usize]);
        let mut spare = costs.clone();
        for cell in &self.cells {
            for (set, spare) in spare.iter_mut().enumerate() {
                let tired = self.tired(cell, &fading, costs.get(..set).unwrap_or_default());
                let there = capacity(cell.max, ahead.load, cell.lane, tired);
                *spare += cell.weight * (there - ahead.asked).max(0.0);
                if let Some(cost) = costs.get_mut(set) {
                    *cost = effort(ahead.asked.min(there), there);
                }
            }
        }
        spare.into_iter().fold(f64::INFINITY, f64::min)
    }

    /// The chance alone that every set makes the least, where no more than it is asked.
    pub fn makes(&self, ahead: &Ahead) -> f64 {
        let mut sum = 0.0;
        let (fading, mut costs) = (self.fading(ahead), vec![0.0; ahead.sets as usize]);
        for cell in &self.cells {
            let mut makes = cell.weight;
            for set in 0..ahead.sets as usize {
                let tired = self.tired(cell, &fading, costs.get(..set).unwrap_or_default());
                let there = capacity(cell.max, ahead.load, cell.lane, tired);
                makes *= self.normal.below((there - ahead.least) / spread(there));
                if let Some(cost) = costs.get_mut(set) {
                    *cost = effort(ahead.asked.min(there), there);
                }
            }
            sum += makes;
        }
        sum
    }

    /// Reps to failure to expect of each set, in the mean; one that is begun and not made is none.
    pub fn to_failure(&self, ahead: &Ahead) -> Vec<f64> {
        let mut mean = vec![-0.5; ahead.sets as usize];
        let (fading, mut costs) = (self.fading(ahead), vec![0.0; mean.len()]);
        for cell in &self.cells {
            for (set, mean) in mean.iter_mut().enumerate() {
                let tired = self.tired(cell, &fading, costs.get(..set).unwrap_or_default());
                let there = capacity(cell.max, ahead.load, cell.lane, tired);
                *mean += cell.weight * there;
                if let Some(cost) = costs.get_mut(set) {
                    *cost = effort(ahead.asked.min(there), there);
                }
            }
        }
        mean
    }

    /// What is left of each set's cost before later ones: the same in all cells.
    fn fading(&self, ahead: &Ahead) -> Fading {
        let between = ahead.rest + ahead.asked * REP_SECONDS;
        let before = |set: usize| ahead.rest + set as f64 * between;
        let sets = ahead.sets as usize;
        let of_today = |set| {
            let since = self.today.since();
            since.map(|since| left(since + before(set))).collect()
        };
        Fading {
            ahead: (0..sets).map(|back| left(before(back))).collect(),
            today: (0..sets).map(of_today).collect(),
        }
    }

    /// Fatigue in a cell before the set that follows `costs`.
    fn tired(&self, cell: &Active, fading: &Fading, costs: &[f64]) -> f64 {
        let mut tired = 0.0;
        for (cost, left) in costs.iter().rev().zip(&fading.ahead) {
            tired += cost * left;
        }
        let today = fading.today.get(costs.len()).into_iter().flatten();
        for (cost, left) in self.today.costs(cell.place).zip(today) {
            tired += cost * left;
        }
        tired
    }
}

/// What is left of what sets cost.
struct Fading {
    /// Of a set to come before the next one, the one behind that, and so on.
    ahead: Vec<f64>,
    /// Before each set to come, of the sets that were done today.
    today: Vec<Vec<f64>>,
}

/// The middle of weighted values.
fn middle(mut values: Vec<(f64, f64)>) -> f64 {
    values.sort_by(|a, b| a.0.total_cmp(&b.0));
    let half: f64 = values.iter().map(|(_, weight)| weight).sum::<f64>() / 2.0;
    let mut sum = 0.0;
    for (value, weight) in &values {
        sum += weight;
        if sum >= half {
            return *value;
        }
    }
    values.last().map_or(0.0, |(value, _)| *value)
}
