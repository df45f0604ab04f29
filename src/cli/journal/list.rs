//! `rackside journal list`: every recorded set.

use crate::cli::standing::history;
use crate::cli::{Exit, Failure};
use crate::domain::diagnostic::neutral;
use crate::domain::logbook::told::sessions::performed;
use crate::domain::words;
use crate::formats::json;
use std::io::Write;

/// List every recorded set, oldest first, with the id of each; voided ones are left out
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Print one JSON object a line and set, for scripts
    #[arg(long)]
    pub(super) json: bool,
}

/// Lists the sets.
///
/// # Errors
///
/// The journal cannot be read.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let history = history()?;
    for session in &history.sessions {
        if !arguments.json {
            let day = match (&session.plan, &session.source) {
                (Some(plan), _) => plan.day_name.as_str(),
                (None, Some(source)) => source.as_str(),
                (None, None) => "",
            };
            let date = words::day(session.opened.date());
            let line = format!("{date} {} {day}", session.opened.date());
            writeln!(out, "{:<58} {}", neutral(&line), session.id)?;
        }
        for set in &session.sets {
            if arguments.json {
                writeln!(out, "{}", json::line(&json::set(set)))?;
            } else {
                let line = format!("  {} {}", set.record.exercise, performed(set));
                writeln!(out, "{:<58} {}", neutral(&line), set.id)?;
            }
        }
    }
    Ok(Exit::Done)
}
