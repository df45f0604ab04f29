//! The plates of a whole session, on all handles and bars together, with the fewest plates moved.
//!
//! Set by set, all that can stand is kept with the least that it costs to have it stand. Plates go
//! on only where the set asks for them, and come off elsewhere only where they are missing: doing
//! either earlier never costs less.

use super::stock::{Carrier, Demand, Standing, Stock};
use super::turns::{Turn, Way, held};
use super::{Stack, Supply, Wanted, moves_between};
use crate::domain::units::Mass;
use std::collections::BTreeMap;

/// Steps that are taken for one set: of what can stand before it, so many are followed as this
/// leaves for all stacks that it may get; beyond, the cheapest.
const STEPS: usize = 1_000;
/// The cheapest of a set, to which the others are compared.
const LEADERS: usize = 8;

/// The change of plates for one set.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Step {
    /// The plates of one end, inner to outer; none where a plate is held.
    pub stack: Stack,
    /// What a person does: "each end: off 1.25, on 2.5".
    pub change: String,
    /// Plates taken off plus put on, over all ends of all that changes.
    pub moves: u32,
    /// What stands then.
    pub after: Standing,
}

/// The changes of plates for a run of sets.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Together {
    /// By set.
    pub steps: Vec<Step>,
    /// Whether no other changes have fewer moves.
    pub exact: bool,
}

/// Something that can stand after a set.
struct Node {
    /// Moves first; of as many, fewer plates on what is lifted.
    cost: (u32, u32),
    /// What stood before: its place in the layer before.
    from: usize,
    turn: Turn,
}

impl Stock {
    /// The plates for a run of sets with the fewest moves, begun with bare handles and bars;
    /// nothing where one of them cannot be made.
    pub fn together(&self, demands: &[Demand]) -> Option<Together> {
        let apart = self.apart(demands);
        let least = match apart {
            Some((turns, exact)) => {
                let moves: u32 = turns.iter().map(|turn| turn.moves).sum();
                let fits = |(turn, demand): (&Turn, &Demand)| {
                    self.missing(&turn.after, held(*demand)).is_none()
                };
                if turns.iter().zip(demands).all(fits) {
                    return Some(self.told_all(&turns, exact));
                }
                exact.then_some(moves)
            }
            None => None,
        };
        let (turns, searched) = self.search(demands)?;
        let moves: u32 = turns.iter().map(|turn| turn.moves).sum();
        let exact = searched && self.all || least == Some(moves);
        Some(self.told_all(&turns, exact))
    }

    /// The change for one set from what stands now, with the fewest moves, or to the stack wished
    /// for; nothing where it cannot be made.
    pub fn next(&self, now: &Standing, demand: Demand, wish: Option<&Stack>) -> Option<Step> {
        let mut way = self.way(demand);
        if let Some(wish) = wish {
            let kind = |plate: Mass| self.pools.iter().position(|p| p.weight.mass == plate);
            let kinds = wish.0.iter().map(|plate| kind(plate.mass));
            way.stacks = Some(vec![kinds.collect::<Option<_>>()?]);
        }
        let turns = self.turns(now, &way).into_iter();
        let best = turns.min_by_key(|turn| (turn.moves, turn.stack.len(), turn.stack.clone()))?;
        Some(self.told(now, &best))
    }

    fn told_all(&self, turns: &[Turn], exact: bool) -> Together {
        let mut before = self.bare();
        let steps = turns.iter().map(|turn| {
            let step = self.told(&before, turn);
            before = turn.after.clone();
            step
        });
        Together {
            steps: steps.collect(),
            exact,
        }
    }

    /// Every handle or bar by itself, as if it had all plates: never more moves than together.
    /// Nothing where what is done with one handle and what with two has to be told apart.
    fn apart(&self, demands: &[Demand]) -> Option<(Vec<Turn>, bool)> {
        let mut runs: BTreeMap<(Carrier, u8), Vec<Mass>> = BTreeMap::new();
        for demand in demands {
            if let Demand::Loaded { on, count, end } = demand {
                runs.entry((*on, *count)).or_default().push(*end);
            }
        }
        let mut stacks: BTreeMap<Carrier, std::vec::IntoIter<Vec<usize>>> = BTreeMap::new();
        let mut exact = true;
        for ((on, count), masses) in &runs {
            if self.of(*on).count() != usize::from(*count) {
                return None;
            }
            let ends = count.saturating_mul(2);
            let wanted = masses.iter().map(|mass| Wanted { mass: *mass, ends });
            let wanted: Vec<Wanted> = wanted.collect();
            let found = self.supply(*on).stacks(&wanted, self.order).ok()?;
            exact &= found.exact;
            let kinds = found.plates.iter().map(|stack| self.kinds(stack));
            stacks.insert(*on, kinds.collect::<Option<Vec<_>>>()?.into_iter());
        }
        let mut after = self.bare();
        let mut turns = Vec::with_capacity(demands.len());
        for demand in demands {
            turns.push(match demand {
                Demand::Held(_) => Turn::held(&after),
                Demand::Loaded { on, .. } => {
                    let stack = stacks.get_mut(on)?.next()?;
                    Turn::laid(&after, self.of(*on).collect(), &stack)
                }
            });
            after = turns.last()?.after.clone();
        }
        Some((turns, exact))
    }

    fn supply(&self, on: Carrier) -> Supply {
        let holder = self.holders.iter().find(|holder| holder.carrier == on);
        let plates = self.pools.iter();
        Supply {
            sleeve: holder.and_then(|holder| holder.sleeve),
            plates: plates
                .map(|pool| (pool.weight.mass, pool.fitting(on)))
                .collect(),
        }
    }

    fn kinds(&self, masses: &[Mass]) -> Option<Vec<usize>> {
        let kind = |mass: &Mass| self.pools.iter().position(|pool| pool.weight.mass == *mass);
        masses.iter().map(kind).collect()
    }

    /// The changes with the fewest moves, and whether nothing was left out on the way.
    fn search(&self, demands: &[Demand]) -> Option<(Vec<Turn>, bool)> {
        // Nothing moves between two alike.
        let runs: Vec<&[Demand]> = demands.chunk_by(|one, next| one == next).collect();
        let mut layers: Vec<Vec<Node>> = Vec::with_capacity(runs.len());
        let mut exact = true;
        for demand in runs.iter().filter_map(|run| run.first()) {
            let way = self.way(*demand);
            exact &= way.all;
            let mut found: BTreeMap<Standing, Node> = BTreeMap::new();
            match layers.last_mut() {
                None => self.follow((0, &self.bare(), (0, 0)), &way, &mut found),
                Some(layer) => {
                    let most = (STEPS / way.steps(self)).max(1);
                    exact &= layer.len() <= most;
                    for (from, node) in layer.iter().enumerate().take(most) {
                        self.follow((from, &node.turn.after, node.cost), &way, &mut found);
                    }
                }
            }
            layers.push(kept(found));
        }
        let mut turns = Vec::with_capacity(demands.len());
        let mut next = 0;
        for (layer, run) in layers.into_iter().zip(runs).rev() {
            // The first of the last layer is the cheapest of all.
            let Node { from, turn, .. } = layer.into_iter().nth(next)?;
            next = from;
            let again = Turn {
                moves: 0,
                ..turn.clone()
            };
            turns.extend(std::iter::repeat_n(again, run.len() - 1));
            turns.push(turn);
        }
        turns.reverse();
        Some((turns, exact))
    }

    fn follow(
        &self,
        (from, standing, cost): (usize, &Standing, (u32, u32)),
        way: &Way,
        found: &mut BTreeMap<Standing, Node>,
    ) {
        for turn in self.turns(standing, way) {
            let plates = turn.stack.len() * turn.holders.len();
            let plates = u32::try_from(plates).unwrap_or(u32::MAX);
            let cost = (cost.0 + turn.moves, cost.1.saturating_add(plates));
            let known = found.get(&turn.after).map(|node| node.cost);
            if known.is_none_or(|known| cost < known) {
                found.insert(turn.after.clone(), Node { cost, from, turn });
            }
        }
    }
}

/// What is worth following, the cheapest first: what costs no less than going there from something
/// cheaper is not.
fn kept(found: BTreeMap<Standing, Node>) -> Vec<Node> {
    let mut nodes: Vec<Node> = found.into_values().collect();
    nodes.sort_by_key(|node| node.cost);
    let mut kept: Vec<Node> = Vec::new();
    for node in nodes {
        let near = |leader: &Node| {
            let stacks = leader.turn.after.0.iter().zip(&node.turn.after.0);
            let moves: u32 = stacks.map(|(a, b)| moves_between(a, b) * 2).sum();
            leader.cost.0 + moves <= node.cost.0
        };
        if !kept.iter().take(LEADERS).any(near) {
            kept.push(node);
        }
    }
    kept
}
