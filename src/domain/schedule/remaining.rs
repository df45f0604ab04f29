//! How long a session, or what is left of it, takes.

use super::{SetStack, Stacks};
use crate::domain::exercise::Catalogue;
use crate::domain::history::Pace;
use crate::domain::program::RestWindow;
use crate::domain::session::{Cell, Plan, PlannedItem, PlannedSet, Session, SetKind};
use crate::domain::units::Seconds;

/// How long a planned session takes this lifter: sets, rests between them, getting set, plates.
pub fn whole(plan: &Plan, catalogue: &Catalogue, (pace, stacks): (Pace, &Stacks)) -> Seconds {
    let parts = plan.items.iter().enumerate().map(|(k, item)| Part {
        item,
        sets: item.sets.iter().collect(),
        beginning: Some(first_plates(stacks, k, 0)),
    });
    sum(parts.collect(), catalogue, pace)
}

/// How long what is left of a session takes this lifter.
pub fn remaining(
    session: &Session,
    catalogue: &Catalogue,
    (pace, stacks): (Pace, &Stacks),
) -> Seconds {
    let parts = session.order.iter().filter_map(|item| {
        let found = session.items.get(*item)?;
        let begun = found.cells.iter().any(|cell| matches!(cell, Cell::Done(_)));
        let plates = found
            .coming()
            .map_or(0, |cell| first_plates(stacks, *item, cell));
        Some(Part {
            item: &found.planned,
            sets: found.to_come().collect(),
            beginning: (!begun).then_some(plates),
        })
    });
    sum(parts.collect(), catalogue, pace)
}

fn first_plates(stacks: &Stacks, item: usize, set: usize) -> u32 {
    let takes = stacks.at(item, set).map(SetStack::takes);
    takes.map_or(0, Seconds::get)
}

/// An exercise's sets still to come.
struct Part<'p> {
    item: &'p PlannedItem,
    sets: Vec<&'p PlannedSet>,
    /// What its plates take, where it is not begun yet.
    beginning: Option<u32>,
}

/// All parts; those of one group together, where the first of them stands. Nobody rests behind the
/// last set.
fn sum(mut parts: Vec<Part<'_>>, catalogue: &Catalogue, pace: Pace) -> Seconds {
    let mut total = Total {
        pace,
        catalogue,
        seconds: 0,
        last_rest: 0,
    };
    while !parts.is_empty() {
        let first = parts.remove(0);
        let group = first.item.group;
        let mut together = vec![first];
        if group.is_some() {
            let (same, others) = parts.into_iter().partition(|part| part.item.group == group);
            together.extend::<Vec<Part<'_>>>(same);
            parts = others;
        }
        total.add(&together);
    }
    Seconds::clamped(total.seconds.saturating_sub(total.last_rest))
}

struct Total<'c> {
    pace: Pace,
    catalogue: &'c Catalogue,
    seconds: u32,
    /// The rest behind the last set so far.
    last_rest: u32,
}

impl Total<'_> {
    /// Parts that are done in turn, set by set; one alone is in turn with nothing.
    fn add(&mut self, together: &[Part<'_>]) {
        for part in together.iter().filter(|part| !part.sets.is_empty()) {
            let setup = self.catalogue.get(&part.item.exercise).map(|e| e.setup);
            let setup = setup.map_or(0, Seconds::get);
            self.seconds += part.beginning.map_or(0, |plates| plates + setup);
            for set in part.sets.iter().filter(|set| set.kind == SetKind::Ramp) {
                self.seconds += self.lift(part.item, set) + self.rest(part.item.rest);
            }
        }
        let work = |part: &Part<'_>, round: usize| {
            let mut work = part.sets.iter().filter(|set| set.kind != SetKind::Ramp);
            work.nth(round).map(|set| self.lift(part.item, set))
        };
        let mut rounds = Vec::new();
        for round in 0.. {
            let sets: Vec<(&PlannedItem, u32)> = together
                .iter()
                .filter_map(|part| Some((part.item, work(part, round)?)))
                .collect();
            if sets.is_empty() {
                break;
            }
            rounds.push(sets);
        }
        for sets in rounds {
            self.round(&sets);
        }
    }

    /// One set of each: inside rests where they are named; else the rest of one is the work of the
    /// others, and the longest waits out what is left of its own.
    fn round(&mut self, sets: &[(&PlannedItem, u32)]) {
        let lifted: u32 = sets.iter().map(|(_, lift)| lift).sum();
        let named = sets.iter().any(|(item, _)| item.details.inside.is_some());
        let rest = if let ([(first, _), ..], true) = (sets, named) {
            let before_last = sets.iter().take(sets.len() - 1);
            let inside = before_last.filter_map(|(item, _)| item.details.inside);
            let inside: u32 = inside.map(|window| self.rest(window)).sum();
            self.seconds += inside;
            self.rest(first.rest)
        } else {
            let own = sets.iter().map(|(item, lift)| lift + self.rest(item.rest));
            own.max().unwrap_or(0).saturating_sub(lifted)
        };
        self.seconds += lifted + rest;
        self.last_rest = rest;
    }

    fn lift(&self, item: &PlannedItem, set: &PlannedSet) -> u32 {
        let exercise = self.catalogue.get(&item.exercise);
        exercise.map_or(0, |exercise| {
            self.pace.set_seconds(exercise, set.asked, item.tempo).get()
        })
    }

    fn rest(&self, window: RestWindow) -> u32 {
        self.pace.rest_seconds(window).get()
    }
}
