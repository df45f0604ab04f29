//! Advice on programs: each kind of it, at its place, with its source; none on what ships.

use crate::files;
use crate::rig::cli::Cli;
use rackside::domain::diagnostic::{Diagnostic, Severity};
use rackside::domain::gear::Place;
use rackside::domain::program::ProgramId;
use rackside::formats::program_file::{self, SHIPPED, Whom};

/// The advice on a text; `place` where the person's is known.
fn advice(text: &str, place: Option<&Place>, novice: bool) -> Vec<Diagnostic> {
    let catalogue = files::catalogue();
    let id = ProgramId::new("p").unwrap();
    let whom = Whom {
        catalogue: &catalogue,
        place,
        novice,
    };
    let read = program_file::read_with_advice("p.ron", &id, text, whom);
    read.unwrap_or_else(|problems| panic!("{}", problems[0])).1
}

/// A program whose slots stand from line 3 on, one a line.
fn program(slots: &[&str]) -> String {
    format!(
        "(format: 1, name: \"P\", rhythm: Rotation(per_week: 3), phases: [(\n  name: \"A\", weeks: \
         1, days: [(name: \"D\", slots: [\n{}])])])",
        slots.join(",\n")
    )
}

const BALANCED: [&str; 4] = [
    "(exercise: \"goblet_squat\", sets: 3, reps: \"8-12\", rest: \"2:00-3:00\")",
    "(exercise: \"push_up\", sets: 3, reps: \"8-12\", rest: \"1:00-1:30\")",
    "(exercise: \"one_arm_row\", sets: 3, reps: \"8-12\", rest: \"1:00-1:30\")",
    "(exercise: \"dumbbell_curl\", sets: 2, reps: \"8-12\", rest: \"1:00-1:30\")",
];

#[track_caller]
fn advised(found: &[Diagnostic], line: usize, words: &str) {
    let holds = |d: &Diagnostic| {
        d.severity == Severity::Warning
            && d.span.map(|s| s.line) == Some(line)
            && d.message.contains(words)
    };
    assert!(found.iter().any(holds), "{line} {words}: {found:#?}");
}

#[test]
fn nothing_is_said_of_a_balanced_program_nor_of_what_ships() {
    assert_eq!(advice(&program(&BALANCED), None, true), []);
    for (id, text) in SHIPPED {
        let novice = id != "four_square";
        assert_eq!(advice(text, None, novice), [], "{id}");
    }
}

#[test]
fn each_kind_of_advice_stands_at_its_place() {
    let [squat, push, row, curl] = BALANCED;
    let first = advice(&program(&[squat, push, curl, row]), None, true);
    advised(&first, 5, "Dumbbell curl tires what One-arm row needs");
    let heavy = push.replace("8-12", "3-5");
    advised(
        &advice(&program(&[squat, &heavy, row]), None, true),
        4,
        "between sets of 3-5",
    );
    let short = push.replace("1:00-1:30", "0:20-0:40");
    advised(
        &advice(&program(&[squat, &short, row]), None, true),
        4,
        "of a compound",
    );
    let long = curl.replace("1:00-1:30", "4:00-5:00");
    advised(
        &advice(&program(&[squat, push, row, &long]), None, true),
        6,
        "isolation work",
    );
    advised(
        &advice(&program(&[squat, push]), None, true),
        2,
        "0 sets of pulling to 3 of pushing",
    );
    advised(
        &advice(&program(&[push, row]), None, true),
        2,
        "0 hard sets a week for quadriceps",
    );
    let many = push.replace("sets: 3", "sets: 12");
    let found = advice(&program(&[squat, &many, row]), None, true);
    advised(&found, 4, "12 hard sets for chest in \"D\"");
    advised(&found, 2, "36 hard sets a week for chest");
}

#[test]
fn a_novice_is_asked_for_less_than_others() {
    let [squat, push, row, _] = BALANCED;
    let many = push.replace("sets: 3", "sets: 7");
    let rows = row.replace("sets: 3", "sets: 7");
    let text = program(&[squat, &many, &rows]);
    let said = |found: &[Diagnostic]| found.iter().any(|d| d.message.starts_with("21 hard sets"));
    assert!(said(&advice(&text, None, true)));
    assert!(!said(&advice(&text, None, false)));
}

#[test]
fn what_the_place_cannot_do_is_said() {
    let places = files::places();
    let hotel = places
        .iter()
        .find(|place| place.id.as_str() == "hotel")
        .unwrap();
    let bar = "(exercise: \"back_squat\", sets: 3, reps: \"8-12\", rest: \"2:00-3:00\")";
    let [_, push, row, _] = BALANCED;
    advised(
        &advice(&program(&[bar, push, row]), Some(hotel), true),
        3,
        " at Hotel",
    );
}

#[test]
fn every_number_has_a_source_or_says_that_it_has_none() {
    let rules = program_file::rules().unwrap();
    for rule in [
        &rules.heavy_rest,
        &rules.heavy_reps,
        &rules.compound_rest,
        &rules.isolation_rest,
        &rules.week_least,
        &rules.week_most,
        &rules.novice_week,
        &rules.novice_session,
        &rules.session_most,
        &rules.pull_share,
        &rules.isolation_first,
        &rules.place,
    ] {
        let said = ["custom", "common practice, no source"].contains(&rule.source.as_str());
        assert!(
            said || rule.source.chars().any(|c| c.is_ascii_digit()) || rule.source.contains("NSCA")
        );
    }
}

#[test]
fn a_warning_leaves_the_exit_code_alone() {
    let cli = Cli::new();
    let [squat, push, ..] = BALANCED;
    cli.write("config/programs/pushy.ron", &program(&[squat, push]));
    let ran = cli.run(["program", "check"]);
    assert_eq!(ran.code(), Some(0));
    assert_eq!(ran.stdout, "");
    assert!(
        ran.stderr
            .contains("pushy.ron:2:9: warning: 0 sets of pulling"),
        "{}",
        ran.stderr
    );
}
