//! What is known of an exercise: muscles, joints, gear, how its load counts, how it is coached.

mod body;
mod catalogue;

pub use body::{Joint, Muscle, Pattern};
pub use catalogue::Catalogue;

use super::gear::{Fixture, Implement};
use super::units::{Seconds, name_type};

name_type! {
    /// An exercise's name in files: lower-case words joined by underscores.
    ExerciseId
}

/// Whether an exercise moves several joints under load, or one.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Role {
    /// Several joints.
    Compound,
    /// One joint.
    Isolation,
}

/// What a failed rep does.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum GivesWay {
    /// The load can be put down.
    PutDown,
    /// A bar comes to lie on the body unless safeties catch it.
    Pins,
}

/// How the load that a person enters counts.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Counts {
    /// Two dumbbells; the load is that of one hand.
    PerHand,
    /// One dumbbell, in one hand or held with both.
    OneDumbbell,
    /// The bar with all that is on it.
    BarTotal,
    /// The body alone; `percent` of its mass moves.
    Body {
        /// Percent of body mass that moves.
        percent: u8,
    },
    /// The body plus (or minus) a mass; `percent` of its mass moves.
    BodyPlus {
        /// Percent of body mass that moves.
        percent: u8,
    },
    /// A band, by its step in the place's order.
    Band,
}

impl Counts {
    /// Whether an implement's mass is the load.
    pub const fn is_mass(self) -> bool {
        match self {
            Self::PerHand | Self::OneDumbbell | Self::BarTotal => true,
            Self::Body { .. } | Self::BodyPlus { .. } | Self::Band => false,
        }
    }

    /// Whether a mass is, or can be added to, the load.
    pub const fn is_loaded(self) -> bool {
        match self {
            Self::PerHand | Self::OneDumbbell | Self::BarTotal | Self::BodyPlus { .. } => true,
            Self::Body { .. } | Self::Band => false,
        }
    }
}

/// Which sides work in a set.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Sides {
    /// Both together.
    Both,
    /// One side's reps, then the other's; reps count each side.
    Each,
    /// Sides in turn, rep by rep; reps count each side.
    Alternating,
}

/// What is counted in a set.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Effort {
    /// Repetitions.
    Reps,
    /// Seconds held.
    Hold,
}

/// Another exercise that can take this one's place.
#[derive(Clone, PartialEq, Debug)]
pub struct StandIn {
    /// The other exercise.
    pub exercise: ExerciseId,
    /// What this exercise's load is multiplied by to get the other's, as each counts its load.
    /// Coaching custom, a first guess that the journal soon replaces.
    pub factor: f64,
}

/// What a coach would say on the floor, three lines at most each.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Coaching {
    /// Getting set.
    pub set_up: String,
    /// The movement.
    pub movement: String,
    /// The usual faults.
    pub faults: String,
    /// When to stop.
    pub stop: String,
}

/// What a set counts for a muscle that assists (Pelland et al. 2024, preprint).
const INDIRECT: f64 = 0.5;

/// All that is known of one exercise.
#[derive(Clone, PartialEq, Debug)]
pub struct Exercise {
    /// Its name in files.
    pub id: ExerciseId,
    /// Its name for people.
    pub name: String,
    /// Compound or isolation.
    pub role: Role,
    /// The movement it is one of.
    pub pattern: Pattern,
    /// Muscles that count a whole set.
    pub prime: Vec<Muscle>,
    /// Muscles that count half a set (Pelland et al. 2024).
    pub assisting: Vec<Muscle>,
    /// Joints that it loads.
    pub joints: Vec<Joint>,
    /// Whether the spine carries the load.
    pub loads_spine: bool,
    /// Whether the grip may give out first.
    pub loads_grip: bool,
    /// Whether it needs practice before load.
    pub technical: bool,
    /// What a failed rep does.
    pub gives_way: GivesWay,
    /// What it needs beside its load.
    pub needs: Vec<Fixture>,
    /// How its load counts.
    pub counts: Counts,
    /// Which sides work.
    pub sides: Sides,
    /// Reps or seconds.
    pub effort: Effort,
    /// Usual time to get set, gear in hand.
    pub setup: Seconds,
    /// What can take its place, best first.
    pub stand_ins: Vec<StandIn>,
    /// An easier variant.
    pub easier: Option<ExerciseId>,
    /// A harder variant.
    pub harder: Option<ExerciseId>,
    /// What a coach would say.
    pub coaching: Coaching,
}

impl Exercise {
    /// Whether the legs and hips do the work: their rises may be larger.
    pub fn is_lower_body(&self) -> bool {
        self.pattern.is_lower_body()
    }

    /// What a hard set of it counts for each muscle: whole for those that do the work, half for
    /// those that assist.
    pub fn shares(&self) -> impl Iterator<Item = (Muscle, f64)> {
        let prime = self.prime.iter().map(|muscle| (*muscle, 1.0));
        prime.chain(self.assisting.iter().map(|muscle| (*muscle, INDIRECT)))
    }

    /// The kind of gear that carries its load.
    pub const fn implement(&self) -> Implement {
        match self.counts {
            Counts::PerHand => Implement::Pair,
            Counts::OneDumbbell => Implement::One,
            Counts::BarTotal => Implement::Bar,
            Counts::Body { .. } => Implement::Body,
            Counts::BodyPlus { .. } => Implement::Added,
            Counts::Band => Implement::Band,
        }
    }
}
