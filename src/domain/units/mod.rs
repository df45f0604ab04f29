//! Quantities as types: masses, loads, counts, odds and instants, each with its bounds.

mod count;
mod load;
mod mass;
mod name;
mod time;

pub use count::{Odds, OutOfBounds, Predicted, Reps, Seconds, Spare};
pub use load::{BandStep, Load};
pub use mass::{Mass, MassError, Unit, Weight};
pub use name::is_name;
pub(crate) use name::name_type;
pub use time::{Boot, Civil, Millis, Now};
