//! Exercises in turn, and sets that share a total: what follows from the others.

use super::{Asked, Cell, Coming, Session, SetKind};
use crate::domain::program::RestWindow;
use crate::domain::units::{Reps, Seconds};

impl Session {
    /// How far an item of a group is behind the others: its ramp sets come first, then the one
    /// with the fewest sets of work behind it.
    pub(super) fn behind(&self, item: usize) -> (bool, usize) {
        let Some(found) = self.items.get(item) else {
            return (true, 0);
        };
        let kind = |cell: &Cell| match cell {
            Cell::ToCome(set) | Cell::Skipped(set) => Some(set.kind),
            Cell::Done(place) => self.sets.get(*place).map(|set| set.record.kind),
        };
        let next = found.coming().unwrap_or(found.cells.len());
        let work = found.cells.iter().take(next);
        let work = work
            .filter(|cell| kind(cell) != Some(SetKind::Ramp))
            .count();
        let ramp = found.cells.get(next).and_then(kind) == Some(SetKind::Ramp);
        (!ramp, work)
    }

    /// Reps of the working sets of an item so far.
    fn reps_so_far(&self, item: usize) -> u32 {
        let work = self.records(item).map(|set| &set.record);
        let work = work.filter(|record| record.kind == SetKind::Working);
        work.map(|record| record.done.deciding()).sum()
    }

    /// Whether an item that asks for a total has it.
    pub(super) fn has_total(&self, item: usize) -> bool {
        let total = self.items.get(item).and_then(|i| i.planned.details.total);
        total.is_some_and(|total| self.reps_so_far(item) >= total.get())
    }

    /// How many reps are missing of an item's total, once all of its working sets are done.
    pub fn missing(&self, item: usize) -> Option<u32> {
        let found = self.items.get(item)?;
        let total = found.planned.details.total?.get();
        let mut left = found.to_come().filter(|set| set.kind == SetKind::Working);
        let missing = total.saturating_sub(self.reps_so_far(item));
        (left.next().is_none() && missing > 0).then_some(missing)
    }

    /// What a coming set is asked for of a total: what is left of it, shared out among the sets
    /// that are left.
    pub fn share(&self, coming: Coming) -> Option<Asked> {
        let item = self.items.get(coming.item)?;
        let total = item.planned.details.total?.get();
        let work = |set: &&super::PlannedSet| set.kind == SetKind::Working && !set.feeler;
        let left = u32::try_from(item.to_come().filter(work).count()).ok()?;
        let planned = self.planned(coming).filter(work)?;
        match planned.asked {
            Asked::Reps(_) => {
                let missing = total.saturating_sub(self.reps_so_far(coming.item));
                Some(Asked::Reps(Reps::clamped(
                    missing.div_ceil(left.max(1)).max(1),
                )))
            }
            Asked::Hold(_) => None,
        }
    }

    /// The rest window before the coming set of an item, plates apart, counted from the end of the
    /// last set. Between exercises the longer of the two windows holds. Inside a group the rest of
    /// one is the work of the other: either the rest that is named for the way to the next one
    /// holds, and after the round the coming one's own; or, where none is named, only the own rest
    /// of the coming one, from its own last set on.
    pub fn window(&self, item: usize) -> RestWindow {
        let nothing = RestWindow {
            opens: Seconds::default(),
            closes: Seconds::default(),
        };
        let of = |index: usize| self.items.get(index).map(|item| &item.planned);
        let last = self.sets.last();
        let before = last.map(|set| usize::from(set.record.item));
        let (coming, before) = (of(item), before.map(|before| (before, of(before))));
        let (coming, (place, before)) = match (coming, before) {
            (Some(coming), Some((place, Some(before)))) => (coming, (place, before)),
            (Some(one), _) | (None, Some((_, Some(one)))) => return one.rest,
            (None, _) => return nothing,
        };
        if place == item {
            return coming.rest;
        }
        if coming.group.is_none() || coming.group != before.group {
            return RestWindow {
                opens: coming.rest.opens.max(before.rest.opens),
                closes: coming.rest.closes.max(before.rest.closes),
            };
        }
        let position = |item: usize| self.order.iter().position(|other| *other == item);
        let onward = position(item) > position(place);
        match before.details.inside {
            Some(inside) if onward => inside,
            Some(_) => coming.rest,
            None if self.names_inside(coming.group) => coming.rest,
            None => self.own_rest(item, coming.rest),
        }
    }

    /// Whether an item of the group names a rest inside.
    fn names_inside(&self, group: Option<u8>) -> bool {
        let items = self.items.iter().map(|item| &item.planned);
        let mut of_group = items.filter(|item| item.group == group);
        of_group.any(|item| item.details.inside.is_some())
    }

    /// What is left of an item's own rest since its own last set, counted from the last set of
    /// all; before its first, straight on.
    fn own_rest(&self, item: usize, rest: RestWindow) -> RestWindow {
        let own = self.records(item).last().map(|set| set.at);
        let (Some(own), Some(last)) = (own, self.sets.last()) else {
            return RestWindow {
                opens: Seconds::default(),
                closes: rest.opens,
            };
        };
        let gone = u32::try_from(last.at.since(own).max(0) / 1000).unwrap_or(u32::MAX);
        let left = |end: Seconds| Seconds::clamped(end.get().saturating_sub(gone));
        RestWindow {
            opens: left(rest.opens),
            closes: left(rest.closes),
        }
    }
}
