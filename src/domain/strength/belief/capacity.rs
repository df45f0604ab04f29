//! What a cell says a set would take: reps to failure by load, and what earlier sets cost.

use super::grid::Lane;

/// Seconds over which half of a set's fatigue goes.
const RECOVERY: f64 = 50.0;
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

/// Fatigue of a set of `done` reps where `capacity` were there.
#[inline]
pub fn effort(done: f64, capacity: f64) -> f64 {
    let share = (done / capacity).min(1.0);
    share * share
}

/// The share of a set's fatigue that is left after so many seconds.
#[inline]
pub fn left(seconds: f64) -> f64 {
    1.0 / (1.0 + seconds / RECOVERY)
}
