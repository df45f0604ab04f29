//! `rackside gear`: what a place can make, and the stacks with the fewest moves.

use super::{Exit, Failure};
use crate::domain::diagnostic::neutral;
use crate::domain::gear::{Implement, Makeable};
use crate::domain::schedule::Wish;
use crate::formats::{gear_solve, json, plain};
use crate::shell::{Disk, Home, Loaded};
use std::io::{self, BufRead, Write};

/// Shows what each place has and which loads it can make.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
    /// Print JSON, one place a line, for scripts
    #[arg(long)]
    json: bool,
}

#[derive(Debug, clap::Subcommand)]
enum Command {
    /// Answer JSON Lines on standard input: loads that can be made, stacks with fewest moves
    Solve,
    /// Show the plates of today's session, set by set, with the fewest moves
    Plan {
        /// Print one JSON object for scripts
        #[arg(long)]
        json: bool,
    },
}

impl Arguments {
    /// Whether what is printed is JSON.
    pub const fn is_for_scripts(&self) -> bool {
        match self.command {
            Some(Command::Solve) => true,
            Some(Command::Plan { json }) => json,
            None => self.json,
        }
    }
}

/// What each implement is called, and whether it has loads to list.
const IMPLEMENTS: [(&str, Implement); 5] = [
    ("pair", Implement::Pair),
    ("one", Implement::One),
    ("bar", Implement::Bar),
    ("added", Implement::Added),
    ("band", Implement::Band),
];

/// Does what was asked about gear.
///
/// # Errors
///
/// Files have problems, or standard input cannot be read.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    match arguments.command {
        Some(Command::Solve) => solve(out),
        Some(Command::Plan { json }) => plan(json, out),
        None => show(arguments.json, out),
    }
}

/// A line in, a line out, each flushed.
fn solve(out: &mut dyn Write) -> Result<Exit, Failure> {
    for (k, line) in io::stdin().lock().lines().enumerate() {
        let line = line.map_err(|error| Failure::error(format!("cannot read input: {error}")))?;
        if !line.trim().is_empty() {
            writeln!(out, "{}", json::line(&gear_solve::answer(&line, k + 1)))?;
            out.flush()?;
        }
    }
    Ok(Exit::Done)
}

fn show(as_json: bool, out: &mut dyn Write) -> Result<Exit, Failure> {
    let loaded = Loaded::from(&Home::here()?, &Disk)?;
    for place in &loaded.desk.places {
        if as_json {
            writeln!(out, "{}", json::line(&json::place(place, &IMPLEMENTS)))?;
            continue;
        }
        writeln!(out, "{} ({})", neutral(&place.name), place.id)?;
        for (name, things) in plain::place(place) {
            writeln!(out, "  {name:<7} {}", neutral(&things))?;
        }
        for (name, implement) in IMPLEMENTS {
            let made = place.makeable(implement);
            if !made.is_empty() {
                writeln!(out, "  {name:<7} {}", neutral(&listed(&made)))?;
            }
        }
    }
    Ok(Exit::Done)
}

/// The plates of today's session.
fn plan(as_json: bool, out: &mut dyn Write) -> Result<Exit, Failure> {
    let (briefing, loaded) = super::brief::today(&Wish::default())?;
    let catalogue = &loaded.desk.catalogue;
    if as_json {
        writeln!(
            out,
            "{}",
            json::line(&json::gear_plan(&briefing, catalogue))
        )?;
    } else {
        write!(out, "{}", plain::gear_plan(&briefing, catalogue))?;
    }
    Ok(Exit::Done)
}

/// The loads of a list, or its ends where it is long.
fn listed(made: &[Makeable]) -> String {
    const MANY: usize = 24;
    let names = |some: &[Makeable]| {
        some.iter()
            .map(|made| made.load.to_string())
            .collect::<Vec<_>>()
            .join(", ")
    };
    match made {
        [begin @ .., last] if made.len() > MANY => {
            format!(
                "{} loads: {}, ... {}",
                made.len(),
                names(&begin[..8]),
                last.load
            )
        }
        _ => names(made),
    }
}
