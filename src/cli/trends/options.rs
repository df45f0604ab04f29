//! What can be asked of each view.

use crate::domain::strength::equations::Equation;
use chrono::NaiveDate;
use clap::builder::PossibleValue;

/// From when to when.
#[derive(Debug, clap::Args)]
pub struct Days {
    /// The first day; half a year ago where it is not given
    #[arg(long, value_name = "DATE")]
    pub since: Option<NaiveDate>,
    /// The last day; today where it is not given
    #[arg(long, value_name = "DATE")]
    pub until: Option<NaiveDate>,
    /// Print JSON for scripts
    #[arg(long)]
    pub json: bool,
}

/// Sessions that are wanted.
#[derive(Debug, clap::Args)]
pub struct Sessions {
    #[command(flatten)]
    pub days: Days,
    /// With this exercise: its id, its name, or part of either
    #[arg(long, value_name = "NAME")]
    pub exercise: Option<String>,
    /// At this place
    #[arg(long, value_name = "NAME")]
    pub place: Option<String>,
    /// Of this program
    #[arg(long, value_name = "NAME")]
    pub program: Option<String>,
    /// With these words in a note
    #[arg(long, value_name = "TEXT")]
    pub words: Option<String>,
    /// One session set by set: its id or the end of it, or 'last'
    #[arg(long, value_name = "ID")]
    pub session: Option<String>,
}

/// Exercises that are wanted.
#[derive(Debug, clap::Args)]
pub struct Strength {
    /// One exercise, with a picture: its id, its name, or part of either
    #[arg(value_name = "EXERCISE")]
    pub exercise: Option<String>,
    #[command(flatten)]
    pub days: Days,
    /// Reps with this load instead of a one-rep max: "20 kg", "body +10 kg", "band 2"
    #[arg(long, requires = "exercise")]
    pub load: Option<String>,
    /// Beside it the one-rep max by a published equation
    #[arg(long, value_enum, requires = "exercise")]
    pub equation: Option<Named>,
}

/// Weeks that are wanted.
#[derive(Debug, clap::Args)]
pub struct Work {
    #[command(flatten)]
    pub days: Days,
}

/// A view of how things stand.
#[derive(Debug, clap::Args)]
pub struct AsOf {
    /// As things stood on a day; today where it is not given
    #[arg(long, value_name = "DATE")]
    pub on: Option<NaiveDate>,
    /// Print one JSON object for scripts
    #[arg(long)]
    pub json: bool,
}

/// Records that are wanted.
#[derive(Debug, clap::Args)]
pub struct Records {
    /// One exercise: its id, its name, or part of either
    #[arg(value_name = "EXERCISE")]
    pub exercise: Option<String>,
    /// Print one JSON object a line and exercise, for scripts
    #[arg(long)]
    pub json: bool,
}

/// A published equation by its first author.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Named(pub Equation);

impl clap::ValueEnum for Named {
    fn value_variants<'a>() -> &'a [Self] {
        &[
            Self(Equation::Epley),
            Self(Equation::Brzycki),
            Self(Equation::Lander),
            Self(Equation::Lombardi),
            Self(Equation::Mayhew),
            Self(Equation::OConner),
            Self(Equation::Wathan),
        ]
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.0.name()))
    }
}
