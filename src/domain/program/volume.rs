//! Hard sets by muscle.

use super::Slot;
use crate::domain::exercise::{Catalogue, Muscle};
use std::collections::BTreeMap;

/// Hard sets of some slots by muscle, in halves: a set counts whole for the muscles that do the
/// work and half for those that assist (Pelland et al. 2024, preprint). Each slot comes with how
/// many of its sets count.
pub fn hard_sets<'a>(
    catalogue: &Catalogue,
    slots: impl IntoIterator<Item = (&'a Slot, u32)>,
) -> BTreeMap<Muscle, f64> {
    let mut all = BTreeMap::new();
    for (slot, sets) in slots {
        let Some(exercise) = catalogue.get(&slot.exercise) else {
            continue;
        };
        let prime = exercise.prime.iter().map(|muscle| (*muscle, 1.0));
        let assisting = exercise.assisting.iter().map(|muscle| (*muscle, 0.5));
        for (muscle, share) in prime.chain(assisting) {
            *all.entry(muscle).or_insert(0.0) += share * f64::from(sets);
        }
    }
    all
}
