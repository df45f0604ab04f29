//! `rackside export`: what others can read.

use super::standing::{Standing, history};
use super::{Exit, Failure, warn};
use crate::domain::logbook::Logbook;
use crate::domain::logbook::told::Reading;
use crate::domain::schedule::{Wish, coming};
use crate::formats::export::{self, Ground, Rows};
use crate::formats::{calendar, plain, report};
use crate::shell::{Disk, Error, Home, Loaded, material, now, read_past};
use chrono::{NaiveDate, NaiveTime};
use clap::builder::{PossibleValuesParser, TypedValueParser};
use std::io::{self, Write};
use std::path::PathBuf;

/// Writes what other programs can read.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, clap::Subcommand)]
enum Command {
    /// Write every set, or what the sets say, as CSV (RFC 4180)
    Csv {
        #[command(flatten)]
        table: Table,
    },
    /// Write every set, or what the sets say, as JSON, one object a line
    Json {
        #[command(flatten)]
        table: Table,
    },
    /// Write what the sets say as one page with charts (HTML): it loads nothing, and can be printed
    Report {
        /// From which day on; all days without it
        #[arg(long, value_name = "DATE")]
        since: Option<NaiveDate>,
        #[command(flatten)]
        to: To,
    },
    /// Write the coming sessions as a calendar (RFC 5545)
    Ics {
        /// How many weeks ahead
        #[arg(long, value_name = "N", default_value_t = 8)]
        #[arg(value_parser = clap::value_parser!(u64).range(1..=52))]
        weeks: u64,
        /// When sessions begin, like 18:30; without it they are events of the whole day
        #[arg(long, value_name = "HH:MM", value_parser = time)]
        at: Option<NaiveTime>,
        #[command(flatten)]
        to: To,
    },
}

#[derive(Debug, clap::Args)]
struct Table {
    /// What each row is
    #[arg(long, default_value = "sets", value_parser = rows())]
    rows: Rows,
    #[command(flatten)]
    to: To,
}

/// Where it goes.
#[derive(Debug, clap::Args)]
struct To {
    /// The file to write, which must not be there yet; standard output without it
    #[arg(long, short, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Put it in place of a file that is there
    #[arg(long, requires = "output")]
    overwrite: bool,
}

fn rows() -> impl TypedValueParser<Value = Rows> {
    let names = Rows::ALL.map(Rows::name);
    PossibleValuesParser::new(names).map(|name| {
        let rows = Rows::ALL.into_iter().find(|rows| rows.name() == name);
        rows.unwrap_or(Rows::Sets)
    })
}

fn time(text: &str) -> Result<NaiveTime, String> {
    let time = NaiveTime::parse_from_str(text, "%H:%M");
    time.map_err(|_| "write hours and minutes, like 18:30".to_owned())
}

/// Does what was asked.
///
/// # Errors
///
/// Files have problems, or cannot be read or written.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let (bytes, to) = match &arguments.command {
        Command::Csv { table } => (rows_of(table.rows)?.csv(), &table.to),
        Command::Json { table } => (rows_of(table.rows)?.json_lines().into_bytes(), &table.to),
        Command::Report { since, to } => (page(*since)?.into_bytes(), to),
        Command::Ics { weeks, at, to } => (ics(*weeks, *at)?.into_bytes(), to),
    };
    let Some(path) = &to.output else {
        out.write_all(&bytes)?;
        return Ok(Exit::Done);
    };
    match Disk.publish(path, &bytes, to.overwrite) {
        Ok(()) => Ok(Exit::Done),
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Err(Failure::error(format!(
            "rackside: {} is there already and stays as it is: name another, or add --overwrite",
            path.display()
        ))),
        Err(error) => Err(Error::file("write", path)(error).into()),
    }
}

/// The record, and what it says, as rows of that kind.
fn rows_of(rows: Rows) -> Result<export::Table, Failure> {
    let home = Home::here()?;
    let loaded = Loaded::from(&home, &Disk)?;
    let catalogue = &loaded.desk.catalogue;
    let history = history()?;
    let body_weight = loaded.lifter.as_ref().and_then(|lifter| lifter.body_weight);
    let logbook = Logbook::of(&history, catalogue, body_weight);
    let ground = Ground {
        history: &history,
        logbook: &logbook,
        catalogue,
        body_weight,
        today: now().civil.date(),
    };
    Ok(export::table(rows, ground))
}

/// Columns that no line of the page fills: it breaks lines itself.
const UNBROKEN: usize = 1000;

/// What the sets say, as a page.
fn page(since: Option<NaiveDate>) -> Result<String, Failure> {
    let standing = Standing::whole()?;
    let catalogue = &standing.loaded.desk.catalogue;
    let logbook = Logbook::of(&standing.history, catalogue, standing.lifter.body_weight);
    let today = now().civil.date();
    let first = logbook.sessions.iter().map(|session| session.day).min();
    let reading = Reading {
        history: &standing.history,
        logbook: &logbook,
        catalogue,
        unit: standing.lifter.unit,
        today,
        days: (since.or(first).unwrap_or(today).min(today), today),
        width: UNBROKEN,
        rows: UNBROKEN,
    };
    Ok(report::html(&reading, &|exercise| {
        standing.believed(exercise)
    }))
}

/// The coming sessions as a calendar.
fn ics(weeks: u64, at: Option<NaiveTime>) -> Result<String, Failure> {
    let home = Home::here()?;
    let loaded = Loaded::from(&home, &Disk)?;
    let now = now();
    let history = read_past(&home, &Disk)?.into_history(now);
    let lifter = loaded.lifter.clone().unwrap_or_else(|| {
        warn("no answers of a first run yet: these are the defaults (run rackside once)");
        loaded.default_lifter()
    });
    let today = now.civil.date();
    let lifter = lifter.after(&history.choices, today);
    let material = material(&loaded.desk, &history, &lifter, now.civil);
    let program = loaded.desk.program(&lifter.program);
    let program = program.ok_or_else(|| {
        let known = lifter.program.as_str();
        Failure::error(format!("rackside: no program is called \"{known}\""))
    })?;
    let mut entries = Vec::new();
    for session in coming(program, &history, (today, weeks * 7)) {
        let place = (session.session.phase, session.session.week, session.number);
        let title = session.session.name.clone();
        let wish = Wish {
            session: Some(session.session),
            ..Wish::default()
        };
        let briefing = material.brief(&wish).map_err(Failure::error)?;
        let items = briefing.plan.items.iter();
        entries.push(calendar::Entry {
            place,
            date: session.date,
            title,
            lines: items
                .map(|item| plain::outline(item, &loaded.desk.catalogue))
                .collect(),
            minutes: briefing.takes.get().div_ceil(60),
        });
    }
    let adopted = history.choices.adopted_on(today);
    let adopted = adopted.filter(|adoption| adoption.adopted.program == program.id);
    let since = adopted.map(|adoption| adoption.adopted.from);
    Ok(calendar::calendar(
        program,
        since,
        &entries,
        (at, now.civil),
    ))
}
