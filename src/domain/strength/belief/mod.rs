//! What is believed of a lifter's strength in one exercise: a distribution over strength, rep
//! slope, fatigue gain and bias of reports that every recorded set updates.
//!
//! Any unit of mass will do, so long as an exercise keeps to it: nothing here knows kilograms.

mod capacity;
mod grid;
mod holds;
mod kernel;
mod likelihood;
mod noise;
mod normal;
mod others;
mod outlook;
mod today;
mod track;

pub use holds::{HoldDay, HoldSeen, Holds, HoldsAhead};
pub use likelihood::Ending;
pub use noise::{Asks, Noise};
pub use others::Others;
pub use outlook::{Ahead, Forecast, Outlook};
pub use today::{Chances, SetSeen, Today};
pub use track::Track;

use grid::{BIASES, CELLS, LANES, MIDDLE, STEP, THETA, biases, lanes, prior_of};
use kernel::Kernel;

/// Spread of ln(e1RM) around what is usual for the kind of lifter: published variation of strength
/// between people of one class of 25 to 40 %, its middle, and an error of the guess of a sixth.
pub const USUAL_SPREAD: f64 = 0.36;
/// The same where nothing is known of the person.
pub const UNKNOWN_SPREAD: f64 = 0.6;
/// Spread of a lifter's own guess of a load.
const GUESS_SPREAD: f64 = 0.22;
/// Reps in reserve that an own guess leaves.
const GUESS_SPARE: f64 = 2.0;
/// Gain of ln-strength in half a week of training, for whoever trains: 0.2 % a week in men and 0.29
/// in women who compete in strength (Latella et al. 2020).
const TRAINED_GAIN: f64 = 0.0012;
/// The slowest fall from point to point beyond the end of a line: that of a prior at the end.
const FLATTEST_END: f64 = 0.8;
/// Points off the middle at which a belief is centred anew.
const OFF_MIDDLE: isize = 20;

/// How fast strength comes at first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Learning {
    /// Little trained.
    Novice,
    /// Trained before, and now again.
    Returning,
    /// In training.
    Trained,
}

impl Learning {
    /// Gain of ln-strength from one session to the next after so many, above that of the trained.
    fn gain(self, sessions: f64) -> f64 {
        match self {
            // One percent a session at first (ACSM 2009), by the logarithm of time: a sixth in
            // twelve weeks, a third to a half in a year (Mayhew et al. 2008, Steele et al. 2022).
            Self::Novice => 0.010 / (1.0 + sessions / 12.0),
            // What ten weeks off took is back in five (Halonen et al. 2024): twice as fast.
            Self::Returning => 0.020 * libm::exp(-sessions / 8.0),
            Self::Trained => 0.0,
        }
    }
}

/// Where a belief begins.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Start {
    /// A one-rep max to expect.
    pub expected: f64,
    /// Spread of ln(e1RM) around it.
    pub spread: f64,
    /// The lifter's own guess of a load, and the least reps that it is for.
    pub guess: Option<(f64, f64)>,
    /// How fast strength comes at first.
    pub learning: Learning,
}

/// What was believed after a session.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Believed {
    /// The session's day, counted from the common era.
    pub day: i32,
    /// Mean of ln(e1RM).
    pub mean: f64,
    /// Its spread.
    pub spread: f64,
}

/// What is believed of a lifter's strength in one exercise.
#[derive(Clone, PartialEq, Debug)]
pub struct Belief {
    /// ln(e1RM) of the middle point.
    centre: f64,
    /// Weights of all cells; they sum to 1.
    cells: Vec<f64>,
    learning: Learning,
    sessions: u32,
    /// The largest reserve that was ever reported.
    most_told: f64,
}

impl Belief {
    /// How many numbers it is, beside how fast strength comes at first.
    const NUMBERS: usize = 3 + CELLS;

    fn put_numbers(&self, numbers: &mut Vec<f64>) {
        numbers.extend([self.centre, self.sessions.into(), self.most_told]);
        numbers.extend(&self.cells);
    }

    fn of_numbers(numbers: &[f64], learning: Learning) -> Option<Self> {
        let [centre, sessions, most_told, cells @ ..] = numbers else {
            return None;
        };
        (cells.len() == CELLS).then(|| Self {
            centre: *centre,
            cells: cells.to_vec(),
            learning,
            sessions: *sessions as u32,
            most_told: *most_told,
        })
    }

    /// The belief before anything was seen.
    pub fn new(start: Start) -> Self {
        let centre = libm::log(start.expected);
        let mut cells = vec![0.0; CELLS];
        let lanes = lanes();
        for (row, line) in cells.chunks_exact_mut(THETA).enumerate() {
            let lane = row / BIASES;
            let slope = lanes.get(lane).map_or(0.0, |lane| lane.slope);
            let (mean, sd) = start.strength(slope);
            let prior = prior_of(lane, row % BIASES);
            let mut shape = [0.0; THETA];
            for (point, weight) in shape.iter_mut().enumerate() {
                let theta = centre + (point as f64 - MIDDLE as f64) * STEP;
                *weight = libm::exp(-0.5 * ((theta - mean) / sd) * ((theta - mean) / sd));
            }
            let sum: f64 = shape.iter().sum();
            for (cell, weight) in line.iter_mut().zip(shape) {
                *cell = prior * weight / sum;
            }
        }
        let mut belief = Self {
            centre,
            cells,
            learning: start.learning,
            sessions: 0,
            most_told: 0.0,
        };
        belief.normalise();
        belief
    }

    /// Sessions taken in.
    pub const fn sessions(&self) -> u32 {
        self.sessions
    }

    /// Lets so many days pass since the last session.
    pub fn pass(&mut self, days: f64) {
        if self.sessions == 0 {
            return;
        }
        let gain = self.learning.gain(f64::from(self.sessions));
        let mut mean = gain * (days / 3.5).min(1.0) + TRAINED_GAIN * days.min(7.0) / 3.5;
        let mut variance = 0.010 * 0.010 * days.min(28.0) / 3.5;
        if days > 10.0 {
            let wide = (0.003 * (days - 10.0)).min(0.15);
            variance += wide * wide + 0.02 * 0.02;
        }
        if days > 21.0 {
            // Nothing for three weeks, then 1.5 % a week (McMaster et al. 2013, from memory).
            mean -= (0.0021 * (days - 21.0)).min(0.30);
        }
        let kernel = Kernel::new(mean, variance);
        let mut line = [0.0; THETA];
        for cells in self.cells.chunks_exact_mut(THETA) {
            kernel.spread(cells, &mut line);
            cells.copy_from_slice(&line);
        }
        self.normalise();
    }

    /// Mean and spread of ln(e1RM).
    pub fn strength(&self) -> (f64, f64) {
        let (mut mean, mut square) = (0.0, 0.0);
        for cells in self.cells.chunks_exact(THETA) {
            for (point, weight) in cells.iter().enumerate() {
                let off = (point as f64 - MIDDLE as f64) * STEP;
                mean += weight * off;
                square += weight * off * off;
            }
        }
        (self.centre + mean, (square - mean * mean).max(0.0).sqrt())
    }

    /// The weight of a lane and bias.
    fn weight_of(&self, lane: usize, bias: usize) -> f64 {
        let from = (lane * BIASES + bias) * THETA;
        let line = self.cells.get(from..from + THETA).unwrap_or_default();
        line.iter().sum()
    }

    fn normalise(&mut self) {
        let sum: f64 = self.cells.iter().sum();
        if sum > 0.0 {
            for cell in &mut self.cells {
                *cell /= sum;
            }
        }
    }

    /// Moves the grid under a belief that has drifted off its middle.
    fn recentre(&mut self) {
        let off = (self.strength().0 - self.centre) / STEP;
        let shift = libm::round(off) as isize;
        if shift.abs() < OFF_MIDDLE {
            return;
        }
        let by = shift.unsigned_abs().min(THETA);
        for cells in self.cells.chunks_exact_mut(THETA) {
            if shift > 0 {
                slide(cells, by);
            } else {
                cells.reverse();
                slide(cells, by);
                cells.reverse();
            }
        }
        self.centre += shift as f64 * STEP;
        self.normalise();
    }
}

/// Moves a line down by so many points. What comes in at its end goes on falling as it fell there:
/// nothing beyond the old end was ruled out, and a belief must be able to go there.
fn slide(line: &mut [f64], by: usize) {
    let fall = match line {
        [.., before, last] if *before > 0.0 => (*last / *before).min(FLATTEST_END),
        _ => 0.0,
    };
    let mut value = line.last().copied().unwrap_or(0.0);
    line.rotate_left(by);
    let kept = line.len() - by;
    for cell in line.iter_mut().skip(kept) {
        value *= fall;
        *cell = value;
    }
}

impl Start {
    /// Mean and spread of ln(e1RM), for a rep slope: a guess of a load says something of it.
    fn strength(&self, slope: f64) -> (f64, f64) {
        let mean = libm::log(self.expected);
        let Some((load, reps)) = self.guess else {
            return (mean, self.spread);
        };
        let guess = libm::log(load * (1.0 + slope * (reps - 1.0 + GUESS_SPARE)));
        let (a, b) = (self.spread.powi(-2), GUESS_SPREAD.powi(-2));
        ((a * mean + b * guess) / (a + b), 1.0 / (a + b).sqrt())
    }
}
