//! The plates of a whole session, chosen so that the fewest are moved.

use crate::domain::exercise::{Catalogue, Exercise, ExerciseId};
use crate::domain::gear::{Demand, Implement, Makeable, Place, Stack, Standing, Step, Stock, at};
use crate::domain::session::{Cell, Plan, Session};
use crate::domain::units::{Load, Seconds};
use std::collections::BTreeMap;

/// The plates of one set.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SetStack {
    /// The load that they make.
    pub load: Load,
    /// What it asks of the plates.
    pub demand: Demand,
    /// One end, inner to outer; none where a plate is held.
    pub stack: Stack,
    /// What changes from the set before: "first 2 × 10 off the bar; each end: off 1.25, on 2.5".
    pub change: String,
    /// Plates taken off plus put on, over all ends of all that changes.
    pub moves: u32,
}

/// Seconds to take a plate off or put one on; common practice, no source.
const SECONDS_A_PLATE: u32 = 3;

impl SetStack {
    /// How long its change takes.
    pub fn takes(&self) -> Seconds {
        Seconds::clamped(self.moves * SECONDS_A_PLATE)
    }

    fn new(load: Load, demand: Demand, step: Step) -> Self {
        Self {
            load,
            demand,
            stack: step.stack,
            change: step.change,
            moves: step.moves,
        }
    }
}

/// The plates of a session.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Stacks {
    /// By item and set; none where no plates go on.
    pub sets: Vec<Vec<Option<SetStack>>>,
    /// Whether no other stacks have fewer moves.
    pub exact: bool,
}

impl Stacks {
    /// All moves of the session.
    pub fn moves(&self) -> u32 {
        let sets = self.sets.iter().flatten().flatten();
        sets.map(|set| set.moves).sum()
    }

    /// The plates of one set.
    pub fn at(&self, item: usize, set: usize) -> Option<&SetStack> {
        self.sets.get(item)?.get(set)?.as_ref()
    }
}

/// A place's loads and plates, worked out once.
#[derive(Clone, Debug)]
pub struct Plates<'a> {
    place: &'a Place,
    catalogue: &'a Catalogue,
    stock: Stock,
    made: BTreeMap<Implement, Vec<Makeable>>,
}

impl<'a> Plates<'a> {
    /// Those of a place, with the loads of a plan's exercises.
    pub fn of(place: &'a Place, catalogue: &'a Catalogue, plan: &Plan) -> Self {
        Self::with(
            place,
            catalogue,
            plan.items.iter().map(|item| &item.exercise),
        )
    }

    /// Those of a place, with the loads of what a session was and is to be.
    pub fn on_the_floor(place: &'a Place, catalogue: &'a Catalogue, session: &Session) -> Self {
        let items = session.items.iter().map(|item| &item.planned.exercise);
        let done = session.sets.iter().map(|set| &set.record.exercise);
        Self::with(place, catalogue, items.chain(done))
    }

    fn with<'e>(
        place: &'a Place,
        catalogue: &'a Catalogue,
        exercises: impl Iterator<Item = &'e ExerciseId>,
    ) -> Self {
        let mut plates = Self {
            place,
            catalogue,
            stock: place.stock(),
            made: BTreeMap::new(),
        };
        for exercise in exercises.filter_map(|id| catalogue.get(id)) {
            let made = plates.made.entry(exercise.implement());
            made.or_insert_with_key(|implement| place.makeable(*implement));
        }
        plates
    }

    /// The loads of an exercise, from light to heavy.
    pub fn made(&self, exercise: &Exercise) -> &[Makeable] {
        self.made
            .get(&exercise.implement())
            .map_or(&[], Vec::as_slice)
    }

    /// The plates of all handles and bars.
    pub const fn stock(&self) -> &Stock {
        &self.stock
    }

    /// What a load of an exercise asks of the plates; nothing where it needs none.
    pub fn demand(&self, exercise: &Exercise, load: Load) -> Option<Demand> {
        self.place.demand(&at(self.made(exercise), load)?.build)
    }

    /// The plates of each set of a plan with the fewest moves, begun with bare handles and bars.
    pub fn stacks(&self, plan: &Plan) -> Stacks {
        let none = plan.items.iter().map(|item| vec![None; item.sets.len()]);
        let mut all = Stacks {
            sets: none.collect(),
            exact: true,
        };
        let wanted = plan.turns().into_iter().filter_map(|(item, set)| {
            let planned = plan.items.get(item)?;
            let load = planned.sets.get(set)?.load;
            let demand = self.demand(self.catalogue.get(&planned.exercise)?, load)?;
            Some((item, set, load, demand))
        });
        let wanted: Vec<(usize, usize, Load, Demand)> = wanted.collect();
        let demands: Vec<Demand> = wanted.iter().map(|(.., demand)| *demand).collect();
        let Some(found) = self.stock.together(&demands) else {
            return all;
        };
        all.exact = found.exact;
        for ((item, set, load, demand), step) in wanted.into_iter().zip(found.steps) {
            let place = all.sets.get_mut(item).and_then(|sets| sets.get_mut(set));
            if let Some(place) = place {
                *place = Some(SetStack::new(load, demand, step));
            }
        }
        all
    }

    /// The plates of a set from what stands: those planned for it, where its load is the planned
    /// one, else those with the fewest moves.
    fn next(
        &self,
        now: &Standing,
        (exercise, load): (&Exercise, Load),
        planned: Option<&SetStack>,
    ) -> Option<(Demand, Step)> {
        let demand = self.demand(exercise, load)?;
        let wish = planned
            .filter(|set| set.demand == demand)
            .map(|set| &set.stack);
        Some((demand, self.stock.next(now, demand, wish)?))
    }

    /// What stands after the sets of a session that were done: each as it was told to be loaded.
    fn standing(&self, session: &Session, stacks: &Stacks) -> Standing {
        let mut places: BTreeMap<usize, (usize, usize)> = BTreeMap::new();
        for (k, item) in session.items.iter().enumerate() {
            for (n, cell) in item.cells.iter().enumerate() {
                match cell {
                    Cell::Done(set) => _ = places.insert(*set, (k, n)),
                    Cell::ToCome(_) | Cell::Skipped(_) => {}
                }
            }
        }
        let mut now = self.stock.bare();
        for (k, set) in session.sets.iter().enumerate() {
            let planned = places
                .get(&k)
                .and_then(|(item, cell)| stacks.at(*item, *cell));
            let exercise = self.catalogue.get(&set.record.exercise);
            let step = exercise.and_then(|e| self.next(&now, (e, set.record.load), planned));
            if let Some((_, step)) = step {
                now = step.after;
            }
        }
        now
    }

    /// The plates of the coming set of a session with this load, from what is on now: after a load
    /// that was not the planned one, too.
    pub fn coming(&self, session: &Session, stacks: &Stacks, load: Load) -> Option<SetStack> {
        let coming = session.coming()?;
        let item = session.items.get(coming.item)?;
        let exercise = self.catalogue.get(&item.planned.exercise)?;
        let now = self.standing(session, stacks);
        let planned = stacks.at(coming.item, coming.cell);
        let (demand, step) = self.next(&now, (exercise, load), planned)?;
        Some(SetStack::new(load, demand, step))
    }
}
