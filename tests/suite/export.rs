//! `rackside export csv` and `json`: flat rows that other programs read.

use crate::rig::cli::Cli;
use rackside::domain::session::{Event, EventId, Stamped};
use rackside::domain::units::Civil;
use rackside::formats::export::Rows;
use rackside::formats::journal;
use std::collections::BTreeSet;
use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};

/// A home with an invented lifter's journal.
fn demo() -> Cli {
    let cli = Cli::new();
    let _ = cli
        .run(
            ["demo", "--write-only", "--seed", "1", "--home"]
                .map(str::to_owned)
                .into_iter()
                .chain([cli.home().to_string_lossy().into_owned()]),
        )
        .ok();
    cli
}

/// Every column of every kind of rows stands in the page, under its heading, and no other does.
#[test]
fn the_page_names_every_column() {
    let page = include_str!("../../shared/export.md");
    let cli = demo();
    for rows in Rows::ALL {
        let csv = cli.run(["export", "csv", "--rows", rows.name()]).ok();
        let columns: BTreeSet<&str> = csv.lines().next().expect("names").split(',').collect();
        let heading = format!("## `--rows {}`", rows.name());
        let (_, part) = page.split_once(&heading).expect("its part of the page");
        let part = part.split("\n## ").next().unwrap_or_default();
        let named: BTreeSet<&str> = part
            .lines()
            .filter_map(|line| line.strip_prefix("| `")?.split(" | ").next())
            .flat_map(|names| names.split(", "))
            .map(|name| name.trim_matches('`'))
            .collect();
        assert_eq!(named, columns, "{}", rows.name());
    }
}

/// RFC 4180: the same number of fields in each record, CR LF behind each of them.
#[test]
fn csv_is_as_the_standard_says() {
    let cli = demo();
    for rows in Rows::ALL {
        let csv = cli.run(["export", "csv", "--rows", rows.name()]).ok();
        assert!(csv.ends_with("\r\n"), "{}", rows.name());
        assert_eq!(csv.matches('\n').count(), csv.matches("\r\n").count());
        let mut reader = csv::Reader::from_reader(csv.as_bytes());
        let records = reader.records().collect::<Result<Vec<_>, _>>();
        let count = records.expect("all as wide as the first").len();
        let json = cli.run(["export", "json", "--rows", rows.name()]).ok();
        assert_eq!(json.lines().count(), count);
        for line in json.lines() {
            let object: serde_json::Value = serde_json::from_str(line).expect("JSON");
            assert!(object.as_object().is_some_and(|object| !object.is_empty()));
        }
    }
}

/// One session with a note and a set, and an added load below nought.
fn noted(note: &str) -> Cli {
    let cli = Cli::new();
    let at = Civil::parse("2026-11-19T18:22:05.123+01:00").expect("a time");
    let sample = include_str!("../data/journals/1-imports.ron");
    let entries = journal::read(sample.as_bytes(), "sample").entries;
    let mut day = entries[1].stamped.clone();
    if let Event::Imported(day) = &mut day.event {
        day.part = None;
        day.notes = vec![note.to_owned()];
    }
    let stamped = Stamped {
        id: EventId("dev1-run1-1".to_owned()),
        n: 1,
        at,
        ..day
    };
    let line = journal::write_line(&stamped).expect("a line");
    cli.write("data/journal/2026-dev1.ron", &format!("{line}\n"));
    cli
}

/// What begins like a formula is a text with an apostrophe; a number is never touched (OWASP, CSV
/// Injection, names the signs).
#[test]
fn formulas_are_guarded_and_numbers_are_not() {
    for note in ["=1+1", "+1", "-1", "@sum", "＝1", "\u{202e}=1"] {
        let cli = noted(note);
        let csv = cli.run(["export", "csv"]).ok();
        let mut reader = csv::Reader::from_reader(csv.as_bytes());
        let names = reader.headers().expect("names").clone();
        let row = reader.records().next().expect("a row").expect("a row");
        let cell = |name: &str| {
            let place = names
                .iter()
                .position(|other| other == name)
                .expect("a column");
            row.get(place).expect("a cell").to_owned()
        };
        let shown = note.replace('\u{202e}', "\u{fffd}");
        let guard = if shown == note { "'" } else { "" };
        assert_eq!(cell("notes"), format!("{guard}{shown}"));
        assert_eq!(cell("load_kg"), "-15");
        assert_eq!(cell("load"), "body -15 kg");
        let json = cli.run(["export", "json"]).ok();
        let object: serde_json::Value = serde_json::from_str(&json).expect("JSON");
        assert_eq!(object["notes"], shown);
        assert_eq!(object["load_kg"], -15.0);
    }
}

#[test]
fn a_file_is_new_whole_and_private() {
    let cli = demo();
    let path = |name: &str| cli.home().join(name).to_string_lossy().into_owned();
    let export = |more: &[&str]| cli.run(["export", "csv"].iter().chain(more));
    let out = path("out.csv");
    let _ = export(&["-o", &out]).ok();
    let mode = fs::metadata(&out).expect("a file").permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
    let whole = fs::read_to_string(&out).expect("a text");
    assert_eq!(whole, export(&[]).ok());
    fs::write(&out, "mine").expect("written");
    let refused = export(&["-o", &out]);
    assert_eq!(refused.code(), Some(1));
    assert!(refused.stderr.contains("--overwrite"), "{}", refused.stderr);
    assert_eq!(fs::read_to_string(&out).expect("a text"), "mine");
    let _ = export(&["-o", &out, "--overwrite"]).ok();
    assert_eq!(fs::read_to_string(&out).expect("a text"), whole);
    let link = path("link.csv");
    fs::write(&out, "mine").expect("written");
    symlink(&out, &link).expect("a link");
    assert_eq!(export(&["-o", &link]).code(), Some(1));
    assert_eq!(export(&["-o", &link, "--overwrite"]).code(), Some(1));
    symlink(path("nowhere"), path("dangling.csv")).expect("a link");
    assert_eq!(export(&["-o", &path("dangling.csv")]).code(), Some(1));
    assert_eq!(fs::read_to_string(&out).expect("a text"), "mine");
    let names = fs::read_dir(cli.home()).expect("a folder");
    let left = names.filter(|name| {
        let name = name.as_ref().expect("a name").file_name();
        name.to_string_lossy().contains(".new")
    });
    assert_eq!(left.count(), 0, "nothing is left beside");
}

/// What is exported can be taken in elsewhere, and says the same there.
#[test]
fn an_export_is_a_spreadsheet_that_can_be_imported() {
    let cli = demo();
    let csv = cli.run(["export", "csv"]).ok();
    let other = Cli::new();
    other.write("all.csv", &csv);
    let file = other.home().join("all.csv");
    let ran = other.run(["import", "csv", file.to_str().expect("a path"), "--record"]);
    assert!(ran.ok().contains("recorded"));
    let again = other.run(["export", "csv"]).ok();
    let kept = [
        "date", "exercise", "kind", "load", "reps", "seconds", "spare", "effort", "minutes",
    ];
    assert_eq!(columns(&again, &kept), columns(&csv, &kept));
}

fn columns(csv: &str, names: &[&str]) -> Vec<Vec<String>> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let head = reader.headers().expect("names").clone();
    let places: Vec<usize> = names
        .iter()
        .map(|name| {
            head.iter()
                .position(|other| other == *name)
                .expect("a column")
        })
        .collect();
    let rows = reader.records().map(|row| row.expect("a row"));
    rows.map(|row| places.iter().map(|place| row[*place].to_owned()).collect())
        .collect()
}

#[test]
fn an_empty_journal_exports_names_alone() {
    let cli = Cli::new();
    for rows in Rows::ALL.into_iter().filter(|rows| *rows != Rows::Odds) {
        let csv = cli.run(["export", "csv", "--rows", rows.name()]).ok();
        assert_eq!(csv.lines().count(), 1, "{}", rows.name());
    }
}
