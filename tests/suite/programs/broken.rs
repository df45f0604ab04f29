//! Broken programs, each with the exact words that are said of it and the same file after the
//! advice was followed. The words were read and judged by eye before they were written down.

use crate::files;
use rackside::domain::program::ProgramId;
use rackside::formats::program_file;
use std::fs;
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/programs-broken")
}

fn said(name: &str, text: &str) -> String {
    let id = ProgramId::new("broken").unwrap();
    let read = program_file::read(name, &id, text, &files::catalogue());
    let problems = read.err().unwrap_or_default();
    problems
        .iter()
        .map(|problem| format!("{problem}\n"))
        .collect()
}

/// Each case by name: `NAME.ron` is broken, `NAME.txt` what is said, `NAME.mended.ron` after it.
fn cases() -> Vec<String> {
    let entries = fs::read_dir(folder()).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names
        .filter_map(|name| name.strip_suffix(".txt").map(str::to_owned))
        .collect()
}

#[test]
fn every_broken_program_is_refused_in_these_words() {
    let cases = cases();
    assert!(cases.len() >= 45, "{} broken programs", cases.len());
    let mut wrong = String::new();
    for case in &cases {
        let read = |ending: &str| fs::read_to_string(folder().join(format!("{case}{ending}")));
        let found = said(&format!("{case}.ron"), &read(".ron").unwrap());
        let expected = read(".txt").unwrap();
        assert!(!expected.is_empty(), "{case} is not broken");
        if found != expected {
            wrong += &format!("--- {case}, expected:\n{expected}--- found:\n{found}");
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn following_the_advice_mends_each() {
    for case in cases() {
        let path = folder().join(format!("{case}.mended.ron"));
        let found = said(&case, &fs::read_to_string(path).unwrap());
        assert_eq!(found, "", "{case}");
    }
}
