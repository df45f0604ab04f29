//! What a lifter's other exercises say of one: how reps fall with load, how sets tire, how reports
//! err and how often a set is spoilt belong to the lifter more than to the exercise. How much days
//! differ is not heard: it was tried on simulated lifters, and cost more missed sets than it told.

use super::grid::{BIASES, GAINS, LANES, SLOPES, THETA, prior_of};
use super::{Belief, Noise};

/// How much the slope and the gain of another exercise count: people differ by exercise too.
const LIKE: f64 = 0.5;
/// So many exercises are heard in full; more of them share that weight.
const HEARD: f64 = 2.0;

/// What other exercises say, as evidence alone: what was believed before any set is left out, so
/// that each set counts once.
#[derive(Clone, PartialEq, Debug)]
pub struct Others {
    /// Log evidence.
    slope: [f64; SLOPES],
    gain: [f64; GAINS],
    bias: [f64; BIASES],
    noise: Vec<Noise>,
    heard: f64,
}

impl Default for Others {
    fn default() -> Self {
        Self {
            slope: [0.0; SLOPES],
            gain: [0.0; GAINS],
            bias: [0.0; BIASES],
            noise: Vec::new(),
            heard: 0.0,
        }
    }
}

impl Others {
    /// Hears another exercise.
    pub fn hear(&mut self, belief: &Belief, noise: &Noise) {
        let now = Traits::of(|lane, bias| belief.weight_of(lane, bias));
        let before = Traits::of(prior_of);
        add(&mut self.slope, &now.slope, &before.slope);
        add(&mut self.gain, &now.gain, &before.gain);
        add(&mut self.bias, &now.bias, &before.bias);
        self.noise.push(noise.clone());
        self.heard += 1.0;
    }

    fn share(&self) -> f64 {
        (HEARD / self.heard).min(1.0)
    }

    /// A belief in the light of it.
    pub(super) fn tell(&self, belief: &mut Belief) {
        if self.heard == 0.0 {
            return;
        }
        let share = self.share();
        let said = |of: &[f64], node: usize| of.get(node).copied().unwrap_or(0.0);
        for (row, cells) in belief.cells.chunks_exact_mut(THETA).enumerate() {
            let (lane, bias) = (row / BIASES, row % BIASES);
            let alike = said(&self.slope, lane / GAINS) + said(&self.gain, lane % GAINS);
            let factor = libm::exp(share * (LIKE * alike + said(&self.bias, bias)));
            cells.iter_mut().for_each(|cell| *cell *= factor);
        }
        belief.normalise();
    }

    /// A lifter's noise in the light of it.
    pub fn noise(&self, own: &Noise) -> Noise {
        let mut noise = own.clone();
        for other in &self.noise {
            noise.hear(other, self.share());
        }
        noise
    }
}

/// The weight of each slope, gain and bias.
struct Traits {
    slope: [f64; SLOPES],
    gain: [f64; GAINS],
    bias: [f64; BIASES],
}

impl Traits {
    fn of(weight: impl Fn(usize, usize) -> f64) -> Self {
        let mut traits = Self {
            slope: [0.0; SLOPES],
            gain: [0.0; GAINS],
            bias: [0.0; BIASES],
        };
        for (lane, bias) in (0..LANES).flat_map(|lane| (0..BIASES).map(move |bias| (lane, bias))) {
            let weight = weight(lane, bias);
            traits.slope[lane / GAINS] += weight;
            traits.gain[lane % GAINS] += weight;
            traits.bias[bias] += weight;
        }
        traits
    }
}

/// Adds the log of how much more likely each node has become.
fn add<const N: usize>(sum: &mut [f64; N], now: &[f64; N], before: &[f64; N]) {
    for ((sum, now), before) in sum.iter_mut().zip(now).zip(before) {
        *sum += libm::log((now / before).max(1e-6));
    }
}
