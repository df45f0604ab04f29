//! The invented lifter's records.

use crate::rig::cli::Cli;
use crate::rig::pty::Pty;
use chrono::{DateTime, Datelike, FixedOffset, Timelike};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

fn write(cli: &Cli, folder: &Path, seed: &str) -> crate::rig::cli::Ran {
    write_sets(cli, folder, seed, "500")
}

fn write_sets(cli: &Cli, folder: &Path, seed: &str, sets: &str) -> crate::rig::cli::Ran {
    let folder = folder.to_str().unwrap();
    let arguments = ["--home", folder, "--seed", seed, "--sets", sets];
    let until = ["--until", "2026-06-30"];
    let all = ["demo", "--write-only"].into_iter().chain(arguments);
    cli.run(all.chain(until))
}

/// The sets of an invented home, as `journal list --json` gives them.
fn listed(folder: &Path) -> Vec<Value> {
    let reader = Cli::new().env("RACKSIDE_HOME", folder.to_str().unwrap());
    let listed = reader.run(["journal", "list", "--json"]).ok();
    let read = |line| serde_json::from_str(line).unwrap();
    listed.lines().map(read).collect()
}

fn bytes(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut files: Vec<(String, Vec<u8>)> = fs::read_dir(folder.join("data/journal"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| {
            (
                path.file_name().unwrap().to_str().unwrap().into(),
                fs::read(path).unwrap(),
            )
        })
        .collect();
    files.sort();
    files
}

#[test]
fn the_same_arguments_write_the_same_bytes_and_other_seeds_others() {
    let cli = Cli::new();
    let (a, b, c) = (
        cli.home().join("a"),
        cli.home().join("b"),
        cli.home().join("c"),
    );
    for (folder, seed) in [(&a, "3"), (&b, "3"), (&c, "4")] {
        let ran = write(&cli, folder, seed);
        assert!(ran.status.success(), "{}", ran.stderr);
    }
    assert_eq!(bytes(&a), bytes(&b));
    assert_ne!(bytes(&a), bytes(&c));
    assert!(
        bytes(&a).iter().all(|(name, _)| name.contains("invented")),
        "plainly marked"
    );
}

#[test]
fn the_records_read_back_whole_and_a_journal_is_never_written_over() {
    let cli = Cli::new();
    let folder = cli.home().join("a");
    assert!(write(&cli, &folder, "3").status.success());
    let again = write(&cli, &folder, "3");
    assert_eq!(again.status.code(), Some(1));
    assert!(
        again.stderr.contains("holds a journal already"),
        "{}",
        again.stderr
    );
    let reader = Cli::new().env("RACKSIDE_HOME", folder.to_str().unwrap());
    let listed = reader.run(["journal", "list", "--json"]);
    assert_eq!(listed.stdout.lines().count(), 500);
    assert!(!listed.stderr.contains("warning"), "{}", listed.stderr);
    let brief = reader.run(["brief"]);
    assert!(brief.stdout.contains("last,"), "{}", brief.stdout);
}

#[test]
fn the_records_look_like_a_life() {
    let cli = Cli::new();
    for seed in ["1", "2", "3"] {
        let folder = cli.home().join(seed);
        let _ = write(&cli, &folder, seed).ok();
        let sets = listed(&folder);
        let at = |set: &Value| DateTime::parse_from_rfc3339(set["at"].as_str().unwrap()).unwrap();
        let times: Vec<DateTime<FixedOffset>> = sets.iter().map(at).collect();
        assert!(times.is_sorted());
        assert!(times.iter().all(|at| (9..21).contains(&at.hour())));
        let mut days: Vec<i32> = times.iter().map(Datelike::num_days_from_ce).collect();
        days.dedup();
        let gaps: Vec<i32> = days.windows(2).map(|pair| pair[1] - pair[0]).collect();
        assert!(gaps.iter().all(|gap| *gap >= 2), "never two days in a row");
        assert!(gaps.iter().any(|gap| *gap > 10), "a lay-off: {gaps:?}");
        assert!(
            gaps.iter().any(|gap| (4..=10).contains(gap)),
            "a missed day: {gaps:?}"
        );
    }
}

#[test]
fn sets_tire_and_spare_is_said_now_and_then() {
    let cli = Cli::new();
    let folder = cli.home().join("a");
    let _ = write(&cli, &folder, "1").ok();
    let sets = listed(&folder);
    let said = sets.iter().filter(|set| set["spare"].is_number()).count();
    assert!(said > 100 && said < 400, "{said} of 500");
    let mut reps: BTreeMap<(String, String), Vec<u64>> = BTreeMap::new();
    for set in &sets {
        let day = set["at"].as_str().unwrap()[..10].to_owned();
        let exercise = set["exercise"].as_str().unwrap().to_owned();
        let all = reps.entry((day, exercise)).or_default();
        all.extend(set["reps"].as_u64());
    }
    let fall = |all: &&Vec<u64>| all.last() < all.first();
    let rise = |all: &&Vec<u64>| all.last() > all.first();
    let (falling, rising) = (
        reps.values().filter(fall).count(),
        reps.values().filter(rise).count(),
    );
    assert!(falling > 10 && falling > 3 * rising, "{falling} {rising}");
}

#[test]
fn loads_can_be_made_at_the_place_and_rise_over_the_years() {
    let cli = Cli::new();
    let folder = cli.home().join("a");
    let _ = write_sets(&cli, &folder, "1", "3000").ok();
    let places = crate::files::places();
    let home = places
        .iter()
        .find(|place| place.id.as_str() == "home")
        .unwrap();
    let catalogue = crate::files::catalogue();
    let mut loads: BTreeMap<String, Vec<f64>> = BTreeMap::new();
    for set in listed(&folder) {
        let Some(kg) = set["load"]["kg"].as_f64() else {
            continue;
        };
        let name = set["exercise"].as_str().unwrap();
        let exercise = catalogue.iter().find(|e| e.id.as_str() == name).unwrap();
        let mut makeable = home.makeable(exercise.implement()).into_iter();
        let text = set["load"]["text"].as_str().unwrap();
        assert!(
            makeable.any(|made| made.load.to_string() == text),
            "{name} at {text}"
        );
        loads.entry(name.to_owned()).or_default().push(kg);
    }
    let mean = |some: &[f64]| some.iter().sum::<f64>() / some.len() as f64;
    let heavier = |all: &&Vec<f64>| mean(&all[all.len() / 2..]) > mean(&all[..all.len() / 2]);
    let rising = loads.values().filter(heavier).count();
    assert!(rising * 4 > loads.len() * 3, "{rising} of {}", loads.len());
}

#[test]
fn a_lifters_file_is_never_among_invented_records() {
    let cli = Cli::new();
    let folder = cli.home().join("a");
    cli.write("a/config/lifter.ron", "(unit: Kg)");
    let refused = write(&cli, &folder, "1");
    assert_eq!(refused.code(), Some(1));
    assert!(refused.stderr.contains("a lifter's file"));
    assert_eq!(cli.read("a/config/lifter.ron"), "(unit: Kg)");
    assert!(!folder.join("data").exists());
}

#[test]
fn nonsense_is_refused_at_once() {
    let cli = Cli::new();
    let text = cli.run(["demo", "--sets", "100000001"]).refused(2);
    assert!(text.contains("0..=100000000"), "{text}");
    let home = cli.home().join("a");
    let until = ["--until", "1969-12-31", "--home", home.to_str().unwrap()];
    let all = ["demo", "--write-only"].into_iter().chain(until);
    assert!(cli.run(all).refused(2).contains("1970-01-01"));
    let text = cli.run(["demo"]).refused(2);
    assert!(text.contains("needs a terminal"), "{text}");
}

#[test]
fn the_demo_says_that_it_is_invented_and_leaves_nothing() {
    let cli = Cli::new();
    let left = || fs::read_dir(cli.home()).unwrap().count();
    for signal in [None, Some("TERM")] {
        let mut pty = Pty::start_demo(cli.home());
        let ready = |screen: &str| screen.contains("Enter start");
        let briefing = pty.wait_for(ready, "the briefing");
        assert!(briefing.contains("invented records"), "{briefing}");
        pty.keys("\r");
        pty.wait("REAR-FOOT-RAISED SPLIT SQUAT");
        pty.wait("invented records");
        assert_eq!(left(), 1, "one temporary home");
        match signal {
            None => pty.keys("q"),
            Some(signal) => pty.signal(signal),
        }
        pty.exit();
        let there: Vec<_> = walk(cli.home());
        assert_eq!(left(), 0, "it went with the program: {there:?}");
    }
}

/// Everything below a folder.
fn walk(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let below = |path: PathBuf| [vec![path.clone()], walk(&path)].concat();
    entries.flat_map(|entry| below(entry.path())).collect()
}
