//! Plates of handles and bars together, held against every way of taking single plates off and
//! putting them on.

use crate::rig::training::weight;
use proptest::prelude::*;
use rackside::domain::gear::{
    Bar, Build, Demand, Fits, Handle, Implement, Place, PlaceId, Plate, Rig, Stack,
};
use rackside::domain::units::{Mass, Unit};
use std::collections::{BTreeMap, BTreeSet};

/// A place with so many handles and bars, few plates and short sleeves.
fn place((handles, bars, sleeve): (u8, usize, u8), plates: &[(f64, u8, Fits)], any: bool) -> Place {
    let mut place = Place::empty(PlaceId::new("few").unwrap(), "Few", Unit::Kg);
    if handles > 0 {
        place.handles.push(Handle {
            weight: weight(2.0, Unit::Kg),
            collars: weight(0.5, Unit::Kg),
            count: handles,
            sleeve: Some(sleeve),
        });
    }
    for k in 0..bars {
        place.bars.push(Bar {
            name: ["long", "short"][k].to_owned(),
            weight: weight(20.0 - 7.0 * k as f64, Unit::Kg),
            collars: weight(0.0, Unit::Kg),
            sleeve: Some(sleeve),
        });
    }
    place
        .plates
        .extend(plates.iter().map(|(amount, count, fits)| Plate {
            weight: weight(*amount, Unit::Kg),
            count: *count,
            fits: *fits,
        }));
    place.any_order = any;
    place
}

/// What lies on one end of each handle, then of each bar; both ends are alike.
type Ends = Vec<Vec<Mass>>;

/// What a set asks: on handles or on which bar, on how many, how much on an end.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Asked {
    Handles(usize, Mass),
    Bar(usize, Mass),
    Held(Mass),
}

fn asked(place: &Place, build: &Build) -> Option<Asked> {
    match build {
        Build::Loaded {
            rig: Rig::Bar,
            which,
            stack,
        } => {
            let named = |bar: &Bar| which.as_deref().is_none_or(|which| which == bar.name);
            Some(Asked::Bar(place.bars.iter().position(named)?, stack.mass()))
        }
        Build::Loaded {
            rig: Rig::Handles,
            stack,
            ..
        } => Some(Asked::Handles(2, stack.mass())),
        Build::Loaded {
            rig: Rig::Handle,
            stack,
            ..
        } => Some(Asked::Handles(1, stack.mass())),
        Build::Plate(plate) => Some(Asked::Held(plate.mass)),
        Build::Body | Build::Dumbbells { .. } | Build::Band { .. } => None,
    }
}

/// The room in which plates move.
struct Room<'p> {
    place: &'p Place,
    handles: usize,
}

impl Room<'_> {
    fn is_there(&self, ends: &Ends, held: Option<Mass>) -> bool {
        let on = |some: &[Vec<Mass>], mass: Mass| {
            some.iter()
                .flatten()
                .filter(|plate| **plate == mass)
                .count()
                * 2
        };
        let masses: BTreeSet<Mass> = self.place.plates.iter().map(|p| p.weight.mass).collect();
        masses.into_iter().all(|mass| {
            let there = |fits: Fits| -> usize {
                let alike = self.place.plates.iter();
                let alike = alike.filter(|plate| plate.weight.mass == mass && plate.fits == fits);
                alike.map(|plate| usize::from(plate.count)).sum()
            };
            let (handles, bars) = (
                on(&ends[..self.handles], mass),
                on(&ends[self.handles..], mass),
            );
            let (all, of_handles, of_bars) =
                (there(Fits::All), there(Fits::Handles), there(Fits::Bars));
            handles.saturating_sub(of_handles) + bars.saturating_sub(of_bars) <= all
                && handles + bars + usize::from(held == Some(mass)) <= all + of_handles + of_bars
        })
    }

    fn sleeve(&self) -> usize {
        let bar = self.place.bars.first().and_then(|bar| bar.sleeve);
        let handle = self.place.handles.first().and_then(|handle| handle.sleeve);
        usize::from(bar.or(handle).unwrap())
    }

    fn does(&self, ends: &Ends, asked: Asked) -> bool {
        match asked {
            Asked::Held(mass) => self.is_there(ends, Some(mass)),
            Asked::Bar(which, mass) => {
                ends[self.handles + which].iter().copied().sum::<Mass>() == mass
            }
            Asked::Handles(count, mass) => {
                let right = |end: &&Vec<Mass>| end.iter().copied().sum::<Mass>() == mass;
                let right: Vec<&Vec<Mass>> = ends[..self.handles].iter().filter(right).collect();
                right
                    .iter()
                    .any(|one| right.iter().filter(|other| other == &one).count() >= count)
            }
        }
    }

    /// One plate off or on both ends of one handle or bar.
    fn moved(&self, ends: &Ends) -> Vec<Ends> {
        let mut all = Vec::new();
        let masses: BTreeSet<Mass> = self.place.plates.iter().map(|p| p.weight.mass).collect();
        for k in 0..ends.len() {
            let mut less = ends.clone();
            if less[k].pop().is_some() {
                all.push(less);
            }
            for mass in &masses {
                let inside = ends[k].last().is_none_or(|last| last >= mass);
                if ends[k].len() < self.sleeve() && (self.place.any_order || inside) {
                    let mut more = ends.clone();
                    more[k].push(*mass);
                    if self.is_there(&more, None) {
                        all.push(more);
                    }
                }
            }
        }
        all
    }

    /// The least plates taken off and put on, over all ends.
    fn least(&self, run: &[Asked]) -> usize {
        let bare = vec![Vec::new(); self.handles + self.place.bars.len()];
        let mut now: BTreeMap<Ends, usize> = BTreeMap::from([(bare, 0)]);
        for asked in run {
            // Everything within reach of what stands, nearest first.
            let mut reached = now.clone();
            let mut by_cost: BTreeMap<usize, Vec<Ends>> = BTreeMap::new();
            for (ends, cost) in now {
                by_cost.entry(cost).or_default().push(ends);
            }
            while let Some((cost, some)) = by_cost.pop_first() {
                for ends in some {
                    if reached[&ends] < cost {
                        continue;
                    }
                    for next in self.moved(&ends) {
                        if reached.get(&next).is_none_or(|known| cost + 2 < *known) {
                            reached.insert(next.clone(), cost + 2);
                            by_cost.entry(cost + 2).or_default().push(next);
                        }
                    }
                }
            }
            now = reached
                .into_iter()
                .filter(|(ends, _)| self.does(ends, *asked))
                .collect();
        }
        now.into_values().min().unwrap()
    }
}

fn anywhere() -> impl Strategy<Value = Place> {
    let amount = prop::sample::select(vec![1.25, 2.5, 5.0]);
    let fits = prop::sample::select(vec![Fits::All, Fits::All, Fits::Handles, Fits::Bars]);
    let count = prop::sample::select(vec![1_u8, 2, 4, 4, 6, 8]);
    let plates = prop::collection::vec((amount, count, fits), 1..4);
    let shape = (0_u8..4, 1_usize..3, 2_u8..4);
    (shape, plates, any::<bool>())
        .prop_filter(
            "few enough to try everything",
            |((handles, bars, sleeve), _, _)| {
                usize::from(*handles) + bars <= 3
                    || *sleeve < 3 && usize::from(*handles) + bars <= 4
            },
        )
        .prop_map(|(shape, plates, any)| place(shape, &plates, any))
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 300,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// No plate is on two ends at once, every load adds up, and no way to the same loads takes
    /// fewer plates off and on.
    #[test]
    fn one_stock_for_handles_and_bars_moves_the_least(
        place in anywhere(),
        picks in prop::collection::vec((0_usize..7, any::<prop::sample::Index>()), 1..6),
    ) {
        let kinds = [
            Implement::Pair, Implement::One, Implement::Bar, Implement::Bar,
            Implement::Pair, Implement::One, Implement::Added,
        ];
        let lists: Vec<_> = kinds.iter().map(|kind| place.makeable(*kind)).collect();
        let picked = picks.iter().filter(|(kind, _)| !lists[*kind].is_empty());
        let builds: Vec<&Build> =
            picked.map(|(kind, pick)| &pick.get(&lists[*kind]).build).collect();
        let run: Vec<Asked> = builds.iter().filter_map(|build| asked(&place, build)).collect();
        let demands: Vec<Demand> = builds.iter().filter_map(|build| place.demand(build)).collect();
        prop_assert_eq!(run.len(), demands.len());
        let stock = place.stock();
        let found = stock.together(&demands).expect("makeable");
        let handles = place.handles.first().map_or(0, |handle| usize::from(handle.count));
        let room = Room { place: &place, handles };
        prop_assert!(found.exact);
        let total: u32 = found.steps.iter().map(|step| step.moves).sum();
        prop_assert_eq!(total as usize, room.least(&run), "{:?}", run);
        for (step, asked) in found.steps.iter().zip(&run) {
            let ends: Ends = stock.plates(&step.after)
                .iter()
                .map(|Stack(plates)| plates.iter().map(|plate| plate.mass).collect())
                .collect();
            prop_assert!(room.is_there(&ends, None));
            prop_assert!(room.does(&ends, *asked));
            prop_assert!(ends.iter().all(|end| end.len() <= room.sleeve()));
        }
    }
}

/// More plates than everything could be tried of: what is planned still adds up, every change is
/// counted as it is, and it is said that fewer moves might do.
#[test]
fn many_plates_are_planned_near_the_least() {
    let amounts = [10.0, 5.0, 2.5, 1.25, 1.0, 0.5];
    for any in [false, true] {
        let plates = amounts.map(|amount| (amount, 8, Fits::All));
        let place = place((2, 1, 8), &plates, any);
        let lists = [Implement::Pair, Implement::One, Implement::Bar].map(|i| place.makeable(i));
        let builds = (0..30).map(|k| &lists[k % 3][(7 + k * 5) % lists[k % 3].len()].build);
        let builds: Vec<&Build> = builds.collect();
        let run: Vec<Asked> = builds
            .iter()
            .filter_map(|build| asked(&place, build))
            .collect();
        let demands: Vec<Demand> = builds.iter().filter_map(|b| place.demand(b)).collect();
        let stock = place.stock();
        let found = stock.together(&demands).expect("makeable");
        assert_eq!(found.steps.len(), 30);
        assert!(!found.exact);
        let room = Room {
            place: &place,
            handles: 2,
        };
        let mut before: Ends = vec![Vec::new(); 3];
        for (step, asked) in found.steps.iter().zip(&run) {
            let ends = stock.plates(&step.after);
            let ends = ends
                .iter()
                .map(|end| end.0.iter().map(|plate| plate.mass).collect());
            let ends: Ends = ends.collect();
            assert!(room.is_there(&ends, None) && room.does(&ends, *asked));
            let moved = before.iter().zip(&ends).map(|(was, is)| {
                let shared = was.iter().zip(is).take_while(|(a, b)| a == b).count();
                (was.len() + is.len() - 2 * shared) * 2
            });
            assert_eq!(moved.sum::<usize>(), step.moves as usize, "{}", step.change);
            before = ends;
        }
    }
}
