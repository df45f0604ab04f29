//! Sets that go as far as they go: when they are asked, and what they say.

use crate::rig::script::Script;
use crate::rig::training::{Training, dumbbells, slot};
use rackside::app::model::Screen;
use rackside::domain::advice::Frame;
use rackside::domain::program::{Details, Policy, Slot};
use rackside::domain::session::{Ended, PlannedItem};
use rackside::domain::units::{Reps, Unit};

fn curls() -> Slot {
    Slot {
        policy: Policy::ByOdds,
        ..slot("dumbbell_curl", 3, (10, 15))
    }
}

/// Somebody who curled so many times and never said what was spare after the first.
fn curled(slot: &Slot, sessions: u32, last: u32) -> Training {
    let mut training = Training::with(dumbbells(Unit::Kg, (1..=20).map(|k| f64::from(k) * 2.0)));
    training.believes = true;
    for session in 0..sessions {
        training.pass(3);
        training.train(slot, Frame::default(), &mut |set| {
            let more = if set.open { last } else { 0 };
            let spare = (session == 0).then_some(3);
            (set.asked.count() + more, spare)
        });
    }
    training.pass(3);
    training
}

fn is_open(item: &PlannedItem) -> bool {
    item.sets.last().is_some_and(|set| set.open)
}

/// From the fourth session on, once nothing was told in three; not again in the next ones.
#[test]
fn a_last_set_is_open_where_nothing_was_told_lately() {
    let slot = curls();
    let open: Vec<bool> = (1..9)
        .map(|sessions| is_open(&curled(&slot, sessions, 0).plan(&slot, Frame::default())))
        .collect();
    assert_eq!(open, [false, false, false, true, false, false, false, true]);
    let told = curled(&slot, 4, 0).plan(&slot, Frame::default());
    assert!(told.reason.contains("last set open"), "{}", told.reason);
    // Of an isolation exercise no more than 25 reps are asked (common practice, no source).
    let asked = told.sets.last().map_or(0, |set| set.asked.count());
    let (_, cap) = told.reason.split_once("there are up to ").expect("a cap");
    let cap = cap
        .split(':')
        .next()
        .and_then(|cap| cap.parse::<u32>().ok());
    assert!(cap.is_some_and(|cap| cap > asked && cap <= 25), "{cap:?}");
}

/// Never where a failed rep pins the lifter, in an easier week, or beside a reserve of three.
#[test]
fn no_set_is_open_where_it_must_not_fail() {
    let slot = curls();
    let training = curled(&slot, 4, 0);
    let easier = Frame {
        easier_week: true,
        ..Frame::default()
    };
    assert!(!is_open(&training.plan(&slot, easier)));
    let reserve = Slot {
        spare: Some(rackside::domain::units::Spare::clamped(3)),
        ..slot.clone()
    };
    assert!(!is_open(&training.plan(&reserve, Frame::default())));
    let published = Slot {
        policy: Policy::TwoForTwo,
        ..slot
    };
    assert!(!is_open(&training.plan(&published, Frame::default())));
}

/// An open set says about how many there are; a set stopped at what was asked, at least so many.
#[test]
fn an_open_set_that_ends_early_says_about_and_not_at_least() {
    let slot = curls();
    let plain = curled(&slot, 4, 0);
    let reps = |training: &Training| {
        let item = training.plan(&slot, Frame::default());
        item.sets[0].predicted.expect("predicted").count()
    };
    // One more session, its open last set ending right at what was asked, or far above it.
    let (short, long) = (curled(&slot, 5, 0), curled(&slot, 5, 12));
    assert!(
        reps(&short) < reps(&plain),
        "{} {}",
        reps(&short),
        reps(&plain)
    );
    assert!(
        reps(&long) > reps(&short) + 2.0,
        "{} {}",
        reps(&long),
        reps(&short)
    );
}

/// Enter alone asks how many there were; the count is recorded as of an open set.
#[test]
fn enter_alone_asks_for_the_count_of_an_open_set() {
    let program = r#"(
        format: 1, name: "Short", rhythm: Rotation(per_week: 3),
        phases: [(name: "Only", weeks: 4, days: [(name: "Day 1", slots: [
            (exercise: "push_up", sets: 1, reps: "8-15", rest: "1:00-1:30", open_last: true),
        ])])],
    )"#;
    let script = Script::of(program)
        .keys("<enter>")
        .wait_s(60)
        .keys("<enter>");
    assert_eq!(script.sets().len(), 0, "Enter alone records nothing");
    assert!(script.screen().contains("How many?"));
    let script = script.keys("21<enter>");
    let sets = script.sets();
    assert!(sets[0].open && sets[0].ended == Ended::AsAsked);
    assert_eq!(sets[0].done.deciding(), 21);
}

/// The load of a total stays until the total is there, and says how many are missing.
#[test]
fn a_total_that_was_missed_is_carried_on() {
    let slot = Slot {
        details: Details {
            total: Some(Reps::clamped(30)),
            ..Details::default()
        },
        ..slot("dumbbell_curl", 3, (5, 10))
    };
    let train = |counts: [u32; 3]| {
        let mut training =
            Training::with(dumbbells(Unit::Kg, (10..=20).map(|k| f64::from(k) * 2.0)));
        for counts in [[10, 10, 10], counts, counts] {
            let mut counts = counts.into_iter();
            training.train(&slot, Frame::default(), &mut |set| {
                let feels = set.feeler.then_some(3);
                (counts.next().unwrap_or(set.asked.count()), feels)
            });
            training.pass(3);
        }
        training.plan(&slot, Frame::default())
    };
    let missed = train([10, 9, 8]);
    assert!(
        missed.reason.contains("27 of 30 last time, 3 missing"),
        "{}",
        missed.reason
    );
    let made = train([12, 10, 8]);
    assert!(made.reason.contains("all 30"), "{}", made.reason);
}

/// What the last set leaves of a total is said.
#[test]
fn the_floor_says_what_is_missing_of_a_total() {
    let program = r#"(
        format: 1, name: "Short", rhythm: Rotation(per_week: 3),
        phases: [(name: "Only", weeks: 4, days: [(name: "Day 1", slots: [
            (exercise: "push_up", sets: 2, total: 20, rest: "1:00-1:30"),
            (exercise: "plank", sets: 2, hold: "20-30", rest: "0:45-1:15"),
        ])])],
    )"#;
    let script = Script::of(program)
        .keys("<enter>")
        .wait_s(60)
        .keys("9<enter>")
        .wait_s(90);
    let script = script.keys("8<enter>");
    assert!(matches!(script.model.screen, Screen::Floor(_)));
    let notice = script.model.notice.as_ref().expect("a notice").text.clone();
    assert!(notice.contains("3 of the total are missing"), "{notice}");
}
