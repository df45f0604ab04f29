//! Stacks for a whole run of loads with the fewest plates moved.

use super::lots::{End, Lot};
use super::nested;
use super::sums::{Kind, Limits};
use crate::domain::units::Mass;
use std::collections::BTreeMap;

/// How plates may lie on a sleeve.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Order {
    /// The largest inside.
    LargestInside,
    /// As it saves moves.
    Free,
}

/// Plates to load a sleeve with.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Supply {
    /// The most plates that one end holds, where that limits.
    pub sleeve: Option<u8>,
    /// How heavy a plate is, and how many there are for all ends together.
    pub plates: Vec<(Mass, u32)>,
}

/// What one end is to carry.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Wanted {
    /// Plates of just this mass.
    pub mass: Mass,
    /// How many ends carry the same at once.
    pub ends: u8,
}

/// The stacks of a run of loads.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stacks {
    /// By load: the plates of one end, inner to outer.
    pub plates: Vec<Vec<Mass>>,
    /// Whether no other stacks have fewer moves.
    pub exact: bool,
}

/// Where eight plates can lie on an end, the least is found whatever it takes.
const ALWAYS_EXACT: u32 = 8;

/// Loads that are looked at together; a longer run is cut.
const TOGETHER: usize = 64;

/// Masses that are listed at the most.
const MOST_SUMS: usize = 100_000;

impl Supply {
    /// The plates that each of so many ends can take, from heavy to light.
    fn kinds(&self, ends: u8) -> Vec<Kind> {
        let mut counts: BTreeMap<Mass, u32> = BTreeMap::new();
        for (mass, count) in self.plates.iter().filter(|(mass, _)| *mass > Mass::ZERO) {
            let all = counts.entry(*mass).or_default();
            *all = all.saturating_add(*count);
        }
        let each = |count: u32| u8::try_from(count / u32::from(ends.max(1))).unwrap_or(u8::MAX);
        let kinds = counts.into_iter().rev();
        kinds
            .map(|(mass, count)| Kind {
                mass,
                most: each(count),
            })
            .collect()
    }

    const fn limits(&self, heaviest: Mass) -> Limits {
        Limits {
            plates: self.sleeve,
            mass: heaviest,
            sums: MOST_SUMS,
            coarse: Mass::ZERO,
        }
    }

    /// Everything that plates on one of so many ends come to, from light to heavy.
    pub fn masses(&self, ends: u8) -> Vec<Mass> {
        let kinds = self.kinds(ends);
        let end = End::new(&kinds, self.limits(Mass::MAX));
        end.masses().collect()
    }

    /// The stacks of one end with the fewest plates taken off and put on, begun with none.
    ///
    /// # Errors
    ///
    /// The place in the run of the first that cannot be made.
    pub fn stacks(&self, wanted: &[Wanted], order: Order) -> Result<Stacks, usize> {
        let mut all = Stacks {
            plates: Vec::with_capacity(wanted.len()),
            exact: true,
        };
        // Nothing moves between two alike.
        let runs: Vec<&[Wanted]> = wanted.chunk_by(|one, next| one == next).collect();
        for some in runs.chunks(TOGETHER) {
            let firsts: Vec<Wanted> = some.iter().filter_map(|run| run.first().copied()).collect();
            let found = self.together(&firsts, order).map_err(|run| {
                let before: usize = some.iter().take(run).map(|run| run.len()).sum();
                all.plates.len() + before
            })?;
            all.exact &= found.exact && runs.len() <= TOGETHER;
            for (stack, run) in found.plates.into_iter().zip(some) {
                all.plates.extend(std::iter::repeat_n(stack, run.len()));
            }
        }
        Ok(all)
    }

    fn together(&self, wanted: &[Wanted], order: Order) -> Result<Stacks, usize> {
        let heaviest = wanted.iter().map(|wanted| wanted.mass).max();
        let limits = self.limits(heaviest.unwrap_or_default());
        let mut ways: Vec<Vec<Lot>> = Vec::with_capacity(wanted.len());
        let (mut exact, mut small) = (true, true);
        let mut kinds: BTreeMap<u8, Vec<Kind>> = BTreeMap::new();
        for load in wanted {
            kinds
                .entry(load.ends)
                .or_insert_with(|| self.kinds(load.ends));
        }
        let ends: BTreeMap<u8, End<'_>> = kinds
            .iter()
            .map(|(ends, kinds)| (*ends, End::new(kinds, limits)))
            .collect();
        for (place, load) in wanted.iter().enumerate() {
            let end = ends.get(&load.ends).ok_or(place)?;
            let found = end.that_make(load.mass);
            if found.lots.is_empty() {
                return Err(place);
            }
            exact &= found.all;
            small &= end.most() <= ALWAYS_EXACT;
            ways.push(found.lots);
        }
        let masses: Vec<Mass> = kinds
            .values()
            .next()
            .map(|kinds| kinds.iter().map(|kind| kind.mass).collect())
            .unwrap_or_default();
        let (stacks, searched) = search(ways, (masses.len(), order), small);
        let mass = |kind: &usize| masses.get(*kind).copied().unwrap_or_default();
        let named = stacks.iter().map(|stack| stack.iter().map(mass).collect());
        Ok(Stacks {
            plates: named.collect(),
            exact: exact && searched,
        })
    }
}

/// Stacks of these lots by kind, and whether all lots could be searched: where that is too much,
/// the best of those of fewest plates.
fn search(
    mut ways: Vec<Vec<Lot>>,
    (kinds, order): (usize, Order),
    small: bool,
) -> (Vec<Vec<usize>>, bool) {
    if let Some(found) = nested::stacks(&ways, (kinds, order), !small) {
        return (found, true);
    }
    // With the largest inside there is far less to search.
    let sorted = match order {
        Order::Free => Some(search(ways.clone(), (kinds, Order::LargestInside), false).0),
        Order::LargestInside => None,
    };
    let mut fewer = None;
    let mut most = ways.iter().map(Vec::len).max().unwrap_or_default();
    while fewer.is_none() && most > 1 {
        most = most.div_ceil(4);
        for lots in &mut ways {
            lots.truncate(most);
        }
        fewer = nested::stacks(&ways, (kinds, order), true);
    }
    let cost = |stacks: &Vec<Vec<usize>>| -> u32 {
        let mut before: &[usize] = &[];
        let moves = stacks.iter().map(|stack| {
            let moves = moves_between(before, stack);
            before = stack;
            moves
        });
        moves.sum()
    };
    let best = [sorted, fewer].into_iter().flatten().min_by_key(cost);
    // One lot a load and the largest inside: nothing is left to search but the begins of stacks.
    let last = || nested::stacks(&ways, (kinds, Order::LargestInside), false);
    (best.or_else(last).unwrap_or_default(), false)
}

/// Handles alike, or a bar: ends that carry the same plates.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Rack {
    /// How many ends.
    pub ends: u8,
    /// How heavy one handle or the bar is without plates.
    pub bare: Mass,
    /// What there is to put on them.
    pub supply: Supply,
}

/// The stacks of a run of loads, and what they cost.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MovePlan {
    /// By load: the plates of one end, inner to outer.
    pub stacks: Vec<Vec<Mass>>,
    /// By load: plates taken off plus put on, over all ends.
    pub moves: Vec<u32>,
    /// Whether no plan has fewer moves.
    pub exact: bool,
}

impl MovePlan {
    /// All moves together.
    pub fn total(&self) -> u32 {
        self.moves.iter().sum()
    }
}

/// A load that cannot be made.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Unmakeable {
    /// Which of the loads.
    pub index: usize,
    /// The two nearest that can be made, the lighter first: where there are such, one below and
    /// one above.
    pub nearest: Vec<Mass>,
}

/// Ends that count for one load.
const ENDS_A_LOAD: i64 = 2;

impl Rack {
    /// Every load that can be made, from light to heavy.
    pub fn makeable(&self) -> Vec<Mass> {
        let masses = self.supply.masses(self.ends).into_iter();
        masses.map(|mass| self.bare + mass * ENDS_A_LOAD).collect()
    }

    /// The stacks with the least moves for these loads, begun with empty ends.
    ///
    /// # Errors
    ///
    /// The first load that cannot be made, with its neighbours.
    pub fn plan(&self, loads: &[Mass], order: Order) -> Result<MovePlan, Unmakeable> {
        let wanted: Vec<Wanted> = loads
            .iter()
            .map_while(|load| {
                let plates = (*load - self.bare).ng();
                (plates >= 0 && plates % ENDS_A_LOAD == 0).then(|| Wanted {
                    mass: Mass::from_ng(plates / ENDS_A_LOAD),
                    ends: self.ends,
                })
            })
            .collect();
        let found = self.supply.stacks(&wanted, order);
        let found = found.and_then(|found| {
            let all = wanted.len() == loads.len();
            if all { Ok(found) } else { Err(wanted.len()) }
        });
        let found = found.map_err(|index| self.unmakeable(index, loads))?;
        let mut before: &[Mass] = &[];
        let moves = found.plates.iter().map(|stack| {
            let each = moves_between(before, stack);
            before = stack;
            each * u32::from(self.ends)
        });
        Ok(MovePlan {
            moves: moves.collect(),
            stacks: found.plates,
            exact: found.exact,
        })
    }

    fn unmakeable(&self, index: usize, loads: &[Mass]) -> Unmakeable {
        let load = loads.get(index).copied().unwrap_or_default();
        let makeable = self.makeable();
        let above = makeable.partition_point(|mass| *mass <= load);
        let from = above
            .saturating_sub(1)
            .min(makeable.len().saturating_sub(2));
        Unmakeable {
            index,
            nearest: makeable.into_iter().skip(from).take(2).collect(),
        }
    }
}

/// Plates taken off plus put on, at one end.
pub fn moves_between<P: PartialEq>(before: &[P], after: &[P]) -> u32 {
    let shared = before.iter().zip(after).take_while(|(a, b)| a == b).count();
    u32::try_from(before.len() + after.len() - 2 * shared).unwrap_or(u32::MAX)
}
