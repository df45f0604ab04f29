//! Circuits and holds that run by themselves: what is counted, what is recorded, what stops it.

use crate::rig::script::Script;
use rackside::app::effect::Cue;
use rackside::app::keymap::Key;
use rackside::app::model::Screen;
use rackside::app::msg::Msg;
use rackside::app::update::any_key_ends;
use rackside::domain::session::{Beat, Done, Ended, RestKnown};
use rackside::domain::units::{Reps, Seconds};
use rackside::ui::lines::{Entered, Teller, entered};

fn at(slots: &str) -> Script {
    let program = format!(
        "(format: 1, name: \"Short\", rhythm: Rotation(per_week: 3), phases: [(name: \"Only\", \
         weeks: 4, days: [(name: \"Day 1\", slots: [{slots}])])])"
    );
    Script::of(&program).keys("<enter>")
}

const HOLDS: &str = r#"(exercise: "plank", sets: 3, hold: "20", rest: "0:45-1:15")"#;

const SIDES: &str = r#"(exercise: "side_plank", sets: 2, hold: "20", rest: "0:30-1:00")"#;

const CIRCUIT: &str = r#"
    (exercise: "push_up", sets: 2, reps: "8", rest: "0:30-1:00", group: 1, inside: "0:15-0:30"),
    (exercise: "plank", sets: 2, hold: "20", rest: "0:30-1:00", group: 1)"#;

fn beats(script: &Script) -> &'static str {
    match script.floor().beat {
        Beat::Resting => "resting",
        Beat::LeadIn { .. } => "lead-in",
        Beat::Between { .. } => "between",
        Beat::Lifting { .. } => "lifting",
    }
}

/// Ten seconds to get there, 20 held, 45 of rest, five to get set, and so on to the debrief.
#[test]
fn holds_run_from_one_key_to_the_debrief() {
    let script = at(HOLDS).wait_s(60).keys("r").shows("any key stops it");
    assert_eq!(beats(&script.clone().wait_s(9)), "lead-in");
    assert_eq!(beats(&script.clone().wait_s(10)), "lifting");
    let script = script.wait_s(30);
    assert_eq!(script.sets().len(), 1);
    let script = script.wait_s(44).shows("RECOVER, opens in 0:01");
    let script = script.wait_s(1);
    assert_eq!(script.cues.last(), Some(&Cue::Opens));
    assert_eq!(beats(&script), "lead-in");
    assert_eq!(beats(&script.clone().wait_s(5)), "lifting");
    let script = script.wait_s(25 + 45 + 5 + 20);
    assert!(matches!(script.model.screen, Screen::Debrief(_)));
    let sets = script.sets();
    assert_eq!(sets.len(), 3);
    for set in &sets {
        assert_eq!(set.done, Done::Held(Seconds::clamped(20)));
        assert_eq!(set.ended, Ended::AsAsked);
    }
    // A key led to the first one; the others the clock alone began.
    assert_eq!(
        (sets[0].rest, sets[0].lifted),
        (None, Some(Seconds::clamped(20)))
    );
    for set in &sets[1..] {
        let rest = set.rest.expect("a rest");
        assert_eq!((rest.seconds.get(), rest.known), (50, RestKnown::Estimated));
        assert_eq!(set.lifted, None, "nobody said so");
    }
}

#[test]
fn a_circuit_counts_reps_by_the_usual_pace() {
    let script = at(CIRCUIT)
        .wait_s(60)
        .keys("r")
        .wait_s(10)
        .shows("lifting to 0:24");
    let script = script.wait_s(24);
    let set = &script.sets()[0];
    assert_eq!(set.done, Done::Reps(Reps::clamped(8)));
    assert_eq!(set.lifted, None, "the clock counted, it did not measure");
    let script = script.wait_s(15 + 5 + 20);
    assert_eq!(script.sets()[1].done, Done::Held(Seconds::clamped(20)));
    let script = script.wait_s(30 + 5 + 24 + 15 + 5 + 20);
    assert!(matches!(script.model.screen, Screen::Debrief(_)));
    let sets = script.sets();
    assert_eq!(sets.len(), 4);
    let known = sets[1..].iter().map(|set| set.rest.expect("a rest").known);
    assert!(known.into_iter().all(|known| known == RestKnown::Estimated));
    let rests: Vec<u32> = sets[1..]
        .iter()
        .map(|s| s.rest.expect("a rest").seconds.get())
        .collect();
    assert_eq!(rests, [20, 35, 20]);
}

#[test]
fn straight_on_there_is_time_to_get_there() {
    let pair = CIRCUIT.replace(", inside: \"0:15-0:30\"", "");
    let script = at(&pair).wait_s(60).keys("r").wait_s(10 + 24 + 1);
    assert_eq!(beats(&script.clone().wait_s(8)), "lead-in");
    assert_eq!(beats(&script.wait_s(10)), "lifting");
}

#[test]
fn each_side_is_counted_in() {
    let script = at(SIDES).wait_s(60).keys("r").wait_s(10 + 20);
    assert_eq!(beats(&script), "lead-in");
    let script = script.shows("other side").wait_s(5 + 20);
    assert_eq!(script.sets()[0].done, Done::Held(Seconds::clamped(20)));
    assert_eq!(script.wait_s(30 + 5 + 20 + 5 + 20).sets().len(), 2);
}

#[test]
fn pressed_in_a_rest_the_rest_is_counted_first() {
    let script = at(HOLDS).wait_s(60).keys("<enter>").wait_s(20).keys("r");
    assert_eq!(beats(&script), "resting");
    let script = script.wait_s(25 + 5 + 20);
    let rest = script.sets()[1].rest.expect("a rest");
    assert_eq!((rest.seconds.get(), rest.known), (50, RestKnown::Estimated));
    let script = at(HOLDS)
        .wait_s(60)
        .keys("<enter>")
        .wait_s(50)
        .keys("r")
        .wait_s(10 + 20);
    let set = &script.sets()[1];
    let rest = set.rest.expect("a rest");
    assert_eq!((rest.seconds.get(), rest.known), (60, RestKnown::Measured));
    assert_eq!(set.lifted, Some(Seconds::clamped(20)), "a key led to it");
}

#[test]
fn any_key_stops_it() {
    for key in ["x", "<enter>", "8", " ", "<esc>", "q", "u", "r", "/"] {
        // In the rest.
        let script = at(HOLDS).wait_s(60).keys("r").wait_s(30 + 20).keys(key);
        let script = script.shows("stopped").wait_s(200);
        assert_eq!(
            (script.sets().len(), beats(&script)),
            (1, "resting"),
            "{key}"
        );
        assert!(!script.quit, "{key}");
        // In the lead-in.
        let script = at(HOLDS)
            .wait_s(60)
            .keys("r")
            .wait_s(5)
            .keys(key)
            .wait_s(200);
        assert_eq!(
            (script.sets().len(), beats(&script)),
            (0, "resting"),
            "{key}"
        );
        // In the hold: it is ended early, as any hold is.
        let script = at(HOLDS)
            .wait_s(60)
            .keys("r")
            .wait_s(10 + 12)
            .keys(key)
            .wait_s(200);
        let sets = script.sets();
        assert_eq!((sets.len(), sets[0].ended), (1, Ended::Short), "{key}");
        assert_eq!(sets[0].done, Done::Held(Seconds::clamped(12)), "{key}");
    }
}

/// Reps that the clock counted through are not done because they were counted.
#[test]
fn stopped_in_a_set_of_reps_the_person_says_what_was_done() {
    let script = at(CIRCUIT).wait_s(60).keys("r").wait_s(10 + 15).keys(" ");
    let script = script.shows("digits if it was otherwise").keys("5<enter>");
    let sets = script.sets();
    assert_eq!(
        (sets.len(), sets[0].done),
        (1, Done::Reps(Reps::clamped(5)))
    );
    assert_eq!(sets[0].ended, Ended::Short);
    let script = script.wait_s(60).keys("r").wait_s(10 + 20);
    assert_eq!(script.sets().len(), 2, "and it goes on");
}

#[test]
fn pain_stops_it_and_asks_where() {
    for wait in [5, 10 + 8, 34 + 5] {
        let script = at(CIRCUIT).wait_s(60).keys("r").wait_s(wait).keys("p");
        let script = script.shows("Where does it hurt?").wait_s(300);
        assert!(
            script.sets().len() <= 1,
            "nothing goes on behind the question"
        );
        assert!(script.floor().hands_free.is_none());
    }
}

#[test]
fn straight_sets_of_reps_and_feelers_are_the_persons_to_count() {
    let straight = r#"(exercise: "push_up", sets: 2, reps: "8", rest: "1:00-1:30")"#;
    let script = at(straight)
        .wait_s(60)
        .keys("r")
        .shows("yours to count")
        .wait_s(200);
    assert!(script.sets().is_empty());
    let feelers = r#"
        (exercise: "goblet_squat", sets: 2, reps: "8", rest: "0:30-1:00", group: 1),
        (exercise: "plank", sets: 2, hold: "20", rest: "0:30-1:00", group: 1)"#;
    let script = at(feelers).wait_s(60).keys("r").shows("yours to count");
    let script = script
        .keys("8.3<enter>")
        .wait_s(60)
        .keys("r")
        .wait_s(10 + 20 + 1);
    assert_eq!(script.sets().len(), 2);
    let before = script.floor().coming_set().expect("a set").item;
    assert_eq!(before, 0, "the squat again");
}

/// The same in lines, an event a line.
#[test]
fn in_lines_it_is_told_an_event_a_line() {
    let mut script = at(HOLDS).wait_s(60);
    let mut teller = Teller::default();
    teller.tell(&script.model, script.now);
    assert_eq!(
        entered(&script.model, "r"),
        Entered::Keys(vec![Key::Char('r')])
    );
    script = script.keys("r");
    let mut told = Vec::new();
    for _ in 0..(10 + 20 + 45 + 5 + 1) * 2 {
        told.extend(teller.tell(&script.model, script.now));
        script.now.boot = script.now.boot.plus(500);
        script.now.civil = script.now.civil.plus(500);
        script.send(Msg::Tick);
    }
    let wanted = [
        "runs by itself: any line stops it",
        "5",
        "1",
        "hold now; any line ends it",
        "set 1: body held 20 s",
        "all recorded",
        "get set",
        "4",
        "hold now; any line ends it",
    ];
    let mut at = 0;
    for line in wanted {
        let found = told[at..].iter().position(|told| told.starts_with(line));
        at += found.unwrap_or_else(|| panic!("{line:?} not behind {at} in {told:#?}")) + 1;
    }
    assert!(any_key_ends(&script.model));
}

/// The machine sleeps: what nobody saw is not recorded, and nothing goes on by itself.
#[test]
fn sleep_stops_it() {
    for (wait, sets) in [(5, 0), (10 + 8, 0), (30 + 20, 1)] {
        let script = at(HOLDS)
            .wait_s(60)
            .keys("r")
            .wait_s(wait)
            .sleep_s(900)
            .wait_s(100);
        assert_eq!(script.sets().len(), sets, "asleep after {wait} s");
        assert!(script.floor().hands_free.is_none(), "asleep after {wait} s");
        assert_eq!(beats(&script), "resting", "asleep after {wait} s");
    }
    let script = at(HOLDS)
        .wait_s(60)
        .keys(" ")
        .wait_s(10)
        .sleep_s(900)
        .wait_s(1);
    let script = script.shows("nobody saw the end");
    assert!(script.sets().is_empty(), "nor a hold that a key began");
}

#[test]
fn started_again_it_waits_for_a_key() {
    for wait in [5, 10 + 8, 30 + 20] {
        let script = at(HOLDS).wait_s(60).keys("r").wait_s(wait);
        let sets = script.sets().len();
        let script = script.again().wait_s(300);
        assert_eq!((script.sets().len(), beats(&script)), (sets, "resting"));
    }
}

/// The first side's hold stands when the second one is called off.
#[test]
fn esc_before_the_second_side_keeps_the_first() {
    let held = |left: u32, right: u32| Done::HeldBySide {
        left: Seconds::clamped(left),
        right: Seconds::clamped(right),
    };
    let first = || {
        let script = at(SIDES)
            .wait_s(60)
            .keys(" ")
            .wait_s(5 + 12)
            .keys("x")
            .wait_s(2);
        script
            .keys("<esc>")
            .shows("12 s on the first side")
            .wait_s(30)
    };
    let script = first().keys(" ").wait_s(5 + 20);
    assert_eq!(
        script.sets()[0].done,
        held(12, 20),
        "Space counts the other side in"
    );
    assert_eq!(first().keys("9<enter>").sets()[0].done, held(12, 9));
    assert_eq!(
        first().keys("<enter>").sets()[0].done,
        Done::Held(Seconds::clamped(12))
    );
    let script = first().again().keys("9<enter>");
    assert_eq!(
        script.sets()[0].done,
        held(12, 9),
        "it outlives the program"
    );
    let script = first().keys("<esc><esc>");
    assert_eq!(
        beats(&script),
        "resting",
        "a second Esc: not done after all"
    );
    assert!(script.sets().is_empty());
}

#[test]
fn space_and_enter_pressed_twice_are_one_key() {
    let script = Script::known()
        .keys("<enter>")
        .wait_s(60)
        .keys("<enter>")
        .wait_s(70);
    for twice in ["  ", " <enter>", "**", "*<enter>"] {
        let script = script.clone().keys(twice);
        assert_eq!(script.sets().len(), 1, "{twice:?}");
    }
    // As a hold begins.
    let script = at(HOLDS).wait_s(60).keys(" ").wait_s(5).keys(" ");
    let script = script.shows("just begun").wait_s(20);
    assert_eq!(script.sets()[0].done, Done::Held(Seconds::clamped(20)));
}
