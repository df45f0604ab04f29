//! Smoothing along strength: drift between sessions, and the luck of a day.

use super::grid::STEP;

/// Weights by which a distribution along strength is spread: the first moves it by `from` points.
#[derive(Clone, PartialEq, Debug)]
pub struct Kernel {
    from: isize,
    weights: Vec<f64>,
}

impl Kernel {
    /// A kernel of that mean and variance in ln(e1RM), exact in both where it is narrow.
    pub fn new(mean: f64, variance: f64) -> Self {
        let (mean, variance) = (mean / STEP, variance / (STEP * STEP));
        if variance.sqrt() < 0.9 {
            return Self::of_three(mean, variance);
        }
        let sd = variance.sqrt();
        let from = libm::floor(mean - 4.0 * sd) as isize;
        let to = libm::ceil(mean + 4.0 * sd) as isize;
        let weight = |at: isize| {
            let z = (at as f64 - mean) / sd;
            libm::exp(-0.5 * z * z)
        };
        Self::normalised(from, (from..=to).map(weight).collect())
    }

    /// Three points around the mean, of the right mean and variance.
    fn of_three(mean: f64, variance: f64) -> Self {
        let middle = libm::round(mean);
        let off = mean - middle;
        let second = (variance.min(0.6) + off * off).max(off.abs());
        Self {
            from: middle as isize - 1,
            weights: vec![(second - off) / 2.0, 1.0 - second, (second + off) / 2.0],
        }
    }

    /// A kernel of these weights, the first at `from`, made to sum to 1.
    pub fn normalised(from: isize, mut weights: Vec<f64>) -> Self {
        let sum: f64 = weights.iter().sum();
        for weight in &mut weights {
            *weight /= sum;
        }
        Self { from, weights }
    }

    /// The weights, the first at `from`.
    pub fn weights(&self) -> &[f64] {
        &self.weights
    }

    /// Spreads `line` into `into`: what falls beyond the ends is lost.
    pub fn spread(&self, line: &[f64], into: &mut [f64]) {
        into.fill(0.0);
        for (place, weight) in self.weights.iter().enumerate() {
            let shift = self.from + place as isize;
            let (to, from) = if shift >= 0 {
                (shift as usize, 0)
            } else {
                (0, shift.unsigned_abs())
            };
            let targets = into.get_mut(to..).unwrap_or_default();
            let sources = line.get(from..).unwrap_or_default();
            for (target, source) in targets.iter_mut().zip(sources) {
                *target += weight * source;
            }
        }
    }
}
