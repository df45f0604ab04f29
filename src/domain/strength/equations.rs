//! The published one-rep-max equations.

/// Epley 1985: w (1 + n/30); one rep is the load itself.
pub fn epley(load: f64, reps: u32) -> f64 {
    if reps <= 1 {
        load
    } else {
        load * (1.0 + f64::from(reps) / 30.0)
    }
}
