//! `rackside program`: programs checked, shown, begun.

mod adopt;
mod check;
mod preview;
mod start;

use super::{Exit, Failure};
use crate::formats::program_file;
use std::io::Write;

/// Checks programs, shows them week by week, starts new ones.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, clap::Subcommand)]
enum Command {
    Adopt(adopt::Arguments),
    Check(check::Arguments),
    New(start::Arguments),
    Preview(preview::Arguments),
    /// Show all that a program's file can say: an example, and every field with its bounds
    Schema,
}

impl Arguments {
    /// Whether what it prints is for people.
    pub const fn is_for_people(&self) -> bool {
        match &self.command {
            Command::Check(arguments) => !arguments.json,
            Command::Preview(arguments) => !arguments.json,
            Command::Adopt(_) | Command::New(_) => true,
            Command::Schema => false,
        }
    }
}

/// Does what was asked about programs.
///
/// # Errors
///
/// Files have problems, or cannot be read or written.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    match &arguments.command {
        Command::Adopt(arguments) => adopt::run(arguments, out),
        Command::Check(arguments) => check::run(arguments, out),
        Command::New(arguments) => start::run(arguments, out),
        Command::Preview(arguments) => preview::run(arguments, out),
        Command::Schema => {
            write!(out, "{}", program_file::schema())?;
            Ok(Exit::Done)
        }
    }
}
