//! What changes around an exercise leaves what is believed of it alone: another place in between,
//! a new phase, another exercise for a day, a lighter week. Common practice, no source.

use crate::rig::training::{Training, dumbbells, kg, slot};
use proptest::prelude::*;
use rackside::domain::advice::Frame;
use rackside::domain::gear::{Place, PlaceId};
use rackside::domain::program::{Policy, RestWindow, Slot};
use rackside::domain::session::{PlannedItem, PlannedSet, SetKind};
use rackside::domain::units::{Load, Seconds, Unit};

const PRESS: &str = "dumbbell_floor_press";

fn presses(range: (u32, u32), (opens, closes): (u32, u32)) -> Slot {
    Slot {
        policy: Policy::ByOdds,
        rest: RestWindow {
            opens: Seconds::clamped(opens),
            closes: Seconds::clamped(closes),
        },
        ..slot(PRESS, 3, range)
    }
}

fn usual() -> Slot {
    presses((8, 12), (60, 90))
}

fn room(step: f64) -> Place {
    dumbbells(Unit::Kg, (1..=30).map(|k| f64::from(k) * step))
}

/// Somebody after some sessions in which all was made, two spare told each time.
fn trained(sessions: u32) -> Training {
    let mut training = Training::with(room(2.0));
    training.believes = true;
    let frame = Frame {
        guess: Some(kg(20.0)),
        ..Frame::default()
    };
    (0..sessions).for_each(|_| clean(&mut training, &usual(), frame));
    training.pass(3);
    training
}

fn clean(training: &mut Training, slot: &Slot, frame: Frame) {
    training.pass(3);
    training.train(slot, frame, &mut |set| (set.asked.count(), Some(2)));
}

fn work(item: &PlannedItem) -> &PlannedSet {
    let found = item.sets.iter().find(|set| set.kind == SetKind::Working);
    found.expect("a working set")
}

fn kilograms(item: &PlannedItem) -> f64 {
    let Load::Mass(weight) = work(item).load else {
        panic!("a dumbbell")
    };
    weight.mass.kg()
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 6,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn another_place_in_between_is_planned_with_its_own_gear_and_costs_nothing(
        sessions in 3..6_u32,
        step in prop::sample::select(vec![1.0, 2.5, 3.0, 4.5]),
        most in 3..8_u32,
    ) {
        let mut training = trained(sessions);
        let home = training.place.clone();
        let before = kilograms(&training.plan(&usual(), Frame::default()));
        training.place = dumbbells(Unit::Kg, (1..=most).map(|k| f64::from(k) * step));
        training.place.id = PlaceId::new("hotel").expect("a name");
        let there = training.plan(&usual(), Frame::default());
        let steps = kilograms(&there) / step;
        prop_assert!((steps - steps.round()).abs() < 1e-6 && steps < f64::from(most) + 0.1);
        prop_assert!(there.odds.is_some(), "{}", there.reason);
        clean(&mut training, &usual(), Frame::default());
        training.place = home;
        training.pass(3);
        let back = training.plan(&usual(), Frame::default());
        prop_assert!(kilograms(&back) >= before - 2.1, "{before}: {}", back.reason);
        prop_assert!(back.odds.is_some());
    }
}

#[test]
fn a_new_phase_takes_the_belief_to_other_reps_and_rests() {
    let training = trained(5);
    let now = kilograms(&training.plan(&usual(), Frame::default()));
    let heavy = training.plan(&presses((4, 6), (180, 240)), Frame::default());
    let light = training.plan(&presses((15, 20), (45, 60)), Frame::default());
    assert!(kilograms(&heavy) >= now, "{}", heavy.reason);
    assert!(kilograms(&heavy) <= now + 2.0, "rails: {}", heavy.reason);
    assert!(kilograms(&light) < now, "{}", light.reason);
    for (item, range) in [(&heavy, 4..=6), (&light, 15..=20)] {
        assert!(item.odds.is_some());
        assert!(range.contains(&work(item).asked.count()), "{}", item.reason);
    }
}

#[test]
fn another_exercise_for_a_day_and_back_carries_the_belief() {
    let (mut swapped, mut rested) = (trained(5), trained(5));
    let other = slot("push_up", 3, (8, 12));
    swapped.train(&other, Frame::default(), &mut |set| {
        (set.asked.count(), Some(2))
    });
    swapped.pass(3);
    rested.pass(3);
    let (swapped, rested) = (
        swapped.plan(&usual(), Frame::default()),
        rested.plan(&usual(), Frame::default()),
    );
    assert_eq!(work(&swapped), work(&rested), "{}", swapped.reason);
    assert_eq!(swapped.odds, rested.odds);
}

#[test]
fn a_lighter_week_is_taken_and_returned_from_where_it_was_left() {
    let mut training = trained(5);
    let before = training.plan(&usual(), Frame::default());
    let easier = Frame {
        easier_week: true,
        ..Frame::default()
    };
    let week = training.plan(&usual(), easier);
    assert!(week.deload && kilograms(&week) < kilograms(&before));
    clean(&mut training, &usual(), easier);
    clean(&mut training, &usual(), easier);
    training.pass(3);
    let after = training.plan(&usual(), Frame::default());
    assert!(!after.deload, "{}", after.reason);
    assert!(
        kilograms(&after) >= kilograms(&before) - 2.1 && kilograms(&after) > kilograms(&week),
        "{}",
        after.reason
    );
    assert!(after.odds.is_some_and(|odds| odds.chance() > 0.5));
}

/// Where even the lightest load is too much, that is said, with what is easier.
#[test]
fn the_lightest_load_is_named_as_that_where_it_is_unlikely() {
    let mut training = trained(3);
    training.place = dumbbells(Unit::Kg, [20.0, 30.0]);
    let mut long = presses((20, 25), (60, 90));
    long.sets = 4;
    let item = training.plan(&long, Frame::default());
    assert!(item.odds.is_some_and(|odds| odds.chance() < 0.5));
    let said = item.reason.contains("20 kg is the lightest here");
    assert!(said && item.reason.contains("easier"), "{}", item.reason);
}
