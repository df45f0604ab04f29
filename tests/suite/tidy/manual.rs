//! DEVELOPERS.md is true: what it names exists, and what exists it names.

use super::{gather, relative, root};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const TOP_LEVEL: [&str; 15] = [
    ".ci",
    ".gitignore",
    "CHANGELOG.md",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "SECURITY.md",
    "programs",
    "shared",
    "sounds",
    "src",
    "tests",
];

/// What cargo and git make, and nobody commits.
const MADE: [&str; 2] = [".git", "target"];

#[test]
fn developers_md_names_only_what_exists() {
    let missing = missing_paths(&manual(), |path| {
        root().join(path).exists() || root().join("src").join(path).exists()
    });
    assert!(
        missing.is_empty(),
        "DEVELOPERS.md names what is not there: {missing:?}"
    );
}

#[test]
fn a_missing_path_is_found() {
    let text = "See `src/attic/`, `src/main.rs`, `cargo test`, `crate::ui`, `gone.rs`.\n\
                ```\n`tests/gone/`\n```\nand `tests/suite/<name>.rs`";
    let missing = missing_paths(text, |path| path == "src/main.rs" || path == "tests/suite");
    assert_eq!(missing, ["src/attic", "gone.rs"]);
}

#[test]
fn developers_md_names_every_folder_of_the_source() {
    let named: Vec<String> = paths(&manual())
        .into_iter()
        .map(|path| at_root(&path))
        .collect();
    let mut found = Vec::new();
    gather(&root().join("src"), &mut found);
    let folders = found.iter().filter(|path| holds_code(path, &found));
    let unnamed: Vec<String> = folders
        .map(|path| relative(path))
        .filter(|folder| !named.contains(folder))
        .collect();
    assert!(
        unnamed.is_empty(),
        "DEVELOPERS.md does not say what is in {unnamed:?}"
    );
}

#[test]
fn the_top_level_holds_only_what_readers_expect() {
    let extra: Vec<String> = top_level()
        .into_iter()
        .filter(|name| !TOP_LEVEL.contains(&name.as_str()))
        .collect();
    assert!(extra.is_empty(), "no place at the top level for {extra:?}");
}

/// Whether a folder holds more than the unit tests of the module that it is named after.
fn holds_code(folder: &Path, all: &[PathBuf]) -> bool {
    let mut inside = all.iter().filter(|path| path.parent() == Some(folder));
    folder.is_dir() && inside.any(|path| !path.ends_with("tests.rs"))
}

#[test]
fn a_folder_of_tests_alone_needs_no_line() {
    let src = root().join("src");
    let all = |names: &[&str]| names.iter().map(|name| src.join(name)).collect::<Vec<_>>();
    assert!(!holds_code(&src, &all(&["tests.rs"])));
    assert!(holds_code(&src, &all(&["tests.rs", "lib.rs"])));
}

/// The names at the top that are committed; of an unpacked package, all of them.
fn top_level() -> Vec<String> {
    let git = Command::new("git")
        .arg("ls-files")
        .current_dir(root())
        .output();
    let listed = git.ok().filter(|git| git.status.success());
    let first = |path: &str| path.split('/').next().unwrap_or(path).to_owned();
    let mut names: Vec<String> = match listed {
        Some(git) => String::from_utf8_lossy(&git.stdout)
            .lines()
            .map(first)
            .collect(),
        None => fs::read_dir(root())
            .expect("the top level")
            .map(|entry| {
                entry
                    .expect("an entry")
                    .file_name()
                    .to_string_lossy()
                    .into_owned()
            })
            .filter(|name| !MADE.contains(&name.as_str()))
            .collect(),
    };
    names.sort();
    names.dedup();
    names
}

fn manual() -> String {
    fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md")
}

/// A path below `src` may be named without it.
fn at_root(path: &str) -> String {
    if root().join(path).exists() {
        path.to_owned()
    } else {
        format!("src/{path}")
    }
}

fn missing_paths(text: &str, exists: impl Fn(&str) -> bool) -> Vec<String> {
    paths(text)
        .into_iter()
        .filter(|path| !exists(path))
        .collect()
}

/// The code spans that are paths: with a slash or a known ending, and without blanks. Of
/// `tests/suite/<name>.rs` the part before the gap.
fn paths(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut fenced = false;
    for line in text.lines() {
        if line.trim_start().starts_with("```") {
            fenced = !fenced;
        } else if !fenced {
            found.extend(line.split('`').skip(1).step_by(2).filter_map(path));
        }
    }
    found
}

fn path(span: &str) -> Option<String> {
    let endings = [".rs", ".md", ".ron", ".toml"];
    let ends = endings.iter().any(|ending| span.ends_with(ending));
    let looks = span.contains('/') || ends;
    let odd = span.contains([' ', '=', '$', '~']) || span.contains("::") || span.starts_with('/');
    if !looks || odd {
        return None;
    }
    let known = span.split(['<', '*', '{']).next().unwrap_or(span);
    let known = known
        .rsplit_once('/')
        .filter(|_| known != span)
        .map_or(known, |(head, _)| head);
    Some(known.trim_end_matches('/').to_owned()).filter(|path| !path.is_empty())
}
