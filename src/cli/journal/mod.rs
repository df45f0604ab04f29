//! `rackside journal`: the record, read, checked, and added to. Nothing here changes a line.

mod check;
mod copies;
mod later;
mod list;

use super::{Exit, Failure};
use std::io::Write;

/// Reads, checks and completes the journal; never changes a line of it.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, clap::Subcommand)]
enum Command {
    List(list::Arguments),
    Check(check::Arguments),
    Amend(later::Amend),
    Void(later::Void),
    Merge(copies::Merge),
    Salvage(copies::Salvage),
    Reseal(copies::Reseal),
}

impl Arguments {
    /// Whether what is printed is JSON.
    pub const fn is_for_scripts(&self) -> bool {
        match &self.command {
            Command::List(arguments) => arguments.json,
            Command::Check(arguments) => arguments.json,
            Command::Amend(_)
            | Command::Void(_)
            | Command::Merge(_)
            | Command::Salvage(_)
            | Command::Reseal(_) => false,
        }
    }
}

/// Does what was asked of the journal.
///
/// # Errors
///
/// The journal cannot be read or written, or what was asked cannot be done.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    match &arguments.command {
        Command::List(arguments) => list::run(arguments, out),
        Command::Check(arguments) => check::run(arguments, out),
        Command::Amend(arguments) => later::amend(arguments, out),
        Command::Void(arguments) => later::void(arguments, out),
        Command::Merge(arguments) => copies::merge(arguments, out),
        Command::Salvage(arguments) => copies::salvage(arguments, out),
        Command::Reseal(arguments) => copies::reseal(arguments, out),
    }
}
