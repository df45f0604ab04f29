//! Stacks for a whole run of loads with the fewest plates moved.
//!
//! Plates sit on a sleeve in order: to reach an inner one the outer ones come off. A plate lies on
//! its end over an unbroken run of loads, and of two plates the inner one lies there at least as
//! long: runs are nested or apart. So the least cost of a run of loads over a base that stays
//! inside is the least of: every split of the run over the same base, and one plate more in the
//! base for the whole run. A plate costs two moves, on and off, or one where it stays to the end.

use super::lots::{Lot, Lots};
use super::sums::{Kind, Limits, Sums};
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

/// Ends that carry the same plates, and what there is to put on them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Rack {
    /// How many ends.
    pub ends: u8,
    /// How heavy it is without plates.
    pub bare: Mass,
    /// How many ends of those count for one load: two of a handle or a bar.
    pub ends_a_load: u8,
    /// The most plates that one end holds, where that limits.
    pub sleeve: Option<u8>,
    /// Plates: how heavy one is, and how many there are for all ends together.
    pub plates: Vec<(Mass, u8)>,
}

/// The stacks of a run of loads.
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
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Unmakeable {
    /// Which of the loads.
    pub index: usize,
    /// The next lighter one that can be made.
    pub below: Option<Mass>,
    /// The next heavier one.
    pub above: Option<Mass>,
}

/// Masses that are listed at the most.
const MOST_SUMS: usize = 100_000;

impl Rack {
    /// The plates that each end can take, from heavy to light.
    fn kinds(&self) -> Vec<Kind> {
        let mut counts: BTreeMap<Mass, u32> = BTreeMap::new();
        for (mass, count) in self.plates.iter().filter(|(mass, _)| *mass > Mass::ZERO) {
            *counts.entry(*mass).or_default() += u32::from(*count);
        }
        let each =
            |count: u32| u8::try_from(count / u32::from(self.ends.max(1))).unwrap_or(u8::MAX);
        let kinds = counts.into_iter().rev();
        kinds
            .map(|(mass, count)| Kind {
                mass,
                most: each(count),
            })
            .collect()
    }

    /// Every load that can be made, from light to heavy.
    pub fn makeable(&self) -> Vec<Mass> {
        let limits = Limits {
            plates: self.sleeve,
            mass: Mass::MAX,
            sums: MOST_SUMS,
        };
        let sums = Sums::of(&self.kinds(), limits);
        sums.iter()
            .map(|(mass, _)| self.bare + mass * i64::from(self.ends_a_load))
            .collect()
    }

    /// The stacks with the least moves for these loads, begun with empty ends.
    ///
    /// # Errors
    ///
    /// The first load that cannot be made, with its neighbours.
    pub fn plan(&self, loads: &[Mass], order: Order) -> Result<MovePlan, Unmakeable> {
        let lots = Lots::of(&self.kinds(), self.sleeve);
        let makeable = self.makeable();
        let mut exact = lots.all_kinds;
        let mut ways = Vec::with_capacity(loads.len());
        for (index, load) in loads.iter().enumerate() {
            let above_bare = (*load - self.bare).ng();
            let each = i64::from(self.ends_a_load.max(1));
            let (found, all) = if above_bare >= 0 && above_bare % each == 0 {
                lots.that_make(Mass::from_ng(above_bare / each))
            } else {
                (Vec::new(), true)
            };
            if found.is_empty() {
                let below = makeable.iter().copied().rfind(|mass| mass < load);
                let above = makeable.iter().copied().find(|mass| mass > load);
                return Err(Unmakeable {
                    index,
                    below,
                    above,
                });
            }
            exact &= all;
            ways.push(found);
        }
        let mut search = Search {
            lots: &lots,
            order,
            ways: &ways,
            known: BTreeMap::new(),
        };
        let stacks = search.stacks();
        let mut moves = Vec::with_capacity(stacks.len());
        let mut before: &[usize] = &[];
        for stack in &stacks {
            let shared = before.iter().zip(stack).take_while(|(a, b)| a == b).count();
            let each = before.len() + stack.len() - 2 * shared;
            moves.push(u32::try_from(each).unwrap_or(u32::MAX) * u32::from(self.ends));
            before = stack;
        }
        let named = |stack: &Vec<usize>| stack.iter().map(|kind| lots.mass(*kind)).collect();
        Ok(MovePlan {
            stacks: stacks.iter().map(named).collect(),
            moves,
            exact,
        })
    }
}

/// A run of loads, first and last, over a base.
type Run = (usize, usize, Lot);

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
    Leaf(Lot),
    /// Two runs over the same base, the first up to here.
    Split(usize),
    /// A plate of this kind more in the base.
    Extend(usize),
}

struct Search<'l> {
    lots: &'l Lots,
    order: Order,
    ways: &'l [Vec<Lot>],
    known: BTreeMap<Run, Option<(Cost, Best)>>,
}

impl Search<'_> {
    /// The plates of each load by kind, inner to outer.
    fn stacks(&mut self) -> Vec<Vec<usize>> {
        let mut stacks = vec![Vec::new(); self.ways.len()];
        if !stacks.is_empty() {
            let whole = (0, self.ways.len() - 1, Lot::EMPTY);
            self.cost(whole);
            self.lay(whole, &mut Vec::new(), &mut stacks);
        }
        stacks
    }

    /// The least cost of a run; `None` where the base is part of no way.
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

    fn best(&mut self, (first, last, base): Run) -> Option<(Cost, Best)> {
        if first == last {
            let holds = |lot: &&Lot| self.holds(**lot, base);
            let lot = *self.ways[first]
                .iter()
                .filter(holds)
                .min_by_key(|lot| lot.count())?;
            let cost = self.plates(lot.count() - base.count(), (first, last));
            return Some((cost, Best::Leaf(lot)));
        }
        let mut best: Option<(Cost, Best)> = None;
        let mut take = |cost: Cost, how: Best| {
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, how));
            }
        };
        for kind in self.lots.kinds() {
            if !self.may_follow(base, kind) {
                continue;
            }
            let Some(more) = self.lots.with(base, kind) else {
                continue;
            };
            if !(first..=last).all(|k| self.ways[k].iter().any(|lot| self.holds(*lot, more))) {
                continue;
            }
            if let Some(cost) = self.cost((first, last, more)) {
                take(cost + self.plates(1, (first, last)), Best::Extend(kind));
            }
        }
        for split in first..last {
            let left = self.cost((first, split, base));
            let right = self.cost((split + 1, last, base));
            if let (Some(left), Some(right)) = (left, right) {
                take(left + right, Best::Split(split));
            }
        }
        best
    }

    /// Whether a lot can be laid with the base inside.
    fn holds(&self, lot: Lot, base: Lot) -> bool {
        match self.order {
            Order::Free => lot.contains(base),
            Order::LargestInside => lot.begins_with(base),
        }
    }

    /// Whether a plate of this kind may lie on the base.
    fn may_follow(&self, base: Lot, kind: usize) -> bool {
        match self.order {
            Order::Free => true,
            Order::LargestInside => base.lightest().is_none_or(|lightest| lightest <= kind),
        }
    }

    fn lay(&self, run: Run, base: &mut Vec<usize>, stacks: &mut [Vec<usize>]) {
        let (first, last, lot) = run;
        let Some(Some((_, best))) = self.known.get(&run) else {
            return;
        };
        match *best {
            Best::Leaf(whole) => {
                let mut stack = base.clone();
                stack.extend(whole.beyond(lot));
                stacks[first] = stack;
            }
            Best::Split(split) => {
                self.lay((first, split, lot), base, stacks);
                self.lay((split + 1, last, lot), base, stacks);
            }
            Best::Extend(kind) => {
                let Some(more) = self.lots.with(lot, kind) else {
                    return;
                };
                base.push(kind);
                self.lay((first, last, more), base, stacks);
                base.pop();
            }
        }
    }
}
