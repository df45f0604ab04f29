//! An import of several days counts as a whole or not at all, whatever becomes of its lines.

use rackside::domain::history::History;
use rackside::domain::session::{Event, EventId, StrayWhy};
use rackside::formats::journal::{Check, Read, check, read, union};

/// Two days and their end; and one day of an import that was cut short.
const SAMPLE: &str = include_str!("../../data/journals/1-imports.ron");

fn without(gone: &[usize]) -> Read {
    let lines = SAMPLE.lines().take(3).enumerate();
    let kept = lines.filter(|(k, _)| !gone.contains(k));
    let text: String = kept.map(|(_, line)| format!("{line}\n")).collect();
    read(text.as_bytes(), "2026-k3f9qa.ron")
}

fn days(read: Read) -> usize {
    History::of(union(vec![read]).events).sessions.len()
}

#[test]
fn an_import_that_was_cut_short_counts_for_nothing() {
    assert_eq!(days(without(&[])), 2);
    // The end comes last, after all days are on the disk: what is missing before it was lost later.
    assert_eq!(days(without(&[0])), 1);
    assert_eq!(days(without(&[1])), 1);
    assert_eq!(
        days(without(&[2])),
        2,
        "all days are there, their end was damaged"
    );
    assert_eq!(days(without(&[1, 2])), 0);
    assert_eq!(days(without(&[0, 2])), 0);
    let text = SAMPLE.lines().take(2).collect::<Vec<_>>().join("\n");
    // Where only the checksum of the last day is missing, all days are there.
    let whole = text.rfind(" // crc").expect("a checksum");
    for cut in 0..whole {
        let Some(begun) = text.get(..cut) else {
            continue;
        };
        let found = days(read(begun.as_bytes(), "2026-k3f9qa.ron"));
        assert_eq!(found, 0, "cut at byte {cut}");
    }
}

#[test]
fn a_check_tells_of_one_that_was_cut_short() {
    let found = check(vec![read(SAMPLE.as_bytes(), "a.ron")], vec![], &Check::ALL);
    let told: Vec<String> = found.iter().map(|f| f.diagnostic.to_string()).collect();
    let expected = "a.ron:4:1: error: import k3f9qa-9b2d3e-6 was cut short: none of its days \
                    counts\n  import the same file again; these lines can stay as they are";
    assert_eq!(told, [expected]);
}

#[test]
fn one_void_takes_an_import_away_and_another_brings_it_back() {
    let mut events = union(vec![without(&[])]).events;
    for (k, target) in [(4, "k3f9qa-9b2d3e-3"), (5, "k3f9qa-9b2d3e-4")] {
        let mut void = events[0].clone();
        void.id = EventId(format!("k3f9qa-9b2d3e-{k}"));
        void.n = k;
        void.event = Event::Voided {
            target: EventId(target.to_owned()),
        };
        events.push(void);
        let history = History::of(events.clone());
        assert!(history.strays.iter().all(|s| s.why != StrayWhy::Unfinished));
        assert_eq!(history.sessions.len(), if k == 4 { 0 } else { 2 });
    }
}

#[test]
fn what_is_known_of_a_day_reaches_its_session() {
    let history = History::of(union(vec![without(&[])]).events);
    let session = &history.sessions[0];
    let (closed, how) = session.closed.clone().expect("an imported session is over");
    assert_eq!(how.effort, Some(7));
    assert_eq!(closed.since(session.opened), 45 * 60_000);
    let notes: Vec<&str> = session
        .notes
        .iter()
        .map(|(_, note)| note.as_str())
        .collect();
    assert_eq!(notes, ["stairs before", "slept badly"]);
    assert_eq!(
        session.body_weight.expect("a weight").to_string(),
        "81.5 kg"
    );
}
