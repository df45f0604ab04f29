//! Lifts that have come to a stop, and the easier week that a program may ask for then.

use super::Today;
use crate::domain::history::{History, Outing};
use crate::domain::program::Program;
use crate::domain::session::Session;
use chrono::NaiveDate;

/// Lifts that must have stopped; custom.
const LIFTS: usize = 2;
/// Outings in a row in which a lift missed its least.
const TWICE: usize = 2;
/// Days that the last of them may lie back, and in which no easier session was; custom.
const RECENT: i64 = 21;

/// The session, made easier where its phase asks for that on a stall and there is one, or the week
/// began so.
pub fn eased(today: Today, program: &Program, history: &History, date: NaiveDate) -> Today {
    let phase = program.phases.get(usize::from(today.phase) - 1);
    if today.easier_week || !phase.is_some_and(|phase| phase.easier_on_stall) {
        return today;
    }
    let why = if began_easier(&today, program, history) {
        "the week goes on as an easier one"
    } else if stalled(history, date) {
        "an easier week, since lifts have come to a stop"
    } else {
        return today;
    };
    Today {
        easier_week: true,
        why: format!("{}; {why}", today.why),
        ..today
    }
}

pub(super) fn is_easier(session: &Session) -> bool {
    let items = session.plan.iter().flat_map(|plan| &plan.items);
    items.clone().count() > 0 && items.clone().all(|item| item.deload)
}

/// Whether the last session of the same week of the program was an easier one.
fn began_easier(today: &Today, program: &Program, history: &History) -> bool {
    let last = history.recent_sessions().iter().rev().find(|session| {
        let plan = session.plan.as_ref();
        plan.is_some_and(|plan| plan.program == program.id)
    });
    let same = |session: &&Session| {
        let plan = session.plan.as_ref();
        plan.is_some_and(|plan| plan.phase == today.phase && plan.week == today.week)
    };
    last.filter(same).is_some_and(is_easier)
}

/// Whether lifts have come to a stop: two that missed their least twice running, of late, and
/// nothing easier since.
fn stalled(history: &History, date: NaiveDate) -> bool {
    let recent = |day: NaiveDate| (date - day).num_days() <= RECENT;
    let mut sessions = history.recent_sessions().iter();
    if sessions.any(|session| recent(session.opened.date()) && is_easier(session)) {
        return false;
    }
    let stopped = |outings: &[Outing]| {
        let work: Vec<&Outing> = outings.iter().filter(|outing| !outing.deload).collect();
        let last = work.iter().rev().take(TWICE);
        work.len() >= TWICE
            && work.last().is_some_and(|outing| recent(outing.at.date()))
            && last.clone().all(|outing| outing.missed())
    };
    let lifts = history.exercises();
    lifts.filter(|id| stopped(history.outings(id))).count() >= LIFTS
}
