//! `rackside program`: what each command prints and writes.

use crate::files;
use crate::rig::cli::Cli;
use rackside::domain::program::{Program, ProgramId, Rhythm};
use rackside::formats::program_file::{self, FIELDS};
use std::collections::BTreeSet;

fn read(text: &str) -> Program {
    let id = ProgramId::new("p").unwrap();
    let read = program_file::read("p.ron", &id, text, &files::catalogue());
    read.unwrap_or_else(|problems| panic!("{}", problems[0]))
}

/// Words before a colon, outside comments and texts: the fields that a file uses.
fn fields_of(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for line in text.lines() {
        let mut pieces = line.split('"');
        let code: String = std::iter::from_fn(|| {
            let piece = pieces.next()?.to_owned();
            pieces.next();
            Some(piece)
        })
        .collect();
        let code = code.split("//").next().unwrap();
        for before in code.split(':') {
            let name = before.rsplit(|c: char| !(c.is_alphanumeric() || c == '_'));
            found.insert(name.into_iter().next().unwrap().to_owned());
        }
    }
    found
}

#[test]
fn the_schema_is_a_program_that_shows_every_field() {
    let text = Cli::new().run(["program", "schema"]).ok();
    let program = read(&text);
    assert_eq!(program.phases.len(), 2);
    let day = &program.phases[0].days[1];
    assert_eq!(day.slots[0].wave.len(), 4);
    assert_eq!(day.slots[0].in_week(3).sets, 3);
    assert_eq!(day.slots[2].details.total.unwrap().get(), 30);
    assert_eq!(
        program.phases[1].days[1].slots[2]
            .details
            .total
            .unwrap()
            .get(),
        40
    );
    let used = fields_of(program_file::EXAMPLE);
    let others = ["rhythm", "step", "back_off", "change"];
    for field in FIELDS {
        assert!(
            text.contains(&format!("//   {}", field.name)),
            "{}",
            field.name
        );
        let alternative = field.thing == "rhythm" || others.contains(&field.thing);
        assert!(
            alternative || used.contains(field.name),
            "the example does not use {}",
            field.name
        );
    }
}

/// What the table says of bounds is what the reader does.
#[test]
fn the_bounds_of_the_table_are_those_of_the_reader() {
    let slot = |more: &str| {
        format!(
            "(format: 1, name: \"P\", rhythm: Rotation(per_week: 3), phases: [(name: \"A\", \
             weeks: 4, days: [(name: \"D\", slots: [(exercise: \"push_up\", rest: \"1:00-1:30\", \
             {more})])])])"
        )
    };
    let catalogue = files::catalogue();
    let id = ProgramId::new("p").unwrap();
    let holds = |text: &str| program_file::read("p.ron", &id, text, &catalogue).is_ok();
    let texts = [
        ("sets", "reps: \"8\", sets: N"),
        ("reps", "sets: 3, reps: \"N\""),
        ("spare", "sets: 3, reps: \"8\", spare: N"),
        ("group", "sets: 3, reps: \"8\", group: N"),
        ("total", "sets: 2, total: N"),
    ];
    for (name, text) in texts {
        let field = FIELDS
            .iter()
            .find(|f| f.thing == "slot" && f.name == name)
            .unwrap();
        let (least, most) = field.bounds.unwrap();
        let with = |n: u32| slot(&text.replace('N', &n.to_string()));
        assert!(holds(&with(least)), "{name} {least}");
        assert!(holds(&with(most)), "{name} {most}");
        assert!(!holds(&with(most + 1)), "{name} {}", most + 1);
        if least > 0 {
            assert!(!holds(&with(least - 1)), "{name} {}", least - 1);
        }
    }
}

#[test]
fn a_new_program_is_fine_and_never_written_over() {
    let cli = Cli::new();
    let said = cli.run(["program", "new", "my_first"]).ok();
    assert!(said.contains("config/programs/my_first.ron"), "{said}");
    assert_eq!(cli.run(["program", "check"]).ok(), "");
    cli.write("config/programs/my_first.ron", "mine");
    let refused = cli.run(["program", "new", "my_first"]).refused(1);
    assert!(refused.contains("stays as it is"), "{refused}");
    assert_eq!(cli.read("config/programs/my_first.ron"), "mine");
    for name in ["My First", "", "a/b", "../up"] {
        let refused = cli.run(["program", "new", name]).refused(2);
        assert!(refused.contains("cannot be a program's name"), "{refused}");
    }
    let taken = cli.run(["program", "new", "three_steps"]).refused(1);
    assert!(taken.contains("choose another name"), "{taken}");
}

#[test]
fn check_names_every_problem_and_ends_with_three() {
    let cli = Cli::new();
    cli.write(
        "config/programs/broken.ron",
        "(format: 1,\n name: 3,\n weeks: 2)",
    );
    let said = cli.run(["program", "check"]).refused(3);
    assert!(said.contains("broken.ron:2:"), "{said}");
    assert!(said.contains("broken.ron:3:"), "{said}");
    let json = cli.run(["program", "check", "--json"]);
    assert_eq!(json.code(), Some(3));
    assert_eq!(json.stderr, "");
    for line in json.stdout.lines() {
        let problem: serde_json::Value = serde_json::from_str(line).unwrap();
        assert_eq!(problem["severity"], "error");
        assert!(
            problem["advice"]
                .as_str()
                .is_some_and(|advice| !advice.is_empty())
        );
    }
    let at_home = cli.home().join("config/programs/broken.ron");
    assert_eq!(
        cli.run(["program".as_ref(), "check".as_ref(), at_home.as_os_str()])
            .code(),
        Some(3)
    );
    let gone = cli.run(["program", "check", "nowhere.ron"]).refused(1);
    assert!(gone.contains("no such file"), "{gone}");
    let cli = cli.stdin(program_file::EXAMPLE);
    assert_eq!(cli.run(["program", "check", "-"]).ok(), "");
}

#[test]
fn the_preview_counts_what_the_program_asks_for() {
    let cli = Cli::new();
    for program in files::programs() {
        let ran = cli
            .run(["program", "preview", program.id.as_str(), "--json"])
            .ok();
        let shown: serde_json::Value = serde_json::from_str(&ran).unwrap();
        let weeks = shown["weeks"].as_array().unwrap();
        let total: u32 = program.phases.iter().map(|p| u32::from(p.weeks)).sum();
        assert_eq!(weeks.len() as u32, total);
        for week in weeks {
            let phase = &program.phases[week["phase"].as_u64().unwrap() as usize - 1];
            let sessions = week["sessions"].as_array().unwrap();
            let per_week = match &program.rhythm {
                Rhythm::Rotation { per_week } => usize::from(*per_week),
                Rhythm::Weekdays(days) => days.len(),
                Rhythm::Every { .. } => continue,
            };
            assert_eq!(sessions.len(), per_week);
            for session in sessions {
                let day = &phase.days[session["day"].as_u64().unwrap() as usize - 1];
                let slots = session["slots"].as_array().unwrap();
                assert_eq!(slots.len(), day.slots.len());
                let minutes = session["takes_s"].as_u64().unwrap() / 60;
                assert!((10..=120).contains(&minutes), "{minutes} minutes");
                if !week["easier"].as_bool().unwrap() {
                    for (shown, slot) in slots.iter().zip(&day.slots) {
                        assert_eq!(shown["sets"], u64::from(slot.sets));
                    }
                }
            }
        }
    }
}

/// Counted by hand: three push-up sets and two of press in each of two sessions; chest is a prime
/// mover of both, triceps assist.
#[test]
fn hard_sets_are_whole_for_prime_movers_and_half_for_those_that_assist() {
    let cli = Cli::new();
    let text = r#"(format: 1, name: "P", rhythm: Rotation(per_week: 2), phases: [(name: "A",
        weeks: 1,
        days: [(name: "D", slots: [
            (exercise: "push_up", sets: 3, reps: "8", rest: "1:00-1:30"),
            (exercise: "bench_press", sets: 1, reps: "5", rest: "2:00-3:00",
             back_off: (sets: 1, percent: 80)),
        ])])])"#;
    cli.write("config/programs/hand.ron", text);
    let shown = cli.run(["program", "preview", "hand", "--json"]).ok();
    let shown: serde_json::Value = serde_json::from_str(&shown).unwrap();
    let sets = &shown["weeks"][0]["hard_sets"];
    assert_eq!(sets["chest"], 10.0);
    assert_eq!(sets["triceps"], 5.0);
    let lines = cli.run(["program", "preview", "hand"]).ok();
    assert!(lines.contains("D again"), "{lines}");
    assert!(lines.contains("██████████"), "{lines}");
}

#[test]
fn a_program_is_adopted_at_a_phase_and_a_date() {
    let cli = Cli::new();
    let today = |cli: &Cli| -> serde_json::Value {
        serde_json::from_str(&cli.run(["brief", "--json"]).ok()).unwrap()
    };
    assert_eq!(today(&cli)["program"], "three_steps");
    let said = cli
        .run(["program", "adopt", "small_room", "--phase", "2"])
        .ok();
    assert!(said.contains("phase 2: Longer"), "{said}");
    assert_eq!(
        (today(&cli)["program"].clone(), today(&cli)["phase"].clone()),
        ("small_room".into(), 2.into())
    );
    // What begins later does not hold yet.
    let _ = cli
        .run(["program", "adopt", "three_steps", "--on", "2999-01-01"])
        .ok();
    assert_eq!(today(&cli)["program"], "small_room");
    let wrong = cli.run(["program", "adopt", "smal_room"]).refused(1);
    assert!(wrong.contains("did you mean small_room?"), "{wrong}");
    let wrong = cli
        .run(["program", "adopt", "small_room", "--phase", "3"])
        .refused(2);
    assert!(wrong.contains("1 Slow, 2 Longer"), "{wrong}");
}
