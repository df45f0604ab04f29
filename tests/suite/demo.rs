//! The invented lifter's records.

use crate::rig::cli::Cli;
use std::fs;
use std::path::Path;

fn write(cli: &Cli, folder: &Path, seed: &str) -> crate::rig::cli::Ran {
    let folder = folder.to_str().unwrap();
    let arguments = [
        "--home",
        folder,
        "--seed",
        seed,
        "--sets",
        "500",
        "--until",
        "2026-06-30",
    ];
    cli.run(["demo", "--write-only"].into_iter().chain(arguments))
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
