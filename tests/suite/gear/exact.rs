//! Gear in words and numbers, exactly: what is fetched, what is missing, what is told of a change.

use crate::rig::training::weight;
use rackside::domain::gear::{
    Bar, Build, Carrier, Clash, Demand, Dumbbell, Fits, Fixture, Handle, Implement, Makeable,
    Order, Place, PlaceId, Plate, Rack, Rig, Stack, Standing, Stock, Supply, above, at, below,
    nearest, not_above,
};
use rackside::domain::units::{BandStep, Load, Mass, Unit, Weight};
use std::sync::Arc;

fn kg(amount: f64) -> Weight {
    weight(amount, Unit::Kg)
}

fn lb(amount: f64) -> Weight {
    weight(amount, Unit::Lb)
}

fn plates(amount: f64, count: u8, fits: Fits) -> Plate {
    Plate {
        weight: kg(amount),
        count,
        fits,
    }
}

fn handle(amount: f64, count: u8) -> Handle {
    Handle {
        weight: kg(amount),
        collars: kg(0.0),
        count,
        sleeve: None,
    }
}

fn bar(name: &str, amount: f64) -> Bar {
    Bar {
        name: name.to_owned(),
        weight: kg(amount),
        collars: kg(0.0),
        sleeve: None,
    }
}

fn place() -> Place {
    Place::empty(PlaceId::new("shed").unwrap(), "Shed", Unit::Kg)
}

/// Two handles of 2 kg, a bar of 20 kg, and plates for all of them.
fn shed(all: &[(f64, u8)]) -> Place {
    let mut place = place();
    place.handles.push(handle(2.0, 2));
    place.bars.push(bar("bar", 20.0));
    let all = all
        .iter()
        .map(|(amount, count)| plates(*amount, *count, Fits::All));
    place.plates.extend(all);
    place
}

#[test]
fn what_is_fetched_is_said_as_people_say_it() {
    let stack = |plates: &[Weight]| Stack(plates.to_vec());
    assert_eq!(stack(&[]).to_string(), "nothing");
    assert_eq!(stack(&[kg(5.0), kg(2.5)]).to_string(), "5 + 2.5");
    assert_eq!(stack(&[lb(45.0), lb(5.0)]).to_string(), "45 + 5 lb");
    assert_eq!(stack(&[kg(20.0), lb(5.0)]).to_string(), "20 kg + 5 lb");
    let loaded = |rig, which: Option<&str>, plates: &[Weight]| {
        let (which, stack) = (which.map(Arc::from), stack(plates));
        Build::Loaded { rig, which, stack }.to_string()
    };
    assert_eq!(loaded(Rig::Handles, None, &[kg(5.0)]), "5 each end");
    assert_eq!(loaded(Rig::Handles, None, &[]), "empty handles");
    assert_eq!(loaded(Rig::Handle, None, &[]), "empty handle");
    assert_eq!(
        loaded(Rig::Bar, Some("short bar"), &[]),
        "short bar: empty bar"
    );
    assert_eq!(
        loaded(Rig::Bar, Some("long"), &[lb(45.0)]),
        "long: 45 lb each end"
    );
    let dumbbells = |count| {
        Build::Dumbbells {
            each: kg(22.5),
            count,
        }
        .to_string()
    };
    assert_eq!(dumbbells(1), "22.5 kg dumbbell");
    assert_eq!(dumbbells(2), "22.5 kg dumbbells");
    assert_eq!(Build::Body.to_string(), "nothing to fetch");
    assert_eq!(Build::Plate(lb(25.0)).to_string(), "25 lb plate");
    let (step, name) = (BandStep(2), Arc::from("green"));
    assert_eq!(
        Build::Band { step, name }.to_string(),
        "band 2, the green one"
    );
    let shared = |a: &[Weight], b: &[Weight]| stack(a).shared_with(&stack(b));
    assert_eq!(
        shared(&[kg(5.0), kg(2.5), kg(1.0)], &[kg(5.0), kg(2.5), kg(0.5)]),
        2
    );
    assert_eq!(shared(&[kg(5.0)], &[kg(2.5), kg(5.0)]), 0);
}

#[test]
fn what_a_place_lacks_is_named() {
    let said = |place: &Place, needs: &[Fixture], implement| -> Vec<String> {
        let lacks = place.lacks(needs, implement);
        lacks.iter().map(ToString::to_string).collect()
    };
    let mut place = place();
    let all = [
        Implement::Pair,
        Implement::One,
        Implement::Bar,
        Implement::Added,
        Implement::Body,
    ];
    let said_of_all = all.map(|implement| said(&place, &[], implement).concat());
    let bare = [
        "no pair of dumbbells",
        "no dumbbell",
        "no bar for plates",
        "",
        "",
    ];
    assert_eq!(said_of_all, bare);
    assert_eq!(said(&place, &[], Implement::Band), ["no band"]);
    let both = said(&place, &[Fixture::Bench, Fixture::Rack], Implement::Bar);
    assert_eq!(both, ["no bench", "no rack", "no bar for plates"]);
    for (count, pair) in [(1, vec!["no pair of dumbbells"]), (2, vec![])] {
        place.dumbbells = vec![
            Dumbbell {
                weight: kg(10.0),
                count: 0,
            },
            Dumbbell {
                weight: kg(12.0),
                count,
            },
        ];
        assert_eq!(
            said(&place, &[], Implement::Pair),
            pair,
            "{count} dumbbells"
        );
        assert!(said(&place, &[], Implement::One).is_empty());
        place.dumbbells.clear();
        place.handles = vec![handle(2.0, 0), handle(2.5, count)];
        assert_eq!(said(&place, &[], Implement::Pair), pair, "{count} handles");
        assert!(said(&place, &[], Implement::One).is_empty());
    }
    place.bars.push(bar("bar", 20.0));
    place.bands.push("red".to_owned());
    place.fixtures.insert(Fixture::InclineBench);
    assert!(
        said(
            &place,
            &[Fixture::Bench, Fixture::InclineBench],
            Implement::Bar
        )
        .is_empty()
    );
    assert!(said(&place, &[], Implement::Band).is_empty());
}

/// A list of loads and what makes each, as it would be read out.
fn listed(place: &Place, implement: Implement) -> Vec<String> {
    let list = place.makeable(implement);
    let said = |made: &Makeable| format!("{}: {}", made.load, made.build);
    list.iter().map(said).collect()
}

#[test]
fn loads_are_listed_with_the_largest_plate_inside_however_they_are_named() {
    let mut place = shed(&[(1.25, 2), (2.5, 4), (1.25, 2), (10.0, 0)]);
    let pair = [
        "2 kg: empty handles",
        "4.5 kg: 1.25 each end",
        "7 kg: 2.5 each end",
    ];
    assert_eq!(listed(&place, Implement::Pair)[..3], pair);
    assert_eq!(
        listed(&place, Implement::Pair)[3..],
        ["9.5 kg: 2.5 + 1.25 each end"]
    );
    let added = [
        "body: nothing to fetch",
        "body +1.25 kg: 1.25 kg plate",
        "body +2 kg: empty handle",
    ];
    assert_eq!(listed(&place, Implement::Added)[..3], added);
    // A plate in the hands needs no handle: it goes before one of the same mass.
    assert!(listed(&place, Implement::Added).contains(&"body +2.5 kg: 2.5 kg plate".to_owned()));
    assert!(!listed(&place, Implement::Added).join("").contains("10"));
    assert_eq!(listed(&place, Implement::Bar)[0], "20 kg: empty bar");
    place.bands = vec!["red".to_owned(), "green".to_owned()];
    let bands = [
        "band 1: band 1, the red one",
        "band 2: band 2, the green one",
    ];
    assert_eq!(listed(&place, Implement::Band), bands);
    assert_eq!(listed(&place, Implement::Body), ["body: nothing to fetch"]);
}

#[test]
fn a_load_of_one_unit_is_told_in_it_and_one_of_both_in_the_unit_of_the_place() {
    let mut place = place();
    place.handles.push(Handle {
        weight: lb(5.0),
        ..handle(0.0, 2)
    });
    place.plates = [(kg(2.5), 4), (lb(10.0), 4)]
        .map(|(weight, count)| Plate {
            weight,
            count,
            fits: Fits::All,
        })
        .to_vec();
    let said: Vec<String> = place
        .makeable(Implement::Pair)
        .iter()
        .map(|m| m.load.to_string())
        .collect();
    // 5 lb are 2.268 kg; 2 × 2.5 kg more, 2 × 10 lb more, both.
    assert_eq!(said, ["5 lb", "7.27 kg", "25 lb", "16.34 kg"]);
}

#[test]
fn several_handles_and_bars_are_told_apart() {
    let mut place = shed(&[(5.0, 4)]);
    place.handles.push(Handle {
        sleeve: Some(1),
        ..handle(3.0, 1)
    });
    place.handles[0].sleeve = Some(4);
    place.bars.push(Bar {
        sleeve: Some(2),
        ..bar("short bar", 10.0)
    });
    let one = listed(&place, Implement::One);
    assert!(
        one.contains(&"3 kg: 3 kg handle: empty handle".to_owned()),
        "{one:?}"
    );
    assert!(
        one.contains(&"12 kg: 2 kg handle: 5 each end".to_owned()),
        "{one:?}"
    );
    assert_eq!(
        listed(&place, Implement::Bar)[0],
        "10 kg: short bar: empty bar"
    );
    let sleeve = |rig, which| place.supply(rig, which).sleeve;
    assert_eq!(sleeve(Rig::Handle, Some("3 kg handle")), Some(1));
    assert_eq!(sleeve(Rig::Handles, Some("2 kg handle")), Some(4));
    assert_eq!(sleeve(Rig::Handles, None), Some(4));
    assert_eq!(
        (sleeve(Rig::Bar, Some("short bar")), sleeve(Rig::Bar, None)),
        (Some(2), None)
    );
    place.plates.push(Plate {
        weight: lb(10.0),
        count: 2,
        fits: Fits::All,
    });
    assert_eq!(place.plate(lb(10.0).mass), lb(10.0));
    assert_eq!(place.plate(lb(25.0).mass).unit, Unit::Kg);
    let on = |build: &Build| place.demand(build);
    let build = |rig, which: &str| Build::Loaded {
        rig,
        which: Some(Arc::from(which)),
        stack: Stack(vec![kg(5.0)]),
    };
    let end = kg(5.0).mass;
    let wanted = Demand::Loaded {
        on: Carrier::Bar(1),
        count: 1,
        end,
    };
    assert_eq!(on(&build(Rig::Bar, "short bar")), Some(wanted));
    let wanted = Demand::Loaded {
        on: Carrier::Handles(1),
        count: 1,
        end,
    };
    assert_eq!(on(&build(Rig::Handle, "3 kg handle")), Some(wanted));
    assert_eq!(on(&build(Rig::Bar, "no such bar")), None);
    assert_eq!(on(&Build::Body), None);
}

#[test]
fn steps_through_a_list_stop_at_its_ends() {
    let list = shed(&[(1.25, 8), (5.0, 4)]).makeable(Implement::Pair);
    let load = |amount| Load::Mass(kg(amount));
    let said = |made: Option<&Makeable>| made.map(|made| made.load.to_string());
    let is = |text: &str| Some(text.to_owned());
    // 2, 4.5, 7, 12, 14.5, 17.
    assert_eq!(
        (said(at(&list, load(7.0))), said(at(&list, load(8.0)))),
        (is("7 kg"), None)
    );
    assert_eq!(said(above(&list, load(7.0))), is("12 kg"));
    assert_eq!(said(above(&list, load(8.0))), is("12 kg"));
    assert_eq!(said(above(&list, load(17.0))), None);
    assert_eq!(said(below(&list, load(7.0))), is("4.5 kg"));
    assert_eq!(said(below(&list, load(8.0))), is("7 kg"));
    assert_eq!(said(below(&list, load(2.0))), None);
    assert_eq!(said(not_above(&list, load(7.0))), is("7 kg"));
    assert_eq!(said(not_above(&list, load(11.0))), is("7 kg"));
    assert_eq!(said(not_above(&list, load(1.0))), None);
    assert_eq!(
        said(nearest(&list, load(9.5))),
        is("7 kg"),
        "as near: the lighter"
    );
    assert_eq!(said(nearest(&list, load(9.6))), is("12 kg"));
    assert_eq!(said(nearest(&list, load(0.5))), is("2 kg"));
    assert_eq!(said(nearest(&list, load(99.0))), is("17 kg"));
    let mut place = place();
    place.bands = ["a", "b", "c"].map(str::to_owned).to_vec();
    let bands = place.makeable(Implement::Band);
    let band = |step| Load::Band(BandStep(step));
    assert_eq!(said(nearest(&bands, band(7))), is("band 3"));
    assert_eq!(said(above(&bands, band(1))), is("band 2"));
    assert_eq!(said(at(&bands, load(1.0))), None);
}

fn on(carrier: Carrier, count: u8, end: f64) -> Demand {
    let end = kg(end).mass;
    Demand::Loaded {
        on: carrier,
        count,
        end,
    }
}

const HANDLES: Carrier = Carrier::Handles(0);
const BAR: Carrier = Carrier::Bar(0);

#[test]
fn what_stands_side_by_side_needs_its_own_handles_and_its_own_plates() {
    let stock = shed(&[(10.0, 4), (5.0, 6)]).stock();
    assert_eq!(stock.at_once(&[]), Ok(()));
    assert_eq!(stock.at_once(&[on(HANDLES, 2, 10.0)]), Ok(()));
    assert_eq!(
        stock.at_once(&[on(HANDLES, 2, 10.0), on(HANDLES, 2, 10.0)]),
        Ok(())
    );
    assert_eq!(
        stock.at_once(&[on(HANDLES, 2, 10.0), on(HANDLES, 2, 5.0)]),
        Err(Clash::Carriers)
    );
    assert_eq!(
        stock.at_once(&[on(HANDLES, 2, 10.0), on(HANDLES, 1, 10.0)]),
        Ok(()),
        "one of the two is there already"
    );
    // One handle each; then a bar beside them.
    assert_eq!(
        stock.at_once(&[on(HANDLES, 1, 10.0), on(HANDLES, 1, 5.0)]),
        Ok(())
    );
    assert_eq!(
        stock.at_once(&[
            on(HANDLES, 1, 10.0),
            on(HANDLES, 1, 5.0),
            on(HANDLES, 1, 15.0)
        ]),
        Err(Clash::Carriers)
    );
    assert_eq!(
        stock.at_once(&[on(HANDLES, 2, 10.0), on(BAR, 1, 5.0)]),
        Ok(())
    );
    assert_eq!(
        stock.at_once(&[on(HANDLES, 2, 10.0), on(BAR, 1, 10.0)]),
        Ok(()),
        "5 + 5 on the bar, where the tens are gone"
    );
    assert_eq!(
        stock.at_once(&[on(HANDLES, 2, 15.0), on(BAR, 1, 10.0)]),
        Err(Clash::Plates)
    );
    let held = |amount| Demand::Held(kg(amount).mass);
    assert_eq!(stock.at_once(&[on(HANDLES, 2, 10.0), held(5.0)]), Ok(()));
    assert_eq!(
        stock.at_once(&[on(HANDLES, 2, 10.0), held(10.0)]),
        Err(Clash::Plates)
    );
    assert_eq!(
        stock.at_once(&[held(10.0), on(HANDLES, 2, 10.0)]),
        Err(Clash::Plates)
    );
}

#[test]
fn plates_that_fit_bars_alone_are_no_help_on_handles() {
    let mut place = shed(&[]);
    place.plates = vec![plates(10.0, 2, Fits::Bars), plates(10.0, 4, Fits::Handles)];
    let stock = place.stock();
    assert_eq!(
        stock.at_once(&[on(HANDLES, 2, 10.0), on(BAR, 1, 10.0)]),
        Ok(())
    );
    assert_eq!(
        stock.at_once(&[on(BAR, 1, 20.0)]),
        Err(Clash::Carriers),
        "no such load at all"
    );
    place.plates = vec![plates(10.0, 6, Fits::Bars)];
    assert_eq!(
        place.stock().at_once(&[on(HANDLES, 1, 10.0)]),
        Err(Clash::Carriers)
    );
}

/// What is told of a run of sets, each from what stands after the one before.
fn told(stock: &Stock, run: &[Demand]) -> Vec<String> {
    let mut now: Standing = stock.bare();
    let tell = |demand: &Demand| {
        let step = stock.next(&now, *demand, None).expect("makeable");
        now = step.after;
        format!("{} ({})", step.change, step.moves)
    };
    run.iter().map(tell).collect()
}

#[test]
fn a_change_is_told_from_what_is_on_now() {
    let stock = shed(&[(10.0, 4), (5.0, 4), (2.5, 4)]).stock();
    let run = [
        on(HANDLES, 2, 12.5),
        on(HANDLES, 2, 12.5),
        on(HANDLES, 2, 15.0),
        on(HANDLES, 2, 10.0),
        Demand::Held(kg(5.0).mass),
        on(BAR, 1, 15.0),
        on(HANDLES, 2, 0.0),
    ];
    let said = told(&stock, &run);
    let first = [
        "each end: on 10 + 2.5 (8)",
        "as it is (0)",
        "each end: off 2.5, on 5 (8)",
        "each end: off 5 (4)",
        "as it is (0)",
    ];
    assert_eq!(said[..5], first);
    // Two tens must come off the handles, from one of them.
    assert_eq!(
        said[5],
        "first 2 × 10 off one handle; each end: on 10 + 5 (6)"
    );
    assert_eq!(
        said[6],
        "one handle, as it is; the other, each end: off 10 (2)"
    );
}

#[test]
fn plates_come_off_what_the_set_is_not_done_with_first() {
    let stock = shed(&[(10.0, 4), (5.0, 4)]).stock();
    let said = told(&stock, &[on(BAR, 1, 25.0), on(HANDLES, 2, 10.0)]);
    assert_eq!(
        said[1],
        "first 2 × 5 + 4 × 10 off the bar; each end: on 10 (10)"
    );
    let said = told(
        &stock,
        &[on(HANDLES, 2, 10.0), on(BAR, 1, 20.0), on(HANDLES, 1, 5.0)],
    );
    assert_eq!(
        said[1],
        "first 4 × 10 off the handles; each end: on 10 + 10 (8)"
    );
    assert_eq!(said[2], "each end: on 5 (2)");
    let said = told(
        &stock,
        &[
            on(HANDLES, 1, 5.0),
            on(HANDLES, 2, 10.0),
            on(HANDLES, 1, 20.0),
        ],
    );
    assert_eq!(said[0], "each end: on 5 (2)");
    assert_eq!(
        said[1],
        "one handle, each end: off 5, on 10; the other, each end: on 10 (6)"
    );
    assert_eq!(
        said[2],
        "first 2 × 10 off the other handle; each end: on 10 (4)"
    );
    // From two that differ, each is named by itself.
    let stock = shed(&[(10.0, 2), (5.0, 2)]).stock();
    let said = told(
        &stock,
        &[on(HANDLES, 1, 10.0), on(HANDLES, 1, 5.0), on(BAR, 1, 15.0)],
    );
    let first = "first 2 × 10 off one handle, 2 × 5 off one handle";
    assert_eq!(said[2], format!("{first}; each end: on 10 + 5 (8)"));
    // Of two that differ, which one: the one with plates, or the empty one.
    let stock = shed(&[(10.0, 2), (5.0, 2)]).stock();
    let said = told(
        &stock,
        &[
            on(HANDLES, 1, 10.0),
            on(HANDLES, 1, 15.0),
            on(HANDLES, 1, 5.0),
        ],
    );
    assert_eq!(said[1], "the one with 10, each end: on 5 (2)");
    let said = told(&stock, &[on(HANDLES, 1, 10.0), on(HANDLES, 1, 5.0)]);
    assert_eq!(said[1], "the empty one, each end: on 5 (2)");
    let mut place = shed(&[(10.0, 2)]);
    place.bars.push(bar("short bar", 10.0));
    let said = told(
        &place.stock(),
        &[on(BAR, 1, 10.0), on(Carrier::Bar(1), 1, 10.0)],
    );
    assert_eq!(said[1], "first 2 × 10 off the bar; each end: on 10 (4)");
}

#[test]
fn a_stack_that_is_wished_for_is_laid_as_it_is() {
    let mut place = shed(&[(10.0, 4), (5.0, 4)]);
    place.any_order = true;
    let stock = place.stock();
    let wish = Stack(vec![kg(5.0), kg(10.0)]);
    let step = stock
        .next(&stock.bare(), on(HANDLES, 2, 15.0), Some(&wish))
        .unwrap();
    assert_eq!(
        (step.stack, step.change.as_str()),
        (wish, "each end: on 5 + 10")
    );
    let unknown = Stack(vec![kg(7.0)]);
    assert_eq!(
        stock.next(&stock.bare(), on(HANDLES, 2, 7.0), Some(&unknown)),
        None
    );
    let mass = |stacks: &[Stack]| -> Vec<Mass> { stacks.iter().map(Stack::mass).collect() };
    let none = Mass::ZERO;
    assert_eq!(
        mass(&stock.plates(&step.after)),
        [kg(15.0).mass, kg(15.0).mass, none]
    );
}

/// A bar and plates of these masses, so many of each.
fn rack(masses: &[f64], count: u32) -> Rack {
    let plates = masses.iter().map(|mass| (kg(*mass).mass, count)).collect();
    Rack {
        ends: 2,
        bare: kg(20.0).mass,
        supply: Supply {
            sleeve: None,
            plates,
        },
    }
}

#[test]
fn a_load_between_two_is_not_rounded_to_one_of_them() {
    let rack = rack(&[5.0], 4);
    let odd = kg(30.0).mass + Mass::from_ng(1);
    let refused = rack.plan(&[kg(30.0).mass, odd], Order::Free).unwrap_err();
    assert_eq!(refused.index, 1);
    assert_eq!(refused.nearest, [kg(30.0).mass, kg(40.0).mass]);
    let light = rack.plan(&[kg(18.0).mass], Order::Free).unwrap_err();
    assert_eq!(light.nearest, [kg(20.0).mass, kg(30.0).mass]);
}

#[test]
fn what_is_not_searched_whole_is_not_called_the_least() {
    let (light, heavy) = (kg(30.0).mass, kg(40.0).mass);
    let run = |loads: usize| -> Vec<Mass> {
        (0..loads)
            .map(|k| if k % 2 == 0 { light } else { heavy })
            .collect()
    };
    let few = rack(&[5.0, 10.0], 4);
    // Sixty-four changes are looked at together; a load that stays is none.
    assert!(few.plan(&run(64), Order::Free).unwrap().exact);
    assert!(!few.plan(&run(65), Order::Free).unwrap().exact);
    assert!(few.plan(&[light; 200], Order::Free).unwrap().exact);
    // More ways to make a load than are looked at.
    let many = rack(&[1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 6.0], 40);
    let plan = many.plan(&[kg(80.0).mass], Order::LargestInside).unwrap();
    assert!(!plan.exact);
    assert_eq!(plan.stacks[0].iter().copied().sum::<Mass>(), kg(30.0).mass);
}
