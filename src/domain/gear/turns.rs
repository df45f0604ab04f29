//! What a set asks of the plates, and all that can be done for it from what stands.

use super::lots::{Lot, Ways};
use super::stock::{Carrier, Demand, Standing, Stock};
use super::{Order, moves_between};
use crate::domain::units::Mass;
use std::collections::BTreeSet;

/// Stacks that are tried for one set; beyond, those that build on what stands.
const STACKS: usize = 60;
/// Lots that are tried for one set: those of few plates.
const LOTS: usize = 24;

/// One way to do what a set asks.
#[derive(Clone, Debug)]
pub(super) struct Turn {
    /// What the set is done with.
    pub holders: Vec<usize>,
    pub stack: Vec<usize>,
    pub moves: u32,
    pub after: Standing,
}

/// What a set asks, and the stacks that do it.
pub(super) struct Way {
    pub demand: Demand,
    pub lots: Vec<Lot>,
    /// All stacks, where they are few.
    pub stacks: Option<Vec<Vec<usize>>>,
    /// Whether these are all that there is.
    pub all: bool,
}

impl Stock {
    pub(super) fn way(&self, demand: Demand) -> Way {
        let Ways { mut lots, mut all } = match demand {
            Demand::Held(_) => Ways {
                lots: vec![Lot::empty(self.pools.len())],
                all: true,
            },
            Demand::Loaded { on, count, end } => self.lots(on, count, end),
        };
        all &= lots.len() <= LOTS;
        lots.truncate(LOTS);
        let stacks = match self.order {
            Order::LargestInside => Some(lots.iter().map(|lot| lot.beyond(&[])).collect()),
            Order::Free => every_order(&lots),
        };
        all &= stacks.is_some();
        Way {
            demand,
            lots,
            stacks,
            all,
        }
    }

    /// All that can be done for a set, from what stands.
    pub(super) fn turns(&self, standing: &Standing, way: &Way) -> Vec<Turn> {
        let mut turns = Vec::new();
        let laid: Vec<Turn> = match way.demand {
            Demand::Held(_) => vec![Turn::held(standing)],
            Demand::Loaded { on, count, .. } => {
                let choices = self.choices(standing, on, usize::from(count)).into_iter();
                choices
                    .flat_map(|holders| laid(standing, &holders, way))
                    .collect()
            }
        };
        for turn in laid {
            self.give(turn, held(way.demand), &mut turns);
        }
        turns
    }

    /// So many holders of a carrier, in all ways that make a difference.
    fn choices(&self, standing: &Standing, on: Carrier, count: usize) -> Vec<Vec<usize>> {
        let mut choices: Vec<Vec<usize>> = vec![Vec::new()];
        for holder in self.of(on) {
            let with = choices
                .iter()
                .filter(|some| some.len() < count)
                .map(|some| {
                    let mut more = some.clone();
                    more.push(holder);
                    more
                });
            let with: Vec<Vec<usize>> = with.collect();
            choices.extend(with);
        }
        let mut seen = BTreeSet::new();
        choices.retain(|some| {
            let mut stacks: Vec<_> = some.iter().filter_map(|h| standing.0.get(*h)).collect();
            stacks.sort();
            some.len() == count && seen.insert(stacks)
        });
        choices
    }

    /// Takes plates that are missing off what the set is not done with, in all ways that matter.
    fn give(&self, turn: Turn, held: Mass, turns: &mut Vec<Turn>) {
        let Some(missing) = self.missing(&turn.after, held) else {
            turns.push(turn);
            return;
        };
        for (k, holder) in self.holders.iter().enumerate() {
            if turn.holders.contains(&k) || !missing.helped_by(holder.carrier) {
                continue;
            }
            let mut less = turn.clone();
            let Some(stack) = less.after.0.get_mut(k) else {
                continue;
            };
            let Some(inner) = stack.iter().rposition(|kind| *kind == missing.kind) else {
                continue;
            };
            less.moves += u32::try_from(stack.len() - inner).unwrap_or(u32::MAX) * 2;
            stack.truncate(inner);
            self.give(less, held, turns);
        }
    }
}

impl Way {
    /// How many turns there are from one standing, about.
    pub fn steps(&self, stock: &Stock) -> usize {
        let stacks = self.stacks.as_ref().map_or(self.lots.len() * 2, Vec::len);
        match self.demand {
            Demand::Held(_) => 1,
            Demand::Loaded { on, .. } => stacks.max(1) * stock.of(on).count().max(1),
        }
    }
}

impl Turn {
    /// A plate taken in the hands.
    pub fn held(standing: &Standing) -> Self {
        Self {
            holders: Vec::new(),
            stack: Vec::new(),
            moves: 0,
            after: standing.clone(),
        }
    }

    /// A stack laid on some holders, alike.
    pub fn laid(standing: &Standing, holders: Vec<usize>, stack: &[usize]) -> Self {
        let mut after = standing.clone();
        let mut moves = 0;
        for holder in &holders {
            if let Some(before) = after.0.get_mut(*holder) {
                moves += moves_between(before, stack) * 2;
                stack.clone_into(before);
            }
        }
        Self {
            holders,
            stack: stack.to_vec(),
            moves,
            after,
        }
    }
}

/// The mass of a plate that is held; none is nothing.
pub(super) const fn held(demand: Demand) -> Mass {
    match demand {
        Demand::Held(mass) => mass,
        Demand::Loaded { .. } => Mass::ZERO,
    }
}

/// A set's stacks on these holders. Where they are too many: for each lot the one with the largest
/// inside, and those that leave the most of what stands.
fn laid(standing: &Standing, holders: &[usize], way: &Way) -> Vec<Turn> {
    if let Some(stacks) = &way.stacks {
        let laid = stacks
            .iter()
            .map(|stack| Turn::laid(standing, holders.to_vec(), stack));
        return laid.collect();
    }
    let mut stacks: BTreeSet<Vec<usize>> = BTreeSet::new();
    for lot in &way.lots {
        stacks.insert(lot.beyond(&[]));
        for now in holders.iter().filter_map(|holder| standing.0.get(*holder)) {
            let mut base = now.clone();
            while !lot.contains(&Lot::of(lot.kinds(), base.iter().copied())) {
                base.pop();
            }
            let more = lot.beyond(&base);
            base.extend(more);
            stacks.insert(base);
        }
    }
    let laid = stacks
        .iter()
        .map(|stack| Turn::laid(standing, holders.to_vec(), stack));
    laid.collect()
}

/// All orders of all lots, where they are few.
fn every_order(lots: &[Lot]) -> Option<Vec<Vec<usize>>> {
    fn grow(left: &mut Vec<usize>, stack: &mut Vec<usize>, all: &mut Vec<Vec<usize>>) {
        if left.is_empty() {
            all.push(stack.clone());
        }
        let mut last = None;
        for k in 0..left.len() {
            if all.len() > STACKS || left.get(k).copied() == last {
                continue;
            }
            let kind = left.remove(k);
            last = Some(kind);
            stack.push(kind);
            grow(left, stack, all);
            stack.pop();
            left.insert(k, kind);
        }
    }
    let mut all = Vec::new();
    for lot in lots {
        grow(&mut lot.beyond(&[]), &mut Vec::new(), &mut all);
    }
    (all.len() <= STACKS).then_some(all)
}
