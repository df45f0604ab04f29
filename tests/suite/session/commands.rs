//! What a person wants of a session, and the event that says so.

use super::{did, events, id, item, kg, planned, reps, set, work};
use rackside::domain::exercise::{Counts, ExerciseId};
use rackside::domain::session::{
    Amendment, Asked, Command, Done, Ended, Entry, Event, PlannedItem, Refusal, Session, SetKind,
    SetRecord, Stamped, decide, done_by_side, done_of, resolve,
};
use rackside::domain::units::{Odds, Reps, Seconds, Spare};

/// Decides after these events.
fn after(events: &[Stamped], command: Command) -> Result<Event, Refusal> {
    let session = Session::fold(&resolve(events.to_vec()).events).unwrap();
    decide(&session, events, command)
}

fn of(items: Vec<PlannedItem>, then: Vec<Event>, command: Command) -> Result<Event, Refusal> {
    after(&events(items, then), command)
}

fn entry(done: u32) -> Entry {
    Entry {
        counts: Counts::BarTotal,
        load: kg(20),
        asked: Asked::Reps(Reps::clamped(5)),
        done: reps(done),
        spare: None,
        rest: None,
        lifted: None,
        odds: None,
        predicted: None,
        open: false,
        interrupted: false,
    }
}

fn record(entry: Entry) -> Command {
    Command::Record(Box::new(entry))
}

#[test]
fn a_set_is_recorded_with_all_that_is_known_of_it() {
    let entry = Entry {
        spare: Some(Spare::clamped(3)),
        lifted: Some(Seconds::clamped(21)),
        odds: Some(Odds::nearest(0.75)),
        ..entry(5)
    };
    let expected = SetRecord {
        spare: entry.spare,
        lifted: entry.lifted,
        odds: entry.odds,
        exercise: ExerciseId::new("b").unwrap(),
        ..set(1, 2, reps(5))
    };
    let then = vec![did(0, 1, 5), did(1, 1, 5)];
    let event = of(vec![work("a", 1), work("b", 3)], then, record(entry));
    assert_eq!(event, Ok(Event::Set(Box::new(expected))));
}

#[test]
fn a_set_ended_as_asked_short_on_purpose_or_interrupted() {
    let ended = |done, spare: Option<u32>, interrupted| {
        let spare = spare.map(Spare::clamped);
        let entry = Entry {
            spare,
            interrupted,
            ..entry(done)
        };
        match of(vec![work("a", 1)], vec![], record(entry)) {
            Ok(Event::Set(set)) => set.ended,
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(ended(5, None, false), Ended::AsAsked);
    assert_eq!(ended(6, Some(0), true), Ended::AsAsked);
    assert_eq!(ended(4, None, false), Ended::Short);
    assert_eq!(ended(4, Some(0), false), Ended::Short);
    assert_eq!(ended(4, Some(1), false), Ended::OnPurpose);
    assert_eq!(ended(4, Some(1), true), Ended::Interrupted);
    assert_eq!(ended(4, None, true), Ended::Interrupted);
}

#[test]
fn the_coming_exercise_is_skipped_put_off_or_swapped() {
    let items = || vec![work("a", 1), work("b", 2)];
    let then = || vec![did(0, 1, 5)];
    let event = |command| of(items(), then(), command);
    assert_eq!(
        event(Command::SkipSet),
        Ok(Event::Skipped {
            item: 1,
            whole: false
        })
    );
    assert_eq!(
        event(Command::SkipExercise),
        Ok(Event::Skipped {
            item: 1,
            whole: true
        })
    );
    let with = Box::new(work("z", 1));
    let swapped = Event::Swapped {
        item: 1,
        with: with.clone(),
    };
    assert_eq!(event(Command::Swap(with)), Ok(swapped));
    assert_eq!(event(Command::PutOff), Err(Refusal::NothingElseLeft));
    assert_eq!(
        of(items(), vec![], Command::PutOff),
        Ok(Event::PutOff { item: 0 })
    );
}

#[test]
fn nothing_to_come_is_said_so() {
    let over = |command| of(vec![work("a", 1)], vec![did(0, 1, 5)], command);
    let with = Box::new(work("z", 1));
    let commands = [
        record(entry(5)),
        Command::SkipSet,
        Command::SkipExercise,
        Command::PutOff,
        Command::Swap(with),
    ];
    for command in commands {
        assert_eq!(over(command), Err(Refusal::NothingToCome));
    }
}

#[test]
fn a_set_is_added_like_the_last_one_or_like_the_coming() {
    let added = |item, set| Ok(Event::Added { item, set });
    let like = |load| planned(SetKind::Working, load, 5);
    let then = || vec![did(0, 1, 5), did(1, 1, 5)];
    assert_eq!(
        of(vec![work("a", 1), work("b", 1)], then(), Command::AddSet),
        added(1, like(kg(20)))
    );
    let first = item("a", &[SetKind::Ramp, SetKind::Working]);
    assert_eq!(
        of(vec![first], vec![], Command::AddSet),
        added(0, like(kg(20)))
    );
    assert_eq!(
        of(vec![], vec![], Command::AddSet),
        Err(Refusal::NothingToCome)
    );
}

#[test]
fn the_last_set_is_interrupted_or_gets_its_spare() {
    let then = || vec![did(0, 1, 5), did(0, 2, 4)];
    let event = |command| of(vec![work("a", 2)], then(), command);
    let ended = Some(Ended::Interrupted);
    let change = Amendment {
        ended,
        ..Amendment::default()
    };
    let amended = Event::Amended {
        target: id(3),
        change,
    };
    assert_eq!(event(Command::Interrupted), Ok(amended));
    let spare = Spare::clamped(2);
    assert_eq!(
        event(Command::Spare(spare)),
        Ok(Event::Spare { set: id(3), spare })
    );
    let none = |command| of(vec![work("a", 2)], vec![], command);
    assert_eq!(none(Command::Interrupted), Err(Refusal::NothingDone));
    assert_eq!(none(Command::Spare(spare)), Err(Refusal::NothingDone));
}

#[test]
fn an_amendment_says_how_the_set_then_ended() {
    let amend = |before: SetRecord, done: Option<u32>, spare: Option<u32>| {
        let change = Amendment {
            done: done.map(reps),
            spare: spare.map(Spare::clamped),
            ..Amendment::default()
        };
        let then = vec![Event::Set(Box::new(before))];
        match of(vec![work("a", 2)], then, Command::Amend { set: 0, change }) {
            Ok(Event::Amended { target, change }) if target == id(2) => change.ended,
            other => panic!("{other:?}"),
        }
    };
    let short = || SetRecord {
        ended: Ended::Short,
        ..set(0, 1, reps(4))
    };
    let interrupted = || SetRecord {
        ended: Ended::Interrupted,
        ..short()
    };
    let spared = || SetRecord {
        spare: Some(Spare::clamped(2)),
        ..short()
    };
    assert_eq!(amend(set(0, 1, reps(5)), Some(4), None), Some(Ended::Short));
    assert_eq!(amend(short(), Some(5), None), Some(Ended::AsAsked));
    assert_eq!(amend(short(), None, Some(1)), Some(Ended::OnPurpose));
    assert_eq!(amend(short(), None, Some(0)), Some(Ended::Short));
    assert_eq!(amend(spared(), Some(3), None), Some(Ended::OnPurpose));
    assert_eq!(
        amend(interrupted(), Some(3), None),
        Some(Ended::Interrupted)
    );
    assert_eq!(
        amend(interrupted(), None, Some(1)),
        Some(Ended::Interrupted)
    );
    assert_eq!(amend(interrupted(), Some(6), None), Some(Ended::AsAsked));
    assert_eq!(
        amend(short(), None, None),
        None,
        "a load alone ends nothing otherwise"
    );
    let change = Amendment::default();
    let nowhere = of(
        vec![work("a", 2)],
        vec![],
        Command::Amend { set: 0, change },
    );
    assert_eq!(nowhere, Err(Refusal::NothingDone));
}

/// Each step takes back the last thing that holds, and brings back the last one taken.
#[test]
fn things_are_taken_back_one_by_one_and_brought_back() {
    let note = Event::Note {
        text: "x".to_owned(),
    };
    let mut so_far = events(vec![work("a", 3)], vec![did(0, 1, 5), note]);
    let void = |k| Ok(Event::Voided { target: id(k) });
    let mut step = |command: Command, expected: Result<Event, Refusal>| {
        let event = after(&so_far, command);
        assert_eq!(event, expected, "after {} events", so_far.len());
        if let Ok(event) = event {
            let k = so_far.len() as u64 + 1;
            let last = so_far[0].clone();
            so_far.push(Stamped {
                id: id(k),
                n: k,
                event,
                ..last
            });
        }
    };
    step(Command::BringBack, Err(Refusal::NothingToBringBack));
    step(Command::TakeBack, void(3));
    step(Command::TakeBack, void(2));
    step(Command::TakeBack, Err(Refusal::NothingToTakeBack));
    step(Command::BringBack, void(5));
    step(Command::BringBack, void(4));
    step(Command::BringBack, Err(Refusal::NothingToBringBack));
    step(Command::TakeBack, void(3));
    step(
        Command::SkipSet,
        Ok(Event::Skipped {
            item: 0,
            whole: false,
        }),
    );
    step(Command::BringBack, Err(Refusal::NothingToBringBack));
    step(Command::TakeBack, void(9));
    step(Command::TakeBack, void(2));
}

#[test]
fn a_refusal_says_what_to_do() {
    let said = |refusal: Refusal| refusal.to_string();
    assert_eq!(
        said(Refusal::NothingToCome),
        "every set is done: / and a to add one"
    );
    assert_eq!(said(Refusal::NothingDone), "no set is done yet");
    assert_eq!(
        said(Refusal::NothingElseLeft),
        "nothing else is left to do first"
    );
    assert_eq!(said(Refusal::NothingToTakeBack), "nothing to take back");
    assert_eq!(said(Refusal::NothingToBringBack), "nothing to bring back");
}

#[test]
fn a_count_is_of_reps_or_of_seconds_and_of_sides_where_they_differ() {
    let (five, six) = (Reps::clamped(5), Reps::clamped(6));
    let (short, long) = (Seconds::clamped(5), Seconds::clamped(6));
    let (by_reps, held) = (Asked::Reps(five), Asked::Hold(short));
    assert_eq!(done_of(by_reps, 5), Done::Reps(five));
    assert_eq!(done_of(held, 5), Done::Held(short));
    assert_eq!(done_by_side(by_reps, 5, 5), Done::Reps(five));
    assert_eq!(done_by_side(held, 5, 5), Done::Held(short));
    let sides = Done::RepsBySide {
        left: five,
        right: six,
    };
    assert_eq!(done_by_side(by_reps, 5, 6), sides);
    let sides = Done::HeldBySide {
        left: short,
        right: long,
    };
    assert_eq!(done_by_side(held, 5, 6), sides);
    assert_eq!(
        (sides.deciding(), sides.by_side(), sides.is_hold()),
        (5, (5, 6), true)
    );
    let sides = Done::RepsBySide {
        left: six,
        right: five,
    };
    assert_eq!(
        (sides.deciding(), sides.by_side(), sides.is_hold()),
        (5, (6, 5), false)
    );
    assert_eq!((reps(7).deciding(), reps(7).by_side()), (7, (7, 7)));
    let hold = Done::Held(long);
    assert_eq!(
        (hold.deciding(), hold.by_side(), hold.is_hold()),
        (6, (6, 6), true)
    );
    assert_eq!(Asked::Reps(six).to_string(), "6");
    assert_eq!(Asked::Hold(long).to_string(), "6 s");
    assert!(set(0, 1, reps(5)).reached() && !set(0, 1, reps(4)).reached());
}
