//! Lots: plates of one end whatever their order, and all lots that make a mass.

use super::sums::{Kind, Limits, Sums};
use crate::domain::units::Mass;

/// Lots that are looked at for one load. Where eight plates can lie on an end there are at most
/// seventy; beyond, as many as the search takes in its stride.
const LOTS: usize = 400;
/// Steps that are taken to find the lots of one load: far more than eight plates ask for.
const STEPS: u32 = 100_000;

/// How many plates of each kind, kinds from heavy to light.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Lot(Vec<u8>);

impl Lot {
    /// No plates of so many kinds.
    pub fn empty(kinds: usize) -> Self {
        Self(vec![0; kinds])
    }

    /// These plates, of so many kinds.
    pub fn of(kinds: usize, plates: impl IntoIterator<Item = usize>) -> Self {
        let mut lot = Self::empty(kinds);
        for kind in plates {
            lot.add(kind);
        }
        lot
    }

    /// How many kinds there are.
    pub const fn kinds(&self) -> usize {
        self.0.len()
    }

    fn add(&mut self, kind: usize) {
        if let Some(count) = self.0.get_mut(kind) {
            *count = count.saturating_add(1);
        }
    }

    /// The lot with a plate more of a kind.
    pub fn with(&self, kind: usize) -> Self {
        let mut more = self.clone();
        more.add(kind);
        more
    }

    /// How many plates.
    pub fn count(&self) -> u32 {
        self.0.iter().map(|count| u32::from(*count)).sum()
    }

    fn pairs<'l>(&'l self, other: &'l Self) -> impl Iterator<Item = (u8, u8)> + 'l {
        self.0.iter().copied().zip(other.0.iter().copied())
    }

    /// Whether all plates of another lot are among these.
    pub fn contains(&self, other: &Self) -> bool {
        self.pairs(other).all(|(mine, theirs)| mine >= theirs)
    }

    /// Whether the heaviest of these plates are just the other lot.
    pub fn begins_with(&self, other: &Self) -> bool {
        let Some(lightest) = other.lightest() else {
            return true;
        };
        let heavier = self.pairs(other).take(lightest);
        self.contains(other) && heavier.into_iter().all(|(mine, theirs)| mine == theirs)
    }

    /// The lightest kind in the lot.
    pub fn lightest(&self) -> Option<usize> {
        self.0.iter().rposition(|count| *count > 0)
    }

    /// The plates by kind, from heavy to light, without those of a base.
    pub fn beyond(&self, base: &[usize]) -> Vec<usize> {
        let inside = |kind: usize| base.iter().filter(|inner| **inner == kind).count();
        let each = self.0.iter().enumerate();
        each.flat_map(|(kind, count)| {
            let more = usize::from(*count).saturating_sub(inside(kind));
            std::iter::repeat_n(kind, more)
        })
        .collect()
    }
}

/// The lots that make a load.
pub(super) struct Ways {
    /// Those of few plates first.
    pub lots: Vec<Lot>,
    /// Whether these are all.
    pub all: bool,
}

/// What one end can take.
pub(super) struct End<'k> {
    kinds: &'k [Kind],
    most: u32,
    sums: Sums,
}

impl<'k> End<'k> {
    /// An end that takes these kinds, given from heavy to light, and as many plates as its sleeve
    /// holds.
    pub fn new(kinds: &'k [Kind], limits: Limits) -> Self {
        let all: u32 = kinds.iter().map(|kind| u32::from(kind.most)).sum();
        Self {
            kinds,
            most: all.min(limits.plates.map_or(u32::MAX, u32::from)),
            sums: Sums::of(kinds, limits),
        }
    }

    /// The most plates that can lie on it.
    pub const fn most(&self) -> u32 {
        self.most
    }

    /// Every mass that can be made on it, from light to heavy.
    pub fn masses(&self) -> impl DoubleEndedIterator<Item = Mass> {
        self.sums.masses()
    }

    /// The lots that are just so heavy; none where the mass cannot be made.
    pub fn that_make(&self, mass: Mass) -> Ways {
        let Some(fewest) = self.sums.made_of(mass) else {
            return Ways {
                lots: Vec::new(),
                all: true,
            };
        };
        let fewest = fewest.into_iter().map(usize::from);
        let fewest = Lot::of(self.kinds.len(), fewest);
        let mut ways = filled(self.kinds, (fewest.count(), self.most), mass);
        if ways.lots.is_empty() {
            ways.lots.push(fewest);
        }
        ways
    }
}

/// The lots of so many plates, at least and at the most, that are just so heavy.
pub(super) fn filled(kinds: &[Kind], (fewest, most): (u32, u32), mass: Mass) -> Ways {
    let mut filling = Filling {
        kinds,
        steps: 0,
        found: Vec::new(),
    };
    for plates in fewest..=most {
        filling.fill(0, (mass, plates), &mut Lot::empty(kinds.len()));
        if filling.is_over() {
            break;
        }
    }
    let all = !filling.is_over();
    let mut lots = filling.found;
    lots.truncate(LOTS);
    Ways { lots, all }
}

/// A walk through all lots of a mass and a number of plates.
struct Filling<'k> {
    kinds: &'k [Kind],
    steps: u32,
    found: Vec<Lot>,
}

impl Filling<'_> {
    const fn is_over(&self) -> bool {
        self.steps > STEPS || self.found.len() > LOTS
    }

    /// All ways to make a mass with so many plates of the kinds from here on.
    fn fill(&mut self, kind: usize, (mass, plates): (Mass, u32), lot: &mut Lot) {
        self.steps += 1;
        if plates == 0 {
            if mass == Mass::ZERO {
                self.found.push(lot.clone());
            }
            return;
        }
        let (Some(this), Some(lightest)) = (self.kinds.get(kind), self.kinds.last()) else {
            return;
        };
        // Outside of what the lightest and the heaviest plates left come to, nothing fits.
        let times = i64::from(plates);
        if self.is_over() || mass > this.mass * times || mass < lightest.mass * times {
            return;
        }
        let most = u32::from(this.most).min(plates);
        for count in 0..=most {
            let left = mass - this.mass * i64::from(count);
            self.fill(kind + 1, (left, plates - count), lot);
            if let Some(laid) = lot.0.get_mut(kind) {
                *laid = if count < most {
                    laid.saturating_add(1)
                } else {
                    0
                };
            }
        }
    }
}
