//! How likely what was seen of a set is: a completed set says "at least", a missed one "about",
//! a report "about, and biased".

use super::normal::Normal;

/// How a set ended, as evidence.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Ending {
    /// At what was asked, or on purpose before it: more would have gone.
    Stopped {
        /// Reps in reserve, where the lifter said.
        spare: Option<f64>,
    },
    /// At failure: a miss, or as many as there were.
    Failed,
}

/// What keeps a belief from certainty.
const FLOOR: f64 = 1e-4;
/// Share of reports that say nothing: some people always say "two".
const EMPTY_REPORTS: f64 = 0.12;
const EMPTY: f64 = 0.3;
/// A report of so many or more only says "at least".
const MANY: f64 = 4.0;
/// Bias per rep reported, and at none.
const BIAS_PER_REP: f64 = 0.2;
const BIAS_AT_ONE: f64 = 0.4;
/// Share of misses that stop a rep early, and that a slip or a call ended.
const EARLY: f64 = 0.2;
const SLIP: f64 = 0.03;

/// The reps of a set, against what a cell says was there.
#[derive(Clone, Copy)]
pub struct Seen {
    /// Reps done.
    pub reps: f64,
    /// Reps to failure, by the cell.
    pub capacity: f64,
    /// Their spread.
    pub spread: f64,
}

/// The likelihood of a set without a report, or that failed.
#[inline]
pub fn of_reps(normal: Normal, seen: Seen, failed: bool) -> f64 {
    let Seen {
        reps,
        capacity,
        spread,
    } = seen;
    if !failed {
        return normal.below((capacity - reps) / spread) + FLOOR;
    }
    let below = |more: f64| normal.below((reps + more - capacity) / spread);
    let (none, one, two) = (below(0.0), below(1.0), below(2.0));
    let about = (1.0 - EARLY) * (one - none) + EARLY * (two - one);
    (1.0 - SLIP) * about + SLIP * EMPTY * (1.0 - none) + 1e-5
}

/// The likelihood of a set that was stopped with a report of `spare`, for each bias.
#[inline]
pub fn of_report<const N: usize>(
    normal: Normal,
    seen: Seen,
    spare: f64,
    biases: &[f64; N],
) -> [f64; N] {
    let Seen {
        reps,
        capacity,
        spread,
    } = seen;
    let made = normal.below((capacity - reps) / spread);
    let sd = if spare >= MANY {
        2.4
    } else if spare < 0.25 {
        1.0
    } else {
        1.0 + 0.35 * spare
    };
    let wide = 1.0 / (spread * spread + sd * sd).sqrt();
    biases.map(|bias| {
        let says = if spare >= MANY {
            normal.below((capacity - reps - MANY) * wide)
        } else if spare < 0.25 {
            normal.below((reps + 0.8 + 0.6 * bias - capacity) * wide)
        } else {
            let expected = reps + (1.0 + BIAS_PER_REP) * spare + BIAS_AT_ONE + bias;
            normal.bell((expected - capacity) * wide) * wide
        };
        made * normal.report((1.0 - EMPTY_REPORTS) * says + EMPTY_REPORTS * EMPTY) + FLOOR
    })
}
