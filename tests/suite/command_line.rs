//! What people expect of any command: help, exit codes, streams, pipes.

use crate::rig::cli::Cli;
use std::fs::OpenOptions;

#[test]
fn help_is_short_narrow_and_warns() {
    let help = Cli::new().run(["--help"]).ok();
    for line in help.lines() {
        assert!(line.chars().count() <= 80, "too wide: {line}");
    }
    for word in [
        "Examples:",
        "pregnant",
        "under 16",
        "chest",
        "never diagnoses",
        "licensed",
    ] {
        let found = help.to_lowercase().contains(&word.to_lowercase());
        assert!(found, "no {word:?} in:\n{help}");
    }
}

#[test]
fn help_needs_no_home() {
    let cli = Cli::new().env("HOME", "").env("RACKSIDE_HOME", "");
    assert_eq!(cli.run(["-h"]).code(), Some(0));
}

#[test]
fn version_is_one_line() {
    let version = concat!("rackside ", env!("CARGO_PKG_VERSION"), "\n");
    assert_eq!(Cli::new().run(["--version"]).ok(), version);
}

#[test]
fn unknown_words_are_a_usage_error() {
    let said = Cli::new().run(["--no-such-thing"]).refused(2);
    assert!(said.contains("--no-such-thing"), "{said}");
    assert!(said.contains("--help"), "{said}");
}

#[test]
fn the_session_refuses_where_there_is_no_terminal() {
    let said = Cli::new().run([""; 0]).refused(2);
    assert!(said.contains("terminal"), "{said}");
    assert!(said.contains("rackside --help"), "{said}");
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_device_is_an_error_not_a_panic() {
    let full = OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .expect("/dev/full");
    let ran = Cli::new().run_into(full, ["--help"]);
    assert_eq!(ran.code(), Some(1), "{}", ran.stderr);
    assert!(
        ran.stderr.starts_with("rackside: cannot write the result:"),
        "{}",
        ran.stderr
    );
}

#[test]
fn a_reader_that_went_away_ends_it_quietly() {
    let (reader, writer) = std::io::pipe().expect("a pipe");
    drop(reader);
    let cli = Cli::new();
    let ended = cli
        .command(["--help"])
        .stdout(writer)
        .output()
        .expect("the binary ends");
    assert_eq!(ended.status.code(), Some(0));
    assert_eq!(String::from_utf8_lossy(&ended.stderr), "");
}
