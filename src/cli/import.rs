//! `rackside import`: sets that were written down elsewhere.

use super::{Exit, Failure, warn};
use crate::domain::diagnostic::neutral;
use crate::domain::exercise::Catalogue;
use crate::domain::history::History;
use crate::domain::units::Unit;
use crate::domain::words;
use crate::formats::journal::Record;
use crate::formats::json;
use crate::formats::sheet::{
    self, Column, Decimal, Ground, Order, Outcome, Refusal, Sheet, Wish, read_names,
};
use crate::shell::{
    Disk, Error, Home, Loaded, Storage, now, read_bytes, read_journal, read_text, record_import,
};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Takes in sets that were written down elsewhere.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, clap::Subcommand)]
enum Command {
    Csv(Csv),
}

/// Show what each row of a spreadsheet of sets becomes; with --record, record it
#[derive(Debug, clap::Args)]
#[command(after_help = COLUMNS)]
struct Csv {
    /// The spreadsheet, saved as CSV: a row a set
    file: PathBuf,
    /// What each column holds, from the left: date,exercise,load,reps,-,notes
    #[arg(long, value_name = "COLUMNS", value_parser = columns)]
    columns: Option<Columns>,
    /// What stands between cells: comma, semicolon, tab or bar
    #[arg(long, value_name = "SIGN", value_parser = sheet::separator)]
    separator: Option<u8>,
    /// What stands before decimals
    #[arg(long)]
    decimal: Option<Sign>,
    /// The unit of masses without one
    #[arg(long)]
    unit: Option<MassUnit>,
    /// Which comes first in dates like 3/4/2024
    #[arg(long)]
    dates: Option<First>,
    /// What the names of exercises mean: the file that a first look writes
    #[arg(long, value_name = "FILE")]
    names: Option<PathBuf>,
    /// Take sets again that are there already
    #[arg(long)]
    take_doubles: bool,
    /// Record what is shown without it; one void takes all of it back
    #[arg(long)]
    record: bool,
    /// Print one JSON object a row, for scripts
    #[arg(long)]
    json: bool,
}

const COLUMNS: &str = "\
Columns: date, exercise, load (its unit in the cell, in the column unit, or by
--unit), reps (or left and right), seconds of a hold, sets (how many alike),
set (its number), spare (reps in reserve) or rpe, side, kind (ramp, working,
back_off), notes, body_weight; of the day effort (0 to 10) and minutes. A first
row that names them needs no --columns. An empty date or exercise is that of
the row above.";

/// Columns from the left.
#[derive(Clone, Debug)]
struct Columns(Vec<Column>);

fn columns(text: &str) -> Result<Columns, String> {
    sheet::column_list(text).map(Columns)
}

#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Sign {
    Point,
    Comma,
}

#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum MassUnit {
    Kg,
    Lb,
}

#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum First {
    DayFirst,
    MonthFirst,
}

impl Arguments {
    /// Whether what is printed is JSON.
    pub const fn is_for_scripts(&self) -> bool {
        let Command::Csv(csv) = &self.command;
        csv.json
    }
}

/// Shows what a spreadsheet becomes, and records it where that was asked for.
///
/// # Errors
///
/// The spreadsheet cannot be read, or the journal cannot be read or written.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let Command::Csv(csv) = &arguments.command;
    let home = Home::here()?;
    let loaded = Loaded::from(&home, &Disk)?;
    let catalogue = &loaded.desk.catalogue;
    let table = Table {
        csv,
        bytes: read_bytes(&csv.file, &Disk)?,
        unit: loaded
            .lifter
            .as_ref()
            .unwrap_or(&loaded.default_lifter())
            .unit,
        wish: wish(csv, catalogue)?,
        catalogue,
    };
    if !csv.record {
        let sheet = table.read(&read_journal(&home, &Disk)?)?;
        show(&sheet, csv, catalogue, out)?;
        if !csv.json {
            let names = write_names(&sheet, csv)?;
            foresee(&sheet, names, out)?;
        }
        return Ok(exit(&sheet));
    }
    let storage: Arc<dyn Storage> = Arc::new(Disk);
    let mut sheet = Sheet::default();
    let end = record_import(&home, &storage, |record| {
        sheet = table.read(record)?;
        Ok(sheet.days.clone())
    })?;
    show(&sheet, csv, catalogue, out)?;
    if !csv.json {
        match end {
            Some(end) => writeln!(
                out,
                "recorded; take all of it back with 'rackside journal void {}'",
                end.id
            )?,
            None => writeln!(out, "nothing to record")?,
        }
    }
    Ok(exit(&sheet))
}

/// How the spreadsheet is to be read.
fn wish(csv: &Csv, catalogue: &Catalogue) -> Result<Wish, Failure> {
    let names = match &csv.names {
        None => sheet::Names::default(),
        Some(path) => {
            let file = read_text(&Disk, path)?;
            read_names(&file.path, &file.text, catalogue).map_err(Error::Problems)?
        }
    };
    Ok(Wish {
        columns: csv.columns.clone().map(|columns| columns.0),
        separator: csv.separator,
        decimal: csv.decimal.map(|sign| match sign {
            Sign::Point => Decimal::Point,
            Sign::Comma => Decimal::Comma,
        }),
        unit: csv.unit.map(|unit| match unit {
            MassUnit::Kg => Unit::Kg,
            MassUnit::Lb => Unit::Lb,
        }),
        dates: csv.dates.map(|first| match first {
            First::DayFirst => Order::DayFirst,
            First::MonthFirst => Order::MonthFirst,
        }),
        names,
        take_doubles: csv.take_doubles,
    })
}

/// A spreadsheet that is still to be read against a journal.
struct Table<'a> {
    csv: &'a Csv,
    bytes: Vec<u8>,
    unit: Unit,
    wish: Wish,
    catalogue: &'a Catalogue,
}

impl Table<'_> {
    fn read(&self, record: &Record) -> Result<Sheet, Error> {
        let history = History::with_damaged(record.events.clone(), &record.damaged);
        let ground = Ground {
            catalogue: self.catalogue,
            history: &history,
            unit: self.unit,
            today: now().civil.date(),
        };
        let source = source(&self.csv.file);
        sheet::read(&self.bytes, &source, &self.wish, ground).map_err(|refusal| {
            let Refusal { why, instead } = refusal;
            let path = self.csv.file.to_string_lossy();
            Error::Said(format!("{path}: {why}: {instead}"))
        })
    }
}

/// The name that the journal keeps of a file.
fn source(path: &Path) -> String {
    let name = path.file_name().unwrap_or(path.as_os_str());
    name.to_string_lossy().chars().take(80).collect()
}

/// Prints the rows (when recording, those alone that are not taken), and the whole.
fn show(
    sheet: &Sheet,
    csv: &Csv,
    catalogue: &Catalogue,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    for remark in &sheet.remarks {
        match csv.json {
            true => warn(remark),
            false => writeln!(out, "{}", neutral(remark))?,
        }
    }
    for row in &sheet.rows {
        let taken = matches!(row.outcome, Outcome::Sets(..) | Outcome::OtherSide(_));
        if csv.json {
            writeln!(out, "{}", json::line(&sheet::row_object(row)))?;
        } else if !(csv.record && taken) {
            writeln!(out, "{}", sheet::row_line(row, catalogue))?;
        }
    }
    if !csv.json {
        for line in sheet::summary(sheet) {
            writeln!(out, "{line}")?;
        }
    }
    Ok(())
}

/// Writes what the unknown names may mean beside the spreadsheet, for the person to look over.
fn write_names(sheet: &Sheet, csv: &Csv) -> Result<Option<PathBuf>, Failure> {
    if sheet.unknown.is_empty() {
        return Ok(None);
    }
    let count = words::count(sheet.unknown.len(), "name");
    if let Some(path) = &csv.names {
        let open: Vec<String> = sheet
            .unknown
            .iter()
            .map(|u| format!("{:?}", u.name))
            .collect();
        let path = path.to_string_lossy();
        warn(&format!(
            "{path} does not say what these are yet: {}",
            open.join(", ")
        ));
        return Ok(None);
    }
    let path = csv.file.with_extension("names.ron");
    let text = sheet::names_text(&sheet.unknown, &source(&csv.file));
    match Disk.create(&path, text.as_bytes()) {
        Ok(()) => Ok(Some(path)),
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            let path = path.to_string_lossy();
            warn(&format!(
                "{count} of exercises unknown; {path} is there already and stays as it is: \
                 add --names {path}, or move it away"
            ));
            Ok(None)
        }
        Err(error) => Err(Error::file("write", &path)(error).into()),
    }
}

/// Says what to do next.
fn foresee(sheet: &Sheet, names: Option<PathBuf>, out: &mut dyn Write) -> Result<(), Failure> {
    if let Some(path) = names {
        let path = neutral(&path.to_string_lossy());
        let count = words::count(sheet.unknown.len(), "name");
        writeln!(out, "{count} of exercises unknown: look over {path},")?;
        writeln!(out, "then the same again with --names {path}")?;
    }
    if sheet.days.is_empty() {
        writeln!(out, "nothing to record")?;
    } else {
        writeln!(
            out,
            "nothing is recorded yet; the same again with --record does it"
        )?;
    }
    Ok(())
}

fn exit(sheet: &Sheet) -> Exit {
    match sheet.refused() {
        0 => Exit::Done,
        _ => Exit::Problems,
    }
}
