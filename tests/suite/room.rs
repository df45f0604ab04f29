//! No room for what is written, on the real disk: a limit on the size of files has a write end
//! short and the next one refused, as a full disk does; it needs neither root nor a mount.

use crate::rig::cli::{Cli, Ran};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Stdio;

/// A block of the limit that the shell sets (POSIX, ulimit -f), in bytes.
const BLOCK: usize = 512;

/// The program where no file may grow beyond so many blocks.
fn within(cli: &Cli, blocks: usize, arguments: &[&str]) -> Ran {
    let program = cli.command(arguments);
    let mut shell = std::process::Command::new("/bin/sh");
    shell
        .env_clear()
        .args(["-c", &format!("ulimit -f {blocks}; exec \"$@\""), "sh"])
        .arg(program.get_program())
        .args(program.get_args())
        .current_dir(cli.home())
        .stdin(Stdio::null());
    for (name, value) in program.get_envs() {
        shell.env(name, value.unwrap_or_default());
    }
    Ran::from(shell.output().expect("a shell"))
}

/// The one file of a journal.
fn journal(cli: &Cli) -> PathBuf {
    let folder = fs::read_dir(cli.home().join("data/journal")).expect("a journal");
    let mut files = folder.map(|entry| entry.expect("an entry").path());
    let file = files.next().expect("a file");
    assert_eq!(files.next(), None);
    file
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let name = |entry: fs::DirEntry| entry.file_name().to_string_lossy().into_owned();
    let mut names: Vec<String> = entries
        .map(|entry| name(entry.expect("an entry")))
        .collect();
    names.sort();
    names
}

fn program(cli: &Cli) -> serde_json::Value {
    let brief: serde_json::Value =
        serde_json::from_str(&cli.run(["brief", "--json"]).ok()).expect("JSON");
    brief["program"].clone()
}

const ADOPT: [&str; 3] = ["program", "adopt", "small_room"];

/// What was begun of a line stays, is told, and is no event; the next line stands on its own.
#[test]
fn a_line_that_found_no_room_is_told_and_hinders_no_other() {
    let cli = Cli::new();
    let _ = cli.run(["program", "adopt", "three_steps"]).ok();
    let path = journal(&cli);
    let mut before = fs::read(&path).expect("the journal");
    // Empty lines, until a part of the next one fits.
    before.resize(4 * BLOCK - 50, b'\n');
    fs::write(&path, &before).expect("written");
    let ran = within(&cli, 4, &ADOPT);
    assert_eq!(ran.code(), Some(1), "{}", ran.stderr);
    let told = ran.stderr.contains("cannot record in") && ran.stderr.contains("too large");
    assert!(told, "{}", ran.stderr);
    let short = fs::read(&path).expect("the journal");
    assert_eq!(short.len(), 4 * BLOCK, "a part of the line was written");
    assert!(short.starts_with(&before));
    assert_eq!(program(&cli), "three_steps", "a part is no event");
    // Nothing fits now: what is there is left alone, and can be looked at.
    assert_eq!(within(&cli, 4, &ADOPT).code(), Some(1));
    assert_eq!(fs::read(&path).expect("the journal"), short);
    assert_eq!(within(&cli, 4, &["brief"]).code(), Some(0));
    let _ = cli.run(ADOPT).ok();
    let after = fs::read(&path).expect("the journal");
    assert!(after.starts_with(&short));
    assert_eq!(after[short.len()], b'\n', "the next line stands on its own");
    assert_eq!(program(&cli), "small_room");
    let checked = cli.run(["journal", "check"]);
    assert_eq!(checked.code(), Some(3), "the part is reported");
}

/// An export that finds no room leaves nothing behind, and what stood there as it was.
#[test]
fn an_export_that_found_no_room_leaves_nothing_behind() {
    let cli = Cli::new();
    let folder = cli.home().to_string_lossy().into_owned();
    let _ = cli
        .run(["demo", "--write-only", "--sets", "200", "--home", &folder])
        .ok();
    fs::create_dir(cli.home().join("out")).expect("a folder");
    let to = cli.home().join("out/sets.csv");
    let file = to.to_string_lossy();
    let export = ["export", "csv", "-o", &file, "--overwrite"];
    for (arguments, stands) in [(&export[..4], None), (&export[..], Some("mine"))] {
        if let Some(mine) = stands {
            fs::write(&to, mine).expect("written");
        }
        let ran = within(&cli, 4, arguments);
        assert_eq!(ran.code(), Some(1), "{}", ran.stderr);
        assert!(ran.stderr.contains("too large"), "{}", ran.stderr);
        assert_eq!(fs::read_to_string(&to).ok().as_deref(), stands);
        let left: &[&str] = if stands.is_some() { &["sets.csv"] } else { &[] };
        assert_eq!(names(&cli.home().join("out")), left);
    }
    let _ = cli.run(export).ok();
    assert!(fs::metadata(&to).expect("a file").len() > 4 * BLOCK as u64);
}
