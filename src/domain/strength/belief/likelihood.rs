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
/// From so many on, a report as large as any that the lifter ever gave only says "at least": some
/// never say more than four or five.
const MANY: f64 = 4.0;
/// Spread of reports around what is there, at none and per rep reported: with that of the bias,
/// 1.6, 2.2 and 2.9 reps at one, three and five spare, where 1.7, 2.5 and 2.9 were found (Zourdos
/// et al. 2021).
const REPORT_SPREAD: f64 = 1.0;
const REPORT_SPREAD_PER_REP: f64 = 0.35;
/// Bias per rep reported: errors grow by about a tenth of a rep
/// (`shared/reference/rir_accuracy.csv`).
const BIAS_PER_REP: f64 = 0.1;
/// Bias per rep of the whole set above so many (Halperin et al. 2022; Zourdos et al. 2021).
const BIAS_PER_LONG_REP: f64 = 0.2;
const LONG: f64 = 12.0;
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

/// What a lifter said of the reserve.
#[derive(Clone, Copy)]
pub struct Report {
    /// Reps in reserve.
    pub spare: f64,
    /// The most that this lifter ever reported before.
    pub most: f64,
}

/// The likelihood of a set that was stopped with a report, for each bias.
#[inline]
pub fn of_report<const N: usize>(
    normal: Normal,
    seen: Seen,
    report: Report,
    biases: &[f64; N],
) -> [f64; N] {
    let Seen {
        reps,
        capacity,
        spread,
    } = seen;
    let Report { spare, most } = report;
    let at_least = spare >= MANY.max(most);
    let made = normal.below((capacity - reps) / spread);
    let sd = REPORT_SPREAD + REPORT_SPREAD_PER_REP * spare;
    let wide = 1.0 / (spread * spread + sd * sd).sqrt();
    biases.map(|bias| {
        let says = if at_least {
            normal.below((capacity - reps - spare) * wide)
        } else if spare < 0.25 {
            normal.below((reps + 0.8 + 0.6 * bias - capacity) * wide)
        } else {
            normal.bell((meant(reps, spare) + bias - capacity) * wide) * wide
        };
        made * normal.report((1.0 - EMPTY_REPORTS) * says + EMPTY_REPORTS * EMPTY) + FLOOR
    })
}

/// Reps to failure that a report of `spare` after so many stands for, a lifter's own bias left out.
/// Reps are counted whole, so that half a rep more was there.
fn meant(reps: f64, spare: f64) -> f64 {
    let told = reps + spare;
    told + 0.5 + BIAS_PER_REP * spare + BIAS_PER_LONG_REP * (told - LONG).max(0.0)
}
