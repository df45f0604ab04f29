//! Which exercises load what hurts: the rule is common practice, no source.

use rackside::domain::exercise::{Exercise, ExerciseId, Joint, Muscle};
use rackside::domain::session::Whereabouts::{self, Alarm};
use rackside::formats::table::catalogue;

/// An exercise of the table, with these joints and muscles instead of its own.
fn exercise(joints: &[Joint], prime: &[Muscle], assisting: &[Muscle]) -> Exercise {
    let id = ExerciseId::new("one_arm_row").unwrap();
    let row = catalogue(None).unwrap().get(&id).unwrap().clone();
    Exercise {
        joints: joints.to_vec(),
        prime: prime.to_vec(),
        assisting: assisting.to_vec(),
        ..row
    }
}

#[test]
fn a_joint_is_spared_where_it_is_loaded_and_elbow_and_wrist_together() {
    use Joint::{Elbow, Hip, Knee, Shoulder, Wrist};
    let loaded = |hurts: Joint, joints: &[Joint]| {
        Whereabouts::Joint(hurts).is_loaded_by(&exercise(joints, &[], &[]))
    };
    for hurts in [Elbow, Wrist] {
        assert!(loaded(hurts, &[Elbow]) && loaded(hurts, &[Wrist]));
        assert!(loaded(hurts, &[Shoulder, Wrist]), "one of them is enough");
        assert!(!loaded(hurts, &[Shoulder, Knee]) && !loaded(hurts, &[]));
    }
    assert!(loaded(Knee, &[Hip, Knee]) && !loaded(Knee, &[Hip, Elbow]));
}

#[test]
fn a_muscle_is_spared_where_it_moves_the_load_or_helps() {
    use Muscle::{Calves, Chest, Triceps};
    let press = exercise(&[], &[Chest], &[Triceps]);
    let loaded = |hurts| Whereabouts::Muscle(hurts).is_loaded_by(&press);
    assert!(loaded(Chest) && loaded(Triceps) && !loaded(Calves));
}

#[test]
fn after_an_alarm_nothing_is_left() {
    assert!(Alarm.is_loaded_by(&exercise(&[], &[], &[])));
}
