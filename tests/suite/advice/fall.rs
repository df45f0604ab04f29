//! A fall that the belief is sure of: what a lighter week is suggested for, and what is none.

use crate::rig::training::{Training, dumbbells, slot};
use rackside::domain::advice::{Fall, Frame, fall};
use rackside::domain::exercise::ExerciseId;
use rackside::domain::program::{Policy, Slot};
use rackside::domain::units::Unit;

fn rows() -> Slot {
    Slot {
        policy: Policy::ByOdds,
        ..slot("one_arm_row", 3, (8, 12))
    }
}

/// Somebody who rowed so many times, every four days; from `weak` on each set falls `short` reps
/// more than the one before.
fn rowed(sessions: u32, weak: u32, short: u32) -> Training {
    let mut training = Training::with(dumbbells(Unit::Kg, (1..=20).map(|k| f64::from(k) * 2.0)));
    training.believes = true;
    for session in 0..sessions {
        training.pass(4);
        let less = session.saturating_sub(weak) * short;
        training.train(&rows(), Frame::default(), &mut |set| {
            let count = set.asked.count();
            let spare = set.feeler.then_some(3).or((less == 0).then_some(2));
            (count.saturating_sub(less).max(1), spare)
        });
    }
    training.pass(4);
    training
}

fn found(training: &Training) -> Option<Fall> {
    let history = training.history();
    let row = ExerciseId::new("one_arm_row").expect("a name");
    let row = training.catalogue.get(&row).expect("it ships");
    fall(&training.context(&history), row)
}

#[test]
fn strength_that_goes_down_session_after_session_is_a_fall() {
    let fall = found(&rowed(12, 8, 3)).expect("a fall");
    assert!(fall.odds.chance() >= 0.9 && fall.percent > 1.0, "{fall:?}");
}

#[test]
fn strength_that_holds_is_none_and_the_same_dumbbell_for_weeks_is_none() {
    for sessions in 4..12 {
        assert_eq!(found(&rowed(sessions, 99, 0)), None, "after {sessions}");
    }
}

/// One bad day is the day's.
#[test]
fn one_bad_day_is_none() {
    assert_eq!(found(&rowed(10, 8, 2)), None);
}

/// None within three weeks of a lay-off, nor of one long ago.
#[test]
fn a_fall_long_ago_or_across_a_lay_off_calls_for_nothing() {
    let mut training = rowed(12, 8, 3);
    training.pass(22);
    assert_eq!(found(&training), None);
}
