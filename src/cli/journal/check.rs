//! `rackside journal check`: named checks that only read.

use crate::cli::warn;
use crate::cli::{Exit, Failure};
use crate::domain::diagnostic::neutral;
use crate::formats::journal::{Check, Finding, check};
use crate::formats::json;
use crate::shell::{CacheStore, Disk, Home, read_files};
use clap::builder::PossibleValue;
use std::io::Write;

/// Check the journal: silent and 0 when it is fine, 3 when it is not; only reads
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Run these checks alone (all that find faults, where none is named)
    #[arg(value_name = "CHECK")]
    checks: Vec<Check>,
    /// Run the checks of what is harmless too: habits and versions
    #[arg(long)]
    strict: bool,
    /// Print one JSON object a line and finding, for scripts
    #[arg(long)]
    pub(super) json: bool,
}

impl clap::ValueEnum for Check {
    fn value_variants<'a>() -> &'a [Self] {
        &Self::ALL
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.name()).help(self.about()))
    }
}

/// Checks the journal.
///
/// # Errors
///
/// The journal cannot be read.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let named = &arguments.checks;
    let is_wanted = |check: &Check| match named.is_empty() {
        true => arguments.strict || !check.is_harmless(),
        false => named.contains(check),
    };
    let wanted: Vec<Check> = Check::ALL.into_iter().filter(is_wanted).collect();
    let home = Home::here()?;
    let (files, others) = read_files(&home, &Disk)?;
    if !CacheStore::of(&home, &Disk).verify() {
        warn("what was kept of the journal for a quick start did not fit it, and was thrown away");
    }
    let found = check(files, others, &wanted);
    for Finding { check, diagnostic } in &found {
        if arguments.json {
            writeln!(
                out,
                "{}",
                json::line(&json::finding(check.name(), diagnostic))
            )?;
        } else {
            writeln!(out, "{diagnostic} [{}]", neutral(check.name()))?;
        }
    }
    Ok(if found.is_empty() {
        Exit::Done
    } else {
        Exit::Problems
    })
}
