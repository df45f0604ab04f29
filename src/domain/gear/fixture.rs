//! What an exercise asks of a place.

use std::fmt;

/// Something that stands in a place and that an exercise cannot be done without.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Fixture {
    /// A flat bench.
    Bench,
    /// A bench whose back can be raised, and laid flat.
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

impl fmt::Display for Fixture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Bench => "bench",
            Self::InclineBench => "bench with a back that can be raised",
            Self::Floor => "room to lie down",
            Self::PullUpBar => "bar to hang from",
            Self::DipBars => "bars to dip on",
            Self::Rack => "rack",
            Self::Step => "sturdy step or box",
        })
    }
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

impl fmt::Display for Implement {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Pair => "pair of dumbbells",
            Self::One => "dumbbell",
            Self::Bar => "bar for plates",
            Self::Added => "body weight with added weight",
            Self::Body => "body weight",
            Self::Band => "band",
        })
    }
}
