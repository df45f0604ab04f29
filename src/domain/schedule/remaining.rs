//! How long a session, or what is left of it, takes.

use super::{SetStack, Stacks};
use crate::domain::exercise::Catalogue;
use crate::domain::history::Pace;
use crate::domain::session::{Cell, Plan, PlannedItem, PlannedSet, Session};
use crate::domain::units::Seconds;

/// How long a planned session takes this lifter: sets, rests between them, getting set, plates.
pub fn whole(plan: &Plan, catalogue: &Catalogue, (pace, stacks): (Pace, &Stacks)) -> Seconds {
    let mut total = Total {
        pace,
        catalogue,
        seconds: 0,
        last_rest: 0,
    };
    for (k, item) in plan.items.iter().enumerate() {
        let plates = first_plates(stacks, k, 0);
        total.add(item, item.sets.iter(), Some(plates));
    }
    total.without_last_rest()
}

/// How long what is left of a session takes this lifter.
pub fn remaining(
    session: &Session,
    catalogue: &Catalogue,
    (pace, stacks): (Pace, &Stacks),
) -> Seconds {
    let mut total = Total {
        pace,
        catalogue,
        seconds: 0,
        last_rest: 0,
    };
    for item in session.order.iter().copied() {
        let Some(found) = session.items.get(item) else {
            continue;
        };
        let begun = found.cells.iter().any(|cell| matches!(cell, Cell::Done(_)));
        let plates = found
            .coming()
            .map_or(0, |cell| first_plates(stacks, item, cell));
        total.add(&found.planned, found.to_come(), (!begun).then_some(plates));
    }
    total.without_last_rest()
}

fn first_plates(stacks: &Stacks, item: usize, set: usize) -> u32 {
    let takes = stacks.at(item, set).map(SetStack::takes);
    takes.map_or(0, Seconds::get)
}

struct Total<'c> {
    pace: Pace,
    catalogue: &'c Catalogue,
    seconds: u32,
    /// The rest behind the last set so far.
    last_rest: u32,
}

impl Total<'_> {
    /// An item's sets; `beginning` is what its plates take, where it is not begun yet.
    fn add<'s>(
        &mut self,
        item: &PlannedItem,
        sets: impl Iterator<Item = &'s PlannedSet>,
        beginning: Option<u32>,
    ) {
        let Some(exercise) = self.catalogue.get(&item.exercise) else {
            return;
        };
        let rest = self.pace.rest_seconds(item.rest).get();
        let mut count = 0;
        for set in sets {
            self.seconds += self.pace.set_seconds(exercise, set.asked, item.tempo).get() + rest;
            count += 1;
        }
        if count > 0 {
            self.last_rest = rest;
            self.seconds += beginning.map_or(0, |plates| plates + exercise.setup.get());
        }
    }

    /// Nobody rests behind the last set.
    fn without_last_rest(self) -> Seconds {
        Seconds::clamped(self.seconds.saturating_sub(self.last_rest))
    }
}
