//! The list of loads of any place, held against every lot of its plates.

use crate::rig::training::weight;
use proptest::prelude::*;
use rackside::domain::gear::{Bar, Build, Fits, Handle, Implement, Place, PlaceId, Plate};
use rackside::domain::units::{Mass, Unit};
use std::collections::{BTreeMap, BTreeSet};

/// Any place: handles, a bar, plates of both units, more or fewer.
fn anywhere() -> impl Strategy<Value = Place> {
    let amount = prop::sample::select(vec![0.5, 1.0, 1.25, 2.5, 3.0, 5.0, 10.0, 20.0]);
    let unit = prop::sample::select(vec![Unit::Kg, Unit::Lb]);
    let fits = prop::sample::select(vec![Fits::All, Fits::Handles, Fits::Bars]);
    let plates = prop::collection::vec((amount, unit, 0_u8..13, fits), 0..6);
    let sleeve = prop::option::of(1_u8..6);
    (plates, 1_u8..3, sleeve).prop_map(|(plates, handles, sleeve)| {
        let mut place = Place::empty(PlaceId::new("anywhere").unwrap(), "Anywhere", Unit::Kg);
        place.handles.push(Handle {
            weight: weight(2.0, Unit::Kg),
            collars: weight(0.5, Unit::Kg),
            count: handles,
            sleeve,
        });
        place.bars.push(Bar {
            name: "bar".to_owned(),
            weight: weight(45.0, Unit::Lb),
            collars: weight(0.0, Unit::Kg),
            sleeve,
        });
        let plates = plates.into_iter().map(|(amount, unit, count, fits)| Plate {
            weight: weight(amount, unit),
            count,
            fits,
        });
        place.plates.extend(plates);
        place
    })
}

/// The mass of every lot of plates that so many ends can carry alike.
fn every_lot(place: &Place, bars: bool, ends: u8) -> BTreeSet<Mass> {
    let wrong = if bars { Fits::Handles } else { Fits::Bars };
    let sleeve = place.bars[0].sleeve.map_or(usize::MAX, usize::from);
    let mut lots: Vec<(Mass, usize)> = vec![(Mass::ZERO, 0)];
    let mut there: BTreeMap<Mass, usize> = BTreeMap::new();
    for plate in place.plates.iter().filter(|plate| plate.fits != wrong) {
        *there.entry(plate.weight.mass).or_default() += usize::from(plate.count);
    }
    for (plate, there) in there {
        let more = |(mass, plates): (Mass, usize)| {
            (0..=there / usize::from(ends))
                .map(move |count| (mass + plate * i64::try_from(count).unwrap(), plates + count))
        };
        lots = lots.into_iter().flat_map(more).collect();
    }
    let fitting = lots.into_iter().filter(|(_, plates)| *plates <= sleeve);
    fitting.map(|(mass, _)| mass).collect()
}

/// The loads that these lots make of what carries them.
fn wanted(place: &Place, (implement, ends): (Implement, u8)) -> Vec<Mass> {
    if implement == Implement::Pair && place.handles[0].count < 2 {
        return Vec::new();
    }
    let bars = implement == Implement::Bar;
    let (bare, collars) = if bars {
        (place.bars[0].weight.mass, place.bars[0].collars.mass)
    } else {
        (place.handles[0].weight.mass, place.handles[0].collars.mass)
    };
    let with = |mass: Mass| {
        if mass == Mass::ZERO {
            bare
        } else {
            bare + collars + mass * 2
        }
    };
    every_lot(place, bars, ends).into_iter().map(with).collect()
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 100,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// A pair splits its plates four ways, one handle or a bar two ways, exact where units mix; no
    /// load is missing, and none uses a plate twice.
    #[test]
    fn the_list_is_every_lot(place in anywhere()) {
        for (implement, ends) in [(Implement::Pair, 4), (Implement::One, 2), (Implement::Bar, 2)] {
            let made = place.makeable(implement);
            let masses = made.iter().map(|made| made.load.entered().unwrap().mass);
            prop_assert_eq!(masses.collect::<Vec<_>>(), wanted(&place, (implement, ends)));
            for made in &made {
                let Build::Loaded { stack, .. } = &made.build else { continue };
                for plate in &stack.0 {
                    let used = stack.0.iter().filter(|other| other.mass == plate.mass).count();
                    let alike = place.plates.iter().filter(|p| p.weight.mass == plate.mass);
                    let there: usize = alike.map(|plate| usize::from(plate.count)).sum();
                    prop_assert!(used * usize::from(ends) <= there, "{}", made.load);
                }
            }
        }
    }
}
