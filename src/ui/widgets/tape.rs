//! The tape: every set of the session at a glance, compound and isolation work apart.

use crate::app::model::{Desk, Floor};
use crate::domain::exercise::Role;
use crate::domain::session::{Cell, SetKind};

/// One mark of the tape.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Mark {
    /// What is shown.
    pub shape: char,
    /// Whether it is the coming set, or the set that is looked at.
    pub here: bool,
}

/// The marks in the order of doing, gaps among them.
pub fn marks(floor: &Floor, desk: &Desk) -> Vec<Mark> {
    let coming = floor.session.coming();
    let looked_at = floor.edit.as_ref().map(|edit| edit.set);
    let gap = |shape| Mark { shape, here: false };
    let mut marks = Vec::new();
    let mut before: Option<Role> = None;
    for item in floor.session.order.iter().copied() {
        let role = floor.exercise(item, desk).map(|exercise| exercise.role);
        if !marks.is_empty() {
            marks.push(gap(' '));
            if role != before {
                marks.extend([gap('│'), gap(' ')]);
            }
        }
        before = role;
        let Some(cells) = floor.session.items.get(item).map(|item| &item.cells) else {
            continue;
        };
        for (k, cell) in cells.iter().enumerate() {
            let next = coming.is_some_and(|c| c.item == item && c.cell == k);
            let here = match (looked_at, cell) {
                (Some(set), Cell::Done(place)) => set == *place,
                (Some(_), Cell::ToCome(_) | Cell::Skipped(_)) => false,
                (None, _) => next,
            };
            marks.push(Mark {
                shape: shape(floor, cell, next),
                here,
            });
        }
    }
    marks
}

/// The shapes of an item's sets.
pub fn shapes(floor: &Floor, item: usize) -> String {
    let coming = floor.session.coming();
    let Some(of) = floor.session.items.get(item) else {
        return String::new();
    };
    let cells = of.cells.iter().enumerate();
    cells
        .map(|(k, cell)| {
            shape(
                floor,
                cell,
                coming.is_some_and(|c| c.item == item && c.cell == k),
            )
        })
        .collect()
}

fn shape(floor: &Floor, cell: &Cell, next: bool) -> char {
    match cell {
        Cell::ToCome(_) if next => '▶',
        Cell::ToCome(set) if set.kind == SetKind::Ramp => '▵',
        Cell::ToCome(_) => '▯',
        Cell::Skipped(_) => '·',
        Cell::Done(place) => match floor.session.sets.get(*place).map(|set| &set.record) {
            Some(record) if record.kind == SetKind::Ramp => '▴',
            Some(record) if record.reached() => '▮',
            Some(_) => '◇',
            None => '·',
        },
    }
}
