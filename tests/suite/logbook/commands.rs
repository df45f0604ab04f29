//! The views as commands: on an invented lifter's records, for people, for pipes, for scripts.

use crate::rig::cli::Cli;
use serde_json::Value;

const VIEWS: [&[&str]; 9] = [
    &["sessions"],
    &["sessions", "--session", "last"],
    &["strength"],
    &["strength", "goblet_squat", "--equation", "epley"],
    &["work"],
    &["balance"],
    &["records"],
    &["records", "goblet squat"],
    &["deload"],
];

fn invented() -> Cli {
    let cli = Cli::new();
    let home = cli.home().to_str().expect("a path").to_owned();
    let demo = ["demo", "--write-only", "--seed", "1", "--sets", "300"];
    cli.run(demo.iter().chain(&["--home", &home])).ok();
    cli
}

fn trends(cli: &Cli, view: &[&str], more: &[&str]) -> String {
    let arguments = ["trends"].iter().chain(view).chain(more);
    cli.run(arguments).ok()
}

#[test]
fn every_view_fits_a_terminal_and_is_plain_text() {
    let cli = invented();
    for view in VIEWS {
        let told = trends(&cli, view, &[]);
        assert!(told.lines().count() > 3, "{view:?}: {told}");
        for line in told.lines() {
            assert!(line.chars().count() <= 80, "{view:?}: {line}");
            assert!(!line.chars().any(char::is_control), "{view:?}: {line}");
            assert_eq!(line, line.trim_end(), "{view:?}");
        }
        let ascii = trends(&cli, view, &["--ascii"]);
        assert!(ascii.is_ascii(), "{view:?}: {ascii}");
        assert!(!ascii.contains('?'), "{view:?}: {ascii}");
        assert_eq!(ascii.lines().count(), told.lines().count());
    }
}

#[test]
fn every_view_is_json_with_a_version_and_the_same_numbers() {
    let cli = invented();
    for view in VIEWS {
        for line in trends(&cli, view, &["--json"]).lines() {
            let object: Value = serde_json::from_str(line).expect("JSON");
            assert_eq!(object["v"], 1, "{view:?}: {line}");
        }
    }
    let sessions = trends(&cli, &["sessions"], &["--json"]);
    let told = trends(&cli, &["sessions"], &[]);
    assert_eq!(sessions.lines().count(), told.lines().count());
    let work: Value = serde_json::from_str(&trends(&cli, &["work"], &["--json"])).expect("JSON");
    let weeks = work["weeks"].as_array().expect("weeks");
    let by_week: f64 = weeks
        .iter()
        .filter_map(|week| week["volume_kg"].as_f64())
        .sum();
    let by_session: f64 = sessions
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).expect("JSON"))
        .filter_map(|session| session["volume_kg"].as_f64())
        .sum();
    assert!(by_week > 1000.0 && (by_week - by_session).abs() < 1e-6);
}

/// Weekly hard sets of one muscle, counted anew from the flat list of sets.
#[test]
fn hard_sets_are_those_of_the_listed_sets() {
    let cli = invented();
    let work: Value = serde_json::from_str(&trends(&cli, &["work"], &["--json"])).expect("JSON");
    let mut easier = Vec::new();
    let mut counted = 0;
    for line in trends(&cli, &["sessions"], &["--json"]).lines() {
        let session: Value = serde_json::from_str(line).expect("JSON");
        if session["hard_sets"] == 0 {
            easier.push(session["day"].as_str().expect("a day").to_owned());
        }
    }
    assert!(!easier.is_empty(), "the invented lifter has easier weeks");
    for line in cli.run(["journal", "list", "--json"]).ok().lines() {
        let set: Value = serde_json::from_str(line).expect("JSON");
        let hard = set["kind"] != "ramp" && set["spare"].as_u64().unwrap_or(0) <= 4;
        let day = &set["at"].as_str().expect("a time")[..10];
        let reps = set["reps"].as_u64().or(set["hold_s"].as_u64());
        let is_easier = easier.iter().any(|easier| easier == day);
        counted += u64::from(hard && !is_easier && reps > Some(0));
    }
    let weeks = work["weeks"].as_array().expect("weeks");
    let told: u64 = weeks
        .iter()
        .filter_map(|week| week["hard_sets"].as_u64())
        .sum();
    assert_eq!(told, counted);
}

#[test]
fn sessions_are_found_by_exercise_place_program_and_words() {
    let cli = invented();
    let number = |more: &[&str]| {
        let told = trends(&cli, &["sessions", "--json"], more);
        told.lines().count()
    };
    let all = number(&[]);
    assert!(all > 10);
    assert_eq!(number(&["--place", "HOME"]), all);
    assert_eq!(number(&["--place", "club"]), 0);
    assert_eq!(number(&["--program", "three_steps"]), all);
    let some = number(&["--exercise", "goblet"]);
    assert!(some > 3 && some < all);
    assert_eq!(number(&["--words", "left knee"]), 0);
}

#[test]
fn what_is_not_known_is_said_with_what_is_near() {
    let cli = invented();
    let told = cli.run(["trends", "strength", "goblet_sqat"]).refused(2);
    assert_eq!(
        told,
        "rackside: no exercise is called goblet_sqat; did you mean goblet_squat?\n"
    );
    let told = cli.run(["trends", "strength", "plank"]).ok();
    assert!(told.starts_with("Plank, seconds held with body"), "{told}");
    let told = cli.run(["trends", "records", "press"]).refused(2);
    assert!(told.contains("press could be "), "{told}");
    let told = cli
        .run(["trends", "sessions", "--session", "nope"])
        .refused(2);
    assert!(told.contains("no session is called nope"), "{told}");
    let days = ["--since", "2026-02-01", "--until", "2026-01-01"];
    let told = cli.run(["trends", "work"].iter().chain(&days)).refused(2);
    assert!(told.contains("lies behind"), "{told}");
}

#[test]
fn an_empty_journal_says_so() {
    let cli = Cli::new();
    for (view, said) in [
        (
            "sessions",
            "No such session in these days; --since DATE looks further back.",
        ),
        ("strength", "No exercise was done in these days."),
        ("work", "No session in these weeks."),
        ("records", "No exercise was done in these days."),
    ] {
        assert_eq!(cli.run(["trends", view]).ok(), format!("{said}\n"));
    }
    assert!(
        cli.run(["trends", "deload"])
            .ok()
            .contains("Too few sessions")
    );
    assert!(
        cli.run(["trends", "balance"])
            .ok()
            .contains("too little done to say")
    );
}
