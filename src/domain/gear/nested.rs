//! The search for the stacks of a run of loads with the fewest plates moved.
//!
//! A plate lies on its end over an unbroken run of loads, and of two plates the inner one lies
//! there at least as long: runs are nested or apart. So the least cost of a run of loads over a
//! base that stays inside is the least of: every split of the run over the same base, and one
//! plate more in the base for the whole run. A plate costs two moves, on and off, or one where it
//! stays to the end. Only what two loads in a row can share is ever worth being a base.

use super::lots::Lot;
use super::moves::Order;
use std::collections::BTreeMap;

/// Work that a search may take before it is given up for a smaller one.
const WORK: usize = 1_000_000;

/// The plates of each load by kind, inner to outer: of these lots of `kinds` kinds, with the
/// fewest moves. `None` where the search would take too long and `bounded` forbids that.
pub(super) fn stacks(
    ways: &[Vec<Lot>],
    (kinds, order): (usize, Order),
    bounded: bool,
) -> Option<Vec<Vec<usize>>> {
    let bases = Bases::of(
        ways,
        (kinds, order),
        if bounded { WORK } else { usize::MAX },
    )?;
    let mut search = Search {
        ways,
        bases: &bases.0,
        known: BTreeMap::new(),
    };
    let mut stacks = vec![Vec::new(); ways.len()];
    if let Some(last) = ways.len().checked_sub(1) {
        search.cost((0, last, NOTHING));
        search.lay((0, last, NOTHING), &mut Vec::new(), &mut stacks);
    }
    Some(stacks)
}

/// The number of the base without plates.
const NOTHING: usize = 0;

/// Plates that may stay inside over a run of loads.
struct Base {
    /// By kind: the base with a plate of it more.
    next: Vec<Option<usize>>,
    /// By load: how many plates go on the base at least, and the lot that asks for no more.
    leaf: Vec<Option<(u32, usize)>>,
}

/// All bases that two loads in a row can share, the empty one first.
struct Bases(Vec<Base>);

/// A base in the making: its plates, and the lots that hold it, by load and number.
struct Found {
    lot: Lot,
    holders: Vec<(usize, usize)>,
}

impl Bases {
    fn of(ways: &[Vec<Lot>], (kinds, order): (usize, Order), work: usize) -> Option<Self> {
        let each = |(load, lots): (usize, &Vec<Lot>)| (0..lots.len()).map(move |way| (load, way));
        let mut found = vec![Found {
            lot: Lot::empty(kinds),
            holders: ways.iter().enumerate().flat_map(each).collect(),
        }];
        let mut numbers = BTreeMap::from([(Lot::empty(kinds), NOTHING)]);
        let mut bases = Vec::new();
        let mut left = work;
        while let Some(base) = found.get(bases.len()) {
            let leaf = leaves(base, ways);
            left = left.checked_sub(effort(&leaf))?;
            let mut next = vec![None; kinds];
            for (kind, next) in next.iter_mut().enumerate() {
                let Some(base) = found.get(bases.len()) else {
                    break;
                };
                if !may_follow(order, &base.lot, kind) {
                    continue;
                }
                let more = base.lot.with(kind);
                *next = numbers.get(&more).copied();
                if next.is_some() {
                    continue;
                }
                left = left.checked_sub(base.holders.len() * kinds.div_ceil(8))?;
                let holders = base.holders.iter().copied().filter(|(load, way)| {
                    let lot = ways.get(*load).and_then(|lots| lots.get(*way));
                    lot.is_some_and(|lot| holds(order, lot, &more))
                });
                let holders: Vec<(usize, usize)> = holders.collect();
                if holders.windows(2).any(|two| two[0].0 + 1 == two[1].0) {
                    *next = Some(found.len());
                    numbers.insert(more.clone(), found.len());
                    found.push(Found { lot: more, holders });
                }
            }
            bases.push(Base { next, leaf });
        }
        Some(Self(bases))
    }
}

/// By load, the lot of fewest plates beyond a base.
fn leaves(base: &Found, ways: &[Vec<Lot>]) -> Vec<Option<(u32, usize)>> {
    let inside = base.lot.count();
    let mut leaves: Vec<Option<(u32, usize)>> = vec![None; ways.len()];
    for (load, way) in &base.holders {
        let lot = ways.get(*load).and_then(|lots| lots.get(*way));
        if let (Some(leaf), Some(lot)) = (leaves.get_mut(*load), lot) {
            let beyond = lot.count().saturating_sub(inside);
            if leaf.is_none_or(|(least, _)| beyond < least) {
                *leaf = Some((beyond, *way));
            }
        }
    }
    leaves
}

/// Steps that the search takes over a base: for each unbroken run, all runs inside and their
/// splits.
fn effort(leaves: &[Option<(u32, usize)>]) -> usize {
    let runs = leaves.split(Option::is_none);
    runs.map(|run| run.len().saturating_pow(3) / 6 + run.len() * run.len())
        .sum()
}

/// Whether a lot can be laid with the base inside.
fn holds(order: Order, lot: &Lot, base: &Lot) -> bool {
    match order {
        Order::Free => lot.contains(base),
        Order::LargestInside => lot.begins_with(base),
    }
}

/// Whether a plate of this kind may lie on the base.
fn may_follow(order: Order, base: &Lot, kind: usize) -> bool {
    match order {
        Order::Free => true,
        Order::LargestInside => base.lightest().is_none_or(|lightest| lightest <= kind),
    }
}

/// A run of loads, first and last, over a base.
type Run = (usize, usize, usize);

/// Moves first; of as many, plates lying on the end over all loads: fewer plates, less to lift.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Cost {
    moves: u32,
    plates: u32,
}

impl std::ops::Add for Cost {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            moves: self.moves + other.moves,
            plates: self.plates + other.plates,
        }
    }
}

/// What is best for a run.
#[derive(Clone, Copy, Debug)]
enum Best {
    /// One load: the lot that makes it.
    Leaf(usize),
    /// Two runs over the same base, the first up to here.
    Split(usize),
    /// A plate of this kind more in the base.
    Extend(usize),
}

struct Search<'w> {
    ways: &'w [Vec<Lot>],
    bases: &'w [Base],
    known: BTreeMap<Run, Option<(Cost, Best)>>,
}

impl Search<'_> {
    /// The least cost of a run; `None` where one of its loads cannot hold the base.
    fn cost(&mut self, run: Run) -> Option<Cost> {
        if let Some(known) = self.known.get(&run) {
            return known.map(|(cost, _)| cost);
        }
        let best = self.best(run);
        self.known.insert(run, best);
        best.map(|(cost, _)| cost)
    }

    /// What so many plates cost that lie on the end over a run of loads.
    fn plates(&self, count: u32, (first, last): (usize, usize)) -> Cost {
        let moves = if last + 1 == self.ways.len() { 1 } else { 2 };
        let run = u32::try_from(last - first + 1).unwrap_or(u32::MAX);
        Cost {
            moves: count * moves,
            plates: count * run,
        }
    }

    fn best(&mut self, (first, last, number): Run) -> Option<(Cost, Best)> {
        let bases = self.bases;
        let base = bases.get(number)?;
        if first == last {
            let (beyond, way) = (*base.leaf.get(first)?)?;
            return Some((self.plates(beyond, (first, last)), Best::Leaf(way)));
        }
        let mut best: Option<(Cost, Best)> = None;
        let mut take = |cost: Cost, how: Best| {
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, how));
            }
        };
        for (kind, next) in base.next.iter().enumerate() {
            let Some(next) = *next else { continue };
            let leaves = bases.get(next).and_then(|b| b.leaf.get(first..=last));
            if leaves.is_some_and(|leaves| leaves.iter().all(Option::is_some))
                && let Some(cost) = self.cost((first, last, next))
            {
                take(cost + self.plates(1, (first, last)), Best::Extend(kind));
            }
        }
        for split in first..last {
            let left = self.cost((first, split, number));
            let right = self.cost((split + 1, last, number));
            if let (Some(left), Some(right)) = (left, right) {
                take(left + right, Best::Split(split));
            }
        }
        best
    }

    fn lay(&self, run: Run, base: &mut Vec<usize>, stacks: &mut [Vec<usize>]) {
        let (first, last, number) = run;
        let Some(Some((_, best))) = self.known.get(&run) else {
            return;
        };
        match *best {
            Best::Leaf(way) => {
                let lot = self.ways.get(first).and_then(|lots| lots.get(way));
                if let (Some(stack), Some(lot)) = (stacks.get_mut(first), lot) {
                    stack.extend(base.iter());
                    stack.extend(lot.beyond(base));
                }
            }
            Best::Split(split) => {
                self.lay((first, split, number), base, stacks);
                self.lay((split + 1, last, number), base, stacks);
            }
            Best::Extend(kind) => {
                let next = self.bases.get(number).and_then(|b| *b.next.get(kind)?);
                if let Some(next) = next {
                    base.push(kind);
                    self.lay((first, last, next), base, stacks);
                    base.pop();
                }
            }
        }
    }
}
