//! `rackside program check`: everything that is wrong with programs, and advice on them.

use super::super::{Exit, Failure};
use crate::domain::diagnostic::{Diagnostic, Severity};
use crate::domain::gear::Place;
use crate::domain::program::ProgramId;
use crate::domain::session::Experience;
use crate::formats::program_file::Whom;
use crate::formats::{json, program_file};
use crate::shell::{
    Disk, Home, Loaded, Text, now, own_programs, read_catalogue, read_past, read_text,
};
use std::io::{self, Read, Write};
use std::path::PathBuf;

/// Check programs: silent when all is well
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Files to check, - for standard input; without any, all of your own programs
    #[arg(value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Print one JSON object a line and problem, for editors
    #[arg(long)]
    pub json: bool,
}

/// Checks; problems go to standard error, or as JSON to `out`.
///
/// # Errors
///
/// A file cannot be read.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let home = Home::here()?;
    let mut found: Vec<Diagnostic> = Vec::new();
    match read_catalogue(&home, &Disk) {
        Err(crate::shell::Error::Problems(problems)) => found.extend(problems),
        Err(other) => return Err(other.into()),
        Ok(catalogue) => {
            let person = person(&home);
            for file in texts(&home, &arguments.files)? {
                let Some(id) = ProgramId::new(&file.name) else {
                    found.push(misnamed(&file.path));
                    continue;
                };
                let whom = Whom {
                    catalogue: &catalogue,
                    place: person.as_ref().and_then(|(place, _)| place.as_ref()),
                    novice: person.as_ref().is_none_or(|(_, novice)| *novice),
                };
                match program_file::read_with_advice(&file.path, &id, &file.text, whom) {
                    Ok((_, advice)) => found.extend(advice),
                    Err(problems) => found.extend(problems),
                }
            }
        }
    }
    tell(&found, arguments.json, out)
}

/// The person's place, and whether they are a novice; none where their other files cannot be read,
/// since these are not what is checked.
fn person(home: &Home) -> Option<(Option<Place>, bool)> {
    let loaded = Loaded::from(home, &Disk).ok()?;
    let history = read_past(home, &Disk).ok()?.into_history(now());
    let lifter = loaded.lifter.clone();
    let known = lifter.is_some() || history.choices.place.is_some();
    let lifter = lifter.unwrap_or_else(|| loaded.default_lifter());
    let lifter = lifter.after(&history.choices, now().civil.date());
    let place = loaded.desk.place(&lifter.place).filter(|_| known);
    Some((place.cloned(), lifter.experience == Experience::Novice))
}

/// The files to check.
fn texts(home: &Home, files: &[PathBuf]) -> Result<Vec<Text>, Failure> {
    if files.is_empty() {
        return Ok(own_programs(home, &Disk)?);
    }
    let mut texts = Vec::new();
    for path in files {
        if path.as_os_str() != "-" {
            texts.push(read_text(&Disk, path)?);
            continue;
        }
        let mut text = String::new();
        let read = io::stdin().lock().read_to_string(&mut text);
        read.map_err(|error| Failure::error(format!("rackside: standard input: {error}")))?;
        texts.push(Text {
            name: "standard_input".to_owned(),
            path: "-".to_owned(),
            text,
        });
    }
    Ok(texts)
}

fn misnamed(path: &str) -> Diagnostic {
    let advice = "name the file with lower-case letters, digits and _ before .ron";
    Diagnostic::about(path, "this file's name cannot be used", advice)
}

fn tell(found: &[Diagnostic], as_json: bool, out: &mut dyn Write) -> Result<Exit, Failure> {
    for problem in found {
        if as_json {
            writeln!(out, "{}", json::diagnostic(problem))?;
        } else {
            // Where even standard error is closed, nobody is left to tell.
            let _ = writeln!(io::stderr(), "{problem}");
        }
    }
    let errors = found.iter().any(|p| p.severity == Severity::Error);
    Ok(if errors { Exit::Problems } else { Exit::Done })
}
