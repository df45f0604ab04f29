//! What is believed of how long a lifter can hold a load: a distribution over the logarithm of the
//! seconds to failure, and over what one hold costs the next.
//!
//! Its day's luck, its drift and its noise are wider than those of reps, and nothing is known of a
//! rep slope: a hold has none.

use super::capacity::{effort, left};
use super::grid::STEP;
use super::kernel::Kernel;
use super::normal::Normal;

/// Points of ln(seconds), and the middle one.
const POINTS: usize = 181;
const MIDDLE: usize = POINTS / 2;
/// Spread of ln(seconds) before anything was seen.
const FIRST_SPREAD: f64 = 0.6;
/// What a first hold is taken to leave: so many times the least that is asked of it, which opens a
/// range whose end is about twice that.
const FIRST_RESERVE: f64 = 1.8;
/// Endurance falls about as this power of the force held (isometric endurance times; from memory).
const BY_FORCE: f64 = 2.5;
/// Spread of the log of a hold to failure, and what stopping early adds to it.
const NOISE: f64 = 0.12;
const EARLY: f64 = 0.15;
/// Spread of a day's luck.
const LUCK: f64 = 0.08;
/// Gain from one session to the next, and what may change in half a week.
const GAIN: f64 = 0.010;
const WANDERS: f64 = 0.030;
/// Share of holds that a slip, a call or a sneeze ends.
const SLIP: f64 = 0.03;
/// What keeps a belief from certainty.
const FLOOR: f64 = 1e-4;
/// Fatigue gain and its weight before anything was seen: as for reps, at -1.8, 0 and 1.8 standard
/// deviations.
const TIRES: [(f64, f64); 3] = [(0.438, 0.142), (0.9, 0.716), (1.849, 0.142)];

/// A hold as evidence.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct HoldSeen {
    /// With what, in any unit.
    pub load: f64,
    /// Seconds held.
    pub seconds: f64,
    /// Whether it ended since no more could be held; else it was stopped: at least so long.
    pub failed: bool,
    /// Seconds of rest before it.
    pub rest: f64,
    /// Whether it counts as evidence; it tires in any case.
    pub evidence: bool,
}

/// Holds to come.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct HoldsAhead {
    /// With what, in the unit of the holds seen.
    pub load: f64,
    /// Seconds asked of each.
    pub seconds: f64,
    /// How many.
    pub sets: u32,
    /// Seconds of rest before each but the first of a session.
    pub rest: f64,
}

/// What is believed of a lifter's holds in one exercise.
#[derive(Clone, PartialEq, Debug)]
pub struct Holds {
    /// The load that the seconds are of.
    load: f64,
    /// ln(seconds) of the middle point.
    centre: f64,
    /// Weights of all cells, seconds running fastest; they sum to 1.
    cells: Vec<f64>,
    day: i64,
    sessions: u32,
}

/// What is believed of today.
#[derive(Clone, PartialEq, Debug)]
pub struct HoldDay {
    load: f64,
    centre: f64,
    before: Vec<f64>,
    likely: Vec<f64>,
    now: Vec<f64>,
    /// What each hold of today cost in each cell, and the seconds since it.
    costs: Vec<(Vec<f64>, f64)>,
}

/// The gain of a cell's row, and the place of its point from the middle.
fn of_cell(cell: usize) -> (f64, f64) {
    let gain = TIRES.get(cell / POINTS).map_or(0.0, |(gain, _)| *gain);
    (gain, (cell % POINTS) as f64 - MIDDLE as f64)
}

fn normalise(cells: &mut [f64]) {
    let sum: f64 = cells.iter().sum();
    if sum > 0.0 {
        cells.iter_mut().for_each(|cell| *cell /= sum);
    }
}

/// Spreads each row by a kernel.
fn spread(kernel: &Kernel, cells: &[f64]) -> Vec<f64> {
    let mut spread = vec![0.0; cells.len()];
    for (into, row) in spread
        .chunks_exact_mut(POINTS)
        .zip(cells.chunks_exact(POINTS))
    {
        kernel.spread(row, into);
    }
    spread
}

impl Holds {
    /// The belief before the first hold: one of `seconds` is asked with `load`.
    pub fn new(load: f64, seconds: f64) -> Self {
        let mut cells = vec![0.0; POINTS * TIRES.len()];
        for (cell, weight) in cells.iter_mut().enumerate() {
            let prior = TIRES.get(cell / POINTS).map_or(0.0, |(_, weight)| *weight);
            let off = of_cell(cell).1 * STEP / FIRST_SPREAD;
            *weight = prior * libm::exp(-0.5 * off * off);
        }
        normalise(&mut cells);
        Self {
            load,
            centre: libm::log(seconds.max(1.0) * FIRST_RESERVE),
            cells,
            day: 0,
            sessions: 0,
        }
    }

    /// All of it in numbers, so that it can be kept.
    pub fn numbers(&self) -> Vec<f64> {
        let head = [
            self.load,
            self.centre,
            self.day as f64,
            f64::from(self.sessions),
        ];
        head.iter().chain(&self.cells).copied().collect()
    }

    /// The belief of these numbers; `None` where no belief has them.
    pub fn of_numbers(numbers: &[f64]) -> Option<Self> {
        let [load, centre, day, sessions, cells @ ..] = numbers else {
            return None;
        };
        (cells.len() == POINTS * TIRES.len()).then(|| Self {
            load: *load,
            centre: *centre,
            cells: cells.to_vec(),
            day: *day as i64,
            sessions: *sessions as u32,
        })
    }

    /// Sessions taken in.
    pub const fn sessions(&self) -> u32 {
        self.sessions
    }

    /// The cells as they are on a day.
    fn on(&self, day: i64) -> Vec<f64> {
        if self.sessions == 0 {
            return self.cells.clone();
        }
        let days = (day - self.day).max(0) as f64;
        let mut mean = GAIN * (days / 3.5).min(1.0);
        let mut variance = WANDERS * WANDERS * days.min(28.0) / 3.5;
        if days > 10.0 {
            let wide = (0.003 * (days - 10.0)).min(0.15);
            variance += wide * wide + 0.02 * 0.02;
        }
        if days > 21.0 {
            mean -= (0.0021 * (days - 21.0)).min(0.30);
        }
        let mut cells = spread(&Kernel::new(mean, variance), &self.cells);
        normalise(&mut cells);
        cells
    }

    /// Begins a session on a day, counted from any.
    pub fn begin(&self, day: i64) -> HoldDay {
        let before = spread(&Kernel::new(0.0, LUCK * LUCK), &self.on(day));
        let mut now = before.clone();
        normalise(&mut now);
        HoldDay {
            load: self.load,
            centre: self.centre,
            likely: vec![1.0; before.len()],
            before,
            now,
            costs: Vec::new(),
        }
    }

    /// Takes in a session: on which day, and its holds. One bad day is kept apart.
    pub fn take(&mut self, day: i64, sets: &[HoldSeen]) {
        let mut today = self.begin(day);
        for set in sets {
            today.observe(set);
        }
        self.cells = self.on(day);
        let likely = spread(&Kernel::new(0.0, LUCK * LUCK), &today.likely);
        for (cell, likely) in self.cells.iter_mut().zip(likely) {
            *cell *= likely;
        }
        normalise(&mut self.cells);
        self.day = day;
        self.sessions += 1;
    }
}

impl HoldDay {
    /// ln(seconds to failure) in a cell with a load, so tired.
    fn there(&self, cell: usize, load: f64, tired: f64) -> f64 {
        let (gain, off) = of_cell(cell);
        self.centre + off * STEP - BY_FORCE * libm::log(load / self.load) - gain * tired
    }

    /// What is left in a cell, after so many seconds more, of the holds of today.
    fn tired(&self, cell: usize, more: f64) -> f64 {
        let of = |(cost, since): &(Vec<f64>, f64)| {
            cost.get(cell).copied().unwrap_or(0.0) * left(since + more)
        };
        self.costs.iter().map(of).sum()
    }

    /// Takes in a hold that was done.
    pub fn observe(&mut self, set: &HoldSeen) {
        let normal = Normal::new();
        let seconds = set.seconds.max(1.0);
        let (held, mut cost) = (libm::log(seconds), vec![0.0; self.now.len()]);
        for (cell, cost) in cost.iter_mut().enumerate() {
            let there = self.there(cell, set.load, self.tired(cell, set.rest));
            let longer = normal.below((there - held) / NOISE);
            *cost = if set.failed {
                1.0
            } else {
                effort(seconds, libm::exp(there))
            };
            let likely = if set.failed {
                let bell = normal.bell((there - held) / EARLY);
                let density = bell / (EARLY * (2.0 * std::f64::consts::PI).sqrt());
                (1.0 - SLIP) * density + SLIP * longer
            } else {
                longer
            };
            if let Some(so_far) = self.likely.get_mut(cell).filter(|_| set.evidence) {
                *so_far *= likely + FLOOR;
            }
        }
        for (_, since) in &mut self.costs {
            *since += set.rest + seconds;
        }
        self.costs.push((cost, 0.0));
        self.settle();
    }

    /// Today by now; likelihoods are kept near 1.
    fn settle(&mut self) {
        let most = self.likely.iter().copied().fold(0.0, f64::max);
        if most > 0.0 {
            self.likely.iter_mut().for_each(|likely| *likely /= most);
        }
        let cells = self.before.iter().zip(&self.likely);
        self.now = cells.map(|(before, likely)| before * likely).collect();
        normalise(&mut self.now);
    }

    /// ln(seconds to failure) of each hold to come, in a cell.
    fn walk(&self, cell: usize, ahead: &HoldsAhead) -> Vec<f64> {
        let mut walked: Vec<f64> = Vec::with_capacity(ahead.sets as usize);
        let between = ahead.rest + ahead.seconds;
        for set in 0..ahead.sets {
            let mut tired = self.tired(cell, ahead.rest + f64::from(set) * between);
            for (back, there) in walked.iter().rev().enumerate() {
                let cost = effort(ahead.seconds, libm::exp(*there));
                tired += cost * left(ahead.rest + back as f64 * between);
            }
            walked.push(self.there(cell, ahead.load, tired));
        }
        walked
    }

    /// Cells that matter, with their weights.
    fn cells(&self) -> impl Iterator<Item = (usize, f64)> {
        let cells = self.now.iter().copied().enumerate();
        cells.filter(|(_, weight)| *weight > 1e-9)
    }

    /// The chance that every hold lasts as long as asked, slips among them.
    pub fn makes(&self, ahead: &HoldsAhead) -> f64 {
        let (normal, asked) = (Normal::new(), libm::log(ahead.seconds.max(1.0)));
        let one = |there: &f64| (1.0 - SLIP) * normal.below((there - asked) / NOISE);
        let of = |(cell, weight)| {
            let all: f64 = self.walk(cell, ahead).iter().map(one).product();
            weight * all
        };
        self.cells().map(of).sum()
    }

    /// Seconds to failure to expect of each hold: the middle of what is believed.
    pub fn to_failure(&self, ahead: &HoldsAhead) -> Vec<f64> {
        let mut mean = vec![0.0; ahead.sets as usize];
        for (cell, weight) in self.cells() {
            for (mean, there) in mean.iter_mut().zip(self.walk(cell, ahead)) {
                *mean += weight * there;
            }
        }
        mean.into_iter().map(libm::exp).collect()
    }
}
