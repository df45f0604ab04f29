//! What a person says of recorded events later, outside a session.

use super::{
    Amendment, Command, Event, EventId, Refusal, Session, Stamped, decide, resolve, resolved_away,
};
use std::fmt;

/// Why an earlier event cannot be changed or voided.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Denial {
    /// There is none of that name.
    Unknown,
    /// Only sets can be amended.
    NotASet,
    /// It was voided, by the event of this name; voiding that one brings it back.
    Voided(EventId),
    /// The session that it belongs to was voided, by the event of this name.
    SessionVoided(EventId),
    /// The set counts seconds, and reps were given.
    CountsSeconds,
    /// The set counts reps, and seconds were given.
    CountsReps,
    /// Nothing would be different.
    NothingDifferent,
    /// The session has no such set.
    Refused(Refusal),
}

impl fmt::Display for Denial {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown => f.write_str("the journal has no such event"),
            Self::NotASet => f.write_str("only a set can be amended: void it, and say it anew"),
            Self::Voided(by) => {
                write!(f, "it was voided: void {by} to bring it back")
            }
            Self::SessionVoided(by) => {
                write!(f, "its session was voided: void {by} to bring it back")
            }
            Self::CountsSeconds => f.write_str("this set counts seconds held, not reps"),
            Self::CountsReps => f.write_str("this set counts reps, not seconds held"),
            Self::NothingDifferent => f.write_str("that is what the journal says already"),
            Self::Refused(why) => why.fmt(f),
        }
    }
}

/// The event that says that a set was otherwise. `events` are all of the journal, in order,
/// unresolved.
///
/// # Errors
///
/// Why the set cannot be changed so.
pub fn amend_recorded(
    events: &[Stamped],
    target: &EventId,
    change: Amendment,
) -> Result<Event, Denial> {
    let set = find(events, target)?;
    if !matches!(set.event, Event::Set(_)) {
        return Err(Denial::NotASet);
    }
    stands(events, set)?;
    let ours = |e: &&Stamped| match &set.session {
        Some(session) => e.session.as_ref() == Some(session),
        None => e.id == set.id,
    };
    let ours: Vec<Stamped> = events.iter().filter(ours).cloned().collect();
    let session = Session::fold(&resolve(ours.clone()).events).ok_or(Denial::Unknown)?;
    let place = session.sets.iter().position(|done| done.id == *target);
    let place = place.ok_or(Denial::Unknown)?;
    let record = &session.sets[place].record;
    match change.done.map(|done| done.is_hold()) {
        Some(true) if !record.done.is_hold() => return Err(Denial::CountsReps),
        Some(false) if record.done.is_hold() => return Err(Denial::CountsSeconds),
        Some(_) | None => {}
    }
    let mut after = record.clone();
    super::amend(&mut after, &change);
    if after == *record {
        return Err(Denial::NothingDifferent);
    }
    let command = Command::Amend { set: place, change };
    decide(&session, &ours, command).map_err(Denial::Refused)
}

/// The event that says that an earlier one does not hold; with the opening of a session goes all
/// of it.
///
/// # Errors
///
/// Why it cannot be voided.
pub fn void_recorded(events: &[Stamped], target: &EventId) -> Result<Event, Denial> {
    let event = find(events, target)?;
    match void_of(events, target) {
        Some(by) => Err(Denial::Voided(by)),
        None => Ok(Event::Voided {
            target: event.id.clone(),
        }),
    }
}

fn find<'a>(events: &'a [Stamped], id: &EventId) -> Result<&'a Stamped, Denial> {
    let found = events.iter().find(|event| event.id == *id);
    found.ok_or(Denial::Unknown)
}

fn stands(events: &[Stamped], event: &Stamped) -> Result<(), Denial> {
    if let Some(by) = void_of(events, &event.id) {
        return Err(Denial::Voided(by));
    }
    let opening = event.session.as_ref().filter(|id| **id != event.id);
    match opening.and_then(|opening| void_of(events, opening)) {
        Some(by) => Err(Denial::SessionVoided(by)),
        None => Ok(()),
    }
}

/// The void that holds and takes an event away.
fn void_of(events: &[Stamped], target: &EventId) -> Option<EventId> {
    let away = resolved_away(events);
    let place = events.iter().position(|event| event.id == *target)?;
    away.get(&place)
        .and_then(|by| events.get(*by))
        .map(|void| void.id.clone())
}
