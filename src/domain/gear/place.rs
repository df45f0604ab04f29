//! A place: a named collection of gear.

use super::{Fixture, PlaceId};
use crate::domain::units::{Unit, Weight};
use std::collections::BTreeSet;

/// A named collection of gear. A session happens at one place.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Place {
    /// Its name in files.
    pub id: PlaceId,
    /// Its name for people.
    pub name: String,
    /// The unit of loads that gear of both units makes together, and of the body alone.
    pub unit: Unit,
    /// Dumbbells that are as heavy as they are.
    pub dumbbells: Vec<Dumbbell>,
    /// Dumbbell handles that take plates.
    pub handles: Vec<Handle>,
    /// Bars that take plates; where two can make a load, the one named first does.
    pub bars: Vec<Bar>,
    /// Plates.
    pub plates: Vec<Plate>,
    /// Bands by name, from the lightest to the heaviest.
    pub bands: Vec<String>,
    /// What stands there.
    pub fixtures: BTreeSet<Fixture>,
    /// Whether the rack has safeties that catch a bar.
    pub safeties: bool,
    /// Whether plates may lie in any order where that saves moves, not the largest inside.
    pub any_order: bool,
}

/// Fixed dumbbells of one weight.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Dumbbell {
    /// How heavy each is.
    pub weight: Weight,
    /// How many there are: two make a pair.
    pub count: u8,
}

/// Dumbbell handles alike.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Handle {
    /// How heavy one is without plates and collars.
    pub weight: Weight,
    /// How heavy both collars of one handle are; they go on with the first plate.
    pub collars: Weight,
    /// How many there are: two make a pair.
    pub count: u8,
    /// The most plates that one end holds, where that limits.
    pub sleeve: Option<u8>,
}

/// A bar.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Bar {
    /// Its name for people.
    pub name: String,
    /// How heavy it is without plates and collars.
    pub weight: Weight,
    /// How heavy both collars are; they go on with the first plate.
    pub collars: Weight,
    /// The most plates that one end holds, where that limits.
    pub sleeve: Option<u8>,
}

/// What a plate's hole fits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Fits {
    /// Handles and bars.
    #[default]
    All,
    /// Handles only.
    Handles,
    /// Bars only.
    Bars,
}

/// Plates alike.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Plate {
    /// How heavy one is.
    pub weight: Weight,
    /// How many there are.
    pub count: u8,
    /// What they go on.
    pub fits: Fits,
}

impl Place {
    /// A place with nothing in it.
    pub fn empty(id: PlaceId, name: &str, unit: Unit) -> Self {
        Self {
            id,
            name: name.to_owned(),
            unit,
            dumbbells: Vec::new(),
            handles: Vec::new(),
            bars: Vec::new(),
            plates: Vec::new(),
            bands: Vec::new(),
            fixtures: BTreeSet::new(),
            safeties: false,
            any_order: false,
        }
    }

    /// Whether this stands there. A bench whose back can be raised is a flat bench too.
    pub fn has(&self, fixture: Fixture) -> bool {
        self.fixtures.contains(&fixture)
            || (fixture == Fixture::Bench && self.fixtures.contains(&Fixture::InclineBench))
    }
}
