//! `rackside program adopt`: a program taken up.

use super::super::{Exit, Failure};
use super::preview::unknown;
use crate::domain::program::ProgramId;
use crate::domain::session::{Adopted, Event};
use crate::domain::words;
use crate::shell::{Disk, Home, Loaded, Storage, now, record_event};
use chrono::NaiveDate;
use std::io::Write;
use std::sync::Arc;

/// Take a program up, today or on a date, from its first phase or another
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The program's name
    name: String,
    /// The day from which it holds, like 2026-11-30; today where it is not given
    #[arg(long, value_name = "DATE")]
    on: Option<NaiveDate>,
    /// The phase to begin with, from 1
    #[arg(long, value_name = "N", default_value_t = 1)]
    phase: u16,
}

/// Writes it into the journal.
///
/// # Errors
///
/// Files have problems; no such program or phase is known; the journal cannot be written.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let home = Home::here()?;
    let loaded = Loaded::from(&home, &Disk)?;
    let Arguments { name, on, phase } = arguments;
    let found = ProgramId::new(name).and_then(|id| loaded.desk.program(&id).cloned());
    let program = found.ok_or_else(|| unknown(&loaded, name))?;
    let place = usize::from(*phase).wrapping_sub(1);
    let Some(begins) = program.phases.get(place) else {
        let names = program.phases.iter().enumerate();
        let names: Vec<String> = names
            .map(|(k, p)| format!("{} {}", k + 1, p.name))
            .collect();
        return Err(Failure::usage(format!(
            "rackside: {name} has no phase {phase}; its phases are {}",
            names.join(", ")
        )));
    };
    let today = now().civil.date();
    let from = on.unwrap_or(today);
    let event = Event::Adopted(Adopted {
        program: program.id.clone(),
        from,
        phase: *phase,
    });
    let storage: Arc<dyn Storage> = Arc::new(Disk);
    record_event(&home, &storage, |_| Ok((None, event)))?;
    let day = if from == today {
        "today".to_owned()
    } else {
        format!("{} {from}", words::day(from))
    };
    let text = format!(
        "{} from {day}, phase {phase}: {}",
        program.name, begins.name
    );
    writeln!(out, "{}", crate::domain::diagnostic::neutral(&text))?;
    Ok(Exit::Done)
}
