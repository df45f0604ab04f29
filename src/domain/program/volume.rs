//! Hard sets by muscle.

use super::Slot;
use crate::domain::exercise::{Catalogue, Muscle};
use std::collections::BTreeMap;

/// Hard sets of some slots by muscle, each slot coming with how many of its sets count.
pub fn hard_sets<'a>(
    catalogue: &Catalogue,
    slots: impl IntoIterator<Item = (&'a Slot, u32)>,
) -> BTreeMap<Muscle, f64> {
    let mut all = BTreeMap::new();
    for (slot, sets) in slots {
        let Some(exercise) = catalogue.get(&slot.exercise) else {
            continue;
        };
        for (muscle, share) in exercise.shares() {
            *all.entry(muscle).or_insert(0.0) += share * f64::from(sets);
        }
    }
    all
}
