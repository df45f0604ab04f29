//! The next load, and why: policies that propose, under guard rails that nothing overrides.

mod beliefs;
mod between;
mod double_progression;
mod evidence;
mod fall;
mod first;
mod foretell;
mod held;
mod holding;
mod ladder;
mod levers;
mod limits;
mod odds;
mod past;
mod plan;
mod proposal;
mod ramp;
mod reach;
mod revise;
mod situation;
mod stand_in;
pub mod standalone;
mod stated;
mod two_for_two;

pub use beliefs::{Beliefs, Folded, Learned};
pub use fall::{Fall, fall};
pub use foretell::{Ahead, Foretold, foretell};
pub use limits::easier_sets;
pub use plan::{heaviest, plan_item, plan_slots};
pub use revise::revise;
pub use stand_in::stand_ins;
pub use stated::{Beside, beside};

use super::exercise::{Catalogue, Exercise};
use super::gear::Place;
use super::history::{History, Lifter};
use super::session::Asked;
use super::units::{Civil, Load, Weight};
use ladder::Ladder;
use std::fmt;

/// All that advice is computed from.
#[derive(Clone, Copy, Debug)]
pub struct Context<'a> {
    /// All exercises.
    pub catalogue: &'a Catalogue,
    /// Where the session happens.
    pub place: &'a Place,
    /// What was done. A session that is still open is no past.
    pub history: &'a History,
    /// Who trains.
    pub lifter: &'a Lifter,
    /// When.
    pub now: Civil,
    /// What is believed of each exercise; without it no odds are stated.
    pub beliefs: Option<&'a Beliefs>,
}

/// Where in a program and a session an exercise stands.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Frame {
    /// Whether the week is an easier one: deload work.
    pub easier_week: bool,
    /// Whether it is the lifter's first week with the program.
    pub first_week: bool,
    /// Whether it is the first exercise of its movement pattern today, or was preceded by ten
    /// cold minutes: then a heavy one gets ramp sets.
    pub cold: bool,
    /// The person's own guess of a working load, where the exercise is unknown.
    pub guess: Option<Load>,
    /// What was done today with another exercise that this one stands in for.
    pub felt: Option<Felt>,
}

/// A set of another exercise, as far as it tells of this one.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Felt {
    /// Kilograms of this exercise that the load of that one comes to.
    pub kg: f64,
    /// Reps that were done.
    pub reps: u32,
}

/// Why an exercise cannot be planned.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Unplannable {
    /// The catalogue does not know it.
    Unknown {
        /// Its id.
        exercise: String,
    },
    /// The place lacks what it needs, and what all of its stand-ins need.
    Lacking {
        /// Its name.
        exercise: String,
        /// What is missing, in words.
        lacks: String,
    },
    /// It hurt twice, or is too heavy here for coming back to, and nothing can stand in.
    Withdrawn {
        /// Its name.
        exercise: String,
        /// Why, in words.
        why: String,
    },
}

impl fmt::Display for Unplannable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown { exercise } => write!(
                f,
                "{exercise}: no exercise of that name is known; add it to exercises.ron, or \
                 choose another"
            ),
            Self::Lacking { exercise, lacks } => {
                write!(
                    f,
                    "{exercise}: {lacks} here, and nothing that could stand in"
                )
            }
            Self::Withdrawn { exercise, why } => write!(f, "{exercise}: left out, {why}"),
        }
    }
}

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

/// The next makeable load above or below `from`, which need not be makeable itself.
pub fn step(ctx: &Context<'_>, exercise: &Exercise, from: Load, up: bool) -> Option<Load> {
    let ladder = ctx.ladder(exercise);
    if up {
        ladder.up(from)
    } else {
        ladder.down(from)
    }
}

/// Kilograms that an exercise moves with a load, the body's part included; `None` for a band.
pub fn moved(exercise: &Exercise, body_weight: Option<Weight>, load: Load) -> Option<f64> {
    Ladder::new(exercise, body_weight, &[]).moved(load)
}

impl Context<'_> {
    /// The loads that can be made here for an exercise.
    fn ladder(&self, exercise: &Exercise) -> Ladder {
        let made = self.place.makeable(exercise.implement());
        let loads: Vec<Load> = made.iter().map(|made| made.load).collect();
        Ladder::new(exercise, self.lifter.body_weight, &loads)
    }
}
