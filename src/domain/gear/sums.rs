//! Every mass that plates on one end add up to, and the fewest plates that make it.
//!
//! Stacks are not listed one by one: sums are merged kind by kind, so that the work grows with the
//! number of different sums, which plates of one grid keep small.

use crate::domain::units::Mass;
use std::num::NonZeroU32;

/// Plates of one kind that one end may take.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kind {
    /// How heavy one is; more than nothing.
    pub mass: Mass,
    /// How many one end may take.
    pub most: u8,
}

/// A mass that can be made on one end.
#[derive(Clone, Copy, Debug)]
struct Sum {
    mass: Mass,
    /// The fewest plates that make it.
    plates: u32,
    /// The last plates that were laid on: their place in the list of layings, from 1.
    laid: Option<NonZeroU32>,
}

/// Some plates of one kind laid on top of others.
#[derive(Clone, Copy, Debug)]
struct Laid {
    kind: u16,
    copies: u8,
    below: Option<NonZeroU32>,
}

/// All sums, from light to heavy.
#[derive(Debug)]
pub(super) struct Sums {
    sums: Vec<Sum>,
    layings: Vec<Laid>,
}

/// What one end may hold at most.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// Plates.
    pub plates: Option<u8>,
    /// Mass.
    pub mass: Mass,
    /// How many sums are wanted: the lightest ones.
    pub sums: usize,
    /// Above those, one of fewest plates for every so much more; none where that is nothing.
    pub coarse: Mass,
}

impl Sums {
    /// The lightest sums of these kinds, exact as far as they go: no sum below the last one
    /// returned is missing. Kinds are best given from heavy to light, which is then their order in
    /// every stack.
    pub fn of(kinds: &[Kind], limits: Limits) -> Self {
        let empty = Sum {
            mass: Mass::ZERO,
            plates: 0,
            laid: None,
        };
        let mut all = Self {
            sums: vec![empty],
            layings: Vec::new(),
        };
        for (kind, plates) in (0_u16..).zip(kinds) {
            // One, two, four ... copies and a rest: their subsets are all counts up to the most.
            let mut left = plates.most;
            let mut copies = 1;
            while left > 0 {
                let piece = copies.min(left);
                all.lay(kind, piece, plates.mass, limits);
                left -= piece;
                copies = copies.saturating_mul(2);
            }
        }
        all
    }

    /// The sums, and for each what is made of the plates that make it, by index of their kind, in
    /// order of kinds.
    pub fn map<T>(&self, mut make: impl FnMut(&[u16]) -> T) -> Vec<T> {
        let mut plates = Vec::new();
        let sums = self.sums.iter().map(|sum| {
            self.plates(*sum, &mut plates);
            make(&plates)
        });
        sums.collect()
    }

    /// The sums alone.
    pub fn masses(&self) -> impl DoubleEndedIterator<Item = Mass> {
        self.sums.iter().map(|sum| sum.mass)
    }

    /// The fewest plates that make a mass, by index of their kind, in order of kinds.
    pub fn made_of(&self, mass: Mass) -> Option<Vec<u16>> {
        let place = self.sums.binary_search_by_key(&mass, |sum| sum.mass).ok()?;
        let mut plates = Vec::new();
        self.plates(*self.sums.get(place)?, &mut plates);
        Some(plates)
    }

    /// Merges the sums with themselves raised by some plates more. Of two ways to one sum the one
    /// with fewer plates stays. Cutting off at the limit keeps all that is lighter exact: below
    /// each sum that stays, the sums that it is made of are lighter, and stay too.
    fn lay(&mut self, kind: u16, copies: u8, each: Mass, limits: Limits) {
        let mass = each * i64::from(copies);
        let most = limits.plates.map_or(u32::MAX, u32::from);
        let raised = |below: &Sum| {
            let plates = below.plates + u32::from(copies);
            (plates <= most && below.mass + mass <= limits.mass).then_some((
                below.mass + mass,
                plates,
                below.laid,
            ))
        };
        let mut merged = Merged {
            sums: Vec::with_capacity((self.sums.len() * 2).min(limits.sums)),
            limits,
        };
        let mut old = self.sums.iter().peekable();
        let mut new = self.sums.iter().filter_map(raised).peekable();
        while !merged.is_full() {
            let take_new = match (old.peek(), new.peek()) {
                (None, None) => break,
                (Some(_), None) => false,
                (None, Some(_)) => true,
                (Some(sum), Some((mass, plates, _))) => match sum.mass.cmp(mass) {
                    std::cmp::Ordering::Less => false,
                    std::cmp::Ordering::Greater => true,
                    std::cmp::Ordering::Equal => {
                        let fewer = *plates < sum.plates;
                        if fewer {
                            old.next();
                        } else {
                            new.next();
                        }
                        fewer
                    }
                },
            };
            if !take_new {
                if let Some(sum) = old.next() {
                    merged.push(*sum);
                }
            } else if let Some((mass, plates, below)) = new.next() {
                let laid = u32::try_from(self.layings.len() + 1);
                let laid = laid.ok().and_then(NonZeroU32::new);
                if merged.push(Sum { mass, plates, laid }) {
                    self.layings.push(Laid {
                        kind,
                        copies,
                        below,
                    });
                }
            }
        }
        self.sums = merged.sums;
    }

    fn plates(&self, sum: Sum, plates: &mut Vec<u16>) {
        plates.clear();
        let mut next = sum.laid;
        while let Some(laid) = next.and_then(|k| self.layings.get(k.get() as usize - 1)) {
            plates.extend(std::iter::repeat_n(laid.kind, usize::from(laid.copies)));
            next = laid.below;
        }
        plates.reverse();
    }
}

/// Sums being merged, from light to heavy.
struct Merged {
    sums: Vec<Sum>,
    limits: Limits,
}

impl Merged {
    /// Whether no heavier sum is wanted.
    fn is_full(&self) -> bool {
        self.sums.len() >= self.limits.sums && self.limits.coarse == Mass::ZERO
    }

    /// Takes a sum that is heavier than all before; says whether it was wanted. Above the limit,
    /// of those in the same step the one of fewest plates stays.
    fn push(&mut self, sum: Sum) -> bool {
        if self.sums.len() > self.limits.sums {
            let step = |sum: &Sum| sum.mass.ng() / self.limits.coarse.ng().max(1);
            if let Some(last) = self.sums.last_mut()
                && step(last) == step(&sum)
            {
                let fewer = sum.plates < last.plates;
                if fewer {
                    *last = sum;
                }
                return fewer;
            }
        }
        self.sums.push(sum);
        true
    }
}
