//! The plates of a whole session, chosen so that the fewest are moved.

use crate::domain::exercise::Catalogue;
use crate::domain::gear::{
    Build, Order, Place, Rig, Stack, Wanted, above, at, below, moves_between,
};
use crate::domain::session::{Plan, SetKind};
use crate::domain::units::{Load, Mass, Seconds, Weight};
use std::collections::BTreeMap;

/// The plates of one set.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SetStack {
    /// The load that they make.
    pub load: Load,
    /// One end, inner to outer.
    pub stack: Stack,
    /// What changes from the set before on the same rig: "each end: off 1.25, on 2.5".
    pub change: String,
    /// Plates taken off plus put on, over all ends.
    pub moves: u32,
}

/// Seconds to take a plate off or put one on; common practice, no source.
const SECONDS_A_PLATE: u32 = 3;

impl SetStack {
    /// How long its change takes.
    pub fn takes(&self) -> Seconds {
        Seconds::clamped(self.moves * SECONDS_A_PLATE)
    }
}

/// A handle, a pair of them, or a bar.
type Which = (Rig, Option<String>);

/// The plates of each set of a plan, by item and set; none where no plates go on. Handles and bars
/// are each followed by themselves, empty at the beginning.
pub fn stacks(plan: &Plan, place: &Place, catalogue: &Catalogue) -> Vec<Vec<Option<SetStack>>> {
    let mut all: Vec<Vec<Option<SetStack>>> = plan
        .items
        .iter()
        .map(|item| vec![None; item.sets.len()])
        .collect();
    let mut rigs: BTreeMap<Which, Vec<(usize, usize, Load, Mass)>> = BTreeMap::new();
    for (k, item) in plan.items.iter().enumerate() {
        let Some(exercise) = catalogue.get(&item.exercise) else {
            continue;
        };
        let made = place.makeable(exercise.implement());
        for (n, set) in item.sets.iter().enumerate() {
            if let Some(Build::Loaded { rig, which, stack }) =
                at(&made, set.load).map(|made| &made.build)
            {
                let which = which.as_deref().map(str::to_owned);
                rigs.entry((*rig, which))
                    .or_default()
                    .push((k, n, set.load, stack.mass()));
            }
        }
    }
    for ((rig, which), sets) in rigs {
        let ends = rig.ends();
        let wanted = sets
            .iter()
            .map(|(_, _, _, mass)| Wanted { mass: *mass, ends });
        let wanted: Vec<Wanted> = wanted.collect();
        let supply = place.supply(rig, which.as_deref());
        let Ok(found) = supply.stacks(&wanted, order(place)) else {
            continue;
        };
        let mut before = Stack::default();
        for ((k, n, load, _), plates) in sets.iter().zip(&found.plates) {
            let was: Vec<Mass> = before.0.iter().map(|plate| plate.mass).collect();
            let moves = moves_between(&was, plates) * u32::from(ends);
            let stack = Stack(plates.iter().map(|mass| place.plate(*mass)).collect());
            all[*k][*n] = Some(SetStack {
                load: *load,
                change: change(&before, &stack),
                stack: stack.clone(),
                moves,
            });
            before = stack;
        }
    }
    all
}

const fn order(place: &Place) -> Order {
    if place.any_order {
        Order::Free
    } else {
        Order::LargestInside
    }
}

/// A neighbouring load that would save plate moves.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Saving {
    /// Which item of the plan.
    pub item: usize,
    /// The load instead of the one suggested for its working sets.
    pub instead: Load,
    /// Plate moves saved in the whole session.
    pub moves: u32,
    /// What it costs or spares, in percent of the load suggested: negative is lighter.
    pub percent: i32,
}

/// Fewer moves than this are not worth another load.
const WORTH: u32 = 4;

/// For each item, the neighbouring load that saves the most plate moves, where that is worth it.
pub fn savings(plan: &Plan, place: &Place, catalogue: &Catalogue) -> Vec<Saving> {
    let total = |plan: &Plan| -> u32 {
        stacks(plan, place, catalogue)
            .iter()
            .flatten()
            .flatten()
            .map(|set| set.moves)
            .sum()
    };
    let now = total(plan);
    let mut found = Vec::new();
    for (k, item) in plan.items.iter().enumerate() {
        let Some(exercise) = catalogue.get(&item.exercise) else {
            continue;
        };
        let made = place.makeable(exercise.implement());
        let working = item
            .sets
            .iter()
            .find(|set| set.kind != SetKind::Ramp && !set.feeler);
        let Some(load) = working.map(|set| set.load) else {
            continue;
        };
        let near = [below(&made, load), above(&made, load)]
            .into_iter()
            .flatten();
        let best = near.filter_map(|other| {
            let mut instead = plan.clone();
            for set in instead.items[k]
                .sets
                .iter_mut()
                .filter(|set| set.load == load)
            {
                set.load = other.load;
            }
            let moves = now
                .checked_sub(total(&instead))
                .filter(|saved| *saved >= WORTH)?;
            let percent = percent(load, other.load)?;
            Some(Saving {
                item: k,
                instead: other.load,
                moves,
                percent,
            })
        });
        found.extend(best.max_by_key(|saving| saving.moves));
    }
    found
}

/// How much heavier, in whole percent.
fn percent(from: Load, to: Load) -> Option<i32> {
    let (from, to) = (from.entered()?.mass.kg(), to.entered()?.mass.kg());
    (from > 0.0).then(|| libm::round((to / from - 1.0) * 100.0) as i32)
}

/// What a person does at each end.
fn change(before: &Stack, after: &Stack) -> String {
    let shared = before.shared_with(after);
    let off: Vec<Weight> = before.0.iter().skip(shared).rev().copied().collect();
    let on: Vec<Weight> = after.0.iter().skip(shared).copied().collect();
    let (off, on) = (Stack(off), Stack(on));
    match (off.0.is_empty(), on.0.is_empty()) {
        (true, true) => "as it is".to_owned(),
        (true, false) => format!("each end: on {on}"),
        (false, true) => format!("each end: off {off}"),
        (false, false) => format!("each end: off {off}, on {on}"),
    }
}
