//! The command line: one file per subcommand.
//!
//! Results go to standard output, messages to standard error. Never the screens: the interactive
//! program is started through the shell.

mod brief;
mod demo;
mod gear;
mod journal;
mod outcome;
mod paths;
mod suggest;

pub use outcome::{Exit, Failure, warn};

use crate::domain::words::caution::CAUTION;
use crate::shell::{self, Ended, Home};
use clap::{Parser, Subcommand};
use std::ffi::OsString;
use std::io::{self, IsTerminal, Write};

/// Runs a strength session on the gym floor: which load, how long to rest, what comes next.
#[derive(Debug, Parser)]
#[command(name = "rackside", version, max_term_width = 80, after_help = after_help())]
#[command(color = clap::ColorChoice::Never)]
struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
}

/// What can be asked for on the command line; without one, today's session opens.
#[derive(Debug, Subcommand)]
enum Command {
    Brief(brief::Arguments),
    Demo(demo::Arguments),
    Gear(gear::Arguments),
    Journal(journal::Arguments),
    Paths(paths::Arguments),
    Suggest(suggest::Arguments),
}

const EXAMPLES: &str = "\
Examples:
  rackside                    open today's session
  RACKSIDE_HOME=DIR rackside  keep every file of a person under DIR";

const EXITS: &str = "\
Exit codes: 0 done, 1 error, 2 wrong usage, 3 a check or a file has problems,
4 sets were rescued outside the journal.";

fn after_help() -> String {
    format!("{EXAMPLES}\n\n{EXITS}\n\n{}", CAUTION.join("\n\n"))
}

/// Does what the process was called for.
pub fn main() -> Exit {
    let mut out = io::BufWriter::new(io::stdout());
    let done = run(std::env::args_os(), &mut out);
    let flushed = out.flush().map_err(Failure::Output);
    let ended = match done {
        // The terminal may be gone by now; how the session ended stands.
        Ok(Exit::Signal(number)) => return Exit::Signal(number),
        Ok(exit) => flushed.map(|()| exit),
        Err(failure) => Err(failure),
    };
    ended.unwrap_or_else(|failure| failure.report(&mut io::stderr()))
}

/// Reads the arguments and runs the command, its results going to `out`.
fn run(
    arguments: impl IntoIterator<Item = OsString>,
    out: &mut dyn Write,
) -> Result<Exit, Failure> {
    match Arguments::try_parse_from(arguments) {
        Ok(Arguments { command: None }) => interactive(out),
        Ok(Arguments {
            command: Some(command),
        }) => perform(&command, out),
        Err(answer) if answer.use_stderr() => Err(Failure::usage(answer.to_string())),
        Err(answer) => {
            write!(out, "{answer}")?;
            Ok(Exit::Done)
        }
    }
}

fn perform(command: &Command, out: &mut dyn Write) -> Result<Exit, Failure> {
    match command {
        Command::Brief(arguments) => brief::run(arguments, out),
        Command::Demo(arguments) => demo::run(arguments, out),
        Command::Gear(arguments) => gear::run(arguments, out),
        Command::Journal(arguments) => journal::run(arguments, out),
        Command::Paths(_) => paths::run(out),
        Command::Suggest(arguments) => suggest::run(arguments, out),
    }
}

/// Opens today's session on the terminal.
fn interactive(out: &mut dyn Write) -> Result<Exit, Failure> {
    needs_terminal()?;
    out.flush()?;
    ended(shell::run(&Home::here()?, None)?)
}

/// The session is for a person at a terminal.
fn needs_terminal() -> Result<(), Failure> {
    if io::stdin().is_terminal() && io::stdout().is_terminal() {
        return Ok(());
    }
    Err(Failure::usage(NO_TERMINAL))
}

/// What the way in which the session ended means for the process.
fn ended(ended: Ended) -> Result<Exit, Failure> {
    for mishap in shell::mishaps() {
        warn(&format!("a mistake in the program: {mishap}"));
    }
    match ended {
        Ended::Left => Ok(Exit::Done),
        Ended::Signal(number) => Ok(Exit::Signal(number)),
        Ended::Panicked => Err(Failure::error(PANICKED)),
        Ended::Rescued(words) => Err(Failure::Said(Exit::Rescued, words)),
    }
}

const PANICKED: &str = "rackside: a mistake in the program ended it. Every recorded set is in the \
    journal.\nStart it again to go on where you were.";

const NO_TERMINAL: &str = "rackside: the session needs a terminal for its keys and its screen\n\
    Run it in a terminal window, or see 'rackside --help' for commands that need none.";
