//! `rackside program new`: a file to begin from.

use super::super::{Exit, Failure};
use crate::domain::diagnostic::neutral;
use crate::domain::program::ProgramId;
use crate::formats::program_file::{self, SHIPPED};
use crate::shell::{Disk, Error, Home, Storage};
use std::io::{self, Write};

/// Write a commented file to begin from, never over another
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Its name: lower-case letters, digits and _
    name: String,
}

/// Writes the file, and says where it is.
///
/// # Errors
///
/// The name cannot be used or is taken; the file cannot be written.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let name = &arguments.name;
    let shown = neutral(name);
    let Some(id) = ProgramId::new(name) else {
        return Err(Failure::usage(format!(
            "rackside: \"{shown}\" cannot be a program's name\n\
             write lower-case letters, digits and _ alone, up to 64 of them"
        )));
    };
    if SHIPPED.iter().any(|(shipped, _)| *shipped == id.as_str()) {
        return Err(Failure::error(format!(
            "rackside: a program that ships is called {shown}: choose another name"
        )));
    }
    let path = Home::here()?.programs().join(format!("{id}.ron"));
    let words: String = id.as_str().chars().take(40).collect();
    let text = program_file::start(&words.replace('_', " "));
    match Disk.create(&path, text.as_bytes()) {
        Ok(()) => {}
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            return Err(Failure::error(format!(
                "rackside: {} is there already and stays as it is: choose another name",
                neutral(&path.to_string_lossy())
            )));
        }
        Err(error) => return Err(Error::file("write", &path)(error).into()),
    }
    writeln!(out, "{}", neutral(&path.to_string_lossy()))?;
    writeln!(
        out,
        "change it, then: rackside program check, rackside program preview {id}, \
         rackside program adopt {id}"
    )?;
    Ok(Exit::Done)
}
