//! `rackside import csv`: what a spreadsheet becomes, and that nothing of it is ever half there.

use crate::rig::cli::Cli;
use crate::rig::faulty::{Fault, FaultyDisk, Plan};
use rackside::domain::history::History;
use rackside::domain::session::Imported;
use rackside::formats::journal::read;
use rackside::shell::{Home, Storage, read_journal, record_import};
use std::fs;
use std::path::Path;
use std::sync::Arc;

/// As people keep them: a mark at the start, decimal commas, empty cells, a total, a copy.
const MESSY: &str = "\u{feff}Date;Exercise;Weight (kg);Reps;RIR;Comment\r\n\
    19.3.2024;Goblet Squat;22,5;8;2;\"felt; \"\"good\"\"\"\r\n\
    ;;25;6;;\r\n\
    ;DB bench press;20;10;;\r\n\
    ;Squeaky thing;20;10;;\r\n\
    20.3.2024;Plank;;45 s;;\r\n\
    20.3.2024;One-arm row;50 lbs;3x8;;\r\n\
    32.3.2024;Goblet squat;20;8;;\r\n\
    ;;;;;\r\n\
    Total;;;100;;\r\n\
    21.3.2024;Goblet squat;20;8-12;;\r\n\
    19.3.2024;Goblet squat;25;6;;\r\n";

const SHOWN: [&str; 11] = [
    "line 2    Tue 2024-03-19  Goblet squat, 22.5 kg × 8 (2 spare)",
    "line 3    Tue 2024-03-19  Goblet squat, 25 kg × 6",
    "line 4    Tue 2024-03-19  Dumbbell bench press, 20 kg × 10",
    "line 5    NOT TAKEN: \"Squeaky thing\" is no exercise that is known: ",
    "line 6    Wed 2024-03-20  Plank, body × 45 s",
    "line 7    Wed 2024-03-20  One-arm row, 3 times 50 lb × 8",
    "line 8    NOT TAKEN: \"32.3.2024\" is no date: write it as in ",
    "line 10   NOT TAKEN: \"Total\" is no date: write it as in ",
    "line 11   NOT TAKEN: \"8-12\" is no number of reps: write what was done ",
    "line 12   left out: line 3 has it already",
    "7 sets on 2 days, 2024-03-19 to 2024-03-20",
];

fn person() -> Cli {
    let cli = Cli::new();
    cli.write(
        "config/lifter.ron",
        "(format: 1, unit: Kg, place: \"club\", program: \"three_steps\")",
    );
    cli
}

fn sheet(cli: &Cli, name: &str, text: &str) -> String {
    cli.write(name, text);
    cli.home().join(name).to_string_lossy().into_owned()
}

#[test]
fn a_first_look_shows_every_row_and_records_nothing() {
    let cli = person();
    let file = sheet(&cli, "cellar.csv", MESSY);
    let ran = cli.run(["import", "csv", &file]);
    assert_eq!(ran.code(), Some(3), "{}", ran.stderr);
    let lines: Vec<&str> = ran.stdout.lines().collect();
    let first = lines
        .iter()
        .position(|line| line.starts_with("line 2 "))
        .expect("rows");
    for (line, shown) in lines[first..].iter().zip(SHOWN) {
        assert!(
            line.starts_with(shown),
            "{line}\nshould begin with\n{shown}"
        );
    }
    assert!(!cli.home().join("data/journal").exists());
    assert!(cli.run(["journal", "list"]).ok().is_empty());
}

#[test]
fn names_that_are_not_known_go_to_a_file_that_is_never_written_over() {
    let cli = person();
    let file = sheet(
        &cli,
        "cellar.csv",
        "date,exercise,load,reps\n2024-03-19,Goblt squad,20 kg,8\n\
        2024-03-19,Nothing like it,20 kg,8\n",
    );
    let ran = cli.run(["import", "csv", &file]);
    assert_eq!(ran.code(), Some(3));
    let names = cli.read("cellar.names.ron");
    assert!(
        names.contains("(sheet: \"Goblt squad\", exercise: \"goblet_squat\")"),
        "{names}"
    );
    let mine = names.replace("exercise: \"\"", "exercise: \"-\"");
    assert_ne!(names, mine, "nothing is near the second name");
    cli.write("cellar.names.ron", &mine);
    let again = cli.run(["import", "csv", &file]);
    assert!(
        again.stderr.contains("is there already and stays as it is"),
        "{}",
        again.stderr
    );
    assert_eq!(cli.read("cellar.names.ron"), mine);
    let named = cli.home().join("cellar.names.ron");
    let ran = cli.run(["import", "csv", &file, "--names", named.to_str().unwrap()]);
    let shown = ran.ok();
    assert!(shown.contains("Goblet squat, 20 kg × 8"), "{shown}");
    assert!(
        shown.contains("left out: the names file says so"),
        "{shown}"
    );
    cli.write(
        "cellar.names.ron",
        "(format: 1, names: [(sheet: \"a\", exercise: \"goblet_squad\")])",
    );
    let ran = cli.run(["import", "csv", &file, "--names", named.to_str().unwrap()]);
    assert_eq!(ran.code(), Some(3));
    assert!(ran.stderr.contains("near: goblet_squat"), "{}", ran.stderr);
}

#[test]
fn an_import_is_recorded_once_and_taken_back_as_one() {
    let cli = person();
    let file = sheet(&cli, "cellar.csv", MESSY);
    let ran = cli.run(["import", "csv", &file, "--record"]);
    assert_eq!(
        ran.code(),
        Some(3),
        "rows that are not taken are a problem: {}",
        ran.stderr
    );
    assert_eq!(
        cli.run(["journal", "list", "--json"]).ok().lines().count(),
        7
    );
    assert!(cli.run(["journal", "check"]).ok().is_empty());
    let again = cli.run(["import", "csv", &file, "--record"]);
    assert!(
        again.stdout.contains("nothing to record"),
        "{}",
        again.stdout
    );
    let (_, void) = ran
        .stdout
        .split_once("'rackside ")
        .expect("how to take it back");
    let (void, _) = void.split_once('\'').expect("a command");
    let _ = cli.run(void.split(' ')).ok();
    assert!(cli.run(["journal", "list"]).ok().is_empty());
    let anew = cli.run(["import", "csv", &file, "--record"]);
    assert!(anew.stdout.contains("7 sets on 2 days"), "{}", anew.stdout);
}

/// What is imported is a past like any other: last time's numbers, and the odds beside them.
#[test]
fn imported_days_reach_the_suggestions() {
    let cli = person();
    let before = cli.run(["brief", "--json"]);
    let before: serde_json::Value = serde_json::from_str(&before.ok()).expect("JSON");
    let exercise = before["slots"][0]["exercise"]
        .as_str()
        .expect("an exercise")
        .to_owned();
    assert!(before["slots"][0]["last"].is_null());
    let rows: String = (1..=6)
        .map(|week| format!("2024-03-{:02},{exercise},30 kg,8,2\n", week * 4))
        .collect();
    let file = sheet(
        &cli,
        "a.csv",
        &format!("date,exercise,load,reps,spare\n{rows}"),
    );
    let _ = cli.run(["import", "csv", &file, "--record"]).ok();
    let after = cli.run(["brief", "--json"]);
    let after: serde_json::Value = serde_json::from_str(&after.ok()).expect("JSON");
    assert_eq!(after["slots"][0]["last"]["sets"][0]["load"]["kg"], 30.0);
    assert_ne!(after["slots"][0]["load"], before["slots"][0]["load"]);
}

#[test]
fn what_cannot_be_told_is_asked() {
    let cli = person();
    let ask = |text: &str, more: &[&str]| {
        let file = sheet(&cli, "a.csv", text);
        let ran = cli.run(["import", "csv", &file].iter().chain(more));
        format!("{}{}", ran.stdout, ran.stderr)
    };
    let slashes = "date,exercise,load,reps\n3/4/2024,goblet squat,20 kg,8\n";
    assert!(ask(slashes, &[]).contains("--dates day-first or --dates month-first"));
    assert!(ask(slashes, &["--dates", "month-first"]).contains("Mon 2024-03-04"));
    let thousands = "date\texercise\tload\treps\n2024-03-04\tgoblet squat\t1,125 kg\t8\n";
    assert!(ask(thousands, &[]).contains("--decimal point or --decimal comma"));
    assert!(ask(thousands, &["--decimal", "comma"]).contains("1.125 kg × 8"));
    let bare = "2024-03-04,8,goblet squat,50\n";
    assert!(ask(bare, &[]).contains("--columns date,exercise,load,reps"));
    let columns = ["--columns", "date,reps,exercise,load"];
    assert!(ask(bare, &columns).contains("taken as kg: your unit"));
    assert!(ask(bare, &[&columns[..], &["--unit", "lb"]].concat()).contains("50 lb × 8"));
    assert!(ask(bare, &["--columns", "date,resp"]).contains("did you mean reps?"));
    assert!(ask("PK\u{3}\u{4}", &[]).contains("save it as CSV"));
    let later = "date,exercise,load,reps\n2924-03-04,goblet squat,20,8\n";
    assert!(ask(later, &[]).contains("still to come"));
}

/// Titles above the names of columns, and the names again where files were put together.
#[test]
fn rows_that_are_no_sets_are_told_of() {
    let cli = person();
    let text = "My log,,,\n,,,\ndate,exercise,load,reps\n2024-03-04,goblet squat,20 kg,8\n\
                date,exercise,load,reps\n2024-03-05,goblet squat,20 kg,8\n";
    let file = sheet(&cli, "a.csv", text);
    let shown = cli.run(["import", "csv", &file]).ok();
    assert!(shown.contains("left out: line 1 (\"My log\")"), "{shown}");
    assert!(
        shown.contains("1 row with the same names left out"),
        "{shown}"
    );
    assert!(shown.contains("2 sets on 2 days"), "{shown}");
    assert!(shown.contains("line 6    Tue 2024-03-05"), "{shown}");
}

/// Written together, in short, turned round, in the plural: the same exercise. Misspelt: a guess.
#[test]
fn names_are_known_in_the_forms_that_people_write() {
    let cli = person();
    let text = "date,exercise,load,reps\n2024-03-04,Pullups,,8\n2024-03-04,DB bench press,20 kg,8\n\
                2024-03-04,barbell RDL,90 kg,8\n2024-03-04,back Sqat,100 kg,8\n\
                2024-03-04,DB Row,20 kg,8\n2024-03-04,back squat,\"82,5 kg\",8\n\
                2024-03-04,back squat,1.000 kg,8\n";
    let file = sheet(&cli, "a.csv", text);
    let shown = cli.run(["import", "csv", &file]).stdout;
    for part in [
        "Pull-up, body",
        "Dumbbell bench press",
        "Barbell Romanian deadlift",
        "say in the names file which it is; near: back_squat",
        "near: dumbbell_bent_over_row",
        "1000 kg is more than anyone lifts so",
    ] {
        assert!(shown.contains(part), "{part}\n{shown}");
    }
}

#[test]
fn sides_in_two_rows_are_one_set() {
    let cli = person();
    let text = "date,exercise,load,reps,side\n2024-03-04,one-arm row,20,8,left\n\
                2024-03-04,one-arm row,20,7,right\n2024-03-04,one-arm row,20,8,left\n\
                2024-03-04,goblet squat,20,8,left\n";
    let file = sheet(&cli, "a.csv", text);
    let ran = cli.run(["import", "csv", &file]);
    for shown in [
        "line 2    Mon 2024-03-04  One-arm row, 20 kg × 8 left and 7 right",
        "line 3    the other side of line 2",
        "line 4    NOT TAKEN: the other side is not in the row before or after",
        "line 5    NOT TAKEN: Goblet squat is done with both sides at once",
    ] {
        assert!(ran.stdout.contains(shown), "{shown}\n{}", ran.stdout);
    }
}

fn days() -> Vec<Imported> {
    let sample = include_str!("../data/journals/1-imports.ron");
    let events = read(sample.as_bytes(), "sample").entries;
    let days = events
        .into_iter()
        .filter_map(|entry| match entry.stamped.event {
            rackside::domain::session::Event::Imported(day) => Some(*day),
            _ => None,
        });
    days.collect()
}

/// Each write made to fail in turn, in three ways: the days count all or not at all, and what was
/// said to be recorded is there.
#[test]
fn a_disk_that_fails_leaves_no_half_of_an_import() {
    let root = Path::new("/home");
    let home = Home {
        data: root.join("data"),
        config: root.join("config"),
        state: root.join("state"),
        cache: root.join("cache"),
    };
    for fault in [Fault::Refused, Fault::Short, Fault::Unsynced] {
        for from in 0..4 {
            let disk = Arc::new(FaultyDisk::new(Some(Plan {
                from,
                count: 1,
                fault,
            })));
            let storage: Arc<dyn Storage> = disk.clone();
            let done = record_import(&home, &storage, |_| Ok(days()));
            let record = read_journal(&home, disk.as_ref()).expect("the journal");
            let found = History::of(record.events).sessions.len();
            assert!(
                [0, 3].contains(&found),
                "{found} of 3 days: {fault:?} at {from}"
            );
            assert!(done.is_err() || found == 3, "{fault:?} at {from}");
        }
    }
}

#[test]
fn the_sheet_itself_is_left_alone() {
    let cli = person();
    let file = sheet(&cli, "cellar.csv", MESSY);
    let before = fs::metadata(&file)
        .expect("the sheet")
        .modified()
        .expect("a time");
    let _ = cli.run(["import", "csv", &file, "--record"]);
    assert_eq!(fs::read_to_string(&file).expect("the sheet"), MESSY);
    assert_eq!(
        fs::metadata(&file)
            .expect("the sheet")
            .modified()
            .expect("a time"),
        before
    );
}
