//! What a place has to train with, and which loads can be made from it.

mod at_once;
mod build;
mod change;
mod fixture;
mod lack;
mod lots;
mod makeable;
mod moves;
mod nested;
mod place;
mod steps;
mod stock;
mod sums;
mod together;
mod turns;

pub use at_once::Clash;
pub use build::{Build, Makeable, Rig, Stack};
pub use fixture::{Fixture, Implement};
pub use lack::Lack;
pub use makeable::MOST_PER_RIG;
pub use moves::{MovePlan, Order, Rack, Stacks, Supply, Unmakeable, Wanted, moves_between};
pub use place::{Bar, Dumbbell, Fits, Handle, Place, Plate};
pub use steps::{above, at, below, nearest, not_above};
pub use stock::{Carrier, Demand, Standing, Stock};
pub use together::{Step, Together};

use super::units::name_type;

name_type! {
    /// A place's name in files: lower-case words joined by underscores.
    PlaceId
}
