//! `rackside program preview`: a program week by week.

use super::super::standing::Standing;
use super::super::{Exit, Failure};
use crate::domain::diagnostic::neutral;
use crate::domain::program::{Program, ProgramId};
use crate::formats::ron_text::near;
use crate::formats::{preview, program_file};
use crate::shell::{Disk, Loaded, material, now, read_text};
use std::io::Write;

/// Show a program week by week: sessions, sets and reps, hard sets, times
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// A program's name, or a file; without one, the program that you follow
    name: Option<String>,
    /// Print one JSON object for scripts
    #[arg(long)]
    pub json: bool,
}

/// Prints the program to `out`.
///
/// # Errors
///
/// Files have problems, or cannot be read; no such program is known.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let Standing {
        loaded,
        history,
        lifter,
        beliefs,
        kept,
        begun: _,
    } = Standing::here()?;
    let name = match &arguments.name {
        Some(name) => name.as_str(),
        None => lifter.program.as_str(),
    };
    let program = find(&loaded, name)?;
    let material = material(&loaded.desk, &history, &lifter, now().civil);
    let material = material.believing(&beliefs);
    let shown = material.preview(&program).map_err(Failure::error)?;
    kept.keep(&beliefs);
    let catalogue = &loaded.desk.catalogue;
    if arguments.json {
        writeln!(out, "{}", preview::json(&program, &shown))?;
    } else {
        write!(out, "{}", preview::text(&program, &shown, catalogue))?;
    }
    Ok(Exit::Done)
}

/// The program of a name, or of a file.
fn find(loaded: &Loaded, name: &str) -> Result<Program, Failure> {
    if name.contains('/') || name.ends_with(".ron") {
        let file = read_text(&Disk, name.as_ref())?;
        let id = ProgramId::new(&file.name);
        let id = id.ok_or_else(|| Failure::usage("rackside: this file's name cannot be used"))?;
        let read = program_file::read(&file.path, &id, &file.text, &loaded.desk.catalogue);
        return read.map_err(|problems| crate::shell::Error::Problems(problems).into());
    }
    let found = ProgramId::new(name).and_then(|id| loaded.desk.program(&id).cloned());
    found.ok_or_else(|| unknown(loaded, name))
}

/// That no program is called so, and which are.
pub fn unknown(loaded: &Loaded, name: &str) -> Failure {
    let programs = &loaded.desk.programs;
    let known: Vec<&str> = programs.iter().map(|program| program.id.as_str()).collect();
    let meant = near(name, known.iter().copied());
    let advice = match meant {
        Some(other) => format!("did you mean {other}?"),
        None => format!("known are {}", known.join(", ")),
    };
    let name = neutral(name);
    Failure::error(format!(
        "rackside: no program is called \"{name}\"; {advice}"
    ))
}
