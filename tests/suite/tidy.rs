//! The house rules, held over every source file. There is no list of exceptions.
//!
//! Each rule carries a sample that breaks it and one that keeps it, so that it is known to be
//! able to fail.

mod clock;
mod files;
mod imports;
mod manual;
mod names;
mod panics;
mod size;
mod source;

use source::Source;
use std::fs;
use std::path::{Path, PathBuf};

/// A rule over one source file.
struct Rule {
    /// What it asks, said in the failure.
    asks: &'static str,
    /// What a file does against it, one line each.
    check: fn(&Source) -> Vec<String>,
    /// Samples that must be found, as path and text.
    bad: &'static [(&'static str, &'static str)],
    /// Samples that must pass.
    good: &'static [(&'static str, &'static str)],
}

fn rules() -> Vec<&'static Rule> {
    let groups = [
        imports::RULES,
        clock::RULES,
        files::RULES,
        size::RULES,
        names::RULES,
        panics::RULES,
    ];
    groups.into_iter().flatten().collect()
}

#[test]
fn every_source_file_keeps_the_house_rules() {
    let mut found = Vec::new();
    for source in sources() {
        for rule in rules() {
            for finding in (rule.check)(&source) {
                found.push(format!(
                    "{}:{finding}\n    rule: {}",
                    source.path, rule.asks
                ));
            }
        }
    }
    assert!(found.is_empty(), "\n{}", found.join("\n"));
}

#[test]
fn every_rule_can_fail() {
    for rule in rules() {
        assert!(!rule.bad.is_empty(), "no bad sample: {}", rule.asks);
        for (path, text) in rule.bad {
            let found = (rule.check)(&Source::new(path, text));
            assert!(!found.is_empty(), "{} lets pass {path}:\n{text}", rule.asks);
        }
        for (path, text) in rule.good {
            let found = (rule.check)(&Source::new(path, text));
            assert!(found.is_empty(), "{} refuses {path}: {found:?}", rule.asks);
        }
    }
}

/// The folder that holds Cargo.toml.
fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every Rust file under `src` and `tests/suite`.
fn sources() -> Vec<Source> {
    let mut paths = Vec::new();
    for folder in ["src", "tests/suite"] {
        gather(&root().join(folder), &mut paths);
    }
    let rust = paths
        .into_iter()
        .filter(|path| path.extension().is_some_and(|e| e == "rs"));
    let read = |path: PathBuf| {
        let text = fs::read_to_string(&path).expect("a source file is readable");
        Source::new(&relative(&path), &text)
    };
    rust.map(read).collect()
}

/// Files and folders below a folder, the folder itself left out.
fn gather(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            gather(&path, found);
        }
        found.push(path);
    }
}

/// A path as it stands below the root, with slashes.
fn relative(path: &Path) -> String {
    let below = path.strip_prefix(root()).expect("below the root");
    below.to_string_lossy().replace('\\', "/")
}
