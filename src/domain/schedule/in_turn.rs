//! Exercises in turn need their loads at once: where the gear cannot have that, they are parted.

use super::Plates;
use crate::domain::exercise::Catalogue;
use crate::domain::gear::{Carrier, Clash, Demand};
use crate::domain::session::{Plan, SetKind};

/// Has exercises in turn whose loads cannot be there at once done one after the other; says which,
/// and why.
pub fn part(plan: &mut Plan, plates: &Plates<'_>, catalogue: &Catalogue) -> Vec<String> {
    let mut remarks = Vec::new();
    for later in 0..plan.items.len() {
        let group = |plan: &Plan, k: usize| plan.items.get(k).and_then(|item| item.group);
        let Some(own) = group(plan, later) else {
            continue;
        };
        let mut items: Vec<usize> = (0..later)
            .filter(|k| group(plan, *k) == Some(own))
            .collect();
        items.push(later);
        let Some(mut clash) = clash(plan, &items, plates, catalogue) else {
            continue;
        };
        // Two that clash are named alone.
        for earlier in items.iter().filter(|k| **k != later) {
            let two = vec![*earlier, later];
            if let Some(found) = self::clash(plan, &two, plates, catalogue) {
                (items, clash) = (two, found);
                break;
            }
        }
        let names = items.iter().filter_map(|k| plan.items.get(*k));
        let names: Vec<String> = names
            .map(|item| catalogue.name(&item.exercise).to_owned())
            .collect();
        remarks.push(format!(
            "{} want the same {clash}: one, then the other",
            names.join(" and ")
        ));
        if let Some(item) = plan.items.get_mut(later) {
            item.group = None;
        }
    }
    remarks
}

/// What working sets of these items want at once and cannot have.
fn clash(
    plan: &Plan,
    items: &[usize],
    plates: &Plates<'_>,
    catalogue: &Catalogue,
) -> Option<&'static str> {
    let working: Vec<Vec<Option<Demand>>> = items
        .iter()
        .filter_map(|k| {
            let item = plan.items.get(*k)?;
            let exercise = catalogue.get(&item.exercise)?;
            let sets = item.sets.iter().filter(|set| set.kind != SetKind::Ramp);
            Some(sets.map(|set| plates.demand(exercise, set.load)).collect())
        })
        .collect();
    let rounds = working.iter().map(Vec::len).max().unwrap_or_default();
    // One after the other takes its next load, while the others have what they had.
    for turn in 0..rounds * working.len() {
        let (round, whose) = (turn / working.len(), turn % working.len());
        let now = working.iter().enumerate().filter_map(|(k, sets)| {
            let round = if k <= whose {
                round
            } else {
                round.saturating_sub(1)
            };
            *sets.get(round).or(sets.last())?
        });
        let demands: Vec<Demand> = now.collect();
        match plates.stock().at_once(&demands) {
            Ok(()) => {}
            Err(Clash::Plates) => return Some("plates"),
            Err(Clash::Carriers) => return Some(carrier(&demands)),
        }
    }
    None
}

/// What the last of these goes on.
fn carrier(demands: &[Demand]) -> &'static str {
    let on = demands.iter().rev().find_map(|demand| match demand {
        Demand::Loaded { on, .. } => Some(*on),
        Demand::Held(_) => None,
    });
    match on {
        Some(Carrier::Bar(_)) => "bar",
        Some(Carrier::Handles(_)) | None => "handles",
    }
}
