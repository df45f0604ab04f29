//! `rackside paths`: where a person's files live.

use super::{Exit, Failure};
use crate::domain::diagnostic::neutral;
use crate::shell::Home;
use std::io::Write;

/// Prints where a person's files live.
#[derive(Debug, clap::Args)]
pub struct Arguments {}

/// Prints the paths to `out`.
///
/// # Errors
///
/// No place for files is to be had.
pub fn run(out: &mut dyn Write) -> Result<Exit, Failure> {
    let home = Home::here()?;
    let paths = [
        ("journal", home.journal()),
        ("rescue", home.rescue()),
        ("lifter", home.lifter()),
        ("exercises", home.exercises()),
        ("places", home.places()),
        ("programs", home.programs()),
        ("sounds", home.sounds()),
        ("state", home.state.clone()),
        ("log", home.log()),
        ("cache", home.cache.clone()),
    ];
    for (name, path) in paths {
        writeln!(out, "{name:<10} {}", neutral(&path.to_string_lossy()))?;
    }
    Ok(Exit::Done)
}
