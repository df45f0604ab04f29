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

/// Twelve kinds of both units, twenty of each: millions of sums of an end below 200 kg. What is
/// lighter is all there; above, no gap is one that a lifter would tell, up to all plates, and
/// whole plates make what they always make.
#[test]
fn heavy_loads_of_both_units_are_not_lost() {
    let mut place = Place::empty(PlaceId::new("mixed").unwrap(), "Mixed", Unit::Kg);
    place.bars.push(Bar {
        name: "bar".to_owned(),
        weight: weight(20.0, Unit::Kg),
        collars: weight(0.0, Unit::Kg),
        sleeve: None,
    });
    let kg = [20.0, 10.0, 5.0, 1.0, 0.5, 0.25].map(|amount| weight(amount, Unit::Kg));
    let lb = [45.0, 25.0, 10.0, 2.5, 1.0, 0.5].map(|amount| weight(amount, Unit::Lb));
    place
        .plates
        .extend(kg.iter().chain(&lb).map(|weight| Plate {
            weight: *weight,
            count: 20,
            fits: Fits::All,
        }));
    let made = place.makeable(Implement::Bar);
    let masses: Vec<Mass> = made
        .iter()
        .map(|made| made.load.entered().unwrap().mass)
        .collect();
    assert!(masses.is_sorted_by(|light, heavy| light < heavy));
    // By hand: every sum of the one unit with every sum of the other.
    let all = |plates: &[rackside::domain::units::Weight]| {
        let mut sums = BTreeSet::from([Mass::ZERO]);
        for plate in plates {
            let more = |sum: &Mass| {
                let sum = *sum;
                (0..=10).map(move |count| sum + plate.mass * count)
            };
            sums = sums.iter().flat_map(more).collect();
        }
        sums
    };
    let (kg, lb) = (all(&kg), all(&lb));
    let light = weight(20.0, Unit::Kg).mass;
    let pairs = kg.iter().take_while(|sum| **sum <= light);
    let pairs = pairs.flat_map(|a| {
        lb.iter()
            .map(move |b| *a + *b)
            .take_while(|sum| *sum <= light)
    });
    let bar = weight(20.0, Unit::Kg).mass;
    let pairs: BTreeSet<Mass> = pairs.map(|sum| bar + sum * 2).collect();
    assert_eq!(
        masses[..pairs.len()],
        pairs.iter().copied().collect::<Vec<_>>()
    );
    let within = masses
        .iter()
        .filter(|mass| (bar + bar..bar * 40).contains(mass));
    let within: Vec<Mass> = within.copied().collect();
    let apart = within.windows(2).map(|two| two[1] - two[0]).max().unwrap();
    assert!(
        apart <= weight(0.4, Unit::Kg).mass,
        "{} kg apart",
        apart.kg()
    );
    for amount in [60.0, 100.0, 140.0, 180.0, 220.0, 260.0] {
        assert!(
            masses.binary_search(&weight(amount, Unit::Kg).mass).is_ok(),
            "{amount} kg"
        );
    }
    let every = place.plates.iter().map(|plate| plate.weight.mass * 20);
    assert!(*masses.last().unwrap() > every.sum::<Mass>());
    for made in made.iter().rev().step_by(97) {
        let Build::Loaded { stack, .. } = &made.build else {
            panic!("{}", made.load)
        };
        assert_eq!(made.load.entered().unwrap().mass, bar + stack.mass() * 2);
        for plate in &stack.0 {
            assert!(
                stack
                    .0
                    .iter()
                    .filter(|other| other.mass == plate.mass)
                    .count()
                    <= 10
            );
        }
    }
}

/// Rows with gaps, singles, two units, bands in order, a rack and no safeties, as a person writes
/// them; the list says all of it.
#[test]
fn a_place_written_by_hand_is_listed_as_it_is() {
    let cli = crate::rig::cli::Cli::new();
    let places = cli.home().join("config/places");
    std::fs::create_dir_all(&places).unwrap();
    let text = r#"(format: 1, name: "Odd corner", unit: Kg,
        dumbbells: [(from: "4 kg", to: "12 kg", step: "2 kg", missing: ["8 kg"]),
            (from: "15 kg", count: 1), (from: "20 lb", to: "30 lb", step: "5 lb")],
        handles: [(weight: "2 kg", collars: "0.5 kg", count: 1, sleeve: 1)],
        plates: [(weight: "1.25 kg", count: 2, fits: Handles), (weight: "25 lb", count: 2)],
        bands: ["yellow", "red"], has: [Bench, Rack])"#;
    std::fs::write(places.join("odd.ron"), text).unwrap();
    let listed = cli.run(["gear"]).ok();
    let odd = &listed[listed.find("Odd corner (odd)").expect("listed")..];
    let lines: Vec<&str> = odd.lines().take(9).collect();
    let wanted = [
        "Odd corner (odd)",
        "  has     bench; rack; no safeties",
        "  handles 1 × 2 kg with 1 plate an end at most",
        "  plates  2 × 1.25 kg for handles; 2 × 25 lb",
        "  bands   1 yellow; 2 red",
        "  pair    4 kg, 6 kg, 20 lb, 10 kg, 25 lb, 12 kg, 30 lb",
        "  one     2 kg, 4 kg, 5 kg, 6 kg, 20 lb, 10 kg, 25 lb, 12 kg, 30 lb, 15 kg, 25.18 kg",
    ];
    assert_eq!(lines[..wanted.len()], wanted);
    assert!(lines[8].starts_with("  band    band 1, band 2"), "{odd}");
}
