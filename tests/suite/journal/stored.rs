//! What commands write: whole lines, in the file of the year that their session was opened in.

use crate::rig::cli::Cli;
use rackside::domain::session::{Event, EventId, Imported, Stamped};
use rackside::formats::journal::{Record, read, write_line};
use rackside::shell::{Disk, Home, Storage, record_event, record_import};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;

/// A session of long ago that another device opened, and a note in it, as their lines.
fn long_ago() -> String {
    let of = r#"program:"p",phase:1,phase_name:"",week:1,weeks:1,day:1,day_name:"",place:"home""#;
    let at = "2019-03-04T18:00:00.000+01:00";
    let line = |k, event: &str| format!("(v:1,id:\"a-{k}\",n:{k},at:\"{at}\",event:{event})\n");
    line(1, "BodyWeight(weight:\"80 kg\")") + &line(2, &format!("Opened({of},items:[])"))
}

/// A home with that in its journal.
fn home(folder: &Path) -> (Home, Arc<dyn Storage>) {
    let home = Home::under(folder).unwrap();
    let storage: Arc<dyn Storage> = Arc::new(Disk);
    let path = home.journal().join("2019-a.ron");
    storage.append(&path, long_ago().as_bytes()).unwrap();
    (home, storage)
}

/// The one file that is not the other device's: the year in its name, and its text.
fn ours(home: &Home) -> (String, String) {
    let names = Disk.list(&home.journal()).unwrap();
    let mut own = names.iter().filter(|name| *name != "2019-a.ron");
    let name = own.next().unwrap().to_string_lossy().into_owned();
    assert_eq!(own.next(), None);
    let text = std::fs::read_to_string(home.journal().join(&name)).unwrap();
    (name.split('-').next().unwrap().to_owned(), text)
}

fn note(session: Option<&str>) -> impl FnOnce(&Record) -> Result<Noted, rackside::shell::Error> {
    let session = session.map(|id| EventId(id.to_owned()));
    let text = "late".to_owned();
    move |_| Ok((session, Event::Note { text }))
}

type Noted = (Option<EventId>, Event);

#[test]
fn what_is_said_later_of_a_session_lies_in_the_file_of_its_year() {
    for (session, year) in [(Some("a-2"), Some("2019")), (None, None)] {
        let folder = tempfile::tempdir().unwrap();
        let (home, storage) = home(folder.path());
        let stamped = record_event(&home, &storage, note(session)).unwrap();
        assert_eq!(stamped.n, 3, "behind all that is there");
        let this_year = stamped.at.year().to_string();
        let (wanted, line) = (year.unwrap_or(&this_year), write_line(&stamped).unwrap());
        assert_eq!(ours(&home), (wanted.to_owned(), format!("{line}\n")));
    }
}

#[test]
fn an_import_is_a_line_a_day_and_its_end() {
    let folder = tempfile::tempdir().unwrap();
    let (home, storage) = home(folder.path());
    let sample = read(include_bytes!("../../data/journals/1-imports.ron"), "1.ron");
    let Event::Imported(day) = sample.entries[0].stamped.event.clone() else {
        panic!("a day");
    };
    let days: Vec<Imported> = vec![*day; 3];
    let end = record_import(&home, &storage, |_| Ok(days))
        .unwrap()
        .unwrap();
    let (_, text) = ours(&home);
    assert!(text.ends_with('\n'));
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len(), 4);
    let of = |line: &str| -> Stamped {
        let read = read(line.as_bytes(), "j.ron");
        assert_eq!((read.problems.len(), read.entries.len()), (0, 1), "{line}");
        read.entries[0].stamped.clone()
    };
    assert_eq!(of(lines[3]), end);
    for (k, line) in (3..).zip(&lines) {
        assert_eq!(of(line).n, k);
    }
    let none = record_import(&home, &storage, |_| Ok(Vec::new()));
    assert_eq!(none.unwrap(), None);
    assert_eq!(ours(&home).1, text, "no day, no line");
}

/// A file that the system itself keeps from being shortened, overwritten, renamed or removed.
struct AppendOnly(PathBuf);

impl AppendOnly {
    fn make(path: &Path) -> Option<Self> {
        let made = Command::new("chattr").arg("+a").arg(path).output();
        let is_made = made.is_ok_and(|made| made.status.success());
        is_made.then(|| Self(path.to_owned()))
    }
}

impl Drop for AppendOnly {
    fn drop(&mut self) {
        let _ = Command::new("chattr").arg("-a").arg(&self.0).status();
    }
}

/// Every command does its work on a journal that can only grow, and what was there stays.
#[test]
#[cfg(target_os = "linux")]
fn every_command_works_on_a_journal_that_can_only_grow() {
    let cli = Cli::new();
    let folder = cli.home().to_string_lossy().into_owned();
    let wrote = ["demo", "--write-only", "--sets", "40", "--home", &folder];
    let _ = cli.run(wrote).ok();
    let _ = cli.run(["program", "adopt", "three_steps"]).ok();
    let names = Disk.list(&cli.home().join("data/journal")).unwrap();
    let path = |name| cli.home().join("data/journal").join(name);
    let files: Vec<PathBuf> = names.iter().map(path).collect();
    let before: Vec<Vec<u8>> = files
        .iter()
        .map(|file| std::fs::read(file).unwrap())
        .collect();
    let kept: Vec<Option<AppendOnly>> = files.iter().map(|f| AppendOnly::make(f)).collect();
    if kept.iter().any(Option::is_none) {
        println!("skipped: it takes root, and a file system with append-only files");
        return;
    }
    assert!(std::fs::write(&files[0], b"").is_err(), "it can only grow");
    let listed = cli.run(["journal", "list", "--json"]).ok();
    let set: serde_json::Value = serde_json::from_str(listed.lines().next().unwrap()).unwrap();
    let set = set["id"].as_str().unwrap();
    for change in [
        ["program", "adopt", "small_room"].as_slice(),
        &["journal", "amend", set, "--reps", "3"],
        &["journal", "void", set],
    ] {
        let _ = cli.run(change).ok();
    }
    for command in cli.commands() {
        let ran = cli.run(&command);
        assert!(
            !ran.stderr.contains("not permitted"),
            "{command:?}: {}",
            ran.stderr
        );
    }
    let after: Vec<Vec<u8>> = files
        .iter()
        .map(|file| std::fs::read(file).unwrap())
        .collect();
    let grew = before.iter().zip(&after).filter(|(b, a)| a.len() > b.len());
    assert!(grew.count() > 0, "the changes were written");
    for (before, after) in before.iter().zip(&after) {
        assert!(after.starts_with(before), "what was there stays");
    }
}
