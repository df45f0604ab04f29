//! Odds on the floor: what is shown is what is recorded, and it moves with the rest.

use crate::rig::script::Script;
use rackside::domain::session::{Event, RestKnown};

/// The floor of somebody who has done the first exercise before.
fn known() -> Script {
    Script::known().keys("<enter>").wait_s(60)
}

#[test]
fn odds_are_in_the_opening_event_and_on_the_floor() {
    let script = known();
    let opened = script
        .journal
        .iter()
        .rev()
        .find_map(|event| match &event.event {
            Event::Opened(opened) => Some(opened.plan.clone()),
            _ => None,
        });
    let planned = opened.expect("it opened").items[0]
        .odds
        .expect("odds of the exercise");
    let all = format!("{planned} for all sets to come");
    let asked = script.floor().coming_set().expect("a set").asked;
    script.shows(&format!(" in 100 for {asked}, ")).shows(&all);
}

#[test]
fn longer_rest_never_lowers_the_odds_of_starting_now() {
    let mut script = known().keys("<enter>");
    let mut before = None;
    for _ in 0..20 {
        script = script.wait_s(7);
        let now = script.floor().odds_now(script.now).expect("odds");
        assert!(
            before.is_none_or(|before| before <= now),
            "odds fell with rest"
        );
        before = Some(now);
    }
    let asked = script.floor().coming_set().expect("a set").asked;
    script.shows(&format!("for {asked} if you start now"));
}

#[test]
fn a_set_carries_the_odds_that_stood_when_it_was_started() {
    let script = known().keys("<enter>").wait_s(75);
    let stated = script.floor().odds_now(script.now);
    let script = script.keys(" ").wait_s(25).keys("<enter>");
    let last = script.sets().pop().expect("a set");
    assert_eq!(last.rest.expect("a rest").known, RestKnown::Measured);
    assert_eq!(last.odds, stated);
    assert!(last.odds.is_some());
}

#[test]
fn a_load_that_the_person_chose_gets_its_own_odds() {
    let script = known();
    let planned = script.floor().odds_now(script.now).expect("odds");
    let script = script.keys("<right><right>");
    let heavier = script.floor().odds_now(script.now).expect("odds");
    assert!(
        heavier < planned,
        "{heavier} for more load, {planned} before"
    );
    let script = script.keys("<enter>");
    assert_eq!(script.sets().pop().expect("a set").odds, Some(heavier));
}

#[test]
fn a_miss_lowers_the_odds_of_the_same_load() {
    let script = known().keys("<enter>").wait_s(80);
    let after_made = script.floor().foretold.as_ref().expect("odds").after(80);
    let missed = known().keys("4<enter>").wait_s(80);
    let same = missed.sets()[0].load;
    // Back to the load of the missed set, wherever the suggestion went.
    let mut missed = missed;
    while missed.floor().coming_set().expect("a set").load != same {
        missed = missed.keys("<right>");
    }
    let after_missed = missed.floor().foretold.as_ref().expect("odds").after(80);
    assert!(
        after_missed < after_made,
        "{after_missed} after a miss, {after_made} without"
    );
}

#[test]
fn nothing_is_stated_where_nothing_is_known() {
    let script = Script::new().keys("<enter>");
    assert_eq!(script.floor().odds_now(script.now), None);
    let screen = script.screen();
    assert!(!screen.contains("in 100"), "{screen}");
}
