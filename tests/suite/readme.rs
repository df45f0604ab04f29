//! The README says what the program does: keys from the table that handles them, an example that
//! loads, the floor as it looks.

use crate::rig::cli::Cli;
use rackside::app::keymap::{Mode, shown};
use rackside::domain::program::ProgramId;
use rackside::formats::program_file;
use std::fs;
use std::path::Path;

fn readme() -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap()
}

/// The key list as the README shows it.
fn keys() -> String {
    let mut rows = String::from("| digits Enter | the coming set is done with these reps |\n");
    for row in shown(Mode::Floor) {
        rows += &format!("| {} | {} |\n", row.shown, row.help);
    }
    rows
}

#[test]
fn the_key_list_is_the_table_that_handles_keys() {
    assert!(
        readme().contains(&keys()),
        "the README's key list should be:\n{}",
        keys()
    );
}

#[test]
fn every_command_is_in_the_readme() {
    let help = Cli::new().run(["--help"]).ok();
    let commands = help.split("Commands:\n").nth(1).unwrap();
    let commands = commands.split("\n\n").next().unwrap();
    // A command's line is indented by two; the lines that go on with its sentence by more.
    let names = commands.lines().filter_map(|line| line.strip_prefix("  "));
    let names = names.filter(|line| !line.starts_with(' '));
    let names: Vec<&str> = names.filter_map(|line| line.split(' ').next()).collect();
    assert!(
        names.contains(&"brief") && names.contains(&"demo"),
        "{help}"
    );
    for name in names.into_iter().filter(|name| *name != "help") {
        let row = format!("| `rackside {name}");
        assert!(readme().contains(&row), "README.md has no row for {name}");
    }
}

#[test]
fn the_picture_is_a_screen_and_the_rust_version_is_the_crates() {
    let readme = readme();
    let picture = readme.split("```text\n").nth(1).unwrap();
    let picture: Vec<&str> = picture.split("```").next().unwrap().lines().collect();
    assert_eq!(picture.len(), 24);
    assert!(picture.iter().all(|line| line.chars().count() <= 80));
    let version = concat!("Rust ", env!("CARGO_PKG_RUST_VERSION"), " or newer");
    assert!(readme.contains(version), "{version}");
}

#[test]
fn the_example_program_loads() {
    let readme = readme();
    let example = readme
        .split("```ron\n")
        .nth(1)
        .unwrap()
        .split("```")
        .next()
        .unwrap();
    let id = ProgramId::new("lunch_break").unwrap();
    let read = program_file::read("example.ron", &id, example, &crate::files::catalogue());
    assert!(read.is_ok(), "{}", read.unwrap_err()[0]);
}

#[test]
fn the_cautions_are_the_ones_the_program_shows() {
    use rackside::domain::words::caution::{ASK_FIRST, STOP_SIGNS};
    let plain = |text: &str| {
        text.split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .to_lowercase()
    };
    let readme = plain(&readme());
    for sign in [
        "heart disease",
        "hernia",
        "chest",
        "headache",
        "faintness",
        "numb",
    ] {
        assert!(readme.contains(sign), "{sign}");
        assert!(
            plain(ASK_FIRST).contains(sign) || plain(STOP_SIGNS).contains(sign),
            "{sign}"
        );
    }
}
