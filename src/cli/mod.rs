//! The command line: one file per subcommand.
//!
//! Results go to standard output, messages to standard error. Never the screens: the interactive
//! program is started through the shell.

mod appearance;
mod brief;
mod completions;
mod demo;
mod export;
mod gear;
mod import;
mod journal;
mod man;
mod outcome;
mod paths;
mod program;
mod settings;
mod sounds;
mod standing;
mod suggest;
mod time_box;
mod trends;

pub use outcome::{Exit, Failure, tell, warn};

use crate::domain::history::Prefs;
use crate::domain::words::Letters;
use crate::domain::words::caution::CAUTION;
use crate::shell::{self, Ended, Flags, Home, Settings, Start};
use appearance::{Appearance, Speller};
use clap::{CommandFactory, Parser, Subcommand};
use std::ffi::OsString;
use std::io::{self, IsTerminal, Write};

/// Runs a strength session on the gym floor: which load, how long to rest, what comes next.
#[derive(Debug, Parser)]
#[command(name = "rackside", version, max_term_width = 80, after_help = after_help())]
#[command(color = clap::ColorChoice::Never)]
struct Arguments {
    #[command(flatten)]
    appearance: Appearance,
    #[command(flatten)]
    time: time_box::TimeBox,
    #[command(subcommand)]
    command: Option<Command>,
}

/// What can be asked for on the command line; without one, today's session opens.
#[derive(Debug, Subcommand)]
enum Command {
    Brief(brief::Arguments),
    Completions(completions::Arguments),
    Demo(demo::Arguments),
    Export(export::Arguments),
    Gear(gear::Arguments),
    Import(import::Arguments),
    Journal(journal::Arguments),
    Man(man::Arguments),
    Paths(paths::Arguments),
    Program(program::Arguments),
    Settings(settings::Arguments),
    Sounds(sounds::Arguments),
    Suggest(suggest::Arguments),
    Trends(trends::Arguments),
}

const EXAMPLES: &str = "\
Examples:
  rackside                    open today's session
  rackside --lines            the same in lines, for a screen reader
  RACKSIDE_HOME=DIR rackside  keep every file of a person under DIR";

const EXITS: &str = "\
Exit codes: 0 done, 1 error, 2 wrong usage, 3 a check or a file has problems,
4 sets were rescued outside the journal.";

fn after_help() -> String {
    format!("{EXAMPLES}\n\n{EXITS}\n\n{}", CAUTION.join("\n\n"))
}

impl Command {
    /// Whether what it prints is for people: what is for scripts is never spelled otherwise.
    const fn is_for_people(&self) -> bool {
        match self {
            Self::Brief(arguments) => !arguments.json,
            Self::Gear(arguments) => !arguments.is_for_scripts(),
            Self::Import(arguments) => !arguments.is_for_scripts(),
            Self::Journal(arguments) => !arguments.is_for_scripts(),
            Self::Program(arguments) => arguments.is_for_people(),
            Self::Trends(arguments) => !arguments.is_for_scripts(),
            Self::Demo(_) | Self::Paths(_) | Self::Settings(_) | Self::Sounds(_) => true,
            Self::Completions(_) | Self::Export(_) | Self::Man(_) | Self::Suggest(_) => false,
        }
    }
}

/// Everything that the command line understands.
fn grammar() -> clap::Command {
    Arguments::command()
}

/// Does what the process was called for.
pub fn main() -> Exit {
    outcome::spell_in(letters(Flags::default()));
    // Where it cannot be had, the limit ends the process: nothing is called recorded.
    let _ = shell::outlive_limits();
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

/// Which characters can be shown here.
fn letters(flags: Flags) -> Letters {
    let environment = |name: &str| std::env::var_os(name);
    Settings::settle(flags, environment, Prefs::default())
        .letters
        .value
}

/// Reads the arguments and runs the command, its results going to `out`.
fn run(
    arguments: impl IntoIterator<Item = OsString>,
    out: &mut dyn Write,
) -> Result<Exit, Failure> {
    match Arguments::try_parse_from(arguments) {
        Ok(Arguments {
            appearance,
            time,
            command,
        }) => {
            let flags = appearance.flags();
            let letters = letters(flags);
            outcome::spell_in(letters);
            let for_people = command.as_ref().is_none_or(Command::is_for_people);
            let letters = if for_people {
                letters
            } else {
                Letters::Unicode
            };
            let minutes = time.minutes(shell::now().civil)?;
            let out = &mut Speller { letters, out };
            match command {
                None => interactive(flags, minutes, out),
                Some(command) => perform(command, flags, out),
            }
        }
        Err(answer) if answer.use_stderr() => Err(Failure::usage(answer.to_string())),
        Err(answer) => {
            write!(out, "{answer}")?;
            Ok(Exit::Done)
        }
    }
}

fn perform(command: Command, flags: Flags, out: &mut dyn Write) -> Result<Exit, Failure> {
    match command {
        Command::Brief(arguments) => brief::run(&arguments, out),
        Command::Completions(arguments) => completions::run(&arguments, out),
        Command::Demo(arguments) => demo::run(&arguments, flags, out),
        Command::Export(arguments) => export::run(&arguments, out),
        Command::Gear(arguments) => gear::run(&arguments, out),
        Command::Import(arguments) => import::run(&arguments, out),
        Command::Journal(arguments) => journal::run(&arguments, out),
        Command::Man(arguments) => man::run(&arguments, out),
        Command::Paths(_) => paths::run(out),
        Command::Program(arguments) => program::run(&arguments, out),
        Command::Settings(arguments) => settings::run(&arguments, flags, out),
        Command::Sounds(arguments) => sounds::run(&arguments, out),
        Command::Suggest(arguments) => suggest::run(&arguments, out),
        Command::Trends(arguments) => trends::run(&arguments, out),
    }
}

/// Opens today's session on the terminal.
fn interactive(flags: Flags, minutes: Option<u32>, out: &mut dyn Write) -> Result<Exit, Failure> {
    needs_terminal(flags)?;
    out.flush()?;
    let home = &Home::here()?;
    ended(shell::run(Start {
        home,
        flags,
        minutes,
        mark: None,
    })?)
}

/// The session is for a person at a terminal, but for one who asks for lines in so many words.
fn needs_terminal(flags: Flags) -> Result<(), Failure> {
    if flags.lines || (io::stdin().is_terminal() && io::stdout().is_terminal()) {
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
        Ended::Untold(why) => Err(Failure::error(format!(
            "rackside: cannot write the result: {why}"
        ))),
        Ended::Panicked => Err(Failure::error(PANICKED)),
        Ended::Rescued(words) => Err(Failure::Said(Exit::Rescued, words)),
    }
}

const PANICKED: &str = "rackside: a mistake in the program ended it. Every recorded set is in the \
    journal.\nStart it again to go on where you were.";

const NO_TERMINAL: &str = "rackside: the session needs a terminal for its keys and its screen\n\
    Run it in a terminal window, with --lines from a pipe, or see 'rackside --help' for commands \
    that need none.";
