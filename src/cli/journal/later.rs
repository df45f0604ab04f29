//! `rackside journal amend` and `void`: what is said later of recorded events, as new events.

use crate::cli::{Exit, Failure};
use crate::domain::session::{
    Amendment, Denial, Done, Ended, Event, EventId, Stamped, amend_recorded, void_recorded,
};
use crate::domain::units::{Load, Reps, Seconds, Spare};
use crate::formats::journal::{Record, load_like};
use crate::formats::ron_text::near;
use crate::shell::{Disk, Error, Home, Storage, record_event};
use std::io::Write;
use std::sync::Arc;

/// Say that a recorded set was otherwise: a new event, the old one stays
#[derive(Debug, clap::Args)]
pub struct Amend {
    /// The set's id, from 'rackside journal list'; its end is enough where no other ends so
    set: String,
    /// With what: "22.5 kg", "50 lb", "body", "body +10 kg", "band 2"
    #[arg(long)]
    load: Option<String>,
    /// How many reps: 8, or 8,7 for the left and the right side
    #[arg(long, value_parser = sides, conflicts_with = "hold")]
    reps: Option<(u32, u32)>,
    /// How many seconds were held: 30, or 30,25 for the left and the right side
    #[arg(long, value_parser = sides, value_name = "SECONDS")]
    hold: Option<(u32, u32)>,
    /// How many more reps would have gone
    #[arg(long, value_name = "REPS", value_parser = clap::value_parser!(u32).range(0..=9))]
    spare: Option<u32>,
    /// Something other than the muscles ended it
    #[arg(long)]
    interrupted: bool,
}

/// Say that a recorded event did not happen, a session with all of it; voiding that brings it back
#[derive(Debug, clap::Args)]
pub struct Void {
    /// The event's id, from 'rackside journal list'; its end is enough where no other ends so
    event: String,
}

/// Records that a set was otherwise.
///
/// # Errors
///
/// There is no such set, it cannot be so, or the journal cannot be written.
pub fn amend(arguments: &Amend, out: &mut dyn Write) -> Result<Exit, Failure> {
    let written = record(&arguments.set, |record, target| {
        let change = change(arguments, record, target)?;
        amend_recorded(&record.events, target, change).map_err(|denial| denied(target, &denial))
    })?;
    let id = &written.id;
    writeln!(
        out,
        "recorded; take it back with 'rackside journal void {id}'"
    )?;
    Ok(Exit::Done)
}

/// Records that an event did not happen.
///
/// # Errors
///
/// There is no such event, or the journal cannot be written.
pub fn void(arguments: &Void, out: &mut dyn Write) -> Result<Exit, Failure> {
    let written = record(&arguments.event, |record, target| {
        void_recorded(&record.events, target).map_err(|denial| denied(target, &denial))
    })?;
    let id = &written.id;
    writeln!(
        out,
        "recorded; bring it back with 'rackside journal void {id}'"
    )?;
    Ok(Exit::Done)
}

/// Records what `decide` makes of the event that is meant.
fn record(
    meant: &str,
    decide: impl FnOnce(&Record, &EventId) -> Result<Event, Error>,
) -> Result<Stamped, Failure> {
    let storage: Arc<dyn Storage> = Arc::new(Disk);
    let written = record_event(&Home::here()?, &storage, |record| {
        let target = find(meant, &record.events)?;
        let event = decide(record, &target.id)?;
        Ok((target.session.clone(), event))
    })?;
    Ok(written)
}

/// The event that is meant by its id, or by the end of it.
fn find<'a>(meant: &str, events: &'a [Stamped]) -> Result<&'a Stamped, Error> {
    if let Some(found) = events.iter().find(|event| event.id.0 == meant) {
        return Ok(found);
    }
    let mut ending = events.iter().filter(|event| event.id.0.ends_with(meant));
    match (ending.next(), ending.next()) {
        (Some(one), None) => Ok(one),
        (Some(one), Some(other)) => Err(Error::Said(format!(
            "{meant}: that could be {} or {}; write more of it",
            one.id, other.id
        ))),
        (None, _) => {
            let known = events.iter().map(|event| event.id.0.as_str());
            let hint = match near(meant, known) {
                Some(near) => format!("; did you mean {near}?"),
                None => ": 'rackside journal list' shows the ids".to_owned(),
            };
            Err(Error::Said(format!(
                "{meant}: the journal has no such event{hint}"
            )))
        }
    }
}

fn denied(target: &EventId, denial: &Denial) -> Error {
    Error::Said(format!("{target}: {denial}"))
}

/// What is asked to be different about the set.
fn change(arguments: &Amend, record: &Record, target: &EventId) -> Result<Amendment, Error> {
    let set = record.events.iter().find(|event| event.id == *target);
    let load = match (&arguments.load, set.map(|set| &set.event)) {
        (None, _) => None,
        (Some(text), Some(Event::Set(set))) => Some(load(text, set.load)?),
        (Some(_), _) => return Err(denied(target, &Denial::NotASet)),
    };
    let reps = arguments.reps.map(|(left, right)| match left == right {
        true => Done::Reps(Reps::clamped(left)),
        false => Done::RepsBySide {
            left: Reps::clamped(left),
            right: Reps::clamped(right),
        },
    });
    let held = arguments.hold.map(|(left, right)| match left == right {
        true => Done::Held(Seconds::clamped(left)),
        false => Done::HeldBySide {
            left: Seconds::clamped(left),
            right: Seconds::clamped(right),
        },
    });
    Ok(Amendment {
        load,
        done: reps.or(held),
        spare: arguments.spare.map(Spare::clamped),
        ended: arguments.interrupted.then_some(Ended::Interrupted),
    })
}

fn load(text: &str, before: Load) -> Result<Load, Error> {
    load_like(text, before).map_err(Error::Said)
}

/// A count, or one for each side.
fn sides(text: &str) -> Result<(u32, u32), String> {
    let number = |text: &str| match text.trim().parse::<u32>() {
        Ok(number) if number <= 999 => Ok(number),
        Ok(_) | Err(_) => Err("a whole number, or two with a comma between them".to_owned()),
    };
    match text.split_once(',') {
        Some((left, right)) => Ok((number(left)?, number(right)?)),
        None => number(text).map(|both| (both, both)),
    }
}
