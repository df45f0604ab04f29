//! What to fetch and put together for a load.

use crate::domain::units::{BandStep, Load, Mass, Unit, Weight};
use std::fmt;
use std::sync::Arc;

/// A load that a place can make, and how.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Makeable {
    /// The load.
    pub load: Load,
    /// What makes it.
    pub build: Build,
}

/// The plates on one end of a handle or bar, inner to outer.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Stack(pub Vec<Weight>);

/// What takes plates, all its ends alike.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Rig {
    /// Two dumbbell handles alike.
    Handles,
    /// One dumbbell handle.
    Handle,
    /// A bar.
    Bar,
}

/// What to fetch for a load.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Build {
    /// Nothing: the body is enough.
    Body,
    /// Fixed dumbbells alike.
    Dumbbells {
        /// How heavy each is.
        each: Weight,
        /// One or two.
        count: u8,
    },
    /// Plates on a rig.
    Loaded {
        /// What they go on.
        rig: Rig,
        /// Which one, where the place has several of the kind.
        which: Option<Arc<str>>,
        /// The plates of one end.
        stack: Stack,
    },
    /// A plate held or hung.
    Plate(Weight),
    /// A band.
    Band {
        /// Its place in the order of bands.
        step: BandStep,
        /// Its name.
        name: Arc<str>,
    },
}

impl Rig {
    /// How many ends carry the same plates.
    pub const fn ends(self) -> u8 {
        match self {
            Self::Handles => 4,
            Self::Handle | Self::Bar => 2,
        }
    }

    /// What it is called without a plate on it.
    const fn bare(self) -> &'static str {
        match self {
            Self::Handles => "empty handles",
            Self::Handle => "empty handle",
            Self::Bar => "empty bar",
        }
    }
}

impl Stack {
    /// How heavy the plates of this end are together.
    pub fn mass(&self) -> Mass {
        self.0.iter().map(|plate| plate.mass).sum()
    }

    /// How many plates, counted from the inner end, two stacks have in common.
    pub fn shared_with(&self, other: &Self) -> usize {
        let pairs = self.0.iter().zip(&other.0);
        pairs.take_while(|(a, b)| a.mass == b.mass).count()
    }
}

/// Plates as a person lists them: kilograms without a unit, pounds with theirs, so that a plate of
/// 25 lb is never taken for one of 25 kg.
pub(super) fn list_plates(plates: &[Weight]) -> String {
    let alike = |unit: Unit| plates.iter().all(|plate| plate.unit == unit);
    let (kilograms, pounds) = (alike(Unit::Kg), alike(Unit::Lb));
    let names = plates.iter().map(|plate| {
        if kilograms || pounds {
            plate.number()
        } else {
            plate.to_string()
        }
    });
    let names = names.collect::<Vec<_>>().join(" + ");
    if pounds && !plates.is_empty() {
        format!("{names} {}", Unit::Lb.symbol())
    } else {
        names
    }
}

impl fmt::Display for Stack {
    /// "5 + 2.5", "45 + 5 lb", or "nothing".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_empty() {
            return f.write_str("nothing");
        }
        f.write_str(&list_plates(&self.0))
    }
}

impl fmt::Display for Build {
    /// As a person says it: "22 kg dumbbells", "5 + 2.5 each end", "band 2, the green one".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Body => f.write_str("nothing to fetch"),
            Self::Dumbbells { each, count: 1 } => write!(f, "{each} dumbbell"),
            Self::Dumbbells { each, .. } => write!(f, "{each} dumbbells"),
            Self::Loaded { rig, which, stack } => {
                if let Some(which) = which {
                    write!(f, "{which}: ")?;
                }
                if stack.0.is_empty() {
                    f.write_str(rig.bare())
                } else {
                    write!(f, "{stack} each end")
                }
            }
            Self::Plate(weight) => write!(f, "{weight} plate"),
            Self::Band { step, name } => write!(f, "band {}, the {name} one", step.0),
        }
    }
}
