//! What a place has to train with, and which loads can be made from it.

use super::units::name_type;

name_type! {
    /// A place's name in files: lower-case words joined by underscores.
    PlaceId
}

/// Something that stands in a place and that an exercise cannot be done without.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Fixture {
    /// A flat bench.
    Bench,
    /// A bench whose back can be raised.
    InclineBench,
    /// Room to lie down.
    Floor,
    /// A bar to hang from.
    PullUpBar,
    /// Two parallel bars or handles to dip on.
    DipBars,
    /// A rack that holds a bar at shoulder height.
    Rack,
    /// A sturdy step or box.
    Step,
}

/// The kind of gear that carries an exercise's load.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Implement {
    /// Two dumbbells alike; the load is that of one.
    Pair,
    /// One dumbbell.
    One,
    /// A bar with plates.
    Bar,
    /// The body, with or without an added mass.
    Added,
    /// The body alone.
    Body,
    /// A band.
    Band,
}
