//! A session before it is drawn up: what it is and what was done last time, known at once.

use super::briefing::slots_of;
use super::today::today;
use crate::domain::exercise::ExerciseId;
use crate::domain::history::{History, Outing};
use crate::domain::program::{Program, Slot};
use crate::domain::units::Civil;

/// What is known of a session before its loads are.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Outline {
    /// What it is called.
    pub name: String,
    /// Why it is this one.
    pub why: String,
    /// Its exercises, each with its last outing.
    pub items: Vec<(ExerciseId, Option<Outing>)>,
}

/// The outline of today's session of a program.
pub fn outline(program: &Program, history: &History, now: Civil) -> Outline {
    let today = today(program, history, now);
    let item = |slot: Slot| {
        let last = history.outings(&slot.exercise).last().cloned();
        (slot.exercise, last)
    };
    Outline {
        items: slots_of(program, &today).into_iter().map(item).collect(),
        name: today.name,
        why: today.why,
    }
}
