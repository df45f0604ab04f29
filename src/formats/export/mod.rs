//! What other programs can read: the record and what it says, as flat tables. Their columns stand
//! in `shared/export.md`.

mod cell;
mod exercises;
mod odds;
mod records;
mod sessions;
mod sets;
mod table;
mod weeks;

pub use cell::Cell;
pub use table::Table;

use crate::domain::exercise::Catalogue;
use crate::domain::history::History;
use crate::domain::logbook::Logbook;
use crate::domain::units::Weight;
use chrono::NaiveDate;

/// What the rows of an export are.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Rows {
    /// Every set.
    Sets,
    /// Every exercise of every session: one-rep maxes, hard sets, volume load.
    Exercises,
    /// Every session.
    Sessions,
    /// Every week from the first to the last session.
    Weeks,
    /// Every record.
    Records,
    /// Stated odds by range, and how often they came true.
    Odds,
}

impl Rows {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Sets,
        Self::Exercises,
        Self::Sessions,
        Self::Weeks,
        Self::Records,
        Self::Odds,
    ];

    /// Its name on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Sets => "sets",
            Self::Exercises => "exercises",
            Self::Sessions => "sessions",
            Self::Weeks => "weeks",
            Self::Records => "records",
            Self::Odds => "odds",
        }
    }
}

/// What is exported.
#[derive(Clone, Copy, Debug)]
pub struct Ground<'a> {
    /// The record.
    pub history: &'a History,
    /// What it says.
    pub logbook: &'a Logbook,
    /// All exercises.
    pub catalogue: &'a Catalogue,
    /// Body weight where the journal says none.
    pub body_weight: Option<Weight>,
    /// The day.
    pub today: NaiveDate,
}

/// The rows of that kind.
pub fn table(rows: Rows, ground: Ground<'_>) -> Table {
    match rows {
        Rows::Sets => sets::table(ground),
        Rows::Exercises => exercises::table(ground),
        Rows::Sessions => sessions::table(ground),
        Rows::Weeks => weeks::table(ground),
        Rows::Records => records::table(ground),
        Rows::Odds => odds::table(ground),
    }
}
