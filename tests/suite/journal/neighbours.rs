//! A journal among others: two writers, copies that tools make, newer versions, lines by hand.

use crate::rig::patience;
use rackside::domain::session::{Event, EventId, Stamped};
use rackside::domain::units::Civil;
use rackside::formats::journal::{Trouble, file_name, read};
use rackside::shell::{Disk, Home, JournalWriter, Left, Storage, read_journal};
use std::collections::BTreeSet;
use std::fs;
use std::sync::Arc;

const AT: &str = "2026-11-19T18:22:05.123+01:00";

fn note(device: &str, k: u64) -> Stamped {
    Stamped {
        id: EventId(format!("{device}-run1-{k}")),
        n: k,
        session: None,
        at: Civil::parse(AT).unwrap(),
        event: Event::Note {
            text: format!(
                "{device} {k} {}",
                "x".repeat(usize::try_from(k % 97).unwrap())
            ),
        },
    }
}

/// Where a lock does nothing, two processes may write to one file at once: in whole lines.
#[test]
fn two_writers_at_once_leave_every_line_whole() {
    const EACH: u64 = 500;
    let folder = tempfile::tempdir().unwrap();
    let home = Home::under(folder.path()).unwrap();
    let write = |device: &'static str| {
        let home = home.clone();
        std::thread::spawn(move || {
            let writer = JournalWriter::start(&home, "shared", Arc::new(Disk), |_| ());
            (1..=EACH).for_each(|k| writer.append(vec![note(device, k)]));
            writer.finish(patience(), |_| ())
        })
    };
    let both = ["dev1", "dev2"].map(write);
    for thread in both {
        assert_eq!(thread.join().unwrap(), Left::Nothing);
    }
    let record = read_journal(&home, &Disk).unwrap();
    assert_eq!(record.problems, []);
    let ids: BTreeSet<&EventId> = record.events.iter().map(|event| &event.id).collect();
    assert_eq!(ids.len() as u64, 2 * EACH);
}

/// What stands in a file, whatever it is, stands there after a hundred lines more.
#[test]
fn what_was_there_stays_byte_for_byte() {
    let before = "\u{feff}by hand, no event\r\n\n\n(v:9,id:\"x-y-1\",n:3,at:\"later\",event:New)\n\
                  \0\0\0<<<<<<< ours\n{json: true}\ntorn (v:1,id:\"a";
    let folder = tempfile::tempdir().unwrap();
    let home = Home::under(folder.path()).unwrap();
    let path = home.journal().join(file_name(2026, "dev1"));
    fs::create_dir_all(home.journal()).unwrap();
    fs::write(&path, before).unwrap();
    let writer = JournalWriter::start(&home, "dev1", Arc::new(Disk), |_| ());
    (1..=100).for_each(|k| writer.append(vec![note("dev1", k)]));
    assert_eq!(writer.finish(patience(), |_| ()), Left::Nothing);
    let after = fs::read(&path).unwrap();
    assert!(after.starts_with(before.as_bytes()));
    assert_eq!(read_journal(&home, &Disk).unwrap().events.len(), 100);
}

/// A synchronising tool that met two versions of a file keeps one under another name.
#[test]
fn a_conflict_copy_is_read_like_any_other() {
    let folder = tempfile::tempdir().unwrap();
    let home = Home::under(folder.path()).unwrap();
    let line = |k| rackside::formats::journal::write_line(&note("dev1", k)).unwrap() + "\n";
    let conflict = "2026-dev1.sync-conflict-20260101-120000-ABCDEFG.ron";
    let append = |name: &str, k| {
        let path = home.journal().join(name);
        Disk.append(&path, line(k).as_bytes()).unwrap();
    };
    append("2026-dev1.ron", 1);
    append("2026-dev1.ron", 2);
    append(conflict, 1);
    append(conflict, 3);
    let record = read_journal(&home, &Disk).unwrap();
    assert_eq!(record.problems, []);
    assert_eq!(record.events.len(), 3);
    assert_eq!(record.highest_n, 3);
}

/// A newer version's event is kept, counted in the order, told, and used for nothing.
#[test]
fn a_newer_version_is_kept_and_skipped() {
    for line in [
        "(v:2,id:\"a-b-1\",n:70,at:\"2026-11-19T18:22:05.123+01:00\",event:Sauna(heat:90))",
        "(v:2,id:\"a-b-1\",n:70,when:Someday,event:Paused)",
        "(v:1,id:\"a-b-1\",n:70,at:\"2026-11-19T18:22:05.123+01:00\",event:Sauna(heat:90))",
    ] {
        let read = read(line.as_bytes(), "j");
        assert_eq!(read.entries, [], "{line}");
        assert_eq!(read.highest_n, 70, "{line}");
        let unused = &read.unused[0];
        assert_eq!(unused.id, Some(EventId("a-b-1".to_owned())), "{line}");
        assert_eq!((unused.offset, unused.length), (0, line.len()), "{line}");
        let [problem] = read.problems.as_slice() else {
            panic!("one problem: {:?}", read.problems);
        };
        assert!(problem.is_harmless(), "{problem:?}");
        assert!(matches!(problem.trouble, Trouble::Newer | Trouble::Unknown));
    }
}
