//! What must hold for any bytes at all: each target takes an input and panics where it does not.
//! `tests/fuzz/` feeds them millions; here the small corpus that it keeps is played again.

pub mod exercises;
pub mod journal;
pub mod keys;
pub mod lines;
pub mod person;
pub mod place;
pub mod program;
pub mod spreadsheet;

use rackside::domain::diagnostic::{Diagnostic, is_unsafe};

/// A thing to be fuzzed: its name, which is that of its folder of inputs, and what it is asked.
pub type Target = (&'static str, fn(&[u8]));

/// All of them.
pub const TARGETS: [Target; 8] = [
    ("exercises", exercises::run),
    ("journal", journal::run),
    ("keys", keys::run),
    ("lines", lines::run),
    ("person", person::run),
    ("place", place::run),
    ("program", program::run),
    ("spreadsheet", spreadsheet::run),
];

/// Asks that a text can be printed: nothing in it steers a terminal.
fn printable(text: &str) {
    let steers = |c: &char| is_unsafe(*c) && *c != '\n';
    assert_eq!(text.chars().find(steers), None, "{text:?}");
}

/// Asks that problems are said, each printably.
fn told(problems: &[Diagnostic]) {
    assert!(!problems.is_empty(), "refused, and nothing said");
    for problem in problems {
        printable(&problem.to_string());
    }
}

#[test]
fn every_kept_input_holds() {
    let corpus = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus");
    for (name, run) in TARGETS {
        let folder = std::fs::read_dir(corpus.join(name)).expect("a folder of inputs");
        let mut inputs: Vec<_> = folder.map(|entry| entry.unwrap().path()).collect();
        inputs.sort();
        assert!(!inputs.is_empty(), "no inputs for {name}");
        for input in inputs {
            // The last one named is the one that failed.
            println!("{}", input.display());
            run(&std::fs::read(&input).expect("an input"));
        }
    }
}
