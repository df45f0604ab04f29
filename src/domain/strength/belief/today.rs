//! A session: the day's luck is shared by its sets, and each set updates what is believed of
//! today.

use super::capacity::{REP_SECONDS, effort, fresh, left, spread};
use super::grid::{CAPACITY_CELLS, GAINS, Lane};
use super::likelihood::{Ending, Report, Seen, of_report, of_reps};
use super::noise::{Noise, REACH};
use super::normal::Normal;
use super::{BIASES, Belief, CELLS, Kernel, LANES, MIDDLE, STEP, THETA, biases, lanes};

/// A set as evidence.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct SetSeen {
    /// With what, in the belief's unit.
    pub load: f64,
    /// Reps done.
    pub reps: u32,
    /// Reps asked.
    pub asked: u32,
    /// The least that made it count as made.
    pub least: u32,
    /// How it ended.
    pub ending: Ending,
    /// Seconds of rest before it.
    pub rest: f64,
    /// Whether that rest was measured: an estimated one teaches nothing of recovery.
    pub measured: bool,
    /// Whether it counts as evidence; it costs strength in any case.
    pub evidence: bool,
}

/// What a set's chances were just before it, lapses left out.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Chances {
    /// Of the least.
    pub least: f64,
    /// Of what was asked.
    pub asked: f64,
}

/// A set done today, and what it cost in each cell.
#[derive(Clone, PartialEq, Debug)]
struct Cost {
    cells: Vec<f64>,
    /// Seconds from its end to the end of the last set.
    since: f64,
}

/// What is believed of today.
#[derive(Clone, PartialEq, Debug)]
pub struct Today {
    /// Today's strength before the first set.
    before: Vec<f64>,
    /// Likelihood of the sets so far, in every cell.
    likely: Vec<f64>,
    /// Today's strength by now, bias summed out; sums to 1.
    now: Vec<f64>,
    /// e1RM of each point.
    max: [f64; THETA],
    costs: Vec<Cost>,
    luck: Kernel,
    /// The largest reserve that was ever reported.
    most_told: f64,
}

impl Belief {
    /// Begins a session.
    pub fn begin(&self, noise: &Noise) -> Today {
        let luck = noise.day();
        let mut before = vec![0.0; CELLS];
        let lines = before
            .chunks_exact_mut(THETA)
            .zip(self.cells.chunks_exact(THETA));
        for (line, cells) in lines {
            luck.spread(cells, line);
        }
        let mut max = [0.0; THETA];
        for (point, max) in max.iter_mut().enumerate() {
            *max = libm::exp(self.centre + (point as f64 - MIDDLE as f64) * STEP);
        }
        let mut today = Today {
            before,
            likely: vec![1.0; CELLS],
            now: Vec::new(),
            max,
            costs: Vec::new(),
            luck,
            most_told: self.most_told,
        };
        today.settle();
        today
    }

    /// Ends a session: what its sets say of the lasting strength, one bad day kept apart; and what
    /// it says of the lifter's days.
    pub fn end(&mut self, today: &Today, noise: &mut Noise) {
        self.sessions += 1;
        self.most_told = today.most_told;
        let most = today.likely.iter().copied().fold(0.0, f64::max);
        if today.costs.is_empty() || most <= 0.0 {
            return;
        }
        let mut agreed = [0.0; 2 * REACH + 1];
        let mut line = [0.0; THETA];
        let lines = self
            .cells
            .chunks_exact_mut(THETA)
            .zip(today.likely.chunks_exact(THETA));
        for (cells, likely) in lines {
            agree(cells, likely, &mut agreed);
            today.luck.spread(likely, &mut line);
            for (cell, likely) in cells.iter_mut().zip(line) {
                *cell *= likely / most;
            }
        }
        noise.learn_day(&agreed);
        self.normalise();
        self.recentre();
    }
}

/// Adds how well a line agrees with a session whose luck was each shift.
fn agree(cells: &[f64], likely: &[f64], agreed: &mut [f64; 2 * REACH + 1]) {
    for (place, sum) in agreed.iter_mut().enumerate() {
        let (skip_cells, skip_likely) = if place >= REACH {
            (place - REACH, 0)
        } else {
            (0, REACH - place)
        };
        let cells = cells.get(skip_cells..).unwrap_or_default();
        let likely = likely.get(skip_likely..).unwrap_or_default();
        *sum += cells.iter().zip(likely).map(|(c, l)| c * l).sum::<f64>();
    }
}

/// How likely a set is in a cell, by bias; none where it is no evidence.
fn factors(
    normal: Normal,
    set: &SetSeen,
    (seen, most): (Seen, f64),
    biases: &[f64; BIASES],
) -> Option<[f64; BIASES]> {
    match set.ending {
        _ if !set.evidence => None,
        Ending::Failed => Some([of_reps(normal, seen, true); BIASES]),
        Ending::Stopped { spare: None } => Some([of_reps(normal, seen, false); BIASES]),
        Ending::Stopped { spare: Some(spare) } => {
            Some(of_report(normal, seen, Report { spare, most }, biases))
        }
    }
}

impl Today {
    /// Takes in a set that was done, and says what its chances were.
    pub fn observe(&mut self, set: &SetSeen) -> Chances {
        let normal = Normal::new();
        let (lanes, biases) = (lanes(), biases());
        for cost in &mut self.costs {
            cost.since += set.rest;
        }
        let tired = self.tiredness(0.0);
        let mut cost = vec![0.0; CAPACITY_CELLS];
        let reps = f64::from(set.reps);
        let mut chances = Chances::default();
        for (row, lane) in lanes.iter().enumerate() {
            let from = row * THETA;
            let Some(likely) = self.likely.get_mut(from * BIASES..(from + THETA) * BIASES) else {
                continue;
            };
            for (point, max) in self.max.iter().enumerate() {
                let (cell, tired) = (cost.get_mut(from + point), tired.get(from + point));
                let (Some(cell), Some(tired)) = (cell, tired) else {
                    continue;
                };
                let capacity = capacity(*max, set.load, *lane, *tired);
                *cell = match set.ending {
                    Ending::Stopped { .. } => effort(reps, capacity),
                    Ending::Failed => 1.0,
                };
                let seen = Seen {
                    reps,
                    capacity,
                    spread: spread(capacity),
                };
                let makes = |wanted: u32| {
                    let z = (capacity - f64::from(wanted)) / seen.spread;
                    normal.below(z)
                };
                let weight = self.now.get(from + point).copied().unwrap_or(0.0);
                chances.least += weight * makes(set.least);
                chances.asked += weight * makes(set.asked);
                let Some(factors) = factors(normal, set, (seen, self.most_told), &biases) else {
                    continue;
                };
                for (bias, factor) in factors.into_iter().enumerate() {
                    if let Some(likely) = likely.get_mut(bias * THETA + point) {
                        *likely *= factor;
                    }
                }
            }
        }
        self.done(set, cost);
        chances
    }

    /// Takes in what a set cost, and what all say of today's strength by now.
    fn done(&mut self, set: &SetSeen, cells: Vec<f64>) {
        if let Ending::Stopped { spare: Some(spare) } = set.ending {
            self.most_told = self.most_told.max(spare);
        }
        for earlier in &mut self.costs {
            earlier.since += f64::from(set.reps) * REP_SECONDS;
        }
        self.costs.push(Cost { cells, since: 0.0 });
        if set.evidence {
            let gains = gains(&self.now);
            self.settle();
            if !set.measured && self.costs.len() > 1 {
                self.hold(gains);
            }
        }
    }

    /// Works out today's strength by now.
    fn settle(&mut self) {
        let most = self.likely.iter().copied().fold(0.0, f64::max);
        let scale = if most > 0.0 { 1.0 / most } else { 1.0 };
        let mut now = vec![0.0; CAPACITY_CELLS];
        let blocks = self.before.chunks_exact(THETA * BIASES);
        let blocks = blocks.zip(self.likely.chunks_exact_mut(THETA * BIASES));
        for ((before, likely), now) in blocks.zip(now.chunks_exact_mut(THETA)) {
            let lines = before
                .chunks_exact(THETA)
                .zip(likely.chunks_exact_mut(THETA));
            for (before, likely) in lines {
                for ((now, before), likely) in now.iter_mut().zip(before).zip(likely) {
                    *likely *= scale;
                    *now += before * *likely;
                }
            }
        }
        let sum: f64 = now.iter().sum();
        if sum > 0.0 {
            now.iter_mut().for_each(|cell| *cell /= sum);
        }
        self.now = now;
    }

    /// Brings the weights of the fatigue gains back to what they were.
    fn hold(&mut self, gains: [f64; GAINS]) {
        let now = self::gains(&self.now);
        let blocks = self.likely.chunks_exact_mut(THETA * BIASES);
        for (row, (likely, now_line)) in blocks.zip(self.now.chunks_exact_mut(THETA)).enumerate() {
            let weights = (gains.get(row % GAINS), now.get(row % GAINS));
            let back = match weights {
                (Some(was), Some(is)) if *is > 0.0 => was / is,
                _ => 1.0,
            };
            likely.iter_mut().for_each(|cell| *cell *= back);
            now_line.iter_mut().for_each(|cell| *cell *= back);
        }
    }

    /// Fatigue in each cell, so many seconds after the last set.
    pub(super) fn tiredness(&self, after: f64) -> Vec<f64> {
        let mut tired = vec![0.0; CAPACITY_CELLS];
        for cost in &self.costs {
            let share = left(cost.since + after);
            for (sum, cost) in tired.iter_mut().zip(&cost.cells) {
                *sum += cost * share;
            }
        }
        tired
    }

    /// The cells that matter now, heaviest-weighing parts only.
    pub(super) fn active(&self) -> Vec<Active> {
        let most = self.now.iter().copied().fold(0.0, f64::max);
        let lanes = lanes();
        let mut cells = Vec::new();
        let mut sum = 0.0;
        for (place, weight) in self.now.iter().enumerate() {
            if *weight <= 0.002 * most {
                continue;
            }
            let (row, point) = (place / THETA, place % THETA);
            let (Some(lane), Some(max)) = (lanes.get(row), self.max.get(point)) else {
                continue;
            };
            sum += weight;
            cells.push(Active {
                place,
                weight: *weight,
                max: *max,
                lane: *lane,
            });
        }
        for cell in &mut cells {
            cell.weight /= sum;
        }
        cells
    }

    /// What the earlier sets of today cost in a cell.
    pub(super) fn costs(&self, place: usize) -> impl Iterator<Item = f64> + '_ {
        self.costs
            .iter()
            .map(move |cost| cost.cells.get(place).copied().unwrap_or(0.0))
    }

    /// The seconds since they ended.
    pub(super) fn since(&self) -> impl Iterator<Item = f64> + '_ {
        self.costs.iter().map(|cost| cost.since)
    }

    /// How many sets were done today.
    pub fn sets(&self) -> usize {
        self.costs.len()
    }
}

/// The weight of each fatigue gain.
fn gains(now: &[f64]) -> [f64; GAINS] {
    let mut gains = [0.0; GAINS];
    for (row, line) in now.chunks_exact(THETA).enumerate() {
        if let Some(gain) = gains.get_mut(row % GAINS) {
            *gain += line.iter().sum::<f64>();
        }
    }
    gains
}

/// A cell that matters.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Active {
    pub place: usize,
    pub weight: f64,
    pub max: f64,
    pub lane: Lane,
}

/// Reps to failure in a cell that is so tired.
#[inline]
pub(super) fn capacity(max: f64, load: f64, lane: Lane, tired: f64) -> f64 {
    let fresh = fresh(max, load, lane);
    if tired == 0.0 {
        return fresh;
    }
    fresh * libm::exp(-lane.gain * tired)
}

/// The number of lanes stands here so that the layout is checked where it is used.
const _: () = assert!(LANES * THETA == CAPACITY_CELLS);

#[cfg(test)]
mod tests {
    use super::super::{Learning, Start, USUAL_SPREAD};
    use super::*;

    /// What is believed of recovery after sets with short rests that went better than expected.
    fn learned(measured: bool) -> ([f64; GAINS], [f64; GAINS]) {
        let belief = Belief::new(Start {
            expected: 100.0,
            spread: USUAL_SPREAD,
            guess: None,
            learning: Learning::Trained,
        });
        let mut today = belief.begin(&Noise::default());
        let before = gains(&today.now);
        for _ in 0..4 {
            today.observe(&SetSeen {
                load: 75.0,
                reps: 10,
                asked: 10,
                least: 10,
                ending: Ending::Failed,
                rest: 60.0,
                measured,
                evidence: true,
            });
        }
        (before, gains(&today.now))
    }

    #[test]
    fn only_measured_rests_teach_recovery() {
        let (before, after) = learned(true);
        assert!(after[0] > before[0] + 0.1, "{before:?} {after:?}");
        let (_, first_set_alone) = learned(false);
        for (was, is) in before.iter().zip(first_set_alone) {
            assert!((was - is).abs() < 1e-9, "{before:?} {first_set_alone:?}");
        }
    }
}
