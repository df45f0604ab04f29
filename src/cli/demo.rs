//! `rackside demo`: everything, on an invented lifter's records.

use super::{Exit, Failure, warn};
use crate::domain::diagnostic::neutral;
use crate::domain::history::Lifter;
use crate::domain::invented::{DEVICE, Invention};
use crate::domain::units::{Civil, Mass, Unit, Weight};
use crate::formats::{journal, lifter_file};
use crate::shell::{self, Disk, Error, Home, Loaded, Storage, now};
use chrono::NaiveDate;
use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Sets of about three months.
const THREE_MONTHS: u64 = 700;

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
    /// How many sets
    #[arg(long, value_name = "N", default_value_t = THREE_MONTHS)]
    sets: u64,
    /// The day before which the last session falls; today where it is not given
    #[arg(long, value_name = "DATE")]
    until: Option<NaiveDate>,
}

/// Writes the records, and opens them.
///
/// # Errors
///
/// The folder holds a journal already, or cannot be written.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
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
            let folder = std::env::temp_dir().join(format!("rackside-demo-{}", std::process::id()));
            write(&folder, arguments, until)?;
            warn("these records are invented; nothing you do here is kept");
            let ended = shell::run(&home_of(&folder), Some("invented records"));
            Disk.remove_folder(&folder)
                .map_err(Error::file("remove", &folder))?;
            super::ended(ended?)
        }
    }
}

fn home_of(folder: &Path) -> Home {
    Home {
        data: folder.join("data"),
        config: folder.join("config"),
        state: folder.join("state"),
        cache: folder.join("cache"),
    }
}

fn midnight(date: NaiveDate) -> Result<Civil, Failure> {
    Civil::parse(&format!("{date}T00:00:00.000+00:00"))
        .ok_or_else(|| Failure::usage("rackside: --until wants a date like 2026-06-30"))
}

/// Writes an invented home; says how many sets it holds.
fn write(folder: &Path, arguments: &Arguments, until: Civil) -> Result<u64, Failure> {
    let folder = std::path::absolute(folder).map_err(Error::file("find", folder))?;
    let home = home_of(&folder);
    let there = Disk
        .list(&home.journal())
        .map_err(Error::file("read", &home.journal()))?;
    if !there.is_empty() {
        let folder = neutral(&folder.to_string_lossy());
        let text = format!("rackside: {folder} holds a journal already: name an empty folder");
        return Err(Failure::error(text));
    }
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
    let sets = write_journal(&home, invention)?;
    let text = lifter_file::text(&lifter);
    let path = home.lifter();
    Disk.create(&path, text.as_bytes())
        .map_err(Error::file("write", &path))?;
    Ok(sets)
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
