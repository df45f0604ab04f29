//! The views: who is meant, and the same in lines or as JSON.

use super::options::{AsOf, Days, Records, Sessions, Strength, Work};
use crate::cli::Failure;
use crate::cli::standing::Standing;
use crate::domain::exercise::{Catalogue, Exercise, ExerciseId};
use crate::domain::logbook::Logbook;
use crate::domain::logbook::backing_off::BackingOff;
use crate::domain::logbook::told::sessions::Which;
use crate::domain::logbook::told::strength::Asked;
use crate::domain::logbook::told::{self, Reading};
use crate::domain::logbook::week::Week;
use crate::domain::strength::belief::Believed;
use crate::domain::units::Load;
use crate::formats::journal::load_like;
use crate::formats::ron_text::near;
use crate::formats::{json, logbook as objects};
use crate::shell::{Back, now};
use chrono::NaiveDate;
use std::io::Write;

/// Columns of what is printed.
const WIDTH: usize = 78;
/// Rows of a view with a picture.
const ROWS: usize = 22;

/// Digests of what was recorded, and the days that are looked at.
struct Read {
    standing: Standing,
    logbook: Logbook,
    today: NaiveDate,
    days: (NaiveDate, NaiveDate),
}

impl Read {
    /// As far back as a view of these days looks.
    fn of(since: Option<NaiveDate>, until: Option<NaiveDate>) -> Result<Self, Failure> {
        let now = now().civil.date();
        let usual = Reading::usual_days(until.unwrap_or(now));
        let since = since.unwrap_or(usual.0);
        let read = Self::back(Back::Day(Week::of(since.min(usual.0)).back(1).monday()))?;
        Ok(Self {
            today: until.unwrap_or(now).min(now),
            days: (since, usual.1),
            ..read
        })
    }

    /// The usual days, as far back as that.
    fn back(back: Back) -> Result<Self, Failure> {
        let standing = Standing::back(back)?;
        let catalogue = &standing.loaded.desk.catalogue;
        let logbook = Logbook::of(&standing.history, catalogue, standing.lifter.body_weight);
        let today = now().civil.date();
        Ok(Self {
            logbook: logbook.begun_on(standing.begun),
            standing,
            today,
            days: Reading::usual_days(today),
        })
    }

    /// As far back as the session that is meant: the last one, or any.
    fn of_session(meant: &str) -> Result<Self, Failure> {
        if meant == "last" {
            let read = Self::back(Back::Sessions(1))?;
            if read.logbook.exercises().next().is_some() {
                return Ok(read);
            }
        }
        Self::back(Back::Ever)
    }

    fn over(days: &Days) -> Result<Self, Failure> {
        if let (Some(since), Some(until)) = (days.since, days.until)
            && since > until
        {
            let text = format!("rackside: --since {since} lies behind --until {until}");
            return Err(Failure::usage(text));
        }
        Self::of(days.since, days.until)
    }

    fn reading(&self) -> Reading<'_> {
        Reading {
            history: &self.standing.history,
            logbook: &self.logbook,
            catalogue: &self.standing.loaded.desk.catalogue,
            unit: self.standing.lifter.unit,
            today: self.today,
            days: self.days,
            width: WIDTH,
            rows: ROWS,
        }
    }

    /// Whether the last easier session or lay-off, if there is one, lies before what was read.
    fn is_short_of_rest(&self) -> bool {
        let records = (&self.standing.history, &self.logbook);
        let catalogue = &self.standing.loaded.desk.catalogue;
        let found = BackingOff::of(records, catalogue, self.today);
        self.standing.history.forgotten > 0 && found.rest.is_none()
    }

    /// What was believed after each session of an exercise.
    fn believed(&self, exercise: &Exercise) -> Vec<Believed> {
        self.standing.believed(exercise)
    }
}

fn print(lines: &[String], out: &mut dyn Write) -> Result<(), Failure> {
    for line in lines {
        writeln!(out, "{}", crate::domain::diagnostic::neutral(line))?;
    }
    Ok(())
}

/// Sessions, or one of them.
///
/// # Errors
///
/// No exercise or session is called so.
pub fn sessions(asked: &Sessions, out: &mut dyn Write) -> Result<(), Failure> {
    if let Some(id) = &asked.session {
        let read = Read::of_session(id)?;
        let reading = read.reading();
        let place = session(&reading, id)?;
        if asked.days.json {
            writeln!(
                out,
                "{}",
                json::line(&objects::session(&reading, place, true))
            )?;
            return Ok(());
        }
        let lines: Vec<String> = told::sessions::one(&reading, place)
            .into_iter()
            .map(|(line, _)| line)
            .collect();
        return print(&lines, out);
    }
    let read = Read::over(&asked.days)?;
    let reading = read.reading();
    let which = Which {
        exercise: exercise(&reading, asked.exercise.as_deref())?,
        place: asked.place.clone(),
        program: asked.program.clone(),
        words: asked.words.clone(),
    };
    let wanted = told::sessions::wanted(&reading, &which);
    if asked.days.json {
        for place in wanted {
            writeln!(
                out,
                "{}",
                json::line(&objects::session(&reading, place, false))
            )?;
        }
        return Ok(());
    }
    if wanted.is_empty() {
        let text = "No such session in these days; --since DATE looks further back.".to_owned();
        return print(&[text], out);
    }
    let lines: Vec<String> = wanted
        .into_iter()
        .map(|place| told::sessions::line(&reading, place))
        .collect();
    print(&lines, out)
}

/// The place of the session that is meant by its id, the end of it, or as the last.
fn session(reading: &Reading<'_>, meant: &str) -> Result<usize, Failure> {
    let sessions = &reading.history.sessions;
    let done = |k: &usize| sessions.get(*k).is_some_and(|s| !s.sets.is_empty());
    if meant == "last" {
        let last = (0..sessions.len()).rev().find(done);
        return last.ok_or_else(|| Failure::error("rackside: no session was recorded yet"));
    }
    let ends = |k: &usize| sessions.get(*k).is_some_and(|s| s.id.0.ends_with(meant));
    let mut found = (0..sessions.len()).filter(ends);
    match (found.next(), found.next()) {
        (Some(one), None) => Ok(one),
        (Some(_), Some(_)) => Err(Failure::usage(format!(
            "rackside: several sessions end in {meant}; write more of the id"
        ))),
        (None, _) => Err(Failure::usage(format!(
            "rackside: no session is called {meant}; 'rackside trends sessions --json' shows ids"
        ))),
    }
}

/// Strength of all exercises, or of one.
///
/// # Errors
///
/// No exercise is called so, or the load is none.
pub fn strength(asked: &Strength, out: &mut dyn Write) -> Result<(), Failure> {
    let read = Read::over(&asked.days)?;
    let reading = read.reading();
    let Some(id) = exercise(&reading, asked.exercise.as_deref())? else {
        if asked.days.json {
            for (id, _) in reading.exercises() {
                writeln!(
                    out,
                    "{}",
                    json::line(&objects::strength(&reading, &plainly(id), &[]))
                )?;
            }
            return Ok(());
        }
        return print(&told::strength::list(&reading), out);
    };
    let known = reading.catalogue.get(&id);
    let load = asked
        .load
        .as_deref()
        .map(|text| load(&reading, &id, text))
        .transpose()?;
    let believed = known.map_or_else(Vec::new, |exercise| read.believed(exercise));
    let wanted = Asked {
        exercise: id,
        load,
        equation: asked.equation.map(|named| named.0),
    };
    if asked.days.json {
        writeln!(
            out,
            "{}",
            json::line(&objects::strength(&reading, &wanted, &believed))
        )?;
        return Ok(());
    }
    print(&told::strength::one(&reading, &wanted, &believed), out)
}

fn plainly(id: &ExerciseId) -> Asked {
    Asked {
        exercise: id.clone(),
        load: None,
        equation: None,
    }
}

/// A load as the exercise's own are written.
fn load(reading: &Reading<'_>, id: &ExerciseId, text: &str) -> Result<Load, Failure> {
    let outings = reading.history.outings(id).iter().rev();
    let last = outings.flat_map(|outing| &outing.sets).next();
    let last = last.ok_or_else(|| Failure::usage(format!("rackside: {id} was never done")))?;
    load_like(text, last.record.load).map_err(|why| Failure::usage(format!("rackside: {why}")))
}

/// Work by week.
///
/// # Errors
///
/// The days make no sense, or nothing can be written.
pub fn work(asked: &Work, out: &mut dyn Write) -> Result<(), Failure> {
    let read = Read::over(&asked.days)?;
    if asked.days.json {
        writeln!(out, "{}", json::line(&objects::work(&read.reading())))?;
        return Ok(());
    }
    print(&told::work::lines(&read.reading()), out)
}

/// Balance as it stands.
///
/// # Errors
///
/// Nothing can be written.
pub fn balance(asked: &AsOf, out: &mut dyn Write) -> Result<(), Failure> {
    let read = Read::of(None, asked.on)?;
    if asked.json {
        writeln!(out, "{}", json::line(&objects::balance(&read.reading())))?;
        return Ok(());
    }
    print(&told::balance::lines(&read.reading()), out)
}

/// Records of all exercises, or of one.
///
/// # Errors
///
/// No exercise is called so.
pub fn records(asked: &Records, out: &mut dyn Write) -> Result<(), Failure> {
    let mut read = Read::back(Back::Ever)?;
    read.days = Reading::EVER;
    let reading = read.reading();
    let one = exercise(&reading, asked.exercise.as_deref())?;
    if asked.json {
        let all = reading.exercises().into_iter().map(|(id, _)| id.clone());
        let wanted: Vec<ExerciseId> = one.map_or_else(|| all.collect(), |one| vec![one]);
        for id in wanted {
            writeln!(out, "{}", json::line(&objects::records(&reading, &id)))?;
        }
        return Ok(());
    }
    match one {
        Some(id) => print(&told::records::one(&reading, &id), out),
        None => print(&told::records::list(&reading), out),
    }
}

/// Deload and stall as they stand.
///
/// # Errors
///
/// Nothing can be written.
pub fn deload(asked: &AsOf, out: &mut dyn Write) -> Result<(), Failure> {
    let mut read = Read::of(None, asked.on)?;
    if read.is_short_of_rest() {
        // Nobody rested in these days: somewhen before they did, or never.
        read = Read {
            today: read.today,
            days: read.days,
            ..Read::back(Back::Ever)?
        };
    }
    if asked.json {
        writeln!(
            out,
            "{}",
            json::line(&objects::backing_off(&read.reading()))
        )?;
        return Ok(());
    }
    print(&told::backing_off::lines(&read.reading()), out)
}

/// The exercise that is meant by its id, its name, or part of either that no other holds; those
/// that were done go before those that were not.
fn exercise(reading: &Reading<'_>, meant: Option<&str>) -> Result<Option<ExerciseId>, Failure> {
    let Some(meant) = meant else {
        return Ok(None);
    };
    let (catalogue, wanted) = (reading.catalogue, meant.to_lowercase());
    let done: Vec<&ExerciseId> = reading.history.exercises().collect();
    let all: Vec<&ExerciseId> = catalogue.iter().map(|exercise| &exercise.id).collect();
    for among in [&done, &all] {
        let exact = among.iter().find(|id| is(catalogue, id, &wanted));
        if let Some(id) = exact {
            return Ok(Some((**id).clone()));
        }
    }
    for among in [&done, &all] {
        let holding: Vec<&&ExerciseId> = among
            .iter()
            .filter(|id| holds(catalogue, id, &wanted))
            .collect();
        match holding.as_slice() {
            [] => {}
            [only] => return Ok(Some((**only).clone())),
            several => {
                let names: Vec<&str> = several.iter().map(|id| id.as_str()).take(6).collect();
                let names = names.join(", ");
                let text = format!("rackside: {meant} could be {names}; write more of it");
                return Err(Failure::usage(text));
            }
        }
    }
    let known = all.iter().map(|id| id.as_str());
    let hint = near(meant, known).map_or_else(String::new, |id| format!("; did you mean {id}?"));
    let text = format!("rackside: no exercise is called {meant}{hint}");
    Err(Failure::usage(text))
}

fn is(catalogue: &Catalogue, id: &ExerciseId, wanted: &str) -> bool {
    id.as_str() == wanted || catalogue.name(id).to_lowercase() == wanted
}

fn holds(catalogue: &Catalogue, id: &ExerciseId, wanted: &str) -> bool {
    id.as_str().contains(wanted) || catalogue.name(id).to_lowercase().contains(wanted)
}
