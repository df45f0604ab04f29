//! What is said later of recorded events, and what then holds.

use super::{did, events, id, kg, reps, work};
use rackside::domain::session::{
    Amendment, Denial, Done, Ended, Event, EventId, Refusal, Stamped, Stray, StrayWhy,
    amend_recorded, resolve, sort, void_recorded,
};
use rackside::domain::units::{Seconds, Spare};

/// Two sets, the second voided, and what `then` adds.
fn two_sets(then: Vec<Event>) -> Vec<Stamped> {
    let first = vec![did(0, 1, 5), did(0, 2, 4), void(3)];
    events(vec![work("a", 3)], first.into_iter().chain(then).collect())
}

fn void(k: u64) -> Event {
    Event::Voided { target: id(k) }
}

fn change(done: Option<Done>) -> Amendment {
    Amendment {
        done,
        ..Amendment::default()
    }
}

fn spare(count: u32) -> Amendment {
    let spare = Some(Spare::clamped(count));
    Amendment {
        spare,
        ..Amendment::default()
    }
}

fn amended(k: u64, change: Amendment) -> Event {
    Event::Amended {
        target: id(k),
        change,
    }
}

#[test]
fn a_set_is_amended_as_it_stands() {
    let expected = Amendment {
        ended: Some(Ended::Short),
        ..change(Some(reps(4)))
    };
    let said = amend_recorded(&two_sets(vec![]), &id(2), change(Some(reps(4))));
    assert_eq!(said, Ok(amended(2, expected)));
    // One that belongs to no session stands alone.
    let mut alone = two_sets(vec![]);
    alone[1].session = None;
    assert!(amend_recorded(&alone, &id(2), change(Some(reps(4)))).is_ok());
}

#[test]
fn what_cannot_be_amended_is_denied_with_its_reason() {
    let all = two_sets(vec![void(1), void(5), void(1)]);
    let on = &all[..4];
    let deny = |events: &[Stamped], k, change| amend_recorded(events, &id(k), change).unwrap_err();
    assert_eq!(deny(on, 9, spare(1)), Denial::Unknown);
    assert_eq!(deny(on, 1, spare(1)), Denial::NotASet);
    assert_eq!(deny(on, 3, spare(1)), Denial::Voided(id(4)));
    assert_eq!(deny(&all[..5], 2, spare(1)), Denial::SessionVoided(id(5)));
    assert_eq!(deny(&all, 2, spare(1)), Denial::SessionVoided(id(7)));
    assert!(
        amend_recorded(&all[..6], &id(2), spare(1)).is_ok(),
        "the void was voided"
    );
    let held = Some(Done::Held(Seconds::clamped(5)));
    assert_eq!(deny(on, 2, change(held)), Denial::CountsReps);
    assert_eq!(deny(on, 2, change(Some(reps(5)))), Denial::NothingDifferent);
    assert_eq!(deny(on, 2, Amendment::default()), Denial::NothingDifferent);
}

#[test]
fn a_set_that_counts_seconds_takes_no_reps() {
    let mut all = two_sets(vec![]);
    let Event::Set(set) = &mut all[1].event else {
        panic!("a set");
    };
    set.done = Done::Held(Seconds::clamped(30));
    let longer = Some(Done::Held(Seconds::clamped(31)));
    assert_eq!(
        amend_recorded(&all, &id(2), change(Some(reps(5)))),
        Err(Denial::CountsSeconds)
    );
    assert!(amend_recorded(&all, &id(2), change(longer)).is_ok());
}

#[test]
fn anything_recorded_is_voided_once() {
    let all = two_sets(vec![]);
    assert_eq!(void_recorded(&all, &id(2)), Ok(void(2)));
    assert_eq!(void_recorded(&all, &id(4)), Ok(void(4)), "a void too");
    assert_eq!(void_recorded(&all, &id(3)), Err(Denial::Voided(id(4))));
    assert_eq!(void_recorded(&all, &id(9)), Err(Denial::Unknown));
}

#[test]
fn a_denial_says_why_and_what_to_do() {
    let by = || EventId("d-r-4".to_owned());
    let said = [
        (Denial::Unknown, "the journal has no such event"),
        (
            Denial::NotASet,
            "only a set can be amended: void it, and say it anew",
        ),
        (
            Denial::Voided(by()),
            "it was voided: void d-r-4 to bring it back",
        ),
        (
            Denial::SessionVoided(by()),
            "its session was voided: void d-r-4 to bring it back",
        ),
        (
            Denial::CountsSeconds,
            "this set counts seconds held, not reps",
        ),
        (Denial::CountsReps, "this set counts reps, not seconds held"),
        (
            Denial::NothingDifferent,
            "that is what the journal says already",
        ),
        (Denial::Refused(Refusal::NothingDone), "no set is done yet"),
    ];
    for (denial, words) in said {
        assert_eq!(denial.to_string(), words);
    }
}

#[test]
fn amendments_and_late_reports_change_what_they_name_alone() {
    let late = Event::Spare {
        set: id(2),
        spare: Spare::clamped(3),
    };
    let load = Amendment {
        load: Some(kg(25)),
        ..Amendment::default()
    };
    let done = Amendment {
        ended: Some(Ended::Short),
        ..change(Some(reps(4)))
    };
    let all = two_sets(vec![
        late,
        amended(2, load),
        amended(2, done),
        amended(2, spare(1)),
    ]);
    let resolved = resolve(all);
    assert_eq!(resolved.strays, []);
    let ids: Vec<&EventId> = resolved.events.iter().map(|event| &event.id).collect();
    assert_eq!(
        ids,
        [&id(1), &id(2)],
        "what acted is worked in and left out"
    );
    let Event::Set(set) = &resolved.events[1].event else {
        panic!("a set");
    };
    let now = (set.load, set.done, set.spare, set.ended);
    assert_eq!(
        now,
        (kg(25), reps(4), Some(Spare::clamped(1)), Ended::Short)
    );
}

#[test]
fn what_acts_on_nothing_is_told_with_its_reason() {
    let then = vec![
        amended(9, spare(1)),
        amended(1, spare(1)),
        amended(8, spare(1)),
    ];
    let later = vec![did(0, 3, 5), void(9), void(10), void(12)];
    let resolved = resolve(two_sets(then.into_iter().chain(later).collect()));
    let stray = |k, target, why| Stray {
        id: id(k),
        target: id(target),
        why,
    };
    let mut strays = resolved.strays;
    // In order of their numbers.
    strays
        .sort_by_key(|stray| stray.id.0.len() * 100 + stray.id.0.bytes().last().unwrap() as usize);
    let expected = [
        stray(5, 9, StrayWhy::NotEarlier),
        stray(6, 1, StrayWhy::NotASet),
        stray(7, 8, StrayWhy::NotEarlier),
        stray(9, 9, StrayWhy::NotEarlier),
        stray(10, 10, StrayWhy::NotEarlier),
        stray(11, 12, StrayWhy::Unknown),
    ];
    assert_eq!(strays, expected);
    let itself = resolve(two_sets(vec![amended(5, spare(1))])).strays;
    assert_eq!(itself, [stray(5, 5, StrayWhy::NotEarlier)]);
}

#[test]
fn with_its_opening_a_session_goes_and_with_the_void_it_comes_back() {
    let gone = |then| -> usize { resolve(two_sets(then)).events.len() };
    assert_eq!(gone(vec![]), 2);
    assert_eq!(gone(vec![void(1)]), 0);
    assert_eq!(gone(vec![void(1), void(5)]), 2);
    assert_eq!(gone(vec![void(1), void(5), void(6)]), 0);
    assert_eq!(gone(vec![void(2)]), 1, "a set alone takes nothing with it");
}

#[test]
fn events_stand_by_number_and_then_by_name() {
    let named = |name: &str, n| {
        let mut event = events(vec![], vec![]).remove(0);
        (event.id, event.n) = (EventId(name.to_owned()), n);
        event
    };
    let mut all = vec![named("b", 2), named("c", 1), named("a", 2), named("a", 3)];
    sort(&mut all);
    let order: Vec<(u64, &str)> = all.iter().map(|e| (e.n, e.id.0.as_str())).collect();
    assert_eq!(order, [(1, "c"), (2, "a"), (2, "b"), (3, "a")]);
}
