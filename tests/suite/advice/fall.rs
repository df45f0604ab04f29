//! A fall that the belief is sure of: what a lighter week is suggested for, and what is none.

use crate::rig::training::{Training, dumbbells, kg, slot};
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

/// Somebody who rowed so many times, every four days, able to lift 40 kg once; from the session
/// `weak` on each time that share less. What is spare is told.
fn rowed(sessions: u32, weak: u32, share: f64) -> Training {
    let mut training = Training::with(dumbbells(Unit::Kg, (1..=20).map(|k| f64::from(k) * 2.0)));
    training.believes = true;
    for session in 0..sessions {
        training.pass(4);
        let max = 40.0 * (1.0 - share).powi((session + 1).saturating_sub(weak) as i32);
        let mut tired = 0.0;
        let frame = Frame {
            guess: Some(kg(26.0)),
            ..Frame::default()
        };
        training.train(&rows(), frame, &mut |set| {
            let load = set.load.entered().expect("a mass").mass.kg();
            // Epley's equation, a rep less from set to set.
            let able = (30.0 * (max / load - 1.0) - tired).floor().clamp(1.0, 40.0) as u32;
            tired += 1.0;
            let count = able.min(set.asked.count());
            (count, Some((able - count).min(9)))
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

/// Believed strength from session to session, for whom a test fails.
fn trail(training: &Training) -> String {
    let history = training.history();
    let row = ExerciseId::new("one_arm_row").expect("a name");
    let row = training.catalogue.get(&row).expect("it ships");
    let trail = training.context(&history).believed(row);
    let told = trail
        .iter()
        .map(|at| format!("{:.3} +- {:.3}", at.mean, at.spread));
    told.collect::<Vec<_>>().join(", ")
}

#[test]
fn strength_that_goes_down_session_after_session_is_a_fall() {
    let fall = (12..=18).find_map(|sessions| found(&rowed(sessions, 8, 0.05)));
    let fall = fall.unwrap_or_else(|| panic!("no fall in {}", trail(&rowed(18, 8, 0.05))));
    assert!(fall.odds.chance() >= 0.9 && fall.percent > 1.0, "{fall:?}");
}

#[test]
fn strength_that_holds_is_none_and_the_same_dumbbell_for_weeks_is_none() {
    for sessions in 4..12 {
        assert_eq!(found(&rowed(sessions, 99, 0.0)), None, "after {sessions}");
    }
}

/// One bad day is the day's.
#[test]
fn one_bad_day_is_none() {
    let mut training = rowed(8, 99, 0.0);
    training.train(&rows(), Frame::default(), &mut |set| {
        (set.asked.count() - 2, Some(0))
    });
    training.pass(4);
    assert_eq!(found(&training), None);
}

/// None within three weeks of a lay-off, nor of one long ago.
#[test]
fn a_fall_long_ago_or_across_a_lay_off_calls_for_nothing() {
    let mut training = rowed(12, 8, 0.05);
    training.pass(22);
    assert_eq!(found(&training), None);
}
