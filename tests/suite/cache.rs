//! What is kept beside a journal changes how long a start takes, and nothing else: whatever befell
//! the files, the past is told as it is by reading all of them.

use crate::rig::events;
use crate::rig::written::{Written, Wrote};
use chrono::NaiveDate;
use proptest::prelude::*;
use proptest::sample::Index;
use rackside::domain::exercise::Catalogue;
use rackside::domain::history::History;
use rackside::domain::logbook::Logbook;
use rackside::domain::logbook::told::sessions::Which;
use rackside::domain::logbook::told::{self, Reading};
use rackside::domain::logbook::week::Week;
use rackside::domain::program::ProgramId;
use rackside::domain::session::{Adopted, Event, EventId, Imported, Pain, Stamped, Whereabouts};
use rackside::domain::units::{Boot, Civil, Now, Spare, Unit, Weight};
use rackside::formats::journal::write_line;
use rackside::formats::{json, logbook as objects};
use rackside::shell::{Back, CacheStore, Disk, Home, Past, Reached, read_journal};
use std::fs::{self, File};
use std::io::Write;
use std::path::PathBuf;
use std::sync::LazyLock;

const DAY: i64 = 86_400_000;

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(crate::files::catalogue);

/// A lifter's files, and what happened so far.
struct Files {
    folder: tempfile::TempDir,
    written: Written,
    /// The last session, and the last set.
    last: Option<(EventId, EventId)>,
    at: Civil,
}

/// What befalls a journal.
#[derive(Clone, Debug)]
enum Turn {
    Session { sets: u8, closed: bool },
    Set,
    Spare(u8),
    Amend(Index, rackside::domain::session::Amendment),
    Void(Index),
    Import(i64),
    Weight(Weight),
    Adopt,
    Pain,
    ByHand,
    Elsewhere(u64),
    Copy,
    Flip(Index, u8),
    Cut(u8),
    NoLine(Index),
    Garble(Index),
    Gone,
    Wait(i64),
}

fn turn() -> impl Strategy<Value = Turn> {
    let any_place = any::<Index>;
    prop_oneof![
        8 => (1..5_u8, prop::bool::weighted(0.85))
            .prop_map(|(sets, closed)| Turn::Session { sets, closed }),
        3 => Just(Turn::Set),
        2 => (0..5_u8).prop_map(Turn::Spare),
        2 => (any_place(), events::amendment()).prop_map(|(at, change)| Turn::Amend(at, change)),
        1 => any_place().prop_map(Turn::Void),
        1 => (0..60_i64).prop_map(Turn::Import),
        1 => events::weight().prop_map(Turn::Weight),
        1 => Just(Turn::Adopt),
        1 => Just(Turn::Pain),
        1 => Just(Turn::ByHand),
        1 => (0..40_u64).prop_map(Turn::Elsewhere),
        1 => Just(Turn::Copy),
        1 => (any_place(), 1..=255_u8).prop_map(|(at, by)| Turn::Flip(at, by)),
        1 => (1..80_u8).prop_map(Turn::Cut),
        1 => any_place().prop_map(Turn::NoLine),
        1 => any_place().prop_map(Turn::Garble),
        1 => Just(Turn::Gone),
        2 => (1..40_i64).prop_map(Turn::Wait),
    ]
}

impl Files {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let files = Self {
            folder,
            written: Written::new(),
            last: None,
            at: Civil::parse("2026-01-05T18:00:00.000+01:00").unwrap(),
        };
        fs::create_dir_all(files.home().journal()).unwrap();
        files
    }

    fn home(&self) -> Home {
        Home::under(self.folder.path()).unwrap()
    }

    fn path(&self) -> PathBuf {
        self.home().journal().join("2026-dev.ron")
    }

    fn append(&self, path: &PathBuf, text: &str) {
        let mut file = File::options();
        let mut file = file.append(true).create(true).open(path).unwrap();
        file.write_all(text.as_bytes()).unwrap();
    }

    /// Writes down what was not yet.
    fn flush(&self, from: usize) {
        for event in &self.written.events[from..] {
            self.append(&self.path(), &format!("{}\n", write_line(event).unwrap()));
        }
    }

    fn write(&mut self, of_session: bool, event: Event) -> EventId {
        self.at = self.at.plus(60_000);
        let session = self.last.as_ref().filter(|_| of_session);
        let session = session.map(|(session, _)| session.clone());
        self.written.write(session.as_ref(), self.at, event)
    }

    fn some_id(&self, at: Index) -> Option<EventId> {
        let events = &self.written.events;
        (!events.is_empty()).then(|| at.get(events).id.clone())
    }

    fn happen(&mut self, turn: Turn) {
        let from = self.written.events.len();
        match turn {
            Turn::Session { sets, closed } => {
                let names = ["goblet_squat", "one_arm_row"];
                let set = |k: u8| Wrote::work(names[usize::from(k % 2)], 20.0, u32::from(8 + k));
                let sets: Vec<Wrote> = (0..sets).map(set).collect();
                self.at = self.at.plus(DAY);
                let id = self.written.on(self.at, (30, false), &sets);
                let last = self.written.events.last().unwrap().id.clone();
                self.last = Some((id.clone(), last));
                self.at = self.written.events.last().unwrap().at;
                if closed {
                    self.written.close(&id, 7);
                }
            }
            Turn::Set => {
                let Some((_, set)) = &self.last else { return };
                let same = self.written.events.iter().find(|e| e.id == *set);
                let event = same.unwrap().event.clone();
                let id = self.write(true, event);
                self.last.as_mut().unwrap().1 = id;
            }
            Turn::Spare(spare) => {
                let Some((_, set)) = self.last.clone() else {
                    return;
                };
                let spare = Spare::clamped(spare.into());
                self.write(true, Event::Spare { set, spare });
            }
            Turn::Amend(at, change) => {
                let Some(target) = self.some_id(at) else {
                    return;
                };
                self.write(true, Event::Amended { target, change });
            }
            Turn::Void(at) => {
                let Some(target) = self.some_id(at) else {
                    return;
                };
                self.write(true, Event::Voided { target });
            }
            Turn::Import(days) => {
                let date = self.at.plus(-days * DAY).date();
                let set = Wrote::work("goblet_squat", 18.0, 9);
                let mut other = Written::new();
                other.on(self.at, (30, false), &[set]);
                let Event::Set(set) = &other.events[1].event else {
                    return;
                };
                let imported = Imported {
                    date,
                    source: "paper".to_owned(),
                    sets: vec![(**set).clone()],
                    part: None,
                    effort: None,
                    minutes: None,
                    body_weight: None,
                    notes: Vec::new(),
                };
                self.write(false, Event::Imported(Box::new(imported)));
            }
            Turn::Weight(weight) => drop(self.write(false, Event::BodyWeight(weight))),
            Turn::Adopt => {
                let adopted = Adopted {
                    program: ProgramId::new("p").unwrap(),
                    from: self.at.date(),
                    phase: 1,
                };
                self.write(false, Event::Adopted(adopted));
            }
            Turn::Pain => {
                let whereabouts = Whereabouts::Alarm;
                self.write(
                    true,
                    Event::Pain(Pain {
                        item: Some(0),
                        whereabouts,
                    }),
                );
            }
            Turn::ByHand => {
                self.write(
                    true,
                    Event::Note {
                        text: "by hand".to_owned(),
                    },
                );
                let line = write_line(self.written.events.last().unwrap()).unwrap();
                let value = line.split(" // crc ").next().unwrap();
                return self.append(&self.path(), &format!("{value}\n"));
            }
            Turn::Elsewhere(n) => {
                let stamped = Stamped {
                    id: EventId(format!("other-run-{n}")),
                    n,
                    session: None,
                    at: self.at,
                    event: Event::Note {
                        text: "elsewhere".to_owned(),
                    },
                };
                let path = self.home().journal().join("2026-other.ron");
                return self.append(&path, &format!("{}\n", write_line(&stamped).unwrap()));
            }
            Turn::Copy
            | Turn::Flip(..)
            | Turn::Cut(_)
            | Turn::NoLine(_)
            | Turn::Garble(_)
            | Turn::Gone => return self.befall(turn),
            Turn::Wait(hours) => self.at = self.at.plus(hours * 3_600_000),
        }
        self.flush(from);
    }

    /// What happens to the files from outside.
    fn befall(&self, turn: Turn) {
        let path = self.path();
        let kept = self.home().cache.join("past");
        let Ok(mut bytes) = fs::read(&path) else {
            return;
        };
        if bytes.is_empty() {
            return;
        }
        match turn {
            Turn::Copy => drop(fs::copy(
                &path,
                self.home().journal().join("copy of it.ron"),
            )),
            Turn::Flip(at, by) => {
                let at = at.index(bytes.len());
                bytes[at] ^= by;
                fs::write(&path, bytes).unwrap();
            }
            Turn::Cut(count) => {
                bytes.truncate(bytes.len().saturating_sub(count.into()));
                fs::write(&path, bytes).unwrap();
            }
            Turn::NoLine(at) => {
                let mut lines: Vec<&[u8]> = bytes.split_inclusive(|b| *b == b'\n').collect();
                if !lines.is_empty() {
                    lines.remove(at.index(lines.len()));
                }
                fs::write(&path, lines.concat()).unwrap();
            }
            Turn::Garble(at) => {
                let Ok(mut bytes) = fs::read(&kept) else {
                    return;
                };
                let at = at.index(bytes.len());
                bytes[at] ^= 1;
                fs::write(&kept, bytes).unwrap();
            }
            _ => drop(fs::remove_file(&kept)),
        }
    }

    /// As a start has it.
    fn kept(&self) -> Past {
        let home = self.home();
        let store = CacheStore::of(&home, &Disk).of_any_size();
        store.past().unwrap()
    }

    /// By reading all of it.
    fn whole(&self) -> Past {
        let record = read_journal(&self.home(), &Disk).unwrap();
        Past {
            faults: record.faults(),
            problems: record.problems.len(),
            highest_n: record.highest_n,
            later: record.events,
            damaged: record.damaged,
            ..Past::default()
        }
    }

    fn now(&self) -> Now {
        Now {
            boot: Boot(0),
            civil: self.at.plus(60_000),
        }
    }
}

fn recent(mut history: History) -> History {
    history.forget();
    history
}

/// What a start takes from a past.
fn taken(past: &Past, now: Now) -> impl PartialEq + std::fmt::Debug + use<> {
    let open = past.open();
    let of_it = past
        .later
        .iter()
        .filter(|e| e.session == open.as_ref().map(|s| s.id.clone()));
    let of_it: Vec<Stamped> = of_it.filter(|_| open.is_some()).cloned().collect();
    let counts = (past.highest_n, past.faults, past.problems);
    (recent(past.history(now)), open, of_it, counts)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// Whatever happened, to the record and to the files.
    #[test]
    fn the_past_is_told_as_the_files_tell_it(turns in prop::collection::vec(turn(), 1..28)) {
        let mut files = Files::new();
        for turn in turns {
            files.happen(turn.clone());
            let (kept, whole) = (files.kept(), files.whole());
            let now = files.now();
            prop_assert_eq!(taken(&kept, now), taken(&whole, now), "after {:?}", turn);
        }
    }
}

/// A record of so many sessions, and what is kept of it.
fn settled_files(sessions: usize) -> Files {
    let mut files = Files::new();
    for _ in 0..sessions {
        files.happen(Turn::Session {
            sets: 2,
            closed: true,
        });
    }
    files.kept();
    files
}

/// The first place of a text in the files, with what it is changed into; size and time of change
/// stay what they were, as nothing but the bytes tells.
fn change_unseen(files: &Files, from: &str, into: &str) {
    let path = files.path();
    let text = fs::read_to_string(&path).unwrap();
    let modified = fs::metadata(&path).unwrap().modified().unwrap();
    assert_eq!(from.len(), into.len());
    fs::write(&path, text.replacen(from, into, 1)).unwrap();
    let file = File::options().append(true).open(&path).unwrap();
    file.set_modified(modified).unwrap();
}

/// What a lifter sees of these days.
fn views(reached: &Reached, days: (NaiveDate, NaiveDate)) -> Vec<String> {
    let history = &reached.history;
    let logbook = Logbook::of(history, &CATALOGUE, None).begun_on(reached.begun);
    let reading = Reading {
        history,
        logbook: &logbook,
        catalogue: &CATALOGUE,
        unit: Unit::Kg,
        today: days.1,
        days,
        width: 78,
        rows: 22,
    };
    let wanted = told::sessions::wanted(&reading, &Which::default());
    let mut lines: Vec<String> = Vec::new();
    for place in wanted {
        lines.push(told::sessions::line(&reading, place));
        lines.push(json::line(&objects::session(&reading, place, true)));
    }
    lines.extend(told::strength::list(&reading));
    lines.extend(told::work::lines(&reading));
    for id in history.exercises() {
        let last = history.outings(id).last().unwrap();
        lines.push(format!("{id} {last:?}"));
    }
    lines.push(format!("{:?} {:?}", history.weighed, history.choices));
    lines.push(format!("{:?} {}", history.pains, history.count()));
    lines
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Reading back as far as a view looks shows what reading all of it shows.
    #[test]
    fn a_view_shows_the_same_however_little_is_read_for_it(
        sessions in 9..20_usize,
        turns in prop::collection::vec(turn(), 1..8),
        back in 1..16_i64,
    ) {
        let mut files = settled_files(sessions);
        let home = files.home();
        for turn in turns {
            files.happen(turn.clone());
            let store = CacheStore::of(&home, &Disk).of_any_size();
            let whole = store.reach(Back::Ever).unwrap();
            let today = files.at.date();
            let since = files.at.plus(-back * DAY).date();
            // Weeks are told whole.
            let monday = Week::of(since).monday();
            for asked in [Back::Day(monday), Back::Sessions(usize::try_from(back).unwrap())] {
                let reached = store.reach(asked).unwrap();
                if asked == Back::Day(monday) {
                    let days = (since, today);
                    prop_assert_eq!(views(&reached, days), views(&whole, days), "{:?}", turn);
                }
                let all = &whole.history.sessions;
                let told = &reached.history.sessions;
                prop_assert_eq!(Some(told.as_slice()), all.get(all.len() - told.len()..));
            }
        }
    }
}

/// The end of a long journal alone is read for what happened lately.
#[test]
fn little_is_read_for_a_view_of_little() {
    let files = settled_files(40);
    let home = files.home();
    let store = CacheStore::of(&home, &Disk).of_any_size();
    let reached = store.reach(Back::Sessions(12)).unwrap();
    let told = reached.history.sessions.len();
    assert!((12..30).contains(&told), "{told} sessions were read");
    assert_eq!(reached.history.count(), 40);
    assert_eq!(reached.begun, Some(files.whole().later[0].at.date()));
}

/// The settled part is not read in a start, and is all the same held against what is kept of it.
#[test]
fn a_change_that_no_stamp_shows_is_found_by_reading_all_of_it() {
    let files = settled_files(40);
    change_unseen(&files, "20 kg", "21 kg");
    let now = files.now();
    assert_ne!(
        taken(&files.kept(), now),
        taken(&files.whole(), now),
        "nothing was kept"
    );
    let home = files.home();
    let store = CacheStore::of(&home, &Disk).of_any_size();
    assert!(!store.verify());
    assert_eq!(taken(&files.kept(), now), taken(&files.whole(), now));
    assert!(store.verify());
}

/// A cache cannot be kept where its folder cannot be written, and need not be.
#[test]
fn without_a_place_to_keep_it_the_files_are_read() {
    let files = settled_files(12);
    let cache = files.home().cache;
    fs::remove_dir_all(&cache).unwrap();
    fs::write(&cache, "no folder").unwrap();
    let now = files.now();
    assert_eq!(taken(&files.kept(), now), taken(&files.whole(), now));
    assert_eq!(fs::read(&cache).unwrap(), b"no folder");
}

/// Nobody else can read what is kept, and a small journal has nothing kept.
#[test]
fn what_is_kept_is_private_and_worth_it() {
    use std::os::unix::fs::PermissionsExt;
    let files = settled_files(12);
    let kept = files.home().cache.join("past");
    let mode = fs::metadata(&kept).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
    fs::remove_file(&kept).unwrap();
    CacheStore::of(&files.home(), &Disk).past().unwrap();
    assert!(!kept.exists());
}
