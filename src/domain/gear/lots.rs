//! Lots: plates of one end whatever their order, packed into a number.

use super::sums::Kind;
use crate::domain::units::Mass;

/// Bits for the count of one kind.
const BITS: u32 = 4;
/// Kinds that a lot tells apart.
const KINDS: usize = 16;
/// Plates of one kind on one end.
const MOST: u64 = (1 << BITS) - 1;
/// Lots that are looked at for one load: every one where eight plates can lie on an end, and then
/// as many as the search takes in its stride.
const LOTS: usize = 400;

/// How many plates of each kind, kinds from heavy to light.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub(super) struct Lot(u64);

impl Lot {
    pub const EMPTY: Self = Self(0);

    const fn of(self, kind: usize) -> u64 {
        (self.0 >> (kind as u32 * BITS)) & MOST
    }

    fn counts(self) -> impl Iterator<Item = u64> {
        (0..KINDS).map(move |kind| self.of(kind))
    }

    /// How many plates.
    pub fn count(self) -> u32 {
        u32::try_from(self.counts().sum::<u64>()).unwrap_or(u32::MAX)
    }

    /// Whether all plates of another lot are among these.
    pub fn contains(self, other: Self) -> bool {
        self.counts()
            .zip(other.counts())
            .all(|(mine, theirs)| mine >= theirs)
    }

    /// Whether the heaviest of these plates are just the other lot.
    pub fn begins_with(self, other: Self) -> bool {
        let lightest = other.lightest();
        self.counts()
            .zip(other.counts())
            .enumerate()
            .all(|(kind, (mine, theirs))| match lightest {
                Some(lightest) if kind < lightest => mine == theirs,
                Some(lightest) if kind == lightest => mine >= theirs,
                Some(_) | None => true,
            })
    }

    /// The lightest kind in the lot.
    pub fn lightest(self) -> Option<usize> {
        (0..KINDS).rfind(|kind| self.of(*kind) > 0)
    }

    /// The plates beyond those of a base, from heavy to light.
    pub fn beyond(self, base: Self) -> Vec<usize> {
        let more = |kind: usize| self.of(kind).saturating_sub(base.of(kind));
        (0..KINDS)
            .flat_map(|kind| std::iter::repeat_n(kind, usize::try_from(more(kind)).unwrap_or(0)))
            .collect()
    }
}

/// All lots that an end can take.
pub(super) struct Lots {
    masses: Vec<Mass>,
    most: Vec<u64>,
    sleeve: u64,
    /// Whether no kind had to be left out, and none of its plates.
    pub all_kinds: bool,
}

impl Lots {
    /// The lots of these kinds, given from heavy to light, of as many plates as a sleeve holds.
    pub fn of(kinds: &[Kind], sleeve: Option<u8>) -> Self {
        let used: Vec<&Kind> = kinds.iter().filter(|kind| kind.most > 0).collect();
        Self {
            masses: used.iter().take(KINDS).map(|kind| kind.mass).collect(),
            most: used
                .iter()
                .take(KINDS)
                .map(|kind| u64::from(kind.most).min(MOST))
                .collect(),
            sleeve: sleeve.map_or(u64::MAX, u64::from),
            all_kinds: used.len() <= KINDS && used.iter().all(|kind| u64::from(kind.most) <= MOST),
        }
    }

    /// The kinds, by number.
    pub fn kinds(&self) -> std::ops::Range<usize> {
        0..self.masses.len()
    }

    /// How heavy a plate of a kind is.
    pub fn mass(&self, kind: usize) -> Mass {
        self.masses.get(kind).copied().unwrap_or(Mass::ZERO)
    }

    /// The lot with a plate more of a kind, where there is one more.
    pub fn with(&self, lot: Lot, kind: usize) -> Option<Lot> {
        let most = *self.most.get(kind)?;
        (lot.of(kind) < most).then(|| Lot(lot.0 + (1 << (kind as u32 * BITS))))
    }

    /// The lots that are just so heavy, of few plates first, and whether these are all of them.
    pub fn that_make(&self, mass: Mass) -> (Vec<Lot>, bool) {
        let mut found = Vec::new();
        let most = self.most.iter().sum::<u64>().min(self.sleeve);
        for plates in 0..=most {
            self.fill(0, (mass, plates), Lot::EMPTY, &mut found);
            if found.len() >= LOTS {
                return (found, false);
            }
        }
        (found, true)
    }

    /// All ways to make a mass with so many plates of the kinds from here on.
    fn fill(&self, kind: usize, (mass, plates): (Mass, u64), lot: Lot, found: &mut Vec<Lot>) {
        if mass == Mass::ZERO && plates == 0 {
            found.push(lot);
            return;
        }
        let (Some(each), Some(most)) = (self.masses.get(kind), self.most.get(kind)) else {
            return;
        };
        let heaviest = each
            .ng()
            .saturating_mul(i64::try_from(plates).unwrap_or(i64::MAX));
        let full = found.len() >= LOTS;
        // What the heaviest plates left cannot make, lighter ones cannot either.
        if plates == 0 || mass < Mass::ZERO || mass.ng() > heaviest || full {
            return;
        }
        let mut with = lot;
        for count in 0..=(*most).min(plates) {
            let left = mass - *each * i64::try_from(count).unwrap_or(0);
            if left < Mass::ZERO {
                return;
            }
            self.fill(kind + 1, (left, plates - count), with, found);
            with = Lot(with.0 + (1 << (kind as u32 * BITS)));
        }
    }
}
