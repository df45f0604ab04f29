//! How the cost of gear grows: with the kinds of plates, with the loads of a session, and with its
//! exercises.
//!
//!     cargo run --release --bin gear
//!
//! Each row is a ratio to the first of its column, both measured in this run: the least of several
//! runs, which a busy machine disturbs the least.

use rackside::domain::gear::{
    Bar, Demand, Fits, Handle, Implement, Order, Place, PlaceId, Plate, Rack, Supply,
};
use rackside::domain::units::{Mass, Unit, Weight};
use std::hint::black_box;
use std::time::{Duration, Instant};

fn kg(hundredths: i64) -> Mass {
    Mass::from_ng(hundredths * Unit::Kg.nanograms() / 100)
}

/// Two handles and so many kinds of plates, twenty of each.
fn rack(kinds: i64) -> Rack {
    let plates = (1..=kinds).map(|kind| (kg(kind * 125), 20)).collect();
    Rack {
        ends: 4,
        bare: kg(200),
        supply: Supply {
            sleeve: None,
            plates,
        },
    }
}

/// Plates of one system, then of the other: sums hardly ever meet, so that lists grow long.
const MIXED: [(f64, Unit); 12] = [
    (20.0, Unit::Kg),
    (10.0, Unit::Kg),
    (5.0, Unit::Kg),
    (2.5, Unit::Kg),
    (1.25, Unit::Kg),
    (0.5, Unit::Kg),
    (45.0, Unit::Lb),
    (35.0, Unit::Lb),
    (25.0, Unit::Lb),
    (10.0, Unit::Lb),
    (5.0, Unit::Lb),
    (2.5, Unit::Lb),
];

/// A bar and so many kinds of plates of both units, twenty of each.
fn mixed(kinds: usize) -> Place {
    let weight = |amount: f64, unit: Unit| {
        Weight::new(Mass::nearest(amount, unit).unwrap_or_default(), unit)
    };
    let id = PlaceId::new("mixed").expect("a name of lower-case letters");
    let mut place = Place::empty(id, "Mixed", Unit::Kg);
    place.bars.push(Bar {
        name: "bar".to_owned(),
        weight: weight(20.0, Unit::Kg),
        collars: weight(0.0, Unit::Kg),
        sleeve: None,
    });
    let plates = MIXED.iter().take(kinds).map(|(amount, unit)| Plate {
        weight: weight(*amount, *unit),
        count: 20,
        fits: Fits::All,
    });
    place.plates.extend(plates);
    place
}

/// Two handles and a bar that share so many kinds of plates, hardly enough for both.
fn shared(kinds: usize) -> Place {
    let mut place = mixed(0);
    place.handles.push(Handle {
        weight: Weight::new(kg(200), Unit::Kg),
        collars: Weight::new(kg(0), Unit::Kg),
        count: 2,
        sleeve: None,
    });
    let plates = [1000, 500, 250, 125, 50, 2000]
        .into_iter()
        .take(kinds)
        .map(|mass| Plate {
            weight: Weight::new(kg(mass), Unit::Kg),
            count: 6,
            fits: Fits::All,
        });
    place.plates.extend(plates);
    place
}

/// So many exercises in turn on the bar, a pair and a single handle: two ramp sets and three
/// working sets of each.
fn session(place: &Place, exercises: usize) -> Vec<Demand> {
    let lists = [Implement::Bar, Implement::Pair, Implement::One].map(|i| place.makeable(i));
    let of = |k: usize| {
        let list = &lists[k % lists.len()];
        let work = list.len() * (2 + k % 3) / 6;
        [work / 3, work * 2 / 3, work, work, work].map(|load| &list[load].build)
    };
    let builds = (0..exercises).flat_map(of);
    builds.filter_map(|build| place.demand(build)).collect()
}

fn least(mut work: impl FnMut()) -> Duration {
    let once = |_| {
        let began = Instant::now();
        work();
        began.elapsed()
    };
    (0..20).map(once).min().unwrap_or_default()
}

fn main() {
    let first = least(|| drop(black_box(rack(2).makeable())));
    println!("kinds of plates   loads listed   time      to two kinds");
    for kinds in [2, 4, 6, 8, 10, 12] {
        let loads = rack(kinds).makeable().len();
        let time = least(|| drop(black_box(rack(kinds).makeable())));
        let ratio = time.as_secs_f64() / first.as_secs_f64();
        println!("{kinds:>15}   {loads:>12}   {time:>9.1?} {ratio:>9.1}");
    }
    let first = least(|| drop(black_box(mixed(2).makeable(Implement::Bar))));
    println!("kinds, kg and lb   loads listed   time      to two kinds");
    for kinds in [2, 4, 6, 8, 10, 12] {
        let place = mixed(kinds);
        let loads = place.makeable(Implement::Bar).len();
        let time = least(|| drop(black_box(place.makeable(Implement::Bar))));
        let ratio = time.as_secs_f64() / first.as_secs_f64();
        println!("{kinds:>16}   {loads:>12}   {time:>9.1?} {ratio:>9.1}");
    }
    let rack = rack(4);
    let all = rack.makeable();
    let run = |count: usize| -> Vec<Mass> {
        (0..count)
            .filter_map(|k| all.get(4 + (k * 7) % 12).copied())
            .collect()
    };
    for order in [Order::LargestInside, Order::Free] {
        let first = least(|| drop(black_box(rack.plan(&run(2), order))));
        println!("loads in a session, {order:?}   time      to two loads");
        for count in [2, 4, 8, 16, 24] {
            let loads = run(count);
            let time = least(|| drop(black_box(rack.plan(&loads, order))));
            let ratio = time.as_secs_f64() / first.as_secs_f64();
            println!("{count:>18}   {time:>9.1?} {ratio:>9.1}");
        }
    }
    for kinds in [3, 5] {
        let place = shared(kinds);
        let stock = place.stock();
        let first = least(|| drop(black_box(stock.together(&session(&place, 1)))));
        println!("exercises, bar and handles, {kinds} kinds   time      to one exercise   exact");
        for count in [1, 2, 4, 6, 8] {
            let demands = session(&place, count);
            let exact = stock.together(&demands).is_some_and(|found| found.exact);
            let time = least(|| drop(black_box(stock.together(&demands))));
            let ratio = time.as_secs_f64() / first.as_secs_f64();
            println!("{count:>35}   {time:>9.1?} {ratio:>9.1}   {exact}");
        }
    }
}
