//! What a policy proposes for an exercise's working sets.

use crate::domain::program::Ask;
use crate::domain::session::Asked;
use crate::domain::units::{Load, Reps, Seconds};

/// The working sets of an exercise, as they are to be.
#[derive(Clone, PartialEq, Debug)]
pub struct Proposal {
    /// With what.
    pub load: Load,
    /// Reps or seconds asked of each set.
    pub asked: u32,
    /// Load and reps of the first set, where they are not those of the others.
    pub first: Option<(Load, u32)>,
    /// How many sets.
    pub sets: u8,
    /// Sets before them that feel for the load.
    pub feelers: u8,
    /// Reps in reserve to aim for.
    pub spare: Option<u32>,
    /// Whether it is deload work: no evidence.
    pub deload: bool,
    /// Why, in one sentence.
    pub why: String,
}

/// A count of reps or seconds, as the ask counts them.
pub fn asked_of(ask: Ask, count: u32) -> Asked {
    match ask {
        Ask::Reps { .. } => Asked::Reps(Reps::clamped(count)),
        Ask::Hold { .. } => Asked::Hold(Seconds::clamped(count)),
    }
}
