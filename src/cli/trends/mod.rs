//! `rackside trends`: what the journal shows over months, one command a view.

mod options;
mod views;

use super::standing::history;
use super::{Exit, Failure};
use crate::domain::strength::calibration::Calibration;
use crate::formats::{calibration, json};
use clap::Subcommand;
use std::io::Write;

/// Looks at the journal over months.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// List sessions, the last first; or one set by set, against its plan
    Sessions(options::Sessions),
    /// Tell whether lifts go up, go down, or do nothing that can be told; with a picture of one
    Strength(options::Strength),
    /// Tell hard sets by muscle and week, volume load, session load, time
    Work(options::Work),
    /// Tell whether pairs of muscles and movements keep pace
    Balance(options::AsOf),
    /// Tell what was best, and when it fell
    Records(options::Records),
    /// Tell how often the odds that were stated came true
    Odds {
        /// Print one JSON object for scripts
        #[arg(long)]
        json: bool,
    },
    /// Tell when work was last easier, and which lifts have stopped
    Deload(options::AsOf),
}

impl Arguments {
    /// Whether what it prints is for scripts.
    pub const fn is_for_scripts(&self) -> bool {
        match &self.what {
            What::Sessions(asked) => asked.days.json,
            What::Strength(asked) => asked.days.json,
            What::Work(asked) => asked.days.json,
            What::Records(asked) => asked.json,
            What::Balance(asked) | What::Deload(asked) => asked.json,
            What::Odds { json } => *json,
        }
    }
}

/// Tells it.
///
/// # Errors
///
/// The journal or a file cannot be read, or no exercise or session is called so.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    match &arguments.what {
        What::Odds { json } => odds(*json, out)?,
        What::Sessions(asked) => views::sessions(asked, out)?,
        What::Strength(asked) => views::strength(asked, out)?,
        What::Work(asked) => views::work(asked, out)?,
        What::Balance(asked) => views::balance(asked, out)?,
        What::Records(asked) => views::records(asked, out)?,
        What::Deload(asked) => views::deload(asked, out)?,
    }
    Ok(Exit::Done)
}

fn odds(for_scripts: bool, out: &mut dyn Write) -> Result<(), Failure> {
    let found = Calibration::of(&history()?);
    if for_scripts {
        writeln!(out, "{}", json::line(&calibration::object(&found)))?;
    } else {
        write!(out, "{}", calibration::lines(&found))?;
    }
    Ok(())
}
