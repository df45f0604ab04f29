//! What each event does to the session, and what it leaves alone.

use super::{at, coming, did, events, fold, id, item, kg, planned, reps, set, work};
use rackside::domain::exercise::Joint;
use rackside::domain::session::{
    Cell, Closed, Coming, Event, Imported, Pain, Session, SetKind, Stamped, Whereabouts,
};
use std::collections::BTreeSet;

#[test]
fn the_opening_lays_the_plan_out() {
    let session = fold(vec![work("a", 2), work("b", 1)], vec![]);
    assert_eq!((&session.id, session.opened), (&id(1), at(0)));
    assert_eq!(session.order, [0, 1]);
    let cells: Vec<usize> = session.items.iter().map(|item| item.cells.len()).collect();
    assert_eq!(cells, [2, 1]);
    assert_eq!(session.plan.as_ref().unwrap().items.len(), 2);
    assert_eq!((coming(&session), session.remaining()), (Some((0, 0)), 3));
    assert_eq!(session.last_at(), at(0), "no set yet: the opening");
}

#[test]
fn a_session_without_its_opening_still_counts_its_sets() {
    let event = |k: i64, session: Option<u64>| Stamped {
        id: id(k as u64),
        n: k as u64,
        session: session.map(id),
        at: at(k),
        event: did(7, 1, 5),
    };
    let session = Session::fold(&[event(3, Some(1)), event(4, Some(1))]).unwrap();
    assert_eq!((session.id, session.opened), (id(1), at(3)));
    assert_eq!((session.sets.len(), session.plan), (2, None));
    assert_eq!(Session::fold(&[event(3, None)]).unwrap().id, id(3));
    assert_eq!(Session::fold(&[]), None);
}

#[test]
fn a_session_was_opened_when_its_opening_says_whatever_stands_before() {
    let mut all = events(vec![work("a", 1)], vec![]);
    let event = Event::Note {
        text: "on the way".to_owned(),
    };
    let early = Stamped {
        id: id(9),
        at: at(-60),
        event,
        ..all[0].clone()
    };
    all.insert(0, early);
    assert_eq!(Session::fold(&all).unwrap().opened, at(0));
}

#[test]
fn sets_are_done_in_order_and_the_next_exercise_follows() {
    let items = || vec![work("a", 2), work("b", 1)];
    let session = fold(items(), vec![did(0, 1, 5), did(0, 2, 4)]);
    assert_eq!(session.items[0].cells, [Cell::Done(0), Cell::Done(1)]);
    assert_eq!(session.items[0].coming(), None);
    assert_eq!((coming(&session), session.remaining()), (Some((1, 0)), 1));
    assert_eq!(session.last_at(), at(120));
    let counts: Vec<_> = session.records(0).map(|set| set.record.done).collect();
    assert_eq!(counts, [reps(5), reps(4)]);
    assert_eq!(session.records(1).count(), 0);
    assert_eq!(session.records(9).count(), 0);
    let over = fold(items(), vec![did(0, 1, 5), did(0, 2, 4), did(1, 1, 5)]);
    assert_eq!((coming(&over), over.remaining()), (None, 0));
}

#[test]
fn a_set_more_than_planned_is_kept() {
    let session = fold(vec![work("a", 1)], vec![did(0, 1, 5), did(0, 2, 6)]);
    assert_eq!(session.items[0].cells, [Cell::Done(0), Cell::Done(1)]);
    assert_eq!(coming(&session), None);
}

#[test]
fn one_set_is_skipped_or_all_that_are_left() {
    let skip = |whole| Event::Skipped { item: 0, whole };
    let a_set = planned(SetKind::Working, kg(20), 5);
    let one = fold(vec![work("a", 3), work("b", 1)], vec![skip(false)]);
    let (left_out, open) = (Cell::Skipped(a_set.clone()), Cell::ToCome(a_set));
    assert_eq!(
        one.items[0].cells,
        [left_out.clone(), open.clone(), open.clone()]
    );
    assert_eq!(coming(&one), Some((0, 1)));
    let all = fold(vec![work("a", 3), work("b", 1)], vec![skip(true)]);
    assert_eq!(all.items[0].cells, vec![left_out; 3]);
    assert_eq!(all.items[1].cells, [open]);
    assert_eq!((coming(&all), all.remaining()), (Some((1, 0)), 1));
    let again = fold(vec![work("a", 1)], vec![skip(false), skip(false)]);
    assert_eq!(again.items[0].cells.len(), 1);
}

#[test]
fn what_is_put_off_comes_last_and_what_is_not_there_is_not() {
    let put_off = |item| Event::PutOff { item };
    let items = || vec![work("a", 1), work("b", 1), work("c", 1)];
    assert_eq!(fold(items(), vec![put_off(0)]).order, [1, 2, 0]);
    assert_eq!(fold(items(), vec![put_off(1)]).order, [0, 2, 1]);
    assert_eq!(fold(items(), vec![put_off(0), put_off(1)]).order, [2, 0, 1]);
    assert_eq!(fold(items(), vec![put_off(9)]).order, [0, 1, 2]);
    assert_eq!(coming(&fold(items(), vec![put_off(0)])), Some((1, 0)));
}

#[test]
fn a_swap_keeps_what_was_done_and_replaces_what_is_left() {
    let with = Box::new(work("z", 4));
    let swapped = Event::Swapped { item: 0, with };
    let session = fold(vec![work("a", 2)], vec![did(0, 1, 5), swapped]);
    let cells = &session.items[0].cells;
    assert_eq!((cells.len(), &cells[0]), (5, &Cell::Done(0)));
    assert_eq!(session.items[0].planned.exercise.as_str(), "z");
    assert_eq!((coming(&session), session.remaining()), (Some((0, 1)), 4));
    let nowhere = Event::Swapped {
        item: 3,
        with: Box::new(work("z", 4)),
    };
    assert_eq!(fold(vec![work("a", 2)], vec![nowhere]).remaining(), 2);
}

#[test]
fn what_was_planned_for_a_set_is_its_items_plan_until_a_swap() {
    let name = |session: &Session, item| {
        let planned = session.planned_for(&set(item, 1, reps(5)));
        planned.map(|planned| planned.exercise.as_str().to_owned())
    };
    let items = || vec![work("a", 2), work("b", 1)];
    let session = fold(items(), vec![]);
    assert_eq!(name(&session, 0).as_deref(), Some("a"));
    assert_eq!(name(&session, 1), None, "a set of another exercise");
    assert_eq!(name(&session, 2), None);
    let with = Box::new(work("z", 1));
    let swapped = fold(items(), vec![Event::Swapped { item: 0, with }]);
    assert_eq!(name(&swapped, 0), None);
}

#[test]
fn an_added_set_comes_behind_the_others() {
    let added = planned(SetKind::BackOff, kg(10), 8);
    let event = |item| Event::Added {
        item,
        set: added.clone(),
    };
    let session = fold(
        vec![work("a", 1), work("b", 1)],
        vec![did(0, 1, 5), event(0)],
    );
    assert_eq!(
        session.items[0].cells,
        [Cell::Done(0), Cell::ToCome(added.clone())]
    );
    assert_eq!(coming(&session), Some((0, 1)));
    let place = session.coming().unwrap();
    assert_eq!(session.planned(place), Some(&added));
    assert_eq!(
        session.planned(Coming { item: 0, cell: 0 }),
        None,
        "it is done"
    );
    assert_eq!(session.planned(Coming { item: 0, cell: 2 }), None);
    assert_eq!(session.planned(Coming { item: 2, cell: 0 }), None);
    assert_eq!(fold(vec![work("a", 1)], vec![event(1)]).remaining(), 1);
}

#[test]
fn pains_notes_pauses_and_the_end_are_kept_with_their_times() {
    let pain = Pain {
        item: Some(0),
        whereabouts: Whereabouts::Joint(Joint::Knee),
    };
    let closed = Closed { effort: Some(7) };
    let note = Event::Note {
        text: "warm".to_owned(),
    };
    let then = vec![
        Event::Pain(pain.clone()),
        note,
        Event::Paused,
        Event::Closed(closed.clone()),
    ];
    let session = fold(vec![work("a", 1)], then);
    assert_eq!(session.pains, [(at(60), pain)]);
    assert_eq!(session.notes, [(at(120), "warm".to_owned())]);
    assert_eq!(session.paused, Some(at(180)));
    assert_eq!(session.closed, Some((at(240), closed)));
    let on = fold(vec![work("a", 2)], vec![Event::Paused, Event::Resumed]);
    assert_eq!(on.paused, None);
    let by_a_set = fold(vec![work("a", 2)], vec![Event::Paused, did(0, 1, 5)]);
    assert_eq!(by_a_set.paused, None, "a set ends a time out");
}

#[test]
fn sets_are_numbered_within_their_kind() {
    use SetKind::{Ramp, Working};
    let session = fold(
        vec![item("a", &[Ramp, Ramp, Working, Working])],
        vec![
            Event::Set(Box::new(rackside::domain::session::SetRecord {
                kind: Ramp,
                ..set(0, 1, reps(5))
            })),
            Event::Skipped {
                item: 0,
                whole: false,
            },
            did(0, 1, 5),
        ],
    );
    let place = |cell| Coming { item: 0, cell };
    assert_eq!(session.number(place(1), Ramp), 2);
    assert_eq!(session.number(place(2), Working), 1);
    assert_eq!(session.number(place(3), Working), 2);
    assert_eq!(
        session.number(place(3), Ramp),
        3,
        "a skipped set has its number"
    );
    assert_eq!(session.number(Coming { item: 5, cell: 3 }, Working), 1);
}

#[test]
fn sets_from_damaged_lines_are_marked_and_no_others() {
    let mut session = fold(vec![work("a", 2)], vec![did(0, 1, 5), did(0, 2, 5)]);
    session.mark_damaged(&BTreeSet::from([id(3)]));
    let marks: Vec<bool> = session.sets.iter().map(|set| set.damaged).collect();
    assert_eq!(marks, [false, true]);
}

#[test]
fn imported_sets_are_a_session_that_is_over() {
    let imported = Imported {
        date: "2020-03-04".parse().unwrap(),
        source: "a notebook".to_owned(),
        sets: vec![set(0, 1, reps(5)), set(0, 2, reps(6))],
        part: None,
        effort: Some(6),
        minutes: Some(40),
        body_weight: None,
        notes: vec!["hot".to_owned()],
    };
    let stamped = Stamped {
        session: None,
        ..events(vec![], vec![]).remove(0)
    };
    let session = Session::imported(&stamped, &imported);
    let names: Vec<&str> = session.sets.iter().map(|set| set.id.0.as_str()).collect();
    assert_eq!(names, ["dev-run-1.1", "dev-run-1.2"]);
    assert!(session.sets.iter().all(|set| !set.damaged));
    assert_eq!(session.opened.date(), imported.date);
    assert_eq!(session.opened.to_string(), "2020-03-04T12:00:00.000+01:00");
    let ended = session.opened.plus(40 * 60_000);
    assert_eq!(session.closed, Some((ended, Closed { effort: Some(6) })));
    assert_eq!(session.notes, [(session.opened, "hot".to_owned())]);
    assert_eq!(session.source.as_deref(), Some("a notebook"));
    assert_eq!(session.id, id(1));
}

/// A set is held against what was planned in its own place: behind a skipped set that is not the
/// first, and an added set has none.
#[test]
fn what_was_planned_of_a_set_is_found_by_its_place() {
    let mut rising = work("a", 3);
    for (set, load) in rising.sets.iter_mut().zip([10, 20, 30]) {
        set.load = kg(load);
    }
    let skipped = Event::Skipped {
        item: 0,
        whole: false,
    };
    let added = Event::Added {
        item: 0,
        set: planned(SetKind::Working, kg(40), 5),
    };
    let other = Event::Swapped {
        item: 0,
        with: Box::new(work("b", 3)),
    };
    let then = vec![skipped, added, did(0, 2, 5), did(0, 3, 5), did(0, 4, 5)];
    let session = fold(vec![rising.clone()], then.clone());
    let load = |session: &Session, place| session.planned_at(place).map(|set| set.load);
    let found: Vec<_> = (0..4).map(|place| load(&session, place)).collect();
    assert_eq!(found, [Some(kg(20)), Some(kg(30)), None, None]);
    // With another exercise in its place, nothing was planned of what was done.
    let swapped = fold(vec![rising], then.into_iter().chain([other]).collect());
    assert_eq!(load(&swapped, 0), None);
}
