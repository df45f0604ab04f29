//! The README says what the program does: keys from the table that handles them, an example that
//! loads, the floor as it looks.

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
