//! `rackside trends`: what the journal shows over months.

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
    /// Tell how often the odds that were stated came true
    Odds {
        /// Print one JSON object for scripts
        #[arg(long)]
        json: bool,
    },
}

impl Arguments {
    /// Whether what it prints is for scripts.
    pub const fn is_for_scripts(&self) -> bool {
        match self.what {
            What::Odds { json } => json,
        }
    }
}

/// Tells it.
///
/// # Errors
///
/// The journal cannot be read.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let history = history()?;
    let found = Calibration::of(&history);
    match arguments.what {
        What::Odds { json: true } => writeln!(out, "{}", json::line(&calibration::object(&found)))?,
        What::Odds { json: false } => write!(out, "{}", calibration::lines(&found))?,
    }
    Ok(Exit::Done)
}
