//! How long a session, or what is left of it, takes.

use crate::domain::exercise::Catalogue;
use crate::domain::history::Pace;
use crate::domain::session::{Plan, PlannedItem, PlannedSet, Session};
use crate::domain::units::Seconds;

/// How long a planned session takes this lifter: sets, rests, getting set.
pub fn whole(plan: &Plan, catalogue: &Catalogue, pace: Pace) -> Seconds {
    let items = plan.items.iter();
    let each = items.map(|item| seconds(item, item.sets.iter(), (catalogue, pace, false)));
    Seconds::clamped(each.sum())
}

/// How long what is left of a session takes this lifter.
pub fn remaining(session: &Session, catalogue: &Catalogue, pace: Pace) -> Seconds {
    let each = session.items.iter().map(|item| {
        let begun = item.done().next().is_some();
        seconds(&item.planned, item.to_come(), (catalogue, pace, begun))
    });
    Seconds::clamped(each.sum())
}

fn seconds<'s>(
    planned: &PlannedItem,
    sets: impl Iterator<Item = &'s PlannedSet>,
    (catalogue, pace, begun): (&Catalogue, Pace, bool),
) -> u32 {
    let Some(exercise) = catalogue.get(&planned.exercise) else {
        return 0;
    };
    let rest = pace.rest_seconds(planned.rest).get();
    let each = sets.map(|set| pace.set_seconds(exercise, set.asked, planned.tempo).get() + rest);
    let work: u32 = each.sum();
    if work == 0 || begun {
        work
    } else {
        work + exercise.setup.get()
    }
}
