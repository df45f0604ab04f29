//! What a place has to train with, and which loads can be made from it.

mod build;
mod fixture;
mod lack;
mod lots;
mod makeable;
mod moves;
mod nested;
mod place;
mod steps;
mod sums;

pub use build::{Build, Makeable, Rig, Stack};
pub use fixture::{Fixture, Implement};
pub use lack::Lack;
pub use makeable::MOST_PER_RIG;
pub use moves::{MovePlan, Order, Rack, Stacks, Supply, Unmakeable, Wanted, moves_between};
pub use place::{Bar, Dumbbell, Fits, Handle, Place, Plate};
pub use steps::{above, at, below, nearest, not_above};

use super::units::name_type;

name_type! {
    /// A place's name in files: lower-case words joined by underscores.
    PlaceId
}
