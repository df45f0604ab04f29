//! `rackside journal`: checks that only read, and additions that change no line.

use super::order::tangle;
use crate::rig::cli::Cli;
use proptest::prelude::*;
use proptest::sample::Index;
use rackside::domain::history::History;
use rackside::domain::session::Stamped;
use rackside::formats::journal::{Other, Record, merge, read, reseal, salvage, union, write_line};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

const JOURNAL: &str = "data/journal/2026-dev1.ron";
const AT: &str = "2026-11-19T18:22:05.123+01:00";

fn line(k: u32, event: &str) -> String {
    let head = format!("v:1,id:\"dev1-run1-{k}\",n:{k},session:\"dev1-run1-1\"");
    let text = format!("({head},at:\"{AT}\",event:{event})");
    let found = read(text.as_bytes(), "by hand");
    assert_eq!(found.problems, []);
    write_line(&found.entries[0].stamped).unwrap()
}

fn opened() -> String {
    let of = r#"program:"p",phase:1,phase_name:"",week:1,weeks:1,day:1,day_name:"Day 1""#;
    line(1, &format!("Opened({of},place:\"home\",items:[])"))
}

fn set(k: u32, done: &str, asked: &str) -> String {
    let rest = "ended:AsAsked,counts:OneDumbbell,item:0";
    let what = format!("exercise:\"one_arm_row\",kind:Working,number:{k},load:\"22.5 kg\"");
    line(k, &format!("Set({what},done:{done},asked:{asked},{rest})"))
}

/// A session of two sets of reps and one hold.
fn journal() -> [String; 4] {
    [
        opened(),
        set(2, "Reps(8)", "Reps(8)"),
        set(3, "Reps(8)", "Reps(8)"),
        set(4, "Held(30)", "Hold(30)"),
    ]
}

fn with(lines: &[String]) -> Cli {
    let cli = Cli::new();
    cli.write(JOURNAL, &(lines.join("\n") + "\n"));
    cli
}

/// Every file below a home with its bytes.
fn files(home: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut all = BTreeMap::new();
    for entry in fs::read_dir(home).unwrap() {
        let path = entry.unwrap().path();
        match path.is_dir() {
            true => all.extend(files(&path)),
            false => _ = all.insert(path.clone(), fs::read(&path).unwrap()),
        }
    }
    all
}

/// What every set did, by the end of its id.
fn done(cli: &Cli) -> Vec<(String, u64, Option<u64>)> {
    let listed = cli.run(["journal", "list", "--json"]).ok();
    let sets = listed
        .lines()
        .map(|line| serde_json::from_str(line).unwrap());
    let of = |set: Value| {
        let id = set["id"]
            .as_str()
            .unwrap()
            .rsplit('-')
            .next()
            .unwrap()
            .to_owned();
        let count = set["reps"].as_u64().or(set["hold_s"].as_u64()).unwrap();
        (id, count, set["spare"].as_u64())
    };
    sets.map(of).collect()
}

#[test]
fn a_fine_journal_is_checked_in_silence() {
    for cli in [Cli::new(), with(&journal())] {
        let ran = cli.run(["journal", "check", "--strict"]);
        assert_eq!(
            (ran.code(), ran.stdout.as_str(), ran.stderr.as_str()),
            (Some(0), "", "")
        );
    }
}

/// A fault for each check, and nothing for the others to find.
#[test]
fn each_check_finds_its_fault_and_nothing_is_changed() {
    let [opened, one, two, three] = journal();
    let other = one.replace("Reps(8)", "Reps(9)").replace("22.5", "20");
    let (unsealed, _) = other.split_once(" //").unwrap();
    let newer = opened.replace("v:1", "v:2");
    let (newer, _) = newer.split_once(" //").unwrap();
    let faults: [(&str, String, &str); 8] = [
        (
            "lines",
            format!("{opened}\nsquats, five of them\n"),
            "2026-dev1.ron:2:",
        ),
        (
            "checksums",
            format!("{opened}\n{}\n", two.replace("22.5 kg", "92.5 kg")),
            "dev1-run1-3",
        ),
        (
            "ids",
            format!("{opened}\n{one}\n{unsealed}\n"),
            "dev1-run1-2",
        ),
        (
            "targets",
            format!("{opened}\n{}\n", line(9, "Voided(event:\"x-y-1\")")),
            "x-y-1",
        ),
        ("sessions", format!("{three}\n"), "dev1-run1-1"),
        ("copies", String::new(), "sync-conflict"),
        ("habits", format!("{opened}\r\n"), "carriage returns"),
        ("versions", format!("{newer}\n"), "newer version"),
    ];
    for (check, text, told) in faults {
        let cli = with(&[]);
        cli.write(JOURNAL, &text);
        if check == "copies" {
            cli.write(
                "data/journal/2026-dev1.sync-conflict-20260101-120000-ABCDEFG.ron",
                "",
            );
        }
        let before = files(cli.home());
        let ran = cli.run(["journal", "check", check]);
        assert_eq!(ran.code(), Some(3), "{check}: {}", ran.stdout);
        assert!(ran.stdout.contains(told), "{check}: {}", ran.stdout);
        assert!(
            ran.stdout.ends_with(&format!("[{check}]\n")),
            "{}",
            ran.stdout
        );
        let json = cli.run(["journal", "check", "--strict", "--json"]);
        let mut found = json
            .stdout
            .lines()
            .map(|l| serde_json::from_str::<Value>(l).unwrap());
        assert!(
            found.all(|f| f["check"] == check || check == "checksums"),
            "{}",
            json.stdout
        );
        assert_eq!(files(cli.home()), before, "{check}");
    }
}

#[test]
fn an_amendment_is_an_event_and_can_be_taken_back() {
    let cli = with(&journal());
    let before = cli.read(JOURNAL);
    let told = cli
        .run(["journal", "amend", "run1-2", "--reps", "6", "--spare", "1"])
        .ok();
    assert_eq!(done(&cli)[0], ("2".to_owned(), 6, Some(1)));
    let ended = cli.run(["journal", "list", "--json"]).ok();
    assert!(
        ended.lines().next().unwrap().contains("on_purpose"),
        "{ended}"
    );
    let undo = told.split('\'').nth(1).expect("a command to take it back");
    let undo: Vec<&str> = undo.split(' ').skip(1).collect();
    let told = cli.run(undo).ok();
    assert_eq!(done(&cli)[0], ("2".to_owned(), 8, None));
    let redo = told.split('\'').nth(1).expect("a command to bring it back");
    let redo: Vec<&str> = redo.split(' ').skip(1).collect();
    cli.run(redo).ok();
    assert_eq!(done(&cli)[0].1, 6);
    assert_eq!(cli.read(JOURNAL), before, "the old lines stay");
    let lists = cli
        .run([
            "journal", "amend", "run1-4", "--hold", "25,20", "--load", "24",
        ])
        .ok();
    assert!(lists.starts_with("recorded"));
    assert_eq!(done(&cli)[2].1, 20, "of two sides the lower one decides");
    cli.run(["journal", "check", "--strict"]).ok();
}

#[test]
fn a_void_takes_a_set_or_a_whole_session_away_and_brings_it_back() {
    let cli = with(&journal());
    let void = |id: &str| {
        let told = cli.run(["journal", "void", id]).ok();
        told.split('\'')
            .nth(1)
            .unwrap()
            .rsplit(' ')
            .next()
            .unwrap()
            .to_owned()
    };
    let one = void("dev1-run1-3");
    assert_eq!(done(&cli).len(), 2);
    let all = void("dev1-run1-1");
    assert_eq!(done(&cli).len(), 0);
    void(&all);
    assert_eq!(done(&cli).len(), 2);
    void(&one);
    assert_eq!(done(&cli).len(), 3);
}

#[test]
fn what_cannot_be_said_later_is_refused_with_the_reason() {
    let cli = with(&journal());
    for (arguments, told) in [
        (vec!["void", "dev1-run1-9"], "did you mean dev1-run1-"),
        (vec!["amend", "dev1-run1-1", "--spare", "1"], "only a set"),
        (vec!["amend", "dev1-run1-2", "--hold", "20"], "counts reps"),
        (
            vec!["amend", "dev1-run1-4", "--reps", "20"],
            "counts seconds",
        ),
        (vec!["amend", "dev1-run1-2", "--reps", "8"], "says already"),
        (
            vec!["amend", "dev1-run1-2", "--load", "a lot"],
            "write its unit",
        ),
        (vec!["amend", "dev1-run1-2"], "says already"),
    ] {
        let refused = cli.run([vec!["journal"], arguments].concat()).refused(1);
        assert!(refused.contains(told), "{refused}");
    }
    cli.run(["journal", "void", "dev1-run1-2"]).ok();
    let refused = cli
        .run(["journal", "amend", "dev1-run1-2", "--reps", "5"])
        .refused(1);
    assert!(refused.contains("to bring it back"), "{refused}");
    cli.run(["journal", "void", "dev1-run1-1"]).ok();
    let refused = cli
        .run(["journal", "amend", "dev1-run1-3", "--reps", "5"])
        .refused(1);
    assert!(refused.contains("its session was voided"), "{refused}");
}

#[test]
fn merging_adds_what_is_new_once() {
    let [opened, one, two, three] = journal();
    let cli = with(&[opened.clone(), one.clone()]);
    let newer = opened.replace("v:1,id:\"dev1-run1-1", "v:9,id:\"dev2-run1-1");
    let (newer, _) = newer.split_once(" //").unwrap();
    cli.write("a.ron", &format!("{opened}\n{two}\n{newer}\n"));
    cli.write("b.ron", &format!("scrap\n{three}\n{two}\n"));
    let [a, b] = ["a.ron", "b.ron"].map(|name| cli.home().join(name).display().to_string());
    let merge = |more: &[&str]| {
        let arguments = [&["journal", "merge", &a, &b], more].concat();
        cli.run(arguments)
    };
    let before = files(cli.home());
    let dry = merge(&["--dry-run"]).ok();
    assert!(
        dry.starts_with("2 events and 1 that this version cannot use would be"),
        "{dry}"
    );
    assert_eq!(files(cli.home()), before);
    let ran = merge(&[]);
    assert!(
        ran.stderr
            .contains("b.ron:1:1: warning: no event can be read here"),
        "{}",
        ran.stderr
    );
    assert_eq!(done(&cli).len(), 3);
    let after = files(cli.home());
    assert_eq!(after.len(), before.len() + 1);
    assert!(before.iter().all(|(path, bytes)| after[path] == *bytes));
    let new = after
        .iter()
        .find(|(path, _)| !before.contains_key(*path))
        .unwrap()
        .1;
    let new = String::from_utf8(new.clone()).unwrap();
    assert_eq!(
        new,
        format!("{two}\n{three}\n{newer}\n"),
        "byte for byte, in order"
    );
    assert!(merge(&[]).ok().starts_with("nothing new"));
    assert_eq!(files(cli.home()), after);
    let own = cli.home().join(JOURNAL).display().to_string();
    assert!(
        cli.run(["journal", "merge", &own])
            .ok()
            .starts_with("nothing new")
    );
}

#[test]
fn a_salvaged_file_is_new_and_holds_all_that_can_be_read() {
    let [opened, one, two, three] = journal();
    let torn = &three[..three.len() / 2];
    let cli = Cli::new();
    let damaged = format!(
        "\0\0{opened}{one}\r\nscrap\n\n{}\n{torn}",
        two.replace("22.5", "25")
    );
    cli.write("damaged.ron", &damaged);
    let path = |name: &str| cli.home().join(name).display().to_string();
    let shown = cli.run(["journal", "salvage", &path("damaged.ron")]).ok();
    assert!(
        shown.contains("- scrap\n") && shown.contains("add --to NEW"),
        "{shown}"
    );
    assert!(!cli.home().join("new.ron").exists());
    let salvage = [
        "journal",
        "salvage",
        &path("damaged.ron"),
        "--to",
        &path("new.ron"),
    ];
    let told = cli.run(salvage).ok();
    assert!(told.contains("put it in place of"), "{told}");
    assert_eq!(cli.read("damaged.ron"), damaged, "the damaged file stays");
    let kept = two.replace("22.5", "25");
    assert_eq!(cli.read("new.ron"), format!("{opened}\n{one}\n{kept}\n"));
    let again = cli.run(salvage);
    assert_eq!(again.code(), Some(1));
    assert!(
        again.stderr.contains("new.ron"),
        "never over an existing file: {}",
        again.stderr
    );
}

#[test]
fn resealing_makes_an_edited_line_count_again() {
    let [opened, one, two, _] = journal();
    let edited = two.replace("Reps(8),asked", "Reps(7),asked");
    let (by_hand, _) = one.split_once(" //").unwrap();
    let text = format!("{opened}\n{by_hand}\nscrap\n{edited}");
    let cli = Cli::new();
    cli.write("edited.ron", &text);
    let path = |name: &str| cli.home().join(name).display().to_string();
    let reseal = [
        "journal",
        "reseal",
        &path("edited.ron"),
        "--to",
        &path("sealed.ron"),
    ];
    let told = cli.run(reseal).ok();
    assert!(
        told.contains("line 2\n") && told.contains("line 4\n"),
        "{told}"
    );
    assert!(
        !told.contains("line 1\n") && !told.contains("line 3\n"),
        "{told}"
    );
    assert_eq!(cli.read("edited.ron"), text);
    let sealed = cli.read("sealed.ron");
    let found = read(sealed.as_bytes(), "sealed");
    assert_eq!(found.entries.len(), 3);
    assert_eq!(
        found.problems.len(),
        1,
        "the scrap stays: {:?}",
        found.problems
    );
    assert!(sealed.contains("scrap\n") && sealed.contains("Reps(7)"));
}

fn text(events: &[&Stamped]) -> Vec<u8> {
    let line = |event: &&Stamped| format!("{}\n", write_line(event).unwrap());
    events.iter().map(line).collect::<String>().into_bytes()
}

fn told(record: Record) -> (History, u64) {
    let highest = record.highest_n;
    (
        History::with_damaged(record.events, &record.damaged),
        highest,
    )
}

proptest! {
    /// Whatever is spread over a journal and two files from elsewhere, some of it in all of them
    /// and some of it damaged: merging tells what reading all three does, in any order, and leaves
    /// nothing to merge.
    #[test]
    fn a_merge_is_the_union_whatever_the_order(
        events in tangle(),
        places in prop::collection::vec(0_u8..8, 14),
        hits in prop::collection::vec((0_usize..3, any::<Index>(), any::<u8>()), 0..4),
    ) {
        let of = |bit: u8| -> Vec<&Stamped> {
            let events = events.iter().zip(&places);
            events.filter(|(_, place)| **place & bit != 0).map(|(event, _)| event).collect()
        };
        let mut files = [text(&of(1)), text(&of(2)), text(&of(4))];
        for (file, at, byte) in hits {
            let file = &mut files[file];
            if !file.is_empty() {
                *at.get_mut(file) = byte;
            }
        }
        let [ours, one, other] = files;
        let named = |path: &str, bytes: &[u8]| Other {
            path: path.to_owned(),
            bytes: bytes.to_vec(),
        };
        let journal = || vec![read(&ours, "ours")];
        let merged = merge(journal(), &[named("one", &one), named("other", &other)]);
        let swapped = merge(journal(), &[named("other", &other), named("one", &one)]);
        prop_assert_eq!(&merged.lines, &swapped.lines);
        let all = union(vec![read(&ours, "ours"), read(&one, "one"), read(&other, "other")]);
        let after = || vec![read(&ours, "ours"), read(&merged.lines, "merged")];
        prop_assert_eq!(told(union(after())).0, told(all).0);
        let again = merge(after(), &[named("one", &one), named("other", &other)]);
        prop_assert_eq!(again.lines, Vec::<u8>::new());
    }

    /// A salvaged file tells what the damaged one does, and there is nothing more to salvage in it.
    #[test]
    fn salvage_tells_the_same(
        events in tangle(),
        hits in prop::collection::vec((any::<Index>(), any::<u8>()), 0..6),
    ) {
        let mut file = text(&events.iter().collect::<Vec<_>>());
        for (at, byte) in hits {
            if !file.is_empty() {
                *at.get_mut(&mut file) = byte;
            }
        }
        let mended = salvage(&file);
        let before = union(vec![read(&file, "a")]);
        let after = union(vec![read(&mended.bytes, "a")]);
        prop_assert_eq!(told(after), told(before));
        prop_assert_eq!(salvage(&mended.bytes).changes, vec![]);
        prop_assert_eq!(reseal(&reseal(&file).bytes).changes, vec![]);
    }
}
