//! A lifter's own noise: how much their days differ, and how often a set fails by a lapse. Shared
//! by their exercises and learned in the order of the journal.

use super::grid::STEP;
use super::kernel::Kernel;
use super::today::{Chances, SetSeen};

/// Nodes of the day-to-day spread of ln-strength.
const SPREADS: [f64; 6] = [0.015, 0.025, 0.035, 0.05, 0.07, 0.10];
/// Its middle (test-retest variation of 2 to 5 %: Grgic et al. 2020) and spread between people.
const SPREAD: f64 = 0.035;
const SPREAD_OF: f64 = 0.45;
/// Exercises of one day share their luck: each counts for less.
const SHARED: f64 = 0.7;
/// Points to either side that a day's luck reaches.
pub const REACH: usize = 15;

/// Nodes of the share of sets that a lapse spoils.
const LAPSES: [f64; 12] = [
    0.001, 0.003, 0.006, 0.01, 0.016, 0.025, 0.04, 0.06, 0.09, 0.13, 0.18, 0.25,
];
/// Middle and spread of that share where exactly the minimum is asked, and where more is. High
/// enough that the first sessions of a lifter far noisier than most are not overstated; those of
/// the others stay true (`tests/benches`, `simulate`).
const LAPSE: [(f64, f64); 2] = [(0.045, 0.9), (0.006, 1.2)];

/// No chance counts for more.
const SURE: f64 = 0.999;
/// From what chance on a set that asked more than the minimum tells of lapses at what it asked.
const LIKELY: f64 = 0.8;

/// Which sets a share of lapses is of.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Asks {
    /// Exactly the minimum was asked.
    Minimum,
    /// More than the minimum was asked, so that a rep lost costs nothing.
    More,
}

/// What is known of a lifter's noise.
#[derive(Clone, PartialEq, Debug)]
pub struct Noise {
    spread: [f64; SPREADS.len()],
    lapse: [[f64; LAPSES.len()]; 2],
}

impl Default for Noise {
    fn default() -> Self {
        Self {
            spread: [0.0; SPREADS.len()],
            lapse: LAPSE
                .map(|(middle, of)| normalised(LAPSES.map(|node| log_bell(node, middle, of)))),
        }
    }
}

fn log_bell(node: f64, middle: f64, of: f64) -> f64 {
    let z = libm::log(node / middle) / of;
    libm::exp(-0.5 * z * z)
}

fn normalised<const N: usize>(weights: [f64; N]) -> [f64; N] {
    let sum: f64 = weights.iter().sum();
    weights.map(|weight| weight / sum)
}

impl Noise {
    /// All that this is, as numbers; [`Noise::of_numbers`] makes the same of them.
    pub fn numbers(&self) -> Vec<f64> {
        let lapse = self.lapse.as_flattened();
        self.spread.iter().chain(lapse).copied().collect()
    }

    /// The noise of these numbers; `None` where no noise has them.
    pub fn of_numbers(numbers: &[f64]) -> Option<Self> {
        let (spread, lapse) = numbers.split_at_checked(SPREADS.len())?;
        let (minimum, more) = lapse.split_at_checked(LAPSES.len())?;
        Some(Self {
            spread: spread.try_into().ok()?,
            lapse: [minimum.try_into().ok()?, more.try_into().ok()?],
        })
    }

    /// A day's luck, as far as this lifter's days are known.
    pub fn day(&self) -> Kernel {
        let most = self
            .spread
            .iter()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max);
        let mut mixed = vec![0.0; 2 * REACH + 1];
        for (node, seen) in SPREADS.iter().zip(&self.spread) {
            let share = log_bell(*node, SPREAD, SPREAD_OF) * libm::exp(seen - most);
            for (sum, weight) in mixed.iter_mut().zip(luck(*node)) {
                *sum += share * weight;
            }
        }
        Kernel::normalised(-(REACH as isize), mixed)
    }

    /// Takes in how well a session agreed with each shift of the day's luck.
    pub fn learn_day(&mut self, agreed: &[f64]) {
        let likely = SPREADS.map(|node| {
            let weights = luck(node);
            weights.iter().zip(agreed).map(|(w, a)| w * a).sum::<f64>()
        });
        let most = likely.iter().copied().fold(0.0, f64::max);
        if most <= 0.0 {
            return;
        }
        for (seen, likely) in self.spread.iter_mut().zip(likely) {
            *seen += SHARED * libm::log((likely / most).max(1e-12));
        }
    }

    /// Takes in how a set went against its chances.
    pub fn learn_set(&mut self, set: &SetSeen, chances: Chances) {
        if !set.evidence {
            return;
        }
        let asks = if set.asked > set.least {
            Asks::More
        } else {
            Asks::Minimum
        };
        let least = set.least.min(set.asked);
        self.learn_lapse(asks, chances.least.min(SURE), set.reps >= least);
        if set.asked > set.least && chances.asked >= LIKELY {
            let made = set.reps >= set.asked;
            self.learn_lapse(Asks::Minimum, chances.asked.min(SURE), made);
        }
    }

    /// Takes in whether a set made what would have been made with the chance `p` but for a lapse.
    fn learn_lapse(&mut self, asks: Asks, p: f64, made: bool) {
        let weights = &mut self.lapse[asks as usize];
        for (weight, node) in weights.iter_mut().zip(LAPSES) {
            let makes = (1.0 - node) * p;
            *weight *= if made { makes } else { 1.0 - makes };
        }
        *weights = normalised(*weights);
    }

    /// Takes in, in part, how often the same lifter's sets were spoilt in another exercise.
    pub(super) fn hear(&mut self, other: &Self, share: f64) {
        let before = Self::default();
        let all = self.lapse.iter_mut().zip(&other.lapse).zip(&before.lapse);
        for ((own, other), before) in all {
            for ((own, other), before) in own.iter_mut().zip(other).zip(before) {
                *own *= libm::pow((other / before).max(1e-6), share);
            }
            *own = normalised(*own);
        }
    }

    /// The chance that none of `sets` sets is spoilt by a lapse.
    pub fn spared(&self, asks: Asks, sets: u32) -> f64 {
        let weights = &self.lapse[asks as usize];
        let of = |(weight, node): (&f64, f64)| weight * libm::pow(1.0 - node, f64::from(sets));
        weights.iter().zip(LAPSES).map(of).sum()
    }
}

/// The luck of days that spread by `sd`, cut and normalised.
fn luck(sd: f64) -> Vec<f64> {
    let weight = |at: usize| {
        let z = (at as f64 - REACH as f64) * STEP / sd;
        libm::exp(-0.5 * z * z)
    };
    let weights: Vec<f64> = (0..=2 * REACH).map(weight).collect();
    let sum: f64 = weights.iter().sum();
    weights.into_iter().map(|weight| weight / sum).collect()
}
