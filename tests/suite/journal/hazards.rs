//! What befalls a journal from outside: odd things in its folder, a file taken away, a disk that
//! does not answer, an event that no line can hold.

use crate::rig::faulty::{Fault, FaultyDisk, Plan};
use crate::rig::patience;
use rackside::domain::session::{Event, EventId, Stamped};
use rackside::domain::units::{Boot, Civil, Now};
use rackside::formats::journal::{read, union};
use rackside::shell::{Disk, Home, JournalWriter, Left, Past, Report, Storage, read_journal};
use std::ffi::OsString;
use std::io;
use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::sync::{Arc, Condvar, Mutex};
use std::time::{Duration, Instant};

const AT: &str = "2026-11-19T18:22:05.123+01:00";

/// A line as a person would write it.
fn by_hand(k: u32, session: &str, event: &str) -> String {
    format!("(v:0,id:\"a-b-{k:04}\",n:{k},session:\"{session}\",at:\"{AT}\",event:{event})")
}

fn set() -> String {
    let done = "done:Reps(8),asked:Reps(8),ended:AsAsked,counts:PerHand,item:0";
    format!(r#"Set(exercise:"row",kind:Working,number:1,load:"10 kg",{done})"#)
}

fn opened() -> String {
    let of = r#"program:"p",phase:1,phase_name:"",week:1,weeks:1,day:1,day_name:"",place:"home""#;
    format!("Opened({of},items:[])")
}

fn note(k: u64, text: String) -> Stamped {
    Stamped {
        id: EventId(format!("dev1-run1-{k}")),
        n: k,
        session: None,
        at: Civil::parse(AT).unwrap(),
        event: Event::Note { text },
    }
}

fn home(folder: &Path) -> Home {
    Home::under(folder).unwrap()
}

/// A writer that reports into a channel.
fn writer(home: &Home, storage: Arc<dyn Storage>) -> (JournalWriter, Receiver<Report>) {
    let (told, hears) = channel();
    let writer = JournalWriter::start(home, "dev1", storage, move |report| {
        let _ = told.send(report);
    });
    (writer, hears)
}

fn ids(home: &Home) -> Vec<String> {
    let record = read_journal(home, &Disk).unwrap();
    record.events.iter().map(|e| e.id.to_string()).collect()
}

#[test]
fn odd_things_in_the_folder_are_told_and_stop_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let home = home(folder.path());
    let journal = home.journal();
    let good = by_hand(1, "a-b-0000", &set());
    Disk.append(
        &journal.join("2026-dev1.ron"),
        format!("{good}\n").as_bytes(),
    )
    .unwrap();
    std::fs::create_dir(journal.join("folder.ron")).unwrap();
    std::os::unix::fs::symlink("/dev/zero", journal.join("link.ron")).unwrap();
    let pipe = std::process::Command::new("mkfifo")
        .arg(journal.join("pipe.ron"))
        .status();
    assert!(pipe.unwrap().success());
    let (told, hears) = channel();
    std::thread::spawn(move || told.send(read_journal(&home, &Disk).map_err(|e| e.to_string())));
    let record = hears.recv_timeout(patience());
    let record = record.expect("reading ends").expect("a journal");
    assert_eq!(record.events.len(), 1);
    for name in ["folder.ron", "link.ron", "pipe.ron"] {
        let told = record.problems.iter().any(|p| p.path.ends_with(name));
        assert!(told, "{name}: {:?}", record.problems);
    }
}

#[test]
fn a_damaged_line_does_not_hide_the_session_that_is_on() {
    let lines = [
        by_hand(1, "a-b-0001", &opened()),
        by_hand(2, "a-b-0001", &set()),
        // One bit of its session's id flipped.
        format!("{} // crc 00000000", by_hand(3, "a-b-0000", &set())),
    ];
    let record = union(vec![read(lines.join("\n").as_bytes(), "j")]);
    let now = Now {
        boot: Boot(0),
        civil: Civil::parse(AT).unwrap(),
    };
    let past = Past {
        later: record.events,
        damaged: record.damaged,
        ..Past::default()
    };
    let past = past.events(now);
    let of_it = past.iter().filter(|e| e.id.0 != "a-b-0003");
    assert_eq!(of_it.count(), 0, "the session that is on is no past");
}

#[test]
fn what_this_run_wrote_is_written_again_where_its_file_went_away() {
    let folder = tempfile::tempdir().unwrap();
    let home = home(folder.path());
    let (writer, hears) = writer(&home, Arc::new(Disk));
    let path = home.journal().join("2026-dev1.ron");
    for (k, damage) in [
        (1, None),
        (2, None),
        (3, Some("removed")),
        (4, None),
        (5, Some("cut")),
        (6, Some("replaced by its own copy")),
    ] {
        match damage {
            Some("removed") => std::fs::remove_file(&path).unwrap(),
            Some("cut") => {
                let bytes = std::fs::read(&path).unwrap();
                std::fs::write(&path, &bytes[..10]).unwrap();
            }
            Some(_) => {
                let bytes = std::fs::read(&path).unwrap();
                std::fs::write(folder.path().join("copy"), bytes).unwrap();
                std::fs::rename(folder.path().join("copy"), &path).unwrap();
            }
            None => {}
        }
        writer.append(vec![note(k, "x".into())]);
        let is_done = |report: &Report| match report {
            Report::Recorded(ids) => ids.contains(&EventId(format!("dev1-run1-{k}"))),
            Report::NotSaved { .. } => false,
        };
        let end = Instant::now() + patience();
        while !is_done(&hears.recv_timeout(end - Instant::now()).unwrap()) {}
        let expected: Vec<String> = (1..=k).map(|k| format!("dev1-run1-{k}")).collect();
        assert_eq!(ids(&home), expected, "{damage:?}");
    }
    std::fs::remove_file(&path).unwrap();
    assert_eq!(writer.finish(patience(), |_| ()), Left::Nothing);
    assert_eq!(ids(&home).len(), 6, "removed after the last set");
}

#[test]
fn an_event_that_no_line_can_hold_is_shown_at_the_end() {
    let folder = tempfile::tempdir().unwrap();
    let home = home(folder.path());
    let (writer, hears) = writer(&home, Arc::new(Disk));
    writer.append(vec![note(1, "kept ".repeat(400_000))]);
    writer.append(vec![note(2, "x".into())]);
    let why = "it is too long for a line of the journal".to_owned();
    let ids_of_it = vec![id(1)];
    assert_eq!(
        told(&hears),
        Report::NotSaved {
            ids: ids_of_it,
            why
        }
    );
    let left = writer.finish(patience(), |_| ());
    let Left::Lost { lines } = left else {
        panic!("{left:?}");
    };
    assert!(lines[0].contains("kept kept"));
    assert_eq!(ids(&home), ["dev1-run1-2"]);
}

/// A disk that does not answer until it is let go.
struct Stuck(Mutex<bool>, Condvar);

impl Storage for Stuck {
    fn append(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        let mut free = self.0.lock().unwrap();
        while !*free {
            free = self.1.wait(free).unwrap();
        }
        Err(io::ErrorKind::BrokenPipe.into())
    }

    fn read(&self, _: &Path) -> io::Result<Vec<u8>> {
        Err(io::ErrorKind::NotFound.into())
    }

    fn list(&self, _: &Path) -> io::Result<Vec<OsString>> {
        Ok(Vec::new())
    }

    fn create(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(io::ErrorKind::BrokenPipe.into())
    }

    fn replace(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(io::ErrorKind::BrokenPipe.into())
    }

    fn remove(&self, _: &Path) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_disk_that_does_not_answer_leaves_the_lines_to_be_shown() {
    let folder = tempfile::tempdir().unwrap();
    let home = home(folder.path());
    let disk = Arc::new(Stuck(Mutex::new(false), Condvar::new()));
    let (writer, _hears) = writer(&home, disk.clone());
    writer.append(vec![note(1, "x".into())]);
    writer.append(vec![note(2, "x".into())]);
    let (told, hears) = channel();
    let left = writer.finish(Duration::from_millis(400), |events| {
        told.send(events).unwrap()
    });
    assert_eq!(hears.recv(), Ok(2), "a wait that can be noticed is told");
    *disk.0.lock().unwrap() = true;
    disk.1.notify_all();
    let Left::Lost { lines } = left else {
        panic!("{left:?}");
    };
    assert!(lines[0].contains("dev1-run1-1") && lines[1].contains("dev1-run1-2"));
}

#[test]
fn a_session_stays_in_the_file_of_the_year_that_it_was_opened_in() {
    let folder = tempfile::tempdir().unwrap();
    let home = home(folder.path());
    let file = union(vec![read(
        by_hand(1, "a-b-0001", &opened()).as_bytes(),
        "j",
    )]);
    let mut opening = file.events[0].clone();
    opening.at = Civil::parse("2026-12-31T23:50:00+01:00").unwrap();
    let mut later = note(2, "x".into());
    later.session = opening.session.clone();
    later.at = Civil::parse("2027-01-01T00:10:00+01:00").unwrap();
    let (writer, _hears) = writer(&home, Arc::new(Disk));
    writer.append(vec![opening]);
    writer.append(vec![later]);
    assert_eq!(writer.finish(patience(), |_| ()), Left::Nothing);
    let names = Disk.list(&home.journal()).unwrap();
    assert_eq!(names, ["2026-dev1.ron"]);
}

#[test]
fn a_session_that_goes_on_stays_there_too() {
    let folder = tempfile::tempdir().unwrap();
    let home = home(folder.path());
    let (writer, _hears) = writer(&home, Arc::new(Disk));
    let mut later = note(2, "x".into());
    later.session = Some(EventId("a-b-0001".to_owned()));
    later.at = Civil::parse("2027-01-01T00:10:00+01:00").unwrap();
    let opened = Civil::parse("2026-12-31T23:50:00+01:00").unwrap();
    writer.resume(&EventId("a-b-0001".to_owned()), opened);
    let mut other = note(3, "x".into());
    other.at = later.at;
    writer.append(vec![later, other]);
    assert_eq!(writer.finish(patience(), |_| ()), Left::Nothing);
    let names = Disk.list(&home.journal()).unwrap();
    assert_eq!(names, ["2026-dev1.ron", "2027-dev1.ron"]);
}

/// What a person would be told next.
fn told(hears: &Receiver<Report>) -> Report {
    hears.recv_timeout(patience()).expect("a report")
}

fn id(k: u64) -> EventId {
    EventId(format!("dev1-run1-{k}"))
}

#[test]
fn what_was_cut_off_is_told_and_what_was_not_is_still_remembered() {
    let folder = tempfile::tempdir().unwrap();
    let home = home(folder.path());
    let (writer, hears) = writer(&home, Arc::new(Disk));
    let path = home.journal().join("2026-dev1.ron");
    for k in 1..=3 {
        writer.append(vec![note(k, "x".into())]);
        assert_eq!(told(&hears), Report::Recorded(vec![id(k)]));
    }
    let whole = std::fs::read_to_string(&path).unwrap();
    let first = whole.split_inclusive('\n').next().unwrap();
    std::fs::write(&path, first).unwrap();
    writer.append(vec![note(4, "x".into())]);
    let Report::NotSaved { ids: gone, why } = told(&hears) else {
        panic!("nothing is said of the lines that are gone");
    };
    assert_eq!(gone, [id(2), id(3)]);
    assert!(why.contains("2026-dev1.ron was cut or removed"), "{why}");
    for k in [2, 3, 4] {
        assert_eq!(told(&hears), Report::Recorded(vec![id(k)]));
    }
    let again = std::fs::read_to_string(&path).unwrap();
    assert!(
        again.starts_with(&whole),
        "the same lines in the same order"
    );
    assert_eq!(again.lines().count(), 4, "none of them twice");
    std::fs::remove_file(&path).unwrap();
    assert_eq!(writer.finish(patience(), |_| ()), Left::Nothing);
    assert_eq!(std::fs::read_to_string(&path).unwrap(), again);
}

#[test]
fn a_line_that_was_refused_is_tried_again_by_itself() {
    let once = Plan {
        from: 0,
        count: 1,
        fault: Fault::Short,
    };
    let folder = tempfile::tempdir().unwrap();
    let home = home(folder.path());
    let (writer, hears) = writer(&home, Arc::new(FaultyDisk::new(Some(once))));
    writer.append(vec![note(1, "x".into())]);
    assert!(matches!(told(&hears), Report::NotSaved { .. }));
    assert_eq!(told(&hears), Report::Recorded(vec![id(1)]));
}

/// Where the journal's folder cannot be written, what was done goes beside it, and is read from
/// there; what no line can hold is shown.
#[test]
fn what_the_journal_refuses_is_rescued_and_read_back() {
    let long = || note(9, "kept ".repeat(400_000));
    let root = tempfile::tempdir().unwrap();
    for (case, with_long) in [("all", false), ("some", true)] {
        let home = home(&root.path().join(case));
        std::fs::create_dir_all(&home.data).unwrap();
        std::fs::write(home.journal(), b"no folder").unwrap();
        let (writer, _hears) = writer(&home, Arc::new(Disk));
        writer.append(vec![note(1, "x".into()), note(2, "y".into())]);
        writer.append(with_long.then(long).into_iter().collect());
        let left = writer.finish(patience(), |_| ());
        let rescued = home.rescue().join("dev1-run1-1.ron");
        match left {
            Left::Rescued { events, path } if !with_long => {
                assert_eq!((events, &path), (2, &rescued));
            }
            Left::Lost { lines } if with_long => {
                assert_eq!(lines.len(), 2);
                assert!(lines[0].contains("kept kept"), "what no line can hold");
                let rest = format!("// the rest is kept in {}", rescued.display());
                assert_eq!(lines[1], rest);
            }
            left => panic!("{left:?}"),
        }
        std::fs::remove_file(home.journal()).unwrap();
        assert_eq!(ids(&home), ["dev1-run1-1", "dev1-run1-2"]);
    }
}

#[test]
fn what_can_be_kept_nowhere_is_shown() {
    let folder = tempfile::tempdir().unwrap();
    let home = home(folder.path());
    std::fs::create_dir_all(&home.data).unwrap();
    for place in [home.journal(), home.rescue()] {
        std::fs::write(place, b"no folder").unwrap();
    }
    let (writer, _hears) = writer(&home, Arc::new(Disk));
    writer.append(vec![note(1, "x".into()), note(2, "y".into())]);
    let Left::Lost { lines } = writer.finish(patience(), |_| ()) else {
        panic!("neither kept nor shown");
    };
    let read = read(lines.join("\n").as_bytes(), "shown");
    let shown: Vec<&EventId> = read.entries.iter().map(|entry| &entry.stamped.id).collect();
    assert_eq!(shown, [&id(1), &id(2)]);
}
