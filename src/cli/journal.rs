//! `rackside journal`: the record, read.

use super::{Exit, Failure, warn};
use crate::domain::diagnostic::neutral;
use crate::domain::history::History;
use crate::domain::words;
use crate::formats::{json, plain};
use crate::shell::{Disk, Home, read_journal};
use std::io::Write;

/// Reads the journal; never changes a line of it.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, clap::Subcommand)]
enum Command {
    /// List every recorded set, oldest first; voided ones are left out
    List {
        /// Print one JSON object a line and set, for scripts
        #[arg(long)]
        json: bool,
    },
}

impl Arguments {
    /// Whether what is printed is JSON.
    pub const fn is_for_scripts(&self) -> bool {
        match self.command {
            Command::List { json } => json,
        }
    }
}

/// Does what was asked of the journal.
///
/// # Errors
///
/// The journal cannot be read.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    match arguments.command {
        Command::List { json } => list(json, out),
    }
}

fn list(json: bool, out: &mut dyn Write) -> Result<Exit, Failure> {
    let record = read_journal(&Home::here()?, &Disk)?;
    if !record.problems.is_empty() {
        let problems = words::count(record.problems.len(), "place");
        warn(&format!(
            "{problems} in the journal could not be read as written"
        ));
    }
    let history = History::with_damaged(record.events, &record.damaged);
    for session in &history.sessions {
        if !json {
            let day = session
                .plan
                .as_ref()
                .map_or("", |plan| plan.day_name.as_str());
            let date = words::day(session.opened.date());
            writeln!(out, "{date} {} {}", session.opened.date(), neutral(day))?;
        }
        for set in &session.sets {
            if json {
                writeln!(out, "{}", json::set(set))?;
            } else {
                let line = format!("  {} {}", set.record.exercise, plain::performed(set));
                writeln!(out, "{}", neutral(&line))?;
            }
        }
    }
    Ok(Exit::Done)
}
