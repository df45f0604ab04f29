//! Recorded, then said so: what the writer reports is on the disk, whatever fails.

use crate::rig::faulty::{Fault, FaultyDisk, Plan};
use crate::rig::patience;
use rackside::domain::session::{Event, EventId, Stamped};
use rackside::domain::units::Civil;
use rackside::shell::{Disk, Home, JournalWriter, Left, Report, Storage, read_journal, write_new};
use std::collections::BTreeSet;
use std::ffi::OsString;
use std::path::Path;
use std::sync::mpsc::channel;
use std::sync::{Arc, Mutex};

fn home(root: &Path) -> Home {
    let under = |name: &str| root.join(name);
    Home {
        data: under("data"),
        config: under("config"),
        state: under("state"),
        cache: under("cache"),
    }
}

fn event(k: u64) -> Stamped {
    Stamped {
        id: EventId(format!("dev1-run1-{k}")),
        n: k,
        session: None,
        at: Civil::parse("2026-11-19T18:22:05.123+01:00").unwrap(),
        event: Event::Note {
            text: format!("note {k}"),
        },
    }
}

/// Writes events through a disk; gives those reported as recorded, what was left, and what is read.
fn write(disk: Arc<FaultyDisk>, count: u64) -> (BTreeSet<EventId>, Left, Vec<EventId>) {
    let home = home(Path::new("/home"));
    let reports = Arc::new(Mutex::new(BTreeSet::new()));
    let (told, hears) = channel();
    let seen = reports.clone();
    let report = move |report| {
        if let Report::Recorded(ids) = &report {
            seen.lock().unwrap().extend(ids.iter().cloned());
        }
        let _ = told.send(());
    };
    let writer = JournalWriter::start(&home, "dev1", disk.clone(), report);
    for k in 1..=count {
        writer.append(vec![event(k)]);
        hears.recv_timeout(patience()).expect("a report");
    }
    let left = writer.finish(patience(), |_| ());
    let record = read_journal(&home, disk.as_ref()).expect("read");
    let ids = record.events.into_iter().map(|event| event.id).collect();
    let recorded = reports.lock().unwrap().clone();
    (recorded, left, ids)
}

/// Every Nth write made to fail in turn, once and for good, in three ways.
#[test]
fn no_write_that_fails_is_called_recorded_and_nothing_is_lost_or_doubled() {
    const EVENTS: u64 = 6;
    for fault in [Fault::Refused, Fault::Short, Fault::Unsynced] {
        for from in 0..EVENTS as usize {
            for count in [1, usize::MAX - from] {
                let disk = Arc::new(FaultyDisk::new(Some(Plan { from, count, fault })));
                let (recorded, left, read) = write(disk, EVENTS);
                let case = format!("{fault:?} from {from}, {count} times");
                for id in &recorded {
                    assert!(read.contains(id), "{case}: {id} was called recorded");
                }
                let distinct: BTreeSet<&EventId> = read.iter().collect();
                assert_eq!(distinct.len(), read.len(), "{case}: doubled");
                match left {
                    Left::Nothing | Left::Rescued { .. } => {
                        assert_eq!(read.len() as u64, EVENTS, "{case}: lost");
                    }
                    Left::Lost { lines } => {
                        let known = recorded.len() + lines.len();
                        assert!(known as u64 >= EVENTS, "{case}: neither recorded nor shown");
                    }
                }
            }
        }
    }
}

#[test]
fn without_a_fault_all_is_recorded_in_order() {
    let disk = Arc::new(FaultyDisk::new(None));
    let (recorded, left, read) = write(disk.clone(), 20);
    assert_eq!((recorded.len(), left), (20, Left::Nothing));
    let expected: Vec<EventId> = (1..=20).map(|k| event(k).id).collect();
    assert_eq!(read, expected);
    assert_eq!(disk.done(), 20, "one write an event");
}

/// A file that a person asked for is there whole or not at all, and never in another's place.
#[test]
fn a_new_file_is_whole_or_not_there() {
    let path = Path::new("/home/new.ron");
    for fault in [Fault::Refused, Fault::Short, Fault::Unsynced] {
        let (from, count) = (0, 1);
        let disk = FaultyDisk::new(Some(Plan { from, count, fault }));
        assert!(write_new(path, b"all of it", &disk).is_err(), "{fault:?}");
        assert!(disk.read(path).is_err(), "{fault:?} leaves nothing behind");
        write_new(path, b"all of it", &disk).expect("there is room again");
        assert!(write_new(path, b"another", &disk).is_err());
        assert_eq!(disk.read(path).expect("a file"), b"all of it");
    }
}

/// A torn tail of any length is kept, and the next line stands on its own.
#[test]
fn a_torn_tail_is_isolated_by_the_next_line() {
    let folder = tempfile::tempdir().unwrap();
    let whole = b"(v:0,id:\"a-b-1\",n:1,at:\"2026-11-19T18:22:05.123+01:00\",event:Paused)\n";
    for cut in 0..whole.len() {
        let path = folder.path().join(format!("{cut}.ron"));
        std::fs::write(&path, &whole[..cut]).unwrap();
        Disk.append(&path, b"next line\n").unwrap();
        let bytes = std::fs::read(&path).unwrap();
        assert!(bytes.starts_with(&whole[..cut]), "cut at {cut}: changed");
        assert!(
            bytes.ends_with(b"\nnext line\n") || cut == 0,
            "cut at {cut}: glued"
        );
    }
}

/// A file that an editor put in the place of the old one gets the next line.
#[test]
fn a_replaced_or_removed_file_gets_the_next_line() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal.ron");
    Disk.append(&path, b"one\n").unwrap();
    std::fs::write(folder.path().join("new"), b"edited\n").unwrap();
    std::fs::rename(folder.path().join("new"), &path).unwrap();
    Disk.append(&path, b"two\n").unwrap();
    assert_eq!(std::fs::read(&path).unwrap(), b"edited\ntwo\n");
    std::fs::remove_file(&path).unwrap();
    Disk.append(&path, b"three\n").unwrap();
    assert_eq!(std::fs::read(&path).unwrap(), b"three\n");
}

#[test]
fn files_are_for_their_owner_alone_whatever_the_umask() {
    use crate::rig::cli::Cli;
    use std::os::unix::fs::PermissionsExt;
    let cli = Cli::new();
    let folder = cli.home().join("open");
    let program = env!("CARGO_BIN_EXE_rackside");
    let command = format!(
        "umask 000; exec '{program}' demo --write-only --home '{}' --sets 20 --until 2026-06-30",
        folder.display()
    );
    let ran = std::process::Command::new("sh")
        .args(["-c", &command])
        .output()
        .unwrap();
    assert!(ran.status.success());
    let mut todo = vec![folder.join("data"), folder.join("config")];
    while let Some(path) = todo.pop() {
        let mode = std::fs::metadata(&path).unwrap().permissions().mode() & 0o777;
        let wanted = if path.is_dir() { 0o700 } else { 0o600 };
        assert_eq!(mode, wanted, "{}", path.display());
        if path.is_dir() {
            todo.extend(
                std::fs::read_dir(&path)
                    .unwrap()
                    .map(|entry| entry.unwrap().path()),
            );
        }
    }
}

/// The XDG base directory specification: unset or empty means the default, relative is ignored.
#[test]
fn a_home_is_found_as_the_specification_says() {
    let find = |variables: &[(&str, &str)]| {
        let variables: Vec<(String, String)> = variables
            .iter()
            .map(|(a, b)| ((*a).to_owned(), (*b).to_owned()))
            .collect();
        Home::find(move |name| {
            let found = variables.iter().find(|(key, _)| key == name);
            found.map(|(_, value)| OsString::from(value))
        })
    };
    let plain = find(&[("HOME", "/h")]).unwrap();
    assert_eq!(plain.data, Path::new("/h/.local/share/rackside"));
    assert_eq!(plain.config, Path::new("/h/.config/rackside"));
    assert_eq!(plain.state, Path::new("/h/.local/state/rackside"));
    let own = find(&[
        ("HOME", "/h"),
        ("XDG_DATA_HOME", "/d"),
        ("XDG_CONFIG_HOME", ""),
    ])
    .unwrap();
    assert_eq!(own.data, Path::new("/d/rackside"));
    assert_eq!(own.config, Path::new("/h/.config/rackside"));
    let relative = find(&[("HOME", "/h"), ("XDG_DATA_HOME", "d")]).unwrap();
    assert_eq!(relative.data, Path::new("/h/.local/share/rackside"));
    let given = find(&[("RACKSIDE_HOME", "/r"), ("HOME", "/h")]).unwrap();
    assert_eq!(given.journal(), Path::new("/r/data/journal"));
    let none = find(&[]).unwrap_err().to_string();
    assert!(none.contains("RACKSIDE_HOME=DIR"), "{none}");
}
