//! Steps through a list of makeable loads, which runs from light to heavy.
//!
//! Loads of another kind than the list's (a band where masses are asked for) have no neighbours.

use super::Makeable;
use crate::domain::units::{Load, Mass};
use std::cmp::Ordering;

/// Where in the list the loads are no longer lighter than this; or no longer as light.
fn end_of(list: &[Makeable], load: Load, orders: &[Ordering]) -> usize {
    let before = |made: &Makeable| made.load.heavier(load).is_some_and(|o| orders.contains(&o));
    list.partition_point(before)
}

/// The makeable load that is exactly this heavy, in whatever unit.
pub fn at(list: &[Makeable], load: Load) -> Option<&Makeable> {
    let made = list.get(end_of(list, load, &[Ordering::Less]))?;
    (made.load.heavier(load) == Some(Ordering::Equal)).then_some(made)
}

/// The next makeable load above.
pub fn above(list: &[Makeable], load: Load) -> Option<&Makeable> {
    let made = list.get(end_of(list, load, &[Ordering::Less, Ordering::Equal]))?;
    (made.load.heavier(load) == Some(Ordering::Greater)).then_some(made)
}

/// The next makeable load below.
pub fn below(list: &[Makeable], load: Load) -> Option<&Makeable> {
    let lighter = end_of(list, load, &[Ordering::Less]);
    list.get(lighter.checked_sub(1)?)
}

/// The heaviest makeable load that is not above.
pub fn not_above(list: &[Makeable], load: Load) -> Option<&Makeable> {
    at(list, load).or_else(|| below(list, load))
}

/// The makeable load that is nearest; of two as near, the lighter.
pub fn nearest(list: &[Makeable], load: Load) -> Option<&Makeable> {
    let lower = not_above(list, load);
    let upper = above(list, load);
    let distance = |made: &Makeable| match (made.load, load) {
        (Load::Band(a), Load::Band(b)) => i64::from(a.0.abs_diff(b.0)),
        (a, b) => {
            let mass = |load: Load| load.entered().map_or(Mass::ZERO, |weight| weight.mass);
            (mass(a).ng() - mass(b).ng()).abs()
        }
    };
    match (lower, upper) {
        (Some(lower), Some(upper)) if distance(upper) < distance(lower) => Some(upper),
        (Some(lower), _) => Some(lower),
        (None, upper) => upper,
    }
}
