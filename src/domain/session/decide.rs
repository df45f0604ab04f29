//! From what a person wants to the events that say so, or a refusal with its reason.

use super::{
    Amendment, Asked, Coming, Done, Ended, Event, EventId, PlannedItem, PlannedSet, Rest, Session,
    SetRecord, Stamped,
};
use crate::domain::exercise::Counts;
use crate::domain::units::{Load, Odds, Predicted, Reps, Seconds, Spare};
use std::collections::BTreeSet;
use std::fmt;

/// A set as the person reports it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Entry {
    /// How the exercise's load counts.
    pub counts: Counts,
    /// With what.
    pub load: Load,
    /// What was asked.
    pub asked: Asked,
    /// What was done.
    pub done: Done,
    /// Reps in reserve, where they said.
    pub spare: Option<Spare>,
    /// Rest before it.
    pub rest: Option<Rest>,
    /// How long it took, where it was measured.
    pub lifted: Option<Seconds>,
    /// The odds stated for it.
    pub odds: Option<Odds>,
    /// The reps to failure predicted for it, or seconds.
    pub predicted: Option<Predicted>,
    /// Whether it was an open set: as many as went well.
    pub open: bool,
    /// Whether something else than the muscles ended it.
    pub interrupted: bool,
}

/// What a person wants of a running session.
#[derive(Clone, PartialEq, Debug)]
pub enum Command {
    /// The coming set is done.
    Record(Box<Entry>),
    /// The coming set is left out.
    SkipSet,
    /// All that is left of the coming exercise is left out.
    SkipExercise,
    /// The coming exercise is done after all others.
    PutOff,
    /// Something else takes the coming exercise's place.
    Swap(Box<PlannedItem>),
    /// One set more of the exercise of the last set, like it.
    AddSet,
    /// The last set was ended by something else than the muscles.
    Interrupted,
    /// Reps in reserve of the last set.
    Spare(Spare),
    /// A set done earlier was other than it was written.
    Amend {
        /// Its place among the session's sets.
        set: usize,
        /// What is different.
        change: Amendment,
    },
    /// The last thing did not happen.
    TakeBack,
    /// The last thing taken back did happen.
    BringBack,
}

/// Why a command does nothing.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Refusal {
    /// No set is to come.
    NothingToCome,
    /// No set was done yet.
    NothingDone,
    /// It is the only exercise left.
    NothingElseLeft,
    /// Nothing can be taken back.
    NothingToTakeBack,
    /// Nothing can be brought back.
    NothingToBringBack,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NothingToCome => "every set is done: / and a to add one",
            Self::NothingDone => "no set is done yet",
            Self::NothingElseLeft => "nothing else is left to do first",
            Self::NothingToTakeBack => "nothing to take back",
            Self::NothingToBringBack => "nothing to bring back",
        })
    }
}

/// The event that carries the command out. `events` are the session's, in order, unresolved.
pub fn decide(session: &Session, events: &[Stamped], command: Command) -> Result<Event, Refusal> {
    let coming = session.coming().ok_or(Refusal::NothingToCome);
    match command {
        Command::Record(entry) => record(session, coming?, *entry),
        Command::SkipSet => Ok(Event::Skipped {
            item: index(coming?),
            whole: false,
        }),
        Command::SkipExercise => Ok(Event::Skipped {
            item: index(coming?),
            whole: true,
        }),
        Command::PutOff => put_off(session, coming?),
        Command::Swap(with) => Ok(Event::Swapped {
            item: index(coming?),
            with,
        }),
        Command::AddSet => add_set(session),
        Command::Interrupted => {
            let change = Amendment {
                ended: Some(Ended::Interrupted),
                ..Amendment::default()
            };
            amend_set(session, session.sets.len().wrapping_sub(1), change)
        }
        Command::Spare(spare) => {
            let set = session.sets.last().ok_or(Refusal::NothingDone)?.id.clone();
            Ok(Event::Spare { set, spare })
        }
        Command::Amend { set, change } => amend_set(session, set, change),
        Command::TakeBack => {
            let last = to_take_back(events).ok_or(Refusal::NothingToTakeBack)?;
            let target = last.id.clone();
            Ok(Event::Voided { target })
        }
        Command::BringBack => {
            let last = to_bring_back(events).ok_or(Refusal::NothingToBringBack)?;
            let target = last.id.clone();
            Ok(Event::Voided { target })
        }
    }
}

fn index(coming: Coming) -> u16 {
    u16::try_from(coming.item).unwrap_or(u16::MAX)
}

fn record(session: &Session, coming: Coming, entry: Entry) -> Result<Event, Refusal> {
    let item = session
        .items
        .get(coming.item)
        .ok_or(Refusal::NothingToCome)?;
    let planned = session.planned(coming).ok_or(Refusal::NothingToCome)?;
    let short = entry.done.deciding() < entry.asked.count();
    let ended = match (short, entry.interrupted, entry.spare) {
        (false, _, _) => Ended::AsAsked,
        (true, true, _) => Ended::Interrupted,
        (true, false, Some(spare)) if spare.get() > 0 => Ended::OnPurpose,
        (true, false, _) => Ended::Short,
    };
    Ok(Event::Set(Box::new(SetRecord {
        item: index(coming),
        exercise: item.planned.exercise.clone(),
        counts: entry.counts,
        kind: planned.kind,
        number: session.number(coming, planned.kind),
        load: entry.load,
        done: entry.done,
        asked: entry.asked,
        open: entry.open,
        spare: entry.spare,
        rest: entry.rest,
        lifted: entry.lifted,
        odds: entry.odds,
        predicted: entry.predicted,
        ended,
    })))
}

fn put_off(session: &Session, coming: Coming) -> Result<Event, Refusal> {
    let others = session.items.iter().enumerate();
    let left = others
        .filter(|(k, item)| *k != coming.item && item.coming().is_some())
        .count();
    if left == 0 {
        return Err(Refusal::NothingElseLeft);
    }
    Ok(Event::PutOff {
        item: index(coming),
    })
}

/// One more of what was done last; before the first set, one more of what comes.
fn add_set(session: &Session) -> Result<Event, Refusal> {
    if let Some(last) = session.sets.last() {
        let record = &last.record;
        let set = PlannedSet {
            kind: record.kind,
            load: record.load,
            asked: record.asked,
            feeler: false,
            open: false,
            predicted: None,
        };
        return Ok(Event::Added {
            item: record.item,
            set,
        });
    }
    let coming = session.coming().ok_or(Refusal::NothingToCome)?;
    let set = session.items[coming.item]
        .planned
        .sets
        .last()
        .ok_or(Refusal::NothingToCome)?;
    Ok(Event::Added {
        item: index(coming),
        set: set.clone(),
    })
}

/// The amendment, with the way the set ended made to fit the new count and reserve.
fn amend_set(session: &Session, set: usize, mut change: Amendment) -> Result<Event, Refusal> {
    let performed = session.sets.get(set).ok_or(Refusal::NothingDone)?;
    let record = &performed.record;
    if change.ended.is_none() && (change.done.is_some() || change.spare.is_some()) {
        let done = change.done.unwrap_or(record.done);
        let spare = change.spare.or(record.spare);
        let short = done.deciding() < record.asked.count();
        change.ended = Some(match (short, spare) {
            (false, _) => Ended::AsAsked,
            (true, _) if record.ended == Ended::Interrupted => Ended::Interrupted,
            (true, Some(spare)) if spare.get() > 0 => Ended::OnPurpose,
            (true, _) => Ended::Short,
        });
    }
    Ok(Event::Amended {
        target: performed.id.clone(),
        change,
    })
}

/// The ids of the events that no void that holds has taken away.
fn holding(events: &[Stamped]) -> Vec<&Stamped> {
    let mut voided: BTreeSet<&EventId> = BTreeSet::new();
    let mut holding = Vec::new();
    for event in events.iter().rev() {
        if voided.contains(&event.id) {
            continue;
        }
        if let Event::Voided { target } = &event.event {
            voided.insert(target);
        }
        holding.push(event);
    }
    holding.reverse();
    holding
}

/// What is taken back next: the last thing that holds.
pub fn to_take_back(events: &[Stamped]) -> Option<&Stamped> {
    let undoable = |e: &&Stamped| !matches!(e.event, Event::Voided { .. } | Event::Opened(_));
    holding(events).into_iter().rev().find(undoable)
}

/// What is brought back next, by its void: the last void that holds and took a thing away, so long
/// as nothing new happened since.
pub fn to_bring_back(events: &[Stamped]) -> Option<&Stamped> {
    let is_void = |id: &EventId| {
        let found = events.iter().find(|e| e.id == *id);
        found.is_some_and(|e| matches!(e.event, Event::Voided { .. }))
    };
    for event in holding(events).into_iter().rev() {
        let Event::Voided { target } = &event.event else {
            return None;
        };
        if !is_void(target) {
            return Some(event);
        }
    }
    None
}

/// What a count of reps or seconds means for a set that asks for `asked`.
pub fn done_of(asked: Asked, count: u32) -> Done {
    match asked {
        Asked::Reps(_) => Done::Reps(Reps::clamped(count)),
        Asked::Hold(_) => Done::Held(Seconds::clamped(count)),
    }
}

/// The same of two sides; where both are alike, one count says it.
pub fn done_by_side(asked: Asked, left: u32, right: u32) -> Done {
    if left == right {
        return done_of(asked, left);
    }
    match asked {
        Asked::Reps(_) => Done::RepsBySide {
            left: Reps::clamped(left),
            right: Reps::clamped(right),
        },
        Asked::Hold(_) => Done::HeldBySide {
            left: Seconds::clamped(left),
            right: Seconds::clamped(right),
        },
    }
}
