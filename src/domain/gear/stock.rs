//! One stock of plates for all handles and bars of a place: plates on one are not free for another.

use super::lots::{End, Ways, filled};
use super::makeable::MOST_PER_RIG;
use super::sums::{Kind, Limits};
use super::{Build, Fits, Order, Place, Rig, Stack};
use crate::domain::units::{Mass, Weight};

/// Handles alike of one place that are followed each by itself; with more the plates of a session
/// are found for so many.
const FOLLOWED: u8 = 4;

/// What carries plates: handles alike, or a bar, by their place in the place's lists.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Carrier {
    /// Handles.
    Handles(usize),
    /// A bar.
    Bar(usize),
}

/// What a set asks of the plates.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Demand {
    /// So much on each end.
    Loaded {
        /// Of what.
        on: Carrier,
        /// Of how many of them alike.
        count: u8,
        /// The plates of one end together.
        end: Mass,
    },
    /// A plate in the hands, or hung on the body.
    Held(Mass),
}

/// The plates on one end of every handle and bar, by kind, inner to outer; both ends are alike.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Standing(pub(super) Vec<Vec<usize>>);

/// Plates of one mass.
#[derive(Clone, Debug)]
pub(super) struct Pool {
    pub weight: Weight,
    /// How many go on handles alone, on bars alone, and on both.
    handles: u32,
    bars: u32,
    both: u32,
}

/// A handle or a bar.
#[derive(Clone, Debug)]
pub(super) struct Holder {
    pub carrier: Carrier,
    /// What it is called.
    pub name: String,
    pub sleeve: Option<u8>,
}

/// All plates of a place, and all that they go on.
#[derive(Clone, Debug)]
pub struct Stock {
    /// From heavy to light.
    pub(super) pools: Vec<Pool>,
    pub(super) holders: Vec<Holder>,
    pub(super) order: Order,
    /// Whether the place has no more handles than are followed.
    pub(super) all: bool,
}

impl Place {
    /// Its plates, handles and bars.
    pub fn stock(&self) -> Stock {
        let mut pools: Vec<Pool> = Vec::new();
        let mut plates: Vec<_> = self.plates.iter().collect();
        plates.sort_by_key(|plate| std::cmp::Reverse(plate.weight.mass));
        for plate in plates.into_iter().filter(|p| p.weight.mass > Mass::ZERO) {
            if pools
                .last()
                .is_none_or(|pool| pool.weight.mass != plate.weight.mass)
            {
                pools.push(Pool {
                    weight: plate.weight,
                    handles: 0,
                    bars: 0,
                    both: 0,
                });
            }
            let Some(pool) = pools.last_mut() else {
                continue;
            };
            let part = match plate.fits {
                Fits::All => &mut pool.both,
                Fits::Handles => &mut pool.handles,
                Fits::Bars => &mut pool.bars,
            };
            *part += u32::from(plate.count);
        }
        let handles = self.handles.iter().enumerate().flat_map(|(k, handle)| {
            let holder = Holder {
                carrier: Carrier::Handles(k),
                name: if self.handles.len() > 1 {
                    format!("{} handle", handle.weight)
                } else {
                    "handle".to_owned()
                },
                sleeve: handle.sleeve,
            };
            std::iter::repeat_n(holder, usize::from(handle.count.min(FOLLOWED)))
        });
        let bars = self.bars.iter().enumerate().map(|(k, bar)| Holder {
            carrier: Carrier::Bar(k),
            name: if self.bars.len() > 1 {
                bar.name.clone()
            } else {
                "bar".to_owned()
            },
            sleeve: bar.sleeve,
        });
        Stock {
            pools,
            holders: handles.chain(bars).collect(),
            order: if self.any_order {
                Order::Free
            } else {
                Order::LargestInside
            },
            all: self.handles.iter().all(|handle| handle.count <= FOLLOWED),
        }
    }

    /// What a build asks of the plates; nothing where there are none in it.
    pub fn demand(&self, build: &Build) -> Option<Demand> {
        match build {
            Build::Body | Build::Dumbbells { .. } | Build::Band { .. } => None,
            Build::Plate(plate) => Some(Demand::Held(plate.mass)),
            Build::Loaded { rig, which, stack } => {
                let is = |name: &str| which.as_deref().is_none_or(|which| which == name);
                let handles = |handle: &super::Handle| is(&format!("{} handle", handle.weight));
                let on = match rig {
                    Rig::Bar => Carrier::Bar(self.bars.iter().position(|bar| is(&bar.name))?),
                    Rig::Handles | Rig::Handle => {
                        Carrier::Handles(self.handles.iter().position(handles)?)
                    }
                };
                Some(Demand::Loaded {
                    on,
                    count: if *rig == Rig::Handles { 2 } else { 1 },
                    end: stack.mass(),
                })
            }
        }
    }
}

impl Stock {
    /// Nothing on any handle or bar.
    pub fn bare(&self) -> Standing {
        Standing(vec![Vec::new(); self.holders.len()])
    }

    /// The plates of one end of every handle, then of every bar, inner to outer.
    pub fn plates(&self, standing: &Standing) -> Vec<Stack> {
        standing.0.iter().map(|kinds| self.stack(kinds)).collect()
    }

    /// All lots for one end that make so much, where so many of a carrier are to have it.
    pub(super) fn lots(&self, on: Carrier, count: u8, end: Mass) -> Ways {
        let ends = u32::from(count) * 2;
        let kinds: Vec<Kind> = self
            .pools
            .iter()
            .map(|pool| Kind {
                mass: pool.weight.mass,
                most: u8::try_from(pool.fitting(on) / ends.max(1)).unwrap_or(u8::MAX),
            })
            .collect();
        let holder = self.holders.iter().find(|holder| holder.carrier == on);
        let sleeve = holder.and_then(|holder| holder.sleeve);
        let plates: u32 = kinds.iter().map(|kind| u32::from(kind.most)).sum();
        let most = plates.min(sleeve.map_or(u32::MAX, u32::from));
        let ways = filled(&kinds, (0, most), end);
        if ways.all || !ways.lots.is_empty() {
            return ways;
        }
        // Too many plates to go through all lots: one that is known to make it.
        let limits = Limits {
            plates: sleeve,
            mass: end,
            sums: MOST_PER_RIG,
            coarse: Mass::ZERO,
        };
        End::new(&kinds, limits).that_make(end)
    }

    /// The holders of a carrier.
    pub(super) fn of(&self, on: Carrier) -> impl Iterator<Item = usize> + '_ {
        let holders = self.holders.iter().enumerate();
        holders.filter_map(move |(k, holder)| (holder.carrier == on).then_some(k))
    }

    /// What of a kind is missing while plates stand like this and one more of a mass is held: and
    /// on which holders there are some that would help.
    pub(super) fn missing(&self, standing: &Standing, held: Mass) -> Option<Missing> {
        let mut used = vec![(0, 0); self.pools.len()];
        for (holder, stack) in self.holders.iter().zip(&standing.0) {
            for kind in stack {
                let Some((handles, bars)) = used.get_mut(*kind) else {
                    continue;
                };
                match holder.carrier {
                    Carrier::Handles(_) => *handles += 2,
                    Carrier::Bar(_) => *bars += 2,
                }
            }
        }
        for (kind, (pool, (handles, bars))) in self.pools.iter().zip(used).enumerate() {
            let held = u32::from(pool.weight.mass == held);
            if handles > pool.both + pool.handles {
                return Some(Missing {
                    kind,
                    from: From::Handles,
                });
            }
            if bars > pool.both + pool.bars {
                return Some(Missing {
                    kind,
                    from: From::Bars,
                });
            }
            if handles + bars + held > pool.both + pool.handles + pool.bars {
                return Some(Missing {
                    kind,
                    from: From::All,
                });
            }
        }
        None
    }
}

/// A kind of plates of which more are wanted than there are.
#[derive(Clone, Copy, Debug)]
pub(super) struct Missing {
    pub kind: usize,
    from: From,
}

/// Where plates would help if they came off.
#[derive(Clone, Copy, Debug)]
enum From {
    Handles,
    Bars,
    All,
}

impl Missing {
    /// Whether plates off this carrier would help.
    pub const fn helped_by(self, carrier: Carrier) -> bool {
        match (self.from, carrier) {
            (From::All, _)
            | (From::Handles, Carrier::Handles(_))
            | (From::Bars, Carrier::Bar(_)) => true,
            (From::Handles, Carrier::Bar(_)) | (From::Bars, Carrier::Handles(_)) => false,
        }
    }
}

impl Pool {
    pub const fn fitting(&self, on: Carrier) -> u32 {
        self.both
            + match on {
                Carrier::Handles(_) => self.handles,
                Carrier::Bar(_) => self.bars,
            }
    }
}
