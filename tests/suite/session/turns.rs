//! Exercises in turn, totals, and which rest holds before a set.

use super::{coming, did, fold, item, kg, plan, planned, set, window, work};
use SetKind::{BackOff, Ramp, Working};
use rackside::domain::program::Details;
use rackside::domain::session::{
    Asked, Coming, Event, PlannedItem, PlannedSet, SetKind, SetRecord,
};
use rackside::domain::units::{Reps, Seconds};

fn grouped(item: PlannedItem) -> PlannedItem {
    PlannedItem {
        group: Some(0),
        ..item
    }
}

fn done(item: u16, kind: SetKind) -> Event {
    let record = set(item, 1, super::reps(5));
    Event::Set(Box::new(SetRecord { kind, ..record }))
}

#[test]
fn a_group_takes_turns_its_ramp_sets_first() {
    let items = vec![
        grouped(item("a", &[Ramp, Working, Working])),
        grouped(item("b", &[Ramp, Working, BackOff])),
        work("c", 1),
    ];
    let turns = [(0, 0), (1, 0), (0, 1), (1, 1), (0, 2), (1, 2), (2, 0)];
    assert_eq!(plan(items.clone()).turns(), turns);
    let kinds = [Ramp, Ramp, Working, Working, Working, BackOff, Working];
    let mut then = Vec::new();
    for ((item, cell), kind) in turns.into_iter().zip(kinds) {
        assert_eq!(
            coming(&fold(items.clone(), then.clone())),
            Some((item, cell))
        );
        then.push(done(item as u16, kind));
    }
    assert_eq!(coming(&fold(items, then)), None);
}

#[test]
fn a_skipped_set_is_a_turn_and_a_shorter_exercise_drops_out() {
    let items = vec![grouped(work("a", 3)), grouped(work("b", 1))];
    assert_eq!(
        plan(items.clone()).turns(),
        [(0, 0), (1, 0), (0, 1), (0, 2)]
    );
    let skip = Event::Skipped {
        item: 0,
        whole: false,
    };
    assert_eq!(coming(&fold(items.clone(), vec![skip])), Some((1, 0)));
    assert_eq!(
        coming(&fold(items, vec![did(0, 1, 5), did(1, 1, 5)])),
        Some((0, 1))
    );
}

#[test]
fn exercises_of_no_group_and_of_others_wait() {
    let other = PlannedItem {
        group: Some(1),
        ..work("b", 1)
    };
    let items = vec![grouped(work("a", 2)), other, work("c", 1)];
    assert_eq!(
        plan(items.clone()).turns(),
        [(0, 0), (0, 1), (1, 0), (2, 0)]
    );
    assert_eq!(coming(&fold(items, vec![did(0, 1, 5)])), Some((0, 1)));
    let alone = vec![work("a", 2), work("b", 2)];
    assert_eq!(coming(&fold(alone, vec![did(0, 1, 5)])), Some((0, 1)));
}

fn with_total(sets: &[SetKind], total: u32) -> PlannedItem {
    let total = Some(Reps::clamped(total));
    let details = Details {
        total,
        ..Details::default()
    };
    PlannedItem {
        details,
        ..item("a", sets)
    }
}

fn share(item: PlannedItem, then: Vec<Event>) -> Option<u32> {
    let session = fold(vec![item], then);
    match session.share(session.coming()?)? {
        Asked::Reps(reps) => Some(reps.get()),
        Asked::Hold(_) => None,
    }
}

#[test]
fn what_is_left_of_a_total_is_shared_out() {
    let four = || with_total(&[Working; 4], 20);
    assert_eq!(share(four(), vec![]), Some(5));
    assert_eq!(share(four(), vec![did(0, 1, 8)]), Some(4));
    assert_eq!(
        share(four(), vec![did(0, 1, 7)]),
        Some(5),
        "13 among three, rounded up"
    );
    assert_eq!(
        share(four(), vec![did(0, 1, 8), did(0, 2, 4), did(0, 3, 3)]),
        Some(5)
    );
    assert_eq!(share(work("a", 4), vec![]), None, "no total");
    let ramped = with_total(&[Ramp, Working, Working], 20);
    assert_eq!(
        share(ramped.clone(), vec![]),
        None,
        "a ramp set has no share"
    );
    assert_eq!(
        share(ramped, vec![done(0, Ramp)]),
        Some(10),
        "nor do its reps count"
    );
    let mut felt = four();
    felt.sets[0].feeler = true;
    assert_eq!(share(felt.clone(), vec![]), None, "nor a feeler set");
    assert_eq!(share(felt, vec![did(0, 1, 8)]), Some(4));
    let mut held = four();
    let asked = Asked::Hold(Seconds::clamped(30));
    held.sets[0] = PlannedSet {
        asked,
        ..planned(Working, kg(20), 5)
    };
    let session = fold(vec![held], vec![]);
    assert_eq!(session.share(Coming { item: 0, cell: 0 }), None);
    assert_eq!(session.share(Coming { item: 1, cell: 0 }), None);
}

#[test]
fn a_total_that_is_reached_ends_the_exercise() {
    let four = || with_total(&[Working; 4], 12);
    let short = fold(vec![four()], vec![did(0, 1, 6), did(0, 2, 5)]);
    assert_eq!((coming(&short), short.remaining()), (Some((0, 2)), 2));
    assert_eq!(share(four(), vec![did(0, 1, 6), did(0, 2, 5)]), Some(1));
    let reached = fold(vec![four()], vec![did(0, 1, 6), did(0, 2, 6)]);
    assert_eq!((coming(&reached), reached.remaining()), (None, 0));
}

#[test]
fn the_rest_is_the_own_one_or_the_longer_of_two() {
    let (mut a, mut b) = (work("a", 2), work("b", 2));
    (a.rest, b.rest) = (window(90, 120), window(60, 180));
    let items = || vec![a.clone(), b.clone()];
    let none = fold(items(), vec![]);
    assert_eq!((none.window(0), none.window(1)), (a.rest, b.rest));
    assert_eq!(none.window(2), window(0, 0));
    let after_a = fold(items(), vec![did(0, 1, 5)]);
    assert_eq!(
        (after_a.window(0), after_a.window(1)),
        (a.rest, window(90, 180))
    );
    assert_eq!(after_a.window(2), a.rest);
    let after_b = fold(items(), vec![did(1, 1, 5)]);
    assert_eq!(
        (after_b.window(0), after_b.window(1)),
        (window(90, 180), b.rest)
    );
    let unknown = fold(items(), vec![did(7, 1, 5)]);
    assert_eq!(unknown.window(1), b.rest);
}

#[test]
fn inside_a_group_the_named_rest_holds_and_behind_the_round_the_own_one() {
    let mut a = grouped(work("a", 2));
    let b = grouped(PlannedItem {
        rest: window(50, 70),
        ..work("b", 2)
    });
    a.details.inside = Some(window(10, 20));
    let items = || vec![a.clone(), b.clone(), work("c", 1)];
    let after_a = fold(items(), vec![did(0, 1, 5)]);
    assert_eq!(after_a.window(1), window(10, 20), "onward");
    assert_eq!(after_a.window(2), window(60, 180), "out of the group");
    let after_b = fold(items(), vec![did(0, 1, 5), did(1, 1, 5)]);
    assert_eq!(after_b.window(0), a.rest, "back: the round is over");
    assert_eq!(after_b.window(1), b.rest);
    let put_off = Event::PutOff { item: 0 };
    let turned = fold(items(), vec![put_off, did(0, 1, 5)]);
    assert_eq!(turned.window(1), b.rest, "the order of doing counts");
}

#[test]
fn where_no_rest_is_named_only_the_own_one_counts_from_the_own_last_set() {
    let items = || vec![grouped(work("a", 3)), grouped(work("b", 3))];
    let after_a = fold(items(), vec![did(0, 1, 5)]);
    assert_eq!(
        after_a.window(1),
        window(0, 60),
        "before its first, straight on"
    );
    // A minute went by with the other's set.
    let after_b = fold(items(), vec![did(0, 1, 5), did(1, 1, 5)]);
    assert_eq!(after_b.window(0), window(0, 120));
    let late = fold(
        items(),
        vec![did(0, 1, 5), did(1, 1, 5), did(1, 2, 5), did(1, 3, 5)],
    );
    assert_eq!(late.window(0), window(0, 0));
}

#[test]
fn what_is_missing_of_a_total_is_known_once_its_working_sets_are_done() {
    let total = |sets: &[SetKind], then| fold(vec![with_total(sets, 20)], then).missing(0);
    let two = [Working, Working];
    assert_eq!(total(&two, vec![]), None);
    assert_eq!(total(&two, vec![did(0, 1, 8)]), None, "one is to come");
    assert_eq!(total(&two, vec![did(0, 1, 8), did(0, 2, 9)]), Some(3));
    assert_eq!(total(&two, vec![did(0, 1, 10), did(0, 2, 10)]), None);
    assert_eq!(total(&two, vec![did(0, 1, 12), did(0, 2, 12)]), None);
    let with_back_off = [Working, BackOff];
    assert_eq!(total(&with_back_off, vec![did(0, 1, 8)]), Some(12));
    assert_eq!(
        fold(vec![work("a", 1)], vec![]).missing(0),
        None,
        "no total"
    );
}
