//! Which loads a place can make: all of them, exact, from light to heavy.

use super::moves::Supply;
use super::place::Handle;
use super::sums::{Kind, Limits, Sums};
use super::{Build, Fits, Implement, Makeable, Place, Plate, Rig, Stack};
use crate::domain::units::{BandStep, Load, Mass, Unit, Weight};
use std::sync::Arc;

/// Loads of one handle or bar that are all listed, from the lightest. Plates of one unit stay far
/// below it. Twelve kinds of both units make hundreds of thousands within what people lift, a few
/// grams apart: of those above, one of fewest plates is listed for every step of 0.2 kg.
pub const MOST_PER_RIG: usize = 24_576;

/// Plates of one end by which loads beyond those that are all listed lie apart: 0.1 kg, so that a
/// load is never further from one that is listed than lifters tell apart.
const COARSE: Mass = Mass::from_ng(Unit::Kg.nanograms() / 10);

impl Place {
    /// Every load of this implement that can be made here, from light to heavy, each once. Where
    /// a load can be made in several ways, fixed dumbbells go before plates, and gear named first
    /// before gear named later.
    pub fn makeable(&self, implement: Implement) -> Vec<Makeable> {
        let mut list = match implement {
            Implement::Pair => self.dumbbells(2),
            Implement::One => self.dumbbells(1),
            Implement::Bar => self.on_bars(),
            Implement::Added => self.added(),
            Implement::Body => vec![self.body()],
            Implement::Band => self.bands(),
        };
        // A stable sort: of equal loads the one listed first stays.
        list.sort_by(|a, b| a.load.heavier(b.load).unwrap_or(std::cmp::Ordering::Equal));
        list.dedup_by(|later, kept| {
            later.load.heavier(kept.load) == Some(std::cmp::Ordering::Equal)
        });
        list
    }

    fn body(&self) -> Makeable {
        Makeable {
            load: Load::body(self.unit),
            build: Build::Body,
        }
    }

    fn bands(&self) -> Vec<Makeable> {
        let steps = (1..=u8::MAX).map(BandStep);
        let bands = steps.zip(&self.bands).map(|(step, name)| Makeable {
            load: Load::Band(step),
            build: Build::Band {
                step,
                name: Arc::from(name.as_str()),
            },
        });
        bands.collect()
    }

    /// Dumbbells, fixed ones and handles with plates, so many alike.
    fn dumbbells(&self, count: u8) -> Vec<Makeable> {
        let enough = self.dumbbells.iter().filter(|d| d.count >= count);
        let mut list: Vec<Makeable> = enough
            .map(|dumbbell| Makeable {
                load: Load::Mass(dumbbell.weight),
                build: Build::Dumbbells {
                    each: dumbbell.weight,
                    count,
                },
            })
            .collect();
        let several = self.handles.len() > 1;
        for handle in self.handles.iter().filter(|h| h.count >= count) {
            list.extend(self.loaded(&Bare {
                rig: if count > 1 { Rig::Handles } else { Rig::Handle },
                which: several.then(|| Arc::from(format!("{} handle", handle.weight))),
                weight: handle.weight,
                collars: handle.collars,
                sleeve: handle.sleeve,
            }));
        }
        list
    }

    fn on_bars(&self) -> Vec<Makeable> {
        let several = self.bars.len() > 1;
        let bars = self.bars.iter().flat_map(|bar| {
            self.loaded(&Bare {
                rig: Rig::Bar,
                which: several.then(|| Arc::from(bar.name.as_str())),
                weight: bar.weight,
                collars: bar.collars,
                sleeve: bar.sleeve,
            })
        });
        bars.collect()
    }

    /// The body alone, or with one plate or one dumbbell.
    fn added(&self) -> Vec<Makeable> {
        let plates = self.plates.iter().filter(|plate| plate.count > 0);
        let held = plates.map(|plate| Makeable {
            load: Load::Body(plate.weight),
            build: Build::Plate(plate.weight),
        });
        let dumbbells = self.dumbbells(1).into_iter().filter_map(|made| {
            made.load.entered().map(|weight| Makeable {
                load: Load::Body(weight),
                build: made.build,
            })
        });
        std::iter::once(self.body())
            .chain(held)
            .chain(dumbbells)
            .collect()
    }

    /// Everything that plates make of one rig.
    fn loaded(&self, bare: &Bare) -> Vec<Makeable> {
        let plates = plates_for(&self.plates, bare.rig);
        let ends = bare.rig.ends();
        let each = |count: u32| u8::try_from(count / u32::from(ends)).unwrap_or(u8::MAX);
        let kinds: Vec<Kind> = plates
            .iter()
            .map(|(plate, count)| Kind {
                mass: plate.mass,
                most: each(*count),
            })
            .collect();
        let sums = Sums::of(
            &kinds,
            Limits {
                plates: bare.sleeve,
                mass: Mass::MAX,
                sums: MOST_PER_RIG,
                coarse: COARSE,
            },
        );
        sums.map(|kinds| {
            let of_kind = |kind: &u16| plates.get(usize::from(*kind)).map(|(plate, _)| *plate);
            let mut stack = Stack(Vec::with_capacity(kinds.len()));
            stack.0.extend(kinds.iter().filter_map(of_kind));
            Makeable {
                load: Load::Mass(bare.with(&stack, self.unit)),
                build: Build::Loaded {
                    rig: bare.rig,
                    which: bare.which.clone(),
                    stack,
                },
            }
        })
    }
}

impl Place {
    /// The plates that go on this rig, and how many its sleeves hold; `which` names it where the
    /// place has several of the kind.
    pub fn supply(&self, rig: Rig, which: Option<&str>) -> Supply {
        let is = |name: &str| which.is_none_or(|which| which == name);
        let sleeve = match rig {
            Rig::Bar => {
                let bar = self.bars.iter().find(|bar| is(&bar.name));
                bar.and_then(|bar| bar.sleeve)
            }
            Rig::Handles | Rig::Handle => {
                let named = |handle: &&Handle| is(&format!("{} handle", handle.weight));
                let handle = self.handles.iter().find(named);
                handle.and_then(|handle| handle.sleeve)
            }
        };
        let plates = plates_for(&self.plates, rig).into_iter();
        Supply {
            sleeve,
            plates: plates.map(|(plate, count)| (plate.mass, count)).collect(),
        }
    }

    /// A plate of that mass, in the unit in which it was entered.
    pub fn plate(&self, mass: Mass) -> Weight {
        let found = self.plates.iter().find(|plate| plate.weight.mass == mass);
        found.map_or(Weight::new(mass, self.unit), |plate| plate.weight)
    }
}

/// A rig without plates.
struct Bare {
    rig: Rig,
    which: Option<Arc<str>>,
    weight: Weight,
    collars: Weight,
    sleeve: Option<u8>,
}

impl Bare {
    /// The load of one handle, or of the bar, with this stack on each end: in the unit in which
    /// all of it was entered, else in the place's.
    fn with(&self, stack: &Stack, mixed: Unit) -> Weight {
        if stack.0.is_empty() {
            return self.weight;
        }
        let alike = stack.0.iter().all(|plate| plate.unit == self.weight.unit);
        let collars = self.collars.mass;
        Weight {
            mass: self.weight.mass + collars + stack.mass() * 2,
            unit: if alike { self.weight.unit } else { mixed },
        }
    }
}

/// The plates that go on a rig, from heavy to light, and how many there are of each mass.
fn plates_for(plates: &[Plate], rig: Rig) -> Vec<(Weight, u32)> {
    let mut fitting: Vec<(Weight, u32)> = plates
        .iter()
        .filter(|plate| plate.weight.mass > Mass::ZERO)
        .filter(|plate| match (plate.fits, rig) {
            (Fits::All, _)
            | (Fits::Handles, Rig::Handles | Rig::Handle)
            | (Fits::Bars, Rig::Bar) => true,
            (Fits::Handles, Rig::Bar) | (Fits::Bars, Rig::Handles | Rig::Handle) => false,
        })
        .map(|plate| (plate.weight, u32::from(plate.count)))
        .collect();
    fitting.sort_by_key(|(plate, _)| std::cmp::Reverse(plate.mass));
    // Plates that are listed twice are the same plates.
    fitting.dedup_by(|again, first| {
        let alike = again.0.mass == first.0.mass;
        first.1 += if alike { again.1 } else { 0 };
        alike
    });
    fitting
}
