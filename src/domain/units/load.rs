//! What a set is done with: a mass, the body plus or minus a mass, or a band's step.

use super::{Mass, Unit, Weight};
use std::{cmp::Ordering, fmt};

/// A band's place in the order of a place's bands, the lightest being 1.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct BandStep(pub u8);

/// What a set is done with. A dumbbell's load is per hand.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Load {
    /// A mass: per hand, of one dumbbell, or of the whole bar.
    Mass(Weight),
    /// The body, plus (or, negative, minus) a mass.
    Body(Weight),
    /// One of the place's bands.
    Band(BandStep),
}

impl Load {
    /// The body and nothing added.
    pub const fn body(unit: Unit) -> Self {
        Self::Body(Weight::new(Mass::ZERO, unit))
    }

    /// The mass that is entered: of the implement, or added to the body. None for a band.
    pub const fn entered(self) -> Option<Weight> {
        match self {
            Self::Mass(weight) | Self::Body(weight) => Some(weight),
            Self::Band(_) => None,
        }
    }

    /// Orders two loads of one kind from light to heavy; different kinds do not compare.
    pub fn heavier(self, other: Self) -> Option<Ordering> {
        match (self, other) {
            (Self::Mass(a), Self::Mass(b)) | (Self::Body(a), Self::Body(b)) => {
                Some(a.mass.cmp(&b.mass))
            }
            (Self::Band(a), Self::Band(b)) => Some(a.cmp(&b)),
            (Self::Mass(_) | Self::Body(_) | Self::Band(_), _) => None,
        }
    }
}

impl fmt::Display for Load {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mass(weight) => weight.fmt(f),
            Self::Body(weight) => match weight.mass.cmp(&Mass::ZERO) {
                Ordering::Less => write!(f, "body {weight}"),
                Ordering::Equal => f.write_str("body"),
                Ordering::Greater => write!(f, "body +{weight}"),
            },
            Self::Band(step) => write!(f, "band {}", step.0),
        }
    }
}
