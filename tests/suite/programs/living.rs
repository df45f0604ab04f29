//! A program edited in its middle, with a year of training behind it: what was recorded means what
//! it meant, and every slot of the edited program is there.

use crate::rig::cli::Cli;
use rackside::domain::program::ProgramId;
use rackside::formats::program_file::{self, SHIPPED};

/// About a year of the invented lifter's sets.
const YEAR: &str = "2600";

fn lived() -> (Cli, String) {
    let cli = Cli::new();
    let home = cli.home().join("lived");
    let _ = cli
        .run([
            "demo".as_ref(),
            "--write-only".as_ref(),
            "--home".as_ref(),
            home.as_os_str(),
            "--sets".as_ref(),
            YEAR.as_ref(),
        ])
        .ok();
    let home = home.to_str().expect("a path").to_owned();
    (cli.env("RACKSIDE_HOME", &home), home)
}

#[test]
fn an_edited_program_loses_nothing_and_changes_no_record() {
    let (cli, _) = lived();
    let shipped = SHIPPED
        .iter()
        .find(|(id, _)| *id == "three_steps")
        .unwrap()
        .1;
    let before = cli.run(["journal", "list", "--json"]).ok();
    assert!(before.lines().count() > 2000);
    let edits: [(&str, &str); 7] = [
        ("sets: 3, reps: \"8-12\"", "sets: 4, reps: \"6-10\""),
        ("\"goblet_squat\"", "\"dumbbell_front_squat\""),
        ("weeks: 4", "weeks: 1"),
        ("easier_weeks: [4],", ""),
        (
            "Rotation(per_week: 3)",
            "Weekdays([Monday, Wednesday, Friday])",
        ),
        ("Rotation(per_week: 3)", "Every(days: 2)"),
        ("name: \"Day 1\"", "name: \"First\""),
    ];
    for (from, to) in edits {
        let text = shipped.replace(from, to).replace(
            "day: \"Day 1\"",
            match to {
                "name: \"First\"" => "day: \"First\"",
                _ => "day: \"Day 1\"",
            },
        );
        let text = match from {
            "weeks: 4" => text.replace("easier_weeks: [4],", ""),
            _ => text,
        };
        assert_ne!(text, shipped);
        cli.write("lived/config/programs/three_steps.ron", &text);
        let checked = cli.run(["program", "check"]);
        assert_eq!(checked.code(), Some(0), "{to}: {}", checked.stderr);
        assert_eq!(cli.run(["journal", "list", "--json"]).ok(), before, "{to}");
        let brief: serde_json::Value =
            serde_json::from_str(&cli.run(["brief", "--json"]).ok()).unwrap();
        let id = ProgramId::new("three_steps").unwrap();
        let catalogue = crate::files::catalogue();
        let program = program_file::read("p", &id, &text, &catalogue).unwrap();
        let phase = &program.phases[brief["phase"].as_u64().unwrap() as usize - 1];
        let day = &phase.days[brief["day"].as_u64().unwrap() as usize - 1];
        assert!(
            brief["week"].as_u64().unwrap() <= u64::from(phase.weeks),
            "{to}"
        );
        let planned = brief["slots"].as_array().unwrap().len();
        let left_out = brief["remarks"].as_array().unwrap().len();
        assert!(planned + left_out >= day.slots.len(), "{to}: {brief}");
    }
}

/// A phase chosen today holds today, whatever was trained before it was chosen.
#[test]
fn a_phase_chosen_on_a_day_of_training_holds() {
    let cli = Cli::new();
    let home = cli.home().join("lived");
    let tomorrow = (chrono::Utc::now() + chrono::Duration::hours(25)).date_naive();
    let _ = cli
        .run([
            "demo".as_ref(),
            "--write-only".as_ref(),
            "--home".as_ref(),
            home.as_os_str(),
            "--until".as_ref(),
            tomorrow.to_string().as_ref(),
        ])
        .ok();
    let home = home.to_str().expect("a path").to_owned();
    let cli = cli.env("RACKSIDE_HOME", &home);
    let phase = |cli: &Cli| {
        let brief: serde_json::Value =
            serde_json::from_str(&cli.run(["brief", "--json"]).ok()).unwrap();
        (
            brief["phase"].as_u64().unwrap(),
            brief["week"].as_u64().unwrap(),
        )
    };
    for chosen in [3, 2, 1] {
        let number = chosen.to_string();
        let said = cli.run(["program", "adopt", "three_steps", "--phase", &number]);
        let _ = said.ok();
        assert_eq!(phase(&cli), (chosen, 1));
    }
}
