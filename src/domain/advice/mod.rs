//! The next load, and why.

use super::session::Asked;
use super::units::Load;

/// What the coming sets of an exercise should be now.
#[derive(Clone, PartialEq, Debug)]
pub struct Revision {
    /// With what.
    pub load: Load,
    /// How much.
    pub asked: Asked,
    /// Why, in one line.
    pub say: String,
}
