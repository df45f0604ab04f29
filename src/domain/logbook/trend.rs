//! Whether an exercise goes up, goes down, or does nothing that can be told: a line through what
//! its sessions say, with an error that knows how they scatter.
//!
//! The line is a robust regression (Huber's weights) of each session's ln-strength on the day, with
//! two more unknowns held near what is usual: the lifter's own rep slope, so that a change from
//! twelves to fives is no change of strength, and the reps that an untold reserve hides. The error
//! is widened for sessions that follow their neighbours (first-order autocorrelation), and for a
//! reserve that may itself have drifted.

use super::fit::{COEFFICIENTS, Normal};

/// Share of the one-rep max that a rep costs, in the middle of published equations.
pub const REP_COST: f64 = 0.036;
/// Its spread between people.
const REP_COST_SPREAD: f64 = 0.009;
/// Reps in reserve of a set of which nothing was said, and how far off that may be.
pub const UNTOLD: f64 = 1.5;
const UNTOLD_SPREAD: f64 = 1.5;
/// Reps by which a reserve may have drifted from the beginning to the end: of sets of which it was
/// told, and of those of which it was not.
const DRIFT: (f64, f64) = (0.4, 0.9);
/// No session is surer than this, in ln-strength: half the test-retest variation of a tested
/// one-rep max (4.2 % in the middle of 32 studies: Grgic et al. 2020).
const LEAST_SPREAD: f64 = 0.021;
/// Residuals beyond so many spreads weigh less.
const FAR: f64 = 1.5;
/// Rounds of weighing.
const ROUNDS: usize = 6;
/// Spreads to either side that a band holds; more of few sessions.
const SURE: f64 = 3.1;
const FEW: f64 = 10.0;
/// The fewest sessions that tell.
pub const TOO_FEW: usize = 6;
/// The fewest days from the first of them to the last.
pub const TOO_SHORT: f64 = 21.0;
/// Days of a month.
const MONTH: f64 = 365.25 / 12.0;

/// What one session says.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Point {
    /// The day, counted from any.
    pub day: f64,
    /// ln of what is followed.
    pub value: f64,
    /// What a change of the rep slope would change of it.
    pub slope: f64,
    /// What a rep in reserve would change of it.
    pub rep: f64,
    /// The share of its sets of whose reserve nothing was said.
    pub untold: f64,
}

/// A line through the sessions.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Trend {
    /// Change of the logarithm a day, and the half-width of its band: it is as good as surely
    /// inside (three standard errors).
    slope: f64,
    band: f64,
    /// A day, and the logarithm there, on the line.
    day: f64,
    value: f64,
    /// Sessions, and the days from the first to the last.
    pub sessions: usize,
    /// Days from the first to the last.
    pub days: f64,
}

/// What the line says.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Verdict {
    /// It goes up.
    Up,
    /// It goes down.
    Down,
    /// No change that can be told.
    NoChange,
}

impl Trend {
    /// The trend of these sessions, oldest first; none of too few, or of too short a time.
    pub fn of(points: &[Point]) -> Option<Self> {
        let (first, last) = (points.first()?.day, points.last()?.day);
        let days = last - first;
        if points.len() < TOO_FEW || days < TOO_SHORT {
            return None;
        }
        let number = points.len() as f64;
        let middle = points.iter().map(|point| point.day).sum::<f64>() / number;
        let slope = points.iter().map(|point| point.slope).sum::<f64>() / number;
        let rows: Vec<[f64; COEFFICIENTS]> = points
            .iter()
            .map(|point| {
                let along = (point.day - middle) / days;
                [1.0, along, point.slope - slope, point.untold * point.rep]
            })
            .collect();
        let values: Vec<f64> = points.iter().map(|point| point.value).collect();
        let fitted = fit(&rows, &values)?;
        let drift = drift(points);
        let error = (fitted.error * fitted.error + drift * drift).sqrt();
        let sure = SURE + FEW / (number - 2.0);
        Some(Self {
            slope: fitted.change / days,
            band: sure * error / days,
            day: middle,
            value: fitted.level,
            sessions: points.len(),
            days,
        })
    }

    /// What the line says: a change only where it is beyond its band.
    pub fn verdict(&self) -> Verdict {
        if self.slope > self.band {
            Verdict::Up
        } else if self.slope < -self.band {
            Verdict::Down
        } else {
            Verdict::NoChange
        }
    }

    /// Change a month, as a share: 0.02 is 2 % more.
    pub fn monthly(&self) -> f64 {
        libm::expm1(self.slope * MONTH)
    }

    /// How far the change a month may be off, as a share, to either side.
    pub fn monthly_band(&self) -> f64 {
        libm::expm1(self.band * MONTH)
    }

    /// Change from the first session to the last, and how far it may be off, as shares.
    pub fn whole(&self) -> (f64, f64) {
        let of = |slope: f64| libm::expm1(slope * self.days);
        (of(self.slope), of(self.band))
    }

    /// The logarithm on the line on a day.
    pub fn at(&self, day: f64) -> f64 {
        self.value + self.slope * (day - self.day)
    }
}

/// What a regression found: the level in the middle, the change over all days, its standard error.
struct Fitted {
    level: f64,
    change: f64,
    error: f64,
}

fn fit(rows: &[[f64; COEFFICIENTS]], values: &[f64]) -> Option<Fitted> {
    let mut weights = vec![1.0; rows.len()];
    let mut spread = LEAST_SPREAD * 2.0;
    let mut solved = None;
    for _ in 0..ROUNDS {
        let mut normal = Normal::new([
            0.0,
            0.0,
            (spread / REP_COST_SPREAD).powi(2),
            (spread / UNTOLD_SPREAD).powi(2),
        ]);
        for ((row, value), weight) in rows.iter().zip(values).zip(&weights) {
            normal.add(row, *value, *weight);
        }
        let (coefficients, covariance) = normal.solve()?;
        let residuals: Vec<f64> = rows
            .iter()
            .zip(values)
            .map(|(row, value)| {
                let fits = row.iter().zip(coefficients).map(|(x, c)| x * c);
                value - fits.sum::<f64>()
            })
            .collect();
        let square = residuals.iter().zip(&weights).map(|(r, w)| w * r * r);
        let free = (rows.len() as f64 - 3.0).max(1.0);
        spread = (square.sum::<f64>() / free).sqrt().max(LEAST_SPREAD);
        for (weight, residual) in weights.iter_mut().zip(&residuals) {
            *weight = (FAR * spread / residual.abs().max(1e-12)).min(1.0);
        }
        solved = Some((coefficients, covariance, residuals));
    }
    let (coefficients, covariance, residuals) = solved?;
    let [level, change, ..] = coefficients;
    let wide = spread * (covariance * follows(&residuals)).sqrt();
    Some(Fitted {
        level,
        change,
        error: wide,
    })
}

/// By how much the variance of a slope grows where each session follows the one before: (1 + r) by
/// (1 - r), r being the first-order autocorrelation, its bias of few sessions made good.
fn follows(residuals: &[f64]) -> f64 {
    let squares: f64 = residuals.iter().map(|r| r * r).sum();
    let pairs = residuals.iter().zip(residuals.iter().skip(1));
    let products: f64 = pairs.map(|(a, b)| a * b).sum();
    if squares <= 0.0 {
        return 1.0;
    }
    let seen = products / squares;
    let r = (seen + (1.0 + 4.0 * seen) / residuals.len() as f64).clamp(0.0, 0.85);
    (1.0 + r) / (1.0 - r)
}

/// Standard error of the change over all days from a reserve that may have drifted.
fn drift(points: &[Point]) -> f64 {
    let number = points.len() as f64;
    let mean = |of: fn(&Point) -> f64| points.iter().map(of).sum::<f64>() / number;
    let untold = mean(|point| point.untold);
    let (told, not) = DRIFT;
    mean(|point| point.rep) * (told * (1.0 - untold) + not * untold)
}
