//! What sessions make of beliefs: the same journal says the same, kept or folded anew, in
//! kilograms and in pounds.

use crate::rig::training::{Training, dumbbells, slot};
use rackside::domain::advice::{Beliefs, Context, Frame, plan_item};
use rackside::domain::program::{Policy, Slot};
use rackside::domain::session::{Boldness, PlannedItem, SetKind};
use rackside::domain::units::{Load, Unit};

/// A pound in kilograms, by definition (international avoirdupois pound, 1959).
const POUND: f64 = 0.453_592_37;

fn by_odds() -> Slot {
    Slot {
        policy: Policy::ByOdds,
        ..slot("dumbbell_floor_press", 3, (8, 12))
    }
}

/// Somebody with dumbbells in steps of five pounds, entered in either unit, after some sessions.
fn trained(unit: Unit, sessions: u32) -> Training {
    let amount = |k: u32| match unit {
        Unit::Lb => f64::from(k) * 5.0,
        Unit::Kg => f64::from(k) * 5.0 * POUND,
    };
    let mut training = Training::with(dumbbells(unit, (1..=16).map(amount)));
    training.believes = true;
    for session in 0..sessions {
        training.pass(3);
        let mut set = 0;
        training.train(&by_odds(), Frame::default(), &mut |planned| {
            set += 1;
            let short = session == 3 && set == 3;
            let spare = (planned.feeler || set == 2).then_some(if session < 2 { 4 } else { 2 });
            (planned.asked.count() - u32::from(short) * 3, spare)
        });
    }
    training.pass(3);
    training
}

fn grams(load: Load) -> i64 {
    let mass = load.entered().expect("a mass").mass;
    (mass.kg() * 1000.0).round() as i64
}

#[test]
fn beliefs_that_are_kept_say_what_beliefs_folded_anew_say() {
    let training = trained(Unit::Kg, 7);
    let kept = training.plan(&by_odds(), Frame::default());
    let (history, beliefs) = (training.history(), Beliefs::default());
    let context = Context {
        beliefs: Some(&beliefs),
        ..training.context(&history)
    };
    let anew = plan_item(&context, &by_odds(), Frame::default()).expect("it can be done");
    assert_eq!(kept, anew);
    assert!(kept.odds.is_some());
}

#[test]
fn kilograms_and_pounds_are_advised_alike() {
    for sessions in 1..8 {
        let plans: Vec<PlannedItem> = [Unit::Kg, Unit::Lb]
            .map(|unit| trained(unit, sessions).plan(&by_odds(), Frame::default()))
            .into();
        let told = |item: &PlannedItem| {
            let sets = item
                .sets
                .iter()
                .map(|set| (set.kind, grams(set.load), set.asked));
            (sets.collect::<Vec<_>>(), item.odds)
        };
        assert_eq!(
            told(&plans[0]),
            told(&plans[1]),
            "after {sessions} sessions"
        );
    }
}

#[test]
fn published_rules_state_the_odds_of_the_belief_all_the_same() {
    let training = trained(Unit::Kg, 6);
    for policy in [Policy::DoubleProgression, Policy::TwoForTwo] {
        let slot = Slot {
            policy,
            ..by_odds()
        };
        assert!(training.plan(&slot, Frame::default()).odds.is_some());
    }
}

#[test]
fn a_bolder_lifter_is_never_given_less() {
    let mut training = trained(Unit::Kg, 6);
    let mut loads = Vec::new();
    for boldness in [Boldness::Cautious, Boldness::Steady, Boldness::Bold] {
        training.lifter.boldness = boldness;
        let item = training.plan(&by_odds(), Frame::default());
        let working = item.sets.iter().find(|set| set.kind == SetKind::Working);
        loads.push(grams(working.expect("a set").load));
    }
    assert!(loads.is_sorted(), "{loads:?}");
}
