//! What only the whole of a program's file shows, each with its place.

use rackside::domain::program::{Program, ProgramId};
use rackside::formats::program_file;
use std::collections::BTreeSet;

const SLOT: &str = r#"(exercise: "push_up", sets: 3, reps: "8", rest: "1:00-1:30")"#;

fn read(phases: &str) -> Result<Program, String> {
    let text =
        format!("(format: 1, name: \"P\", rhythm: Rotation(per_week: 3), phases: [\n{phases}\n])");
    let id = ProgramId::new("p").unwrap();
    program_file::read("p.ron", &id, &text, &crate::files::catalogue()).map_err(|problems| {
        problems
            .iter()
            .map(|p| format!("{}: {}\n", p.span.unwrap().line, p.message))
            .collect()
    })
}

fn base() -> String {
    format!("(name: \"A\", weeks: 4, days: [(name: \"D\", slots: [{SLOT}])])")
}

#[track_caller]
fn refused(phases: &str, said: &str) {
    let found = read(phases).expect_err("refused");
    assert!(found.contains(said), "{found}");
}

#[test]
fn names_must_be_their_own() {
    refused(
        &format!("{},\n{}", base(), base()),
        "another phase is called \"A\"",
    );
    let days = format!("(name: \"D\", slots: [{SLOT}]), (name: \"D\", slots: [{SLOT}])");
    let twice = format!("(name: \"A\", weeks: 4, days: [{days}])");
    refused(&twice, "two days of the phase are called \"D\"");
}

#[test]
fn changes_want_a_phase_to_change() {
    for change in [
        "more_sets: 1",
        "change: [(day: \"D\", exercise: \"push_up\", sets: 4)]",
    ] {
        let phase = base().replace("weeks: 4", &format!("weeks: 4, {change}"));
        refused(&phase, "without a phase that this one builds on");
    }
}

#[test]
fn bounds_hold_in_changes_too() {
    let built = |what: &str| {
        format!(
            "{},\n(name: \"B\", weeks: 4, builds_on: \"A\", {what})",
            base()
        )
    };
    refused(&built("more_sets: 200"), "3: 200 sets more than 3");
    let change = |what: &str| {
        built(&format!(
            "change: [(day: \"D\", exercise: \"push_up\", {what})]"
        ))
    };
    refused(&change("spare: 99"), "3: spare is 99");
    refused(
        &change("with: \"plank\""),
        "asks for reps, a hold or a total",
    );
    assert!(read(&change("with: \"plank\", hold: \"20-40\"")).is_ok());
    assert!(read(&built("more_sets: 1")).is_ok());
}

/// Swapping to an exercise that the day already has must not give two slots one name.
#[test]
fn slots_keep_names_of_their_own() {
    let day = format!(
        "(name: \"D\", slots: [{SLOT}, {}])",
        SLOT.replace("push_up", "bodyweight_squat")
    );
    let phases = format!(
        "(name: \"A\", weeks: 4, days: [{day}]),\n(name: \"B\", weeks: 4, builds_on: \"A\", \
         change: [(day: \"D\", exercise: \"bodyweight_squat\", with: \"push_up\")])"
    );
    let program = read(&phases).unwrap();
    let slots = &program.phases[1].days[0].slots;
    let names: BTreeSet<&str> = slots.iter().map(|slot| slot.id.0.as_str()).collect();
    assert_eq!(names.len(), slots.len(), "{names:?}");
}
