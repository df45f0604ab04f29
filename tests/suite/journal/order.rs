//! Order, voids and amendments: the same state from any order of files, any duplication, any
//! subset of devices; and each rule against its plain wording.

use crate::rig::events;
use proptest::prelude::*;
use proptest::sample::{Index, subsequence};
use rackside::domain::history::History;
use rackside::domain::session::{Amendment, Event, EventId, SetRecord, Stamped, resolve, sort};
use rackside::domain::units::Spare;
use rackside::formats::journal::{Record, read, union, write_line};

fn id(k: usize) -> EventId {
    EventId(format!("dev{}-8a1c2d-{:04}", k % 3, k / 3))
}

/// Events that act on each other as much as they can: on earlier ones, later ones, themselves,
/// none. Numbers repeat, as those of two devices do.
pub(super) fn tangle() -> impl Strategy<Value = Vec<Stamped>> {
    let target = || (0_usize..16).prop_map(id);
    let spare = (0_u32..=9).prop_map(Spare::clamped);
    let event = prop_oneof![
        events::set_record().prop_map(|set| Event::Set(Box::new(set))),
        target().prop_map(|target| Event::Voided { target }),
        target().prop_map(|target| Event::Voided { target }),
        (target(), events::amendment())
            .prop_map(|(target, change)| Event::Amended { target, change }),
        (target(), spare).prop_map(|(set, spare)| Event::Spare { set, spare }),
        events::event(),
    ];
    let of_session = prop::option::weighted(0.8, (0_usize..3).prop_map(id));
    let one = (event, 0_u64..8, of_session, events::civil());
    prop::collection::vec(one, 0..14).prop_map(|parts| {
        let number = |(k, (event, n, session, at))| Stamped {
            id: id(k),
            n,
            session: match event {
                Event::Opened(_) => Some(id(k)),
                _ => session,
            },
            at,
            event,
        };
        parts.into_iter().enumerate().map(number).collect()
    })
}

fn record_of(files: &[Vec<&Stamped>]) -> Record {
    let text = |events: &Vec<&Stamped>| -> String {
        events
            .iter()
            .map(|e| format!("{}\n", write_line(e).unwrap()))
            .collect()
    };
    let files = files.iter().enumerate();
    union(
        files
            .map(|(k, events)| read(text(events).as_bytes(), &format!("{k}.ron")))
            .collect(),
    )
}

/// Whether an event holds, in the words of the rule: unless a later void of it holds.
fn holds(event: &Stamped, all: &[Stamped]) -> bool {
    let later = |e: &&Stamped| (e.n, &e.id) > (event.n, &event.id);
    !all.iter().filter(later).any(|e| {
        matches!(&e.event, Event::Voided { target } if *target == event.id) && holds(e, all)
    })
}

/// Whether an event is used, in the words of the rule: it holds, and so does the opening of its
/// session.
fn stands(event: &Stamped, all: &[Stamped]) -> bool {
    let opening =
        |e: &&Stamped| matches!(e.event, Event::Opened(_)) && Some(&e.id) == event.session.as_ref();
    holds(event, all) && all.iter().find(opening).is_none_or(|e| holds(e, all))
}

/// A set as it was last said to be, in the words of the rule: of what is said later and holds,
/// the last word on each part.
fn last_word(set: &Stamped, record: &SetRecord, all: &[Stamped]) -> SetRecord {
    let mut said: Vec<&Stamped> = all
        .iter()
        .filter(|e| (e.n, &e.id) > (set.n, &set.id) && stands(e, all))
        .collect();
    said.sort_by_key(|e| (e.n, e.id.clone()));
    let mut record = record.clone();
    for event in said {
        let change = match &event.event {
            Event::Amended { target, change } if *target == set.id => change.clone(),
            Event::Spare { set: target, spare } if *target == set.id => Amendment {
                spare: Some(*spare),
                ..Amendment::default()
            },
            _ => continue,
        };
        record.load = change.load.unwrap_or(record.load);
        record.done = change.done.unwrap_or(record.done);
        record.spare = change.spare.or(record.spare);
        record.ended = change.ended.unwrap_or(record.ended);
    }
    record
}

proptest! {
    #[test]
    fn files_in_any_order_and_lines_any_number_of_times_are_the_same_record(
        events in tangle(),
        places in prop::collection::vec((any::<Index>(), any::<Index>()), 40),
    ) {
        let in_one = record_of(&[events.iter().collect()]);
        let mut files: Vec<Vec<&Stamped>> = vec![Vec::new(); 4];
        for event in &events {
            files[0].push(event);
        }
        // Copies strewn over all files, at any place in them.
        if !events.is_empty() {
            for (event, at) in &places {
                let file = &mut files[at.index(4)];
                file.insert(at.index(file.len() + 1), event.get(&events));
            }
        }
        files[0].reverse();
        let strewn = record_of(&files);
        prop_assert_eq!(&strewn.events, &in_one.events);
        prop_assert_eq!(&strewn.problems, &[]);
        prop_assert_eq!(strewn.highest_n, in_one.highest_n);
        prop_assert_eq!(History::of(strewn.events), History::of(in_one.events));
    }

    #[test]
    fn any_subset_of_devices_tells_what_its_events_tell(
        (events, chosen) in tangle().prop_flat_map(|events| {
            let count = events.len();
            let indices: Vec<usize> = (0..count).collect();
            (Just(events), subsequence(indices, 0..=count))
        }),
    ) {
        let subset: Vec<Stamped> = chosen.iter().map(|k| events[*k].clone()).collect();
        let ours = |e: &&Stamped| e.id.0.starts_with("dev0");
        let (ours, theirs): (Vec<_>, Vec<_>) = subset.iter().partition(ours);
        let one = record_of(&[ours.clone(), theirs.clone()]);
        let other = record_of(&[theirs, ours]);
        prop_assert_eq!(&one, &other);
        prop_assert_eq!(History::of(one.events), History::of(subset));
    }

    #[test]
    fn what_holds_is_what_no_later_void_that_holds_takes_away(events in tangle()) {
        let mut sorted = events.clone();
        sort(&mut sorted);
        let resolved = resolve(sorted.clone());
        let sets = |events: &[Stamped]| -> Vec<(EventId, SetRecord)> {
            events
                .iter()
                .filter_map(|e| match &e.event {
                    Event::Set(set) => Some((e.id.clone(), (**set).clone())),
                    _ => None,
                })
                .collect()
        };
        let expected: Vec<(EventId, SetRecord)> = sorted
            .iter()
            .filter(|e| stands(e, &events))
            .filter_map(|e| match &e.event {
                Event::Set(set) => Some((e.id.clone(), last_word(e, set, &events))),
                _ => None,
            })
            .collect();
        prop_assert_eq!(sets(&resolved.events), expected);
        for stray in &resolved.strays {
            prop_assert!(sorted.iter().any(|e| e.id == stray.id));
        }
    }

    #[test]
    fn voiding_a_void_restores(events in tangle(), index in any::<Index>()) {
        let mut events = events;
        prop_assume!(!events.is_empty());
        let before = History::of(events.clone());
        let target = index.get(&events).clone();
        let mut last = target.clone();
        for k in 0..2 {
            last = Stamped {
                id: id(100 + k),
                n: 100 + k as u64,
                session: target.session.clone(),
                at: target.at,
                event: Event::Voided { target: last.id },
            };
            events.push(last.clone());
        }
        prop_assert_eq!(History::of(events), before);
    }
}

/// A line as a person would write it.
pub(super) fn by_hand(k: u32, event: &str) -> String {
    let at = "2026-11-19T18:22:05.123+01:00";
    format!(r#"(v:0,id:"a-b-{k:04}",n:{k},session:"a-b-0000",at:"{at}",event:{event})"#)
}

/// A set as a person would write it.
fn set_of(load: &str) -> String {
    let done = "done:Reps(8),asked:Reps(8),ended:AsAsked,counts:PerHand,item:0";
    format!(r#"Set(exercise:"row",kind:Working,number:1,load:"{load}",{done})"#)
}

#[test]
fn the_same_id_twice_is_one_event_and_both_are_told() {
    let line = |load: &str| by_hand(1, &set_of(load));
    let sealed = |load: &str| {
        let read = read(line(load).as_bytes(), "x");
        write_line(&read.entries[0].stamped).unwrap()
    };
    let wrong = sealed("30 kg").replace("30 kg", "31 kg");
    let by_trust = [sealed("10 kg"), line("20 kg"), wrong.clone()];
    for (better, worse) in [(0, 1), (0, 2), (1, 2)] {
        for order in [[better, worse], [worse, better]] {
            let files = order.map(|k| read(by_trust[k].as_bytes(), &format!("{k}.ron")));
            let record = union(files.to_vec());
            let used = read(by_trust[better].as_bytes(), "x").entries[0].clone();
            assert_eq!(record.events, [used.stamped]);
            assert_eq!(record.damaged.len(), usize::from(better == 2));
            let mut told = record.problems.iter();
            let told = told.rfind(|p| p.path == format!("{worse}.ron"));
            let said = told.expect("a problem").diagnostic().to_string();
            assert!(said.contains("a-b-0001"), "{said}");
            assert!(said.contains(&format!("{better}.ron, line 1")), "{said}");
        }
    }
    let both = [sealed("40 kg"), sealed("50 kg")];
    let of = |a: usize, b: usize| {
        union(vec![
            read(both[a].as_bytes(), "a"),
            read(both[b].as_bytes(), "b"),
        ])
    };
    assert_eq!(
        of(0, 1).events,
        of(1, 0).events,
        "the order of reading decides nothing"
    );
    assert_eq!(of(0, 1).problems.len(), 1);
    // Trusted alike, the line that sorts first is used; the other is shown.
    let used = read(both[0].as_bytes(), "x").entries[0].stamped.clone();
    assert_eq!(of(0, 1).events, [used]);
    let shown: String = both[1].chars().take(80).collect();
    assert_eq!(of(0, 1).problems[0].excerpt, shown);
}

#[test]
fn a_damaged_set_is_shown_and_teaches_nothing() {
    let set = |k: u32| by_hand(k, &set_of("10 kg"));
    let file = format!("{}\n{} // crc 00000000\n", set(1), set(2));
    let record = union(vec![read(file.as_bytes(), "j")]);
    let history = History::with_damaged(record.events, &record.damaged);
    let marks: Vec<bool> = history.sessions[0].sets.iter().map(|s| s.damaged).collect();
    assert_eq!(marks, [false, true]);
    let row = history.exercises().next().unwrap().clone();
    assert_eq!(history.outings(&row)[0].sets.len(), 1);
}

#[test]
fn a_damaged_line_never_voids_amends_or_closes() {
    let mut file = format!("{}\n", by_hand(1, &set_of("10 kg")));
    let whole = History::of(union(vec![read(file.as_bytes(), "j")]).events);
    for (k, event) in [
        (2, r#"Voided(event:"a-b-0001")"#),
        (3, r#"Amended(set:"a-b-0001",load:"90 kg")"#),
        (4, r#"Spare(set:"a-b-0001",spare:9)"#),
        (5, "Closed(effort:3)"),
        (6, r#"BodyWeight(weight:"300 kg")"#),
    ] {
        file += &format!("{} // crc 00000000\n", by_hand(k, event));
    }
    let record = union(vec![read(file.as_bytes(), "j")]);
    assert_eq!(record.problems.len(), 5);
    assert_eq!(History::with_damaged(record.events, &record.damaged), whole);
}

/// An import takes its own days with it, and nothing that calls it its session.
#[test]
fn a_voided_import_takes_no_set_with_it() {
    let mut file = format!("{}\n", by_hand(0, r#"ImportEnded(source:"s",days:0)"#));
    file += &format!("{}\n", by_hand(1, &set_of("10 kg")));
    file += &format!("{}\n", by_hand(2, r#"Voided(event:"a-b-0000")"#));
    let events = union(vec![read(file.as_bytes(), "j")]).events;
    let held = resolve(events).events;
    assert!(
        held.iter().any(|e| matches!(e.event, Event::Set(_))),
        "{held:?}"
    );
    assert_eq!(held.len(), 1);
}
