//! What commands write: whole lines, in the file of the year that their session was opened in.

use rackside::domain::session::{Event, EventId, Imported, Stamped};
use rackside::formats::journal::{Record, read, write_line};
use rackside::shell::{Disk, Home, Storage, record_event, record_import};
use std::path::Path;
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
