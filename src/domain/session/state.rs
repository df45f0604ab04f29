//! The state of a session: the fold of its events. The same `apply` serves live use, resume and
//! the logbook.

use super::{
    Closed, Event, EventId, Imported, Pain, Plan, PlannedItem, PlannedSet, SetKind, SetRecord,
    Stamped,
};
use crate::domain::units::{Civil, Weight};
use std::collections::BTreeSet;

/// A set that was done.
#[derive(Clone, PartialEq, Debug)]
pub struct Performed {
    /// Its event.
    pub id: EventId,
    /// When its end was recorded.
    pub at: Civil,
    /// What was done.
    pub record: SetRecord,
    /// Whether its line in the journal is damaged: shown, never evidence.
    pub damaged: bool,
}

/// One set of an item, in the order of doing.
#[derive(Clone, PartialEq, Debug)]
pub enum Cell {
    /// Still to come.
    ToCome(PlannedSet),
    /// Left out.
    Skipped(PlannedSet),
    /// Done: its place in [`Session::sets`].
    Done(usize),
}

/// One exercise of a session as it stands.
#[derive(Clone, PartialEq, Debug)]
pub struct Item {
    /// What is planned for it now: after a swap, what took its place.
    pub planned: PlannedItem,
    /// Its sets: first those done and left out, then those to come.
    pub cells: Vec<Cell>,
    /// Where those to come begin: kept, so that the fold's work is linear.
    next: usize,
}

impl Item {
    fn new(planned: PlannedItem) -> Self {
        let cells = planned.sets.iter().cloned().map(Cell::ToCome).collect();
        Self::with_cells(planned, cells)
    }

    /// An item of these cells: first those done and left out, then those to come.
    pub fn with_cells(planned: PlannedItem, cells: Vec<Cell>) -> Self {
        let to_come = |cell: &Cell| matches!(cell, Cell::ToCome(_));
        let next = cells.iter().position(to_come).unwrap_or(cells.len());
        Self {
            planned,
            cells,
            next,
        }
    }

    /// The place of its coming set among its cells.
    pub fn coming(&self) -> Option<usize> {
        (self.next < self.cells.len()).then_some(self.next)
    }

    fn record(&mut self, place: usize) {
        match self.cells.get_mut(self.next) {
            Some(cell) => *cell = Cell::Done(place),
            None => self.cells.push(Cell::Done(place)),
        }
        self.next += 1;
    }

    fn skip(&mut self) -> bool {
        let Some(cell) = self.cells.get_mut(self.next) else {
            return false;
        };
        if let Cell::ToCome(set) = cell {
            *cell = Cell::Skipped(set.clone());
        }
        self.next += 1;
        true
    }

    fn swap(&mut self, with: &PlannedItem) {
        self.cells.truncate(self.next);
        self.cells
            .extend(with.sets.iter().cloned().map(Cell::ToCome));
        self.planned = with.clone();
    }

    /// The sets still to come.
    pub fn to_come(&self) -> impl Iterator<Item = &PlannedSet> {
        self.cells.iter().filter_map(|cell| match cell {
            Cell::ToCome(set) => Some(set),
            Cell::Skipped(_) | Cell::Done(_) => None,
        })
    }

    /// The places in [`Session::sets`] of the sets done.
    pub fn done(&self) -> impl Iterator<Item = usize> + '_ {
        self.cells.iter().filter_map(|cell| match cell {
            Cell::Done(place) => Some(*place),
            Cell::ToCome(_) | Cell::Skipped(_) => None,
        })
    }
}

/// The set that comes next.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Coming {
    /// Its item.
    pub item: usize,
    /// Its place among the item's cells.
    pub cell: usize,
}

/// A session as it stands after some of its events.
#[derive(Clone, PartialEq, Debug)]
pub struct Session {
    /// Its opening event.
    pub id: EventId,
    /// When it was opened; of a session whose opening is lost, when its first event was.
    pub opened: Civil,
    /// What was planned; lost where the opening event is.
    pub plan: Option<Plan>,
    /// Its exercises.
    pub items: Vec<Item>,
    /// The items in the order of doing.
    pub order: Vec<usize>,
    /// Its sets in the order in which they were done.
    pub sets: Vec<Performed>,
    /// Pains, in order.
    pub pains: Vec<(Civil, Pain)>,
    /// Notes, in order.
    pub notes: Vec<(Civil, String)>,
    /// Since when it stands still.
    pub paused: Option<Civil>,
    /// When and how it was closed.
    pub closed: Option<(Civil, Closed)>,
    /// Where its sets came from, where they were not recorded here.
    pub source: Option<String>,
    /// Body weight on the day, where what it came from says so.
    pub body_weight: Option<Weight>,
}

impl Session {
    /// A session of which only the first event's time is known.
    pub fn new(id: EventId, opened: Civil) -> Self {
        Self {
            id,
            opened,
            plan: None,
            items: Vec::new(),
            order: Vec::new(),
            sets: Vec::new(),
            pains: Vec::new(),
            notes: Vec::new(),
            paused: None,
            closed: None,
            source: None,
            body_weight: None,
        }
    }

    /// The sets of one day that came from elsewhere, as a session that is over. Their order is all
    /// that is known of their times.
    pub fn imported(stamped: &Stamped, imported: &Imported) -> Self {
        let at = stamped.at.noon_of(imported.date);
        let took = i64::from(imported.minutes.unwrap_or(0)) * 60_000;
        let performed = |(k, record): (usize, &SetRecord)| Performed {
            id: EventId(format!("{}.{}", stamped.id, k + 1)),
            at,
            record: record.clone(),
            damaged: false,
        };
        Self {
            sets: imported.sets.iter().enumerate().map(performed).collect(),
            notes: imported
                .notes
                .iter()
                .map(|note| (at, note.clone()))
                .collect(),
            closed: Some((
                at.plus(took),
                Closed {
                    effort: imported.effort,
                },
            )),
            source: Some(imported.source.clone()),
            body_weight: imported.body_weight,
            ..Self::new(stamped.id.clone(), at)
        }
    }

    /// The fold of resolved events of one session, in order; `None` of none.
    pub fn fold(events: &[Stamped]) -> Option<Self> {
        let first = events.first()?;
        let id = first.session.clone().unwrap_or_else(|| first.id.clone());
        let mut session = Self::new(id, first.at);
        for event in events {
            session.apply(event);
        }
        Some(session)
    }

    /// Takes one event in. Events that act on other events have been worked in before.
    pub fn apply(&mut self, stamped: &Stamped) {
        let at = stamped.at;
        match &stamped.event {
            Event::Opened(opened) => self.open(at, &opened.plan),
            Event::Set(record) => self.record(stamped, record),
            Event::Skipped { item, whole } => self.skip(*item, *whole),
            Event::PutOff { item } => self.put_off(*item),
            Event::Swapped { item, with } => self.swap(*item, with),
            Event::Added { item, set } => {
                if let Some(item) = self.items.get_mut(usize::from(*item)) {
                    item.cells.push(Cell::ToCome(set.clone()));
                }
            }
            Event::Pain(pain) => self.pains.push((at, pain.clone())),
            Event::Note { text } => self.notes.push((at, text.clone())),
            Event::Paused => self.paused = Some(at),
            Event::Resumed => self.paused = None,
            Event::Closed(closed) => self.closed = Some((at, closed.clone())),
            Event::BodyWeight(_)
            | Event::Adopted(_)
            | Event::Chose(_)
            | Event::Eased { .. }
            | Event::Imported(_)
            | Event::ImportEnded(_)
            | Event::Spare { .. }
            | Event::Amended { .. }
            | Event::Voided { .. } => {}
        }
    }

    fn open(&mut self, at: Civil, plan: &Plan) {
        self.opened = at;
        self.items = plan.items.iter().cloned().map(Item::new).collect();
        self.order = (0..self.items.len()).collect();
        self.plan = Some(plan.clone());
    }

    fn record(&mut self, stamped: &Stamped, record: &SetRecord) {
        let place = self.sets.len();
        self.sets.push(Performed {
            id: stamped.id.clone(),
            at: stamped.at,
            record: record.clone(),
            damaged: false,
        });
        self.paused = None;
        if let Some(item) = self.items.get_mut(usize::from(record.item)) {
            item.record(place);
        }
        if self.has_total(record.item.into()) {
            self.skip(record.item, true);
        }
    }

    fn skip(&mut self, item: u16, whole: bool) {
        if let Some(item) = self.items.get_mut(usize::from(item)) {
            while item.skip() && whole {}
        }
    }

    fn put_off(&mut self, item: u16) {
        let item = usize::from(item);
        if self.order.contains(&item) {
            self.order.retain(|other| *other != item);
            self.order.push(item);
        }
    }

    fn swap(&mut self, item: u16, with: &PlannedItem) {
        if let Some(item) = self.items.get_mut(usize::from(item)) {
            item.swap(with);
        }
    }

    /// Marks the sets that were read from damaged lines.
    pub fn mark_damaged(&mut self, damaged: &BTreeSet<EventId>) {
        for set in &mut self.sets {
            set.damaged = damaged.contains(&set.id);
        }
    }

    /// The set that comes next. Items of one group take turns: the one that is furthest behind.
    pub fn coming(&self) -> Option<Coming> {
        let open = |index: &usize| self.items.get(*index).is_some_and(|i| i.coming().is_some());
        let first = *self.order.iter().find(|index| open(index))?;
        let group = self.items.get(first)?.planned.group;
        let item = self
            .order
            .iter()
            .copied()
            .filter(|index| {
                *index == first
                    || group.is_some() && open(index) && self.items[*index].planned.group == group
            })
            .min_by_key(|index| self.behind(*index))?;
        Some(Coming {
            item,
            cell: self.items.get(item)?.coming()?,
        })
    }

    /// The planned set at a place of the tape, where it is still to come.
    pub fn planned(&self, coming: Coming) -> Option<&PlannedSet> {
        match self.items.get(coming.item)?.cells.get(coming.cell)? {
            Cell::ToCome(set) => Some(set),
            Cell::Skipped(_) | Cell::Done(_) => None,
        }
    }

    /// What was planned for the exercise of a set that was done; none where its item is by now
    /// planned with another.
    pub fn planned_for(&self, record: &SetRecord) -> Option<&PlannedItem> {
        let item = self.items.get(usize::from(record.item));
        item.map(|item| &item.planned)
            .filter(|planned| planned.exercise == record.exercise)
    }

    /// What was planned in the place of a set that was done, by its place in `sets`; none of added
    /// sets, nor where the item is by now planned with another exercise.
    pub fn planned_at(&self, place: usize) -> Option<&PlannedSet> {
        let record = &self.sets.get(place)?.record;
        let planned = self.planned_for(record)?;
        let item = self.items.get(usize::from(record.item))?;
        let cells = &item.cells;
        let at = cells.iter().position(|cell| *cell == Cell::Done(place))?;
        planned.sets.get(at)
    }

    /// The number of a coming set within its item and kind, from 1.
    pub fn number(&self, coming: Coming, kind: SetKind) -> u16 {
        let Some(item) = self.items.get(coming.item) else {
            return 1;
        };
        let before = item
            .cells
            .iter()
            .take(coming.cell)
            .filter(|cell| match cell {
                Cell::ToCome(set) | Cell::Skipped(set) => set.kind == kind,
                Cell::Done(place) => self.sets.get(*place).is_some_and(|s| s.record.kind == kind),
            });
        u16::try_from(before.count() + 1).unwrap_or(u16::MAX)
    }

    /// The records of an item's sets done so far, in order.
    pub fn records(&self, item: usize) -> impl Iterator<Item = &Performed> {
        self.items
            .get(item)
            .into_iter()
            .flat_map(Item::done)
            .filter_map(|place| self.sets.get(place))
    }

    /// When the last set was recorded, or the session opened.
    pub fn last_at(&self) -> Civil {
        self.sets.last().map_or(self.opened, |set| set.at)
    }

    /// Sets still to come.
    pub fn remaining(&self) -> usize {
        self.items.iter().map(|item| item.to_come().count()).sum()
    }
}
