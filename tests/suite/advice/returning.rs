//! Coming back: after a lay-off, an easier week, pain, another place.

use crate::rig::training::{Training, dumbbells, kg, slot};
use rackside::domain::advice::{Frame, Unplannable, plan_item, stand_ins};
use rackside::domain::exercise::Joint;
use rackside::domain::gear::{Fixture, PlaceId};
use rackside::domain::program::Slot;
use rackside::domain::session::{EventId, PlannedItem, Session, SetKind, Whereabouts};
use rackside::domain::units::{Load, Spare, Unit};

const PRESS: &str = "dumbbell_floor_press";

fn room() -> Training {
    Training::with(dumbbells(Unit::Kg, (1..=20).map(|k| f64::from(k) * 2.0)))
}

/// Some weeks of training with 30 kg, as asked.
fn trained(slot: &Slot) -> Training {
    let mut training = room();
    let guess = Frame {
        guess: Some(kg(30.0)),
        ..Frame::default()
    };
    training.train(slot, guess, &mut |set| (set.asked.count(), Some(3)));
    training.pass(3);
    training.train(slot, Frame::default(), &mut |set| (set.asked.count(), None));
    training
}

fn work(item: &PlannedItem) -> (Load, usize) {
    let sets: Vec<_> = item
        .sets
        .iter()
        .filter(|s| s.kind == SetKind::Working)
        .collect();
    (sets[0].load, sets.len())
}

#[test]
fn a_lay_off_makes_the_return_lighter_and_shorter() {
    let slot = slot(PRESS, 4, (8, 12));
    for (days, load, sets) in [(14, 30.0, 4), (15, 26.0, 3), (29, 24.0, 2), (60, 22.0, 2)] {
        let mut training = trained(&slot);
        training.pass(days);
        let item = training.plan(&slot, Frame::default());
        assert_eq!(
            work(&item),
            (kg(load), sets),
            "{days} days: {}",
            item.reason
        );
        if days > 14 {
            assert_eq!(item.spare, Some(Spare::clamped(3)));
            assert!(item.reason.contains(&days.to_string()), "{}", item.reason);
        }
    }
}

#[test]
fn the_second_session_after_a_month_off_has_half_the_sets_too() {
    let slot = slot(PRESS, 4, (8, 12));
    let mut training = trained(&slot);
    training.pass(30);
    training.train(&slot, Frame::default(), &mut |set| {
        (set.asked.count(), None)
    });
    training.pass(3);
    let second = training
        .train(&slot, Frame::default(), &mut |set| {
            (set.asked.count(), None)
        })
        .0;
    assert_eq!(work(&second).1, 2, "{}", second.reason);
    training.pass(3);
    let third = training.plan(&slot, Frame::default());
    assert_eq!(work(&third).1, 4, "{}", third.reason);
}

#[test]
fn after_half_a_year_the_exercise_is_unknown() {
    let slot = slot(PRESS, 3, (8, 12));
    let mut training = trained(&slot);
    training.pass(200);
    let item = training.plan(&slot, Frame::default());
    assert!(item.sets.iter().any(|set| set.feeler), "{}", item.reason);
    assert_eq!(item.sets[0].load, kg(14.0), "{}", item.reason);
}

#[test]
fn an_easier_week_is_lighter_shorter_and_no_evidence() {
    let slot = slot(PRESS, 4, (8, 12));
    let mut training = trained(&slot);
    training.pass(3);
    let easier = Frame {
        easier_week: true,
        ..Frame::default()
    };
    let (item, _) = training.train(&slot, easier, &mut |set| (set.asked.count(), None));
    assert_eq!(work(&item), (kg(26.0), 2), "{}", item.reason);
    assert!(item.deload);
    assert_eq!(item.spare, Some(Spare::clamped(4)));
    training.pass(4);
    let after = training.plan(&slot, Frame::default());
    assert_eq!(work(&after).0, kg(30.0), "{}", after.reason);
}

#[test]
fn no_easier_week_within_three_weeks_of_a_lay_off() {
    let slot = slot(PRESS, 4, (8, 12));
    let mut training = trained(&slot);
    training.pass(20);
    training.train(&slot, Frame::default(), &mut |set| {
        (set.asked.count(), None)
    });
    training.pass(4);
    let easier = Frame {
        easier_week: true,
        ..Frame::default()
    };
    assert!(!training.plan(&slot, easier).deload);
}

#[test]
fn what_hurt_comes_back_light_climbs_and_is_withdrawn_the_second_time() {
    let slot = slot(PRESS, 4, (8, 12));
    let mut training = trained(&slot);
    training.hurt(Whereabouts::Joint(Joint::Elbow));
    training.pass(3);
    let (item, _) = training.train(&slot, Frame::default(), &mut |s| (s.asked.count(), None));
    assert_eq!(work(&item), (kg(20.0), 2), "{}", item.reason);
    assert_eq!(item.spare, Some(Spare::clamped(4)));
    let mut before = 20.0;
    for _ in 0..4 {
        training.pass(8);
        let (item, _) = training.train(&slot, Frame::default(), &mut |s| (s.asked.count(), None));
        let Load::Mass(weight) = work(&item).0 else {
            panic!("a dumbbell")
        };
        let now = weight.mass.kg();
        assert!(
            now > before && now <= before + 2.0,
            "{before} to {now}: {}",
            item.reason
        );
        before = now;
    }
    training.hurt(Whereabouts::Joint(Joint::Elbow));
    training.pass(3);
    let history = training.history();
    match plan_item(&training.context(&history), &slot, Frame::default()) {
        Ok(item) => {
            assert_ne!(item.exercise, slot.exercise);
            let other = training.catalogue.get(&item.exercise).expect("known");
            assert!(!other.joints.contains(&Joint::Elbow), "{}", other.name);
            assert!(item.reason.contains("doctor"), "{}", item.reason);
        }
        Err(why) => {
            assert!(matches!(why, Unplannable::Withdrawn { .. }), "{why}");
            assert!(why.to_string().contains("doctor"), "{why}");
        }
    }
}

#[test]
fn a_pain_elsewhere_changes_nothing() {
    let slot = slot(PRESS, 4, (8, 12));
    let mut training = trained(&slot);
    training.hurt(Whereabouts::Joint(Joint::Ankle));
    training.pass(3);
    assert_eq!(work(&training.plan(&slot, Frame::default())), (kg(30.0), 4));
}

#[test]
fn where_the_gear_is_missing_the_best_stand_in_takes_its_place() {
    let slot = slot("dumbbell_bench_press", 3, (8, 12));
    let mut training = trained(&slot);
    training.pass(3);
    training.place.fixtures.remove(&Fixture::Bench);
    training.place.fixtures.remove(&Fixture::InclineBench);
    let item = training.plan(&slot, Frame::default());
    assert_ne!(item.exercise, slot.exercise);
    assert!(item.reason.contains("no bench"), "{}", item.reason);
    assert!(item.reason.contains("carried over"), "{}", item.reason);
    let Load::Mass(weight) = item.sets[0].load else {
        panic!("a dumbbell: {item:?}")
    };
    assert!((14.0..30.0).contains(&weight.mass.kg()), "{}", item.reason);
}

#[test]
fn nothing_that_loads_the_painful_joint_stands_in() {
    let slot = slot("dumbbell_bench_press", 3, (8, 12));
    let training = trained(&slot);
    let history = training.history();
    let ctx = training.context(&history);
    let item = training.plan(&slot, Frame::default());
    let now = Session::new(EventId("now".to_owned()), training.now);
    let all = stand_ins(&ctx, &item, None, &now);
    assert!(!all.is_empty());
    for joint in [Joint::Shoulder, Joint::Elbow, Joint::Wrist] {
        for other in stand_ins(&ctx, &item, Some(Whereabouts::Joint(joint)), &now) {
            let exercise = training.catalogue.get(&other.exercise).expect("known");
            assert!(
                !exercise.joints.contains(&joint),
                "{} for {joint:?}",
                exercise.name
            );
        }
    }
    assert!(stand_ins(&ctx, &item, Some(Whereabouts::Alarm), &now).is_empty());
}

#[test]
fn a_week_with_a_hotels_lighter_dumbbells_does_not_undo_the_load() {
    let slot = slot(PRESS, 3, (8, 12));
    let mut training = trained(&slot);
    let home = training.place.clone();
    training.place = dumbbells(Unit::Kg, [5.0, 10.0, 15.0]);
    training.place.id = PlaceId::new("hotel").expect("a name");
    training.pass(3);
    let (item, _) = training.train(&slot, Frame::default(), &mut |s| (s.asked.count(), None));
    assert_eq!(work(&item).0, kg(15.0), "{}", item.reason);
    assert!(item.reason.contains("cannot be made"), "{}", item.reason);
    training.place = home;
    training.pass(3);
    assert_eq!(work(&training.plan(&slot, Frame::default())).0, kg(30.0));
}
