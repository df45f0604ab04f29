//! `rackside program check`: everything that is wrong with programs, and advice on them.

use super::super::{Exit, Failure};
use crate::domain::diagnostic::{Diagnostic, Severity};
use crate::domain::program::ProgramId;
use crate::formats::{json, program_file};
use crate::shell::{Disk, Home, Text, own_programs, read_catalogue, read_text};
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
            for file in texts(&home, &arguments.files)? {
                let Some(id) = ProgramId::new(&file.name) else {
                    found.push(misnamed(&file.path));
                    continue;
                };
                match program_file::read(&file.path, &id, &file.text, &catalogue) {
                    Ok(_) => {}
                    Err(problems) => found.extend(problems),
                }
            }
        }
    }
    tell(&found, arguments.json, out)
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
