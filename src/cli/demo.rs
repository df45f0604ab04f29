//! `rackside demo`: everything, on an invented lifter's records.

use super::{Exit, Failure, warn};
use crate::domain::diagnostic::neutral;
use crate::domain::history::Lifter;
use crate::domain::invented::{DEVICE, Invention};
use crate::domain::units::{Civil, Mass, Unit, Weight};
use crate::formats::{journal, lifter_file};
use crate::shell::{self, Disk, Ended, Error, Flags, Home, Loaded, Start, Storage, now};
use chrono::{Datelike, NaiveDate};
use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Sets of about three months.
const THREE_MONTHS: u64 = 620;
/// No more at once: more than a thousand lives hold.
const MOST: u64 = 100_000_000;

/// Opens rackside on an invented lifter's three months of records, in a home that goes with it.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Write the records and quit
    #[arg(long, requires = "home")]
    write_only: bool,
    /// Where to write them: a folder without a journal
    #[arg(long, value_name = "DIR", requires = "write_only")]
    home: Option<PathBuf>,
    /// The same seed gives the same records
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// How many sets, at most a hundred million
    #[arg(long, value_name = "N", default_value_t = THREE_MONTHS)]
    #[arg(value_parser = clap::value_parser!(u64).range(..=MOST))]
    sets: u64,
    /// The day before which the last session falls; today where it is not given
    #[arg(long, value_name = "DATE")]
    until: Option<NaiveDate>,
}

/// Writes the records, and opens them.
///
/// # Errors
///
/// The folder holds a journal already, or cannot be written; there is no terminal to open them on.
pub fn run(arguments: &Arguments, flags: Flags, out: &mut dyn Write) -> Result<Exit, Failure> {
    let until = match arguments.until {
        Some(date) => midnight(date)?,
        None => now().civil,
    };
    match &arguments.home {
        Some(folder) => {
            let sets = write(folder, arguments, until)?;
            let folder = neutral(&folder.to_string_lossy());
            writeln!(out, "{sets} invented sets written under {folder}")?;
            Ok(Exit::Done)
        }
        None => {
            super::needs_terminal(flags)?;
            out.flush()?;
            let name = format!("rackside-demo-{}", shell::new_name());
            let folder = Disk
                .make_temporary(&name)
                .map_err(Error::file("make the temporary folder", name.as_ref()))?;
            let ended = open(&folder, flags, (arguments, until));
            // However it ended: what was invented goes.
            Disk.remove_folder(&folder)
                .map_err(Error::file("remove", &folder))?;
            super::ended(ended?)
        }
    }
}

/// Opens invented records on the terminal.
fn open(
    folder: &Path,
    flags: Flags,
    (arguments, until): (&Arguments, Civil),
) -> Result<Ended, Failure> {
    write(folder, arguments, until)?;
    warn("these records are invented; nothing you do here is kept");
    let home = &Home::under(folder)?;
    let mark = Some("invented records");
    Ok(shell::run(Start {
        home,
        flags,
        minutes: None,
        mark,
    })?)
}

fn midnight(date: NaiveDate) -> Result<Civil, Failure> {
    let known = (1970..=9999).contains(&date.year());
    Civil::parse(&format!("{date}T00:00:00.000+00:00"))
        .filter(|_| known)
        .ok_or_else(|| Failure::usage("rackside: --until wants a date from 1970-01-01 on"))
}

/// Writes an invented home; says how many sets it holds.
fn write(folder: &Path, arguments: &Arguments, until: Civil) -> Result<u64, Failure> {
    let home = Home::under(folder)?;
    refuse_lived_in(folder, &home)?;
    let loaded = Loaded::from(&home, &Disk)?;
    let lifter = Lifter {
        body_weight: Some(Weight::new(
            Mass::from_ng(72 * Unit::Kg.nanograms()),
            Unit::Kg,
        )),
        ..loaded.default_lifter()
    };
    let (Some(program), Some(place)) = (
        loaded.desk.program(&lifter.program),
        loaded.desk.place(&lifter.place),
    ) else {
        return Err(Failure::error(
            "rackside: the demo's program or place is missing",
        ));
    };
    let Arguments { seed, sets, .. } = *arguments;
    let catalogue = &loaded.desk.catalogue;
    let invention = Invention {
        catalogue,
        program,
        place,
        seed,
        sets,
        until,
    };
    let text = lifter_file::text(&lifter);
    let path = home.lifter();
    Disk.create(&path, text.as_bytes())
        .map_err(Error::file("write", &path))?;
    write_journal(&home, invention)
}

/// Invented records never come among a person's own.
fn refuse_lived_in(folder: &Path, home: &Home) -> Result<(), Failure> {
    let journal = Disk
        .list(&home.journal())
        .map_err(Error::file("read", &home.journal()))?;
    let what = if !journal.is_empty() {
        "a journal"
    } else if home.lifter().exists() {
        "a lifter's file"
    } else {
        return Ok(());
    };
    let folder = neutral(&folder.to_string_lossy());
    Err(Failure::error(format!(
        "rackside: {folder} holds {what} already: name an empty folder"
    )))
}

/// One file a year, each written once; a session stands in the file of the year it was opened in.
fn write_journal(home: &Home, invention: Invention<'_>) -> Result<u64, Failure> {
    let mut years: BTreeMap<i32, String> = BTreeMap::new();
    let mut sets = 0;
    for session in invention.sessions() {
        let year = session.first().map_or(0, |event| event.at.year());
        // Sessions come in order: the years before this one are whole.
        let ready: Vec<i32> = years.range(..year).map(|(year, _)| *year).collect();
        for year in ready {
            write_year(home, year, &years.remove(&year).unwrap_or_default())?;
        }
        let text = years.entry(year).or_default();
        for event in &session {
            let line = journal::write_line(event).map_err(|e| Failure::error(e.to_string()))?;
            text.push_str(line.trim_end());
            text.push('\n');
        }
        sets += u64::try_from(session.len().saturating_sub(2)).unwrap_or(0);
    }
    for (year, text) in &years {
        write_year(home, *year, text)?;
    }
    Ok(sets)
}

fn write_year(home: &Home, year: i32, text: &str) -> Result<(), Error> {
    let path = home.journal().join(journal::file_name(year, DEVICE));
    Disk.create(&path, text.as_bytes())
        .map_err(Error::file("write", &path))
}
