//! `rackside brief`: today's session, without opening it.

use super::standing::Standing;
use super::time_box::TimeBox;
use super::{Exit, Failure};
use crate::domain::schedule::{Briefing, Wish};
use crate::formats::{json, plain};
use crate::shell::{Loaded, material, now};
use std::io::Write;

/// Prints today's session: last time's numbers, the suggested loads and why, what to fetch.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Print one JSON object for scripts
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    time: TimeBox,
}

/// Prints today's session to `out`.
///
/// # Errors
///
/// Files have problems, or cannot be read.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let wish = Wish {
        minutes: arguments.time.minutes(now().civil)?,
        ..Wish::default()
    };
    let (briefing, loaded) = today(&wish)?;
    let catalogue = &loaded.desk.catalogue;
    if arguments.json {
        writeln!(out, "{}", json::line(&json::brief(&briefing, catalogue)))?;
    } else {
        write!(out, "{}", plain::brief(&briefing, catalogue, now().civil))?;
    }
    Ok(Exit::Done)
}

/// Today's session, and what it was drawn up from; an empty home uses the defaults and says so.
///
/// # Errors
///
/// Files have problems, or cannot be read.
pub fn today(wish: &Wish) -> Result<(Briefing, Loaded), Failure> {
    let Standing {
        loaded,
        history,
        lifter,
        beliefs,
        kept,
        begun: _,
    } = Standing::here()?;
    let material = material(&loaded.desk, &history, &lifter, now().civil);
    let material = material.believing(&beliefs);
    let briefing = material.brief(wish).map_err(Failure::error)?;
    kept.keep(&beliefs);
    Ok((briefing, loaded))
}
