//! What a cell says a set would take: reps to failure by load, and what earlier sets cost.

use super::grid::Lane;

/// Seconds over which half of a set's fatigue goes: phosphocreatine comes back with a half-time
/// of 57 s (SD 7) by a power function (Bogdanis et al. 1995), and sets to failure fall alike with
/// 1 and 3 minutes of rest (`shared/reference/rest_interval_reps.csv`).
const RECOVERY: f64 = 60.0;
/// Seconds that a rep takes: the time that sets between two sets leave for recovery.
pub const REP_SECONDS: f64 = 3.0;
/// Bounds of reps to failure.
const FEWEST: f64 = 0.3;
const MOST: f64 = 60.0;

/// Reps to failure of a fresh lifter of that strength (`max`, e1RM in the unit of `load`).
#[inline]
pub fn fresh(max: f64, load: f64, lane: Lane) -> f64 {
    (1.0 + (max / load - 1.0) / lane.slope).clamp(FEWEST, MOST)
}

/// Spread of reps to failure around what the cell says: 0.7 at few reps, 1.1 at 12 (Mitter et al.
/// 2022).
#[inline]
pub fn spread(reps: f64) -> f64 {
    (0.36 + 0.0036 * reps * reps).sqrt()
}

/// Fatigue of a set of `done` reps where `capacity` were there: 1 at failure, and much less before,
/// since sets that stop short of it hold for two or three sets of the same rest after which sets to
/// failure fall at once (Ratamess et al. 2007).
#[inline]
pub fn effort(done: f64, capacity: f64) -> f64 {
    let share = (done / capacity).min(1.0);
    share * share * share
}

/// The share of a set's fatigue that is left after so many seconds.
#[inline]
pub fn left(seconds: f64) -> f64 {
    1.0 / (1.0 + seconds / RECOVERY)
}
