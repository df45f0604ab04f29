//! Neighbouring loads that would save plate moves.

use super::{Plates, Stacks};
use crate::domain::exercise::Catalogue;
use crate::domain::gear::{above, below};
use crate::domain::session::{Plan, SetKind};
use crate::domain::units::Load;

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

/// For each item, the neighbouring load that saves the most plate moves, where that is worth it;
/// `now` are the plates of the loads suggested.
pub fn savings(
    plan: &Plan,
    plates: &Plates<'_>,
    catalogue: &Catalogue,
    now: &Stacks,
) -> Vec<Saving> {
    let mut found = Vec::new();
    for (k, item) in plan.items.iter().enumerate() {
        let Some(exercise) = catalogue.get(&item.exercise) else {
            continue;
        };
        let made = plates.made(exercise);
        let working = item
            .sets
            .iter()
            .find(|set| set.kind != SetKind::Ramp && !set.feeler);
        let Some(load) = working.map(|set| set.load) else {
            continue;
        };
        let near = [below(made, load), above(made, load)].into_iter().flatten();
        let best = near.filter_map(|other| {
            let mut instead = plan.clone();
            let sets = instead.items.get_mut(k).map(|item| &mut item.sets);
            let alike = sets.into_iter().flatten().filter(|set| set.load == load);
            alike.for_each(|set| set.load = other.load);
            let moves = now.moves().checked_sub(plates.stacks(&instead).moves());
            Some(Saving {
                item: k,
                instead: other.load,
                moves: moves.filter(|saved| *saved >= WORTH)?,
                percent: percent(load, other.load)?,
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
