//! Keys counted, every action reached and taken back, also from a numeric keypad alone; and tired
//! lifters, each with a true record at the end.

use crate::rig::script::Script;
use rackside::app::keymap::{Action, Mode, menu_entries};
use rackside::app::model::{Floor, Screen};
use rackside::domain::session::{Ended, RestKnown, Session, SetKind};
use rackside::domain::units::{Boot, Spare};

/// At the briefing of the session behind a first one, in which every load was found.
fn briefing(slots: &str) -> Script {
    let program = format!(
        "(format: 1, name: \"Short\", rhythm: Rotation(per_week: 3), phases: [(name: \"Only\", \
         weeks: 4, days: [(name: \"Day 1\", slots: [{slots}])])])"
    );
    let mut script = Script::of(&program).keys("<enter>");
    while !matches!(script.model.screen, Screen::Debrief(_)) {
        script = script.wait_s(150).keys("<enter>").keys(".2");
    }
    script.keys("<enter>").wait_s(3 * 86_400).again()
}

const SIX_EXERCISES: &str = r#"
    (exercise: "dumbbell_bench_press", sets: 4, reps: "8", rest: "1:00-1:30", spare: 2),
    (exercise: "one_arm_row", sets: 4, reps: "8", rest: "1:00-1:30", spare: 2),
    (exercise: "goblet_squat", sets: 4, reps: "8", rest: "1:00-1:30", spare: 2),
    (exercise: "push_up", sets: 4, reps: "8", rest: "1:00-1:30", spare: 2),
    (exercise: "plank_row", sets: 4, reps: "8", rest: "1:00-1:30", spare: 2),
    (exercise: "plank", sets: 4, hold: "20", rest: "0:45-1:15")"#;

/// From the briefing to the debrief: a key starts, one a set.
#[test]
fn a_planned_session_of_24_working_sets_takes_at_most_30_keys() {
    let mut script = briefing(SIX_EXERCISES).keys("<enter>");
    let mut keys = 1;
    while !matches!(script.model.screen, Screen::Debrief(_)) {
        script = script.wait_s(120).keys("<enter>");
        keys += 1;
    }
    let sets = script.sets();
    let work = sets.iter().filter(|set| set.kind == SetKind::Working);
    assert_eq!(work.count(), 24);
    assert!(sets.iter().all(|set| set.ended == Ended::AsAsked));
    assert!(keys <= 30, "{keys} keys");
}

#[test]
fn a_changed_set_with_its_spare_takes_at_most_six_keys() {
    let script = rest().keys("12.2<enter>");
    let set = &script.sets()[1];
    assert_eq!(
        (set.done.deciding(), set.spare),
        (12, Some(Spare::clamped(2)))
    );
    let script = rest().keys("+12.2<enter>");
    let set = &script.sets()[1];
    assert_eq!(
        (set.done.deciding(), set.spare),
        (12, Some(Spare::clamped(2)))
    );
    assert_ne!(set.load, script.sets()[0].load, "six keys: the load too");
}

/// A set done, half a minute ago.
fn rest() -> Script {
    Script::known()
        .keys("<enter>")
        .wait_s(60)
        .keys("<enter>")
        .wait_s(75)
}

/// All that a lifter can change on the floor.
fn standing(script: &Script) -> (Session, String, Boot, String, (bool, bool), bool) {
    let floor: &Floor = script.floor();
    (
        floor.session.clone(),
        format!("{:?}", floor.coming_set()),
        floor.last_end(script.now),
        format!("{:?} {:?} {:?}", floor.beat, floor.typed, floor.edit),
        (script.model.prefs.mute, script.model.prefs.small),
        matches!(script.model.screen, Screen::Floor(_)),
    )
}

/// The keys of a menu entry, by number.
fn menu(mode: Mode, action: Action) -> String {
    let place = menu_entries(mode).position(|entry| entry.action == action);
    format!("/{}<enter>", place.expect("an entry") + 1)
}

/// Pressed one after the other, a second apart.
fn press(mut script: Script, keys: &[String]) -> Script {
    for key in keys {
        script = script.keys(key).wait_s(3);
    }
    script
}

/// The keys of a whole keyboard, and those of a keypad.
type Ways = [Vec<String>; 2];

/// What is asked of a lifter between two sets, the letters and the keypad's keys that do it, and
/// those that take it back.
fn actions() -> Vec<(&'static str, Ways, Ways)> {
    use Action as A;
    let of = |keys: &[&str]| keys.iter().map(|key| (*key).to_owned()).collect();
    let floor = |action| vec![menu(Mode::Floor, action)];
    let undo = || [of(&["u"]), floor(A::TakeBack)];
    let own = |letter: &str, action| {
        let keys = || [of(&[letter]), floor(action)];
        keys()
    };
    let menu_then = |action, then: &str| vec![menu(Mode::Floor, action), then.to_owned()];
    vec![
        ("as planned", [of(&["<enter>"]), of(&["<enter>"])], undo()),
        ("other reps", [of(&["7<enter>"]), of(&["7<enter>"])], undo()),
        ("other load", [of(&["<right>"]), of(&["+"])], undo()),
        (
            "lighter",
            [of(&["<left>"]), of(&["-"])],
            [of(&["<right>"]), of(&["+"])],
        ),
        (
            "a load by name",
            [of(&["w22.5<enter>"]), menu_then(A::NameLoad, "22.5<enter>")],
            undo(),
        ),
        ("spare", [of(&[".3"]), of(&[".3"])], undo()),
        (
            "an earlier set",
            [
                of(&["<up>", "5.1<enter>"]),
                menu_then(A::Back, "5.1<enter>"),
            ],
            undo(),
        ),
        (
            "typed",
            [of(&["1"]), of(&["1"])],
            [of(&["<bs>"]), floor(A::Erase)],
        ),
        (
            "typed twice",
            [of(&["12"]), of(&["12"])],
            [of(&["<esc>"]), floor(A::Cancel)],
        ),
        (
            "lifting",
            [of(&[" "]), of(&["*"])],
            [of(&["<esc>"]), floor(A::Cancel)],
        ),
        ("rest earlier", own("b", A::RestEarlier), undo()),
        ("add", own("a", A::AddSet), undo()),
        ("skip", own("k", A::SkipSet), undo()),
        ("skip the exercise", own("K", A::SkipExercise), undo()),
        ("put off", own("o", A::PutOff), undo()),
        ("swap", [of(&["s", "1"]), menu_then(A::Swap, "1")], undo()),
        ("interrupted", own("i", A::Interrupted), undo()),
        (
            "note",
            [of(&["n110<enter>"]), menu_then(A::Note, "110<enter>")],
            undo(),
        ),
        (
            "pain",
            [
                of(&["p", "3", "<esc>"]),
                vec![menu(Mode::Floor, A::Pain), "3".into(), "/".into()],
            ],
            [
                of(&["u", "u"]),
                [floor(A::TakeBack), floor(A::TakeBack)].concat(),
            ],
        ),
        ("pause", own("t", A::Pause), own("t", A::Pause)),
        ("big digits", own("d", A::BigDigits), own("d", A::BigDigits)),
        ("mute", own("m", A::Mute), own("m", A::Mute)),
    ]
}

/// Also from a numeric keypad alone: digits, point, plus, minus, times, divided by, Enter.
#[test]
fn every_action_is_reached_and_taken_back() {
    for (name, there, back) in actions() {
        for (pad, (there, back)) in there.into_iter().zip(back).enumerate() {
            let before = rest();
            let after = press(before.clone(), &there);
            assert_ne!(standing(&after), standing(&before), "{name}: nothing done");
            let again = press(after, &back);
            assert_eq!(standing(&again), standing(&before), "{name}, {pad}");
            if pad == 1 {
                let typed = there
                    .iter()
                    .chain(&back)
                    .map(|keys| keys.replace("<enter>", ""));
                let all: String = typed.collect();
                assert!(
                    all.chars().all(|c| "0123456789.+-*/".contains(c)),
                    "{name}: {all}"
                );
            }
        }
    }
    // Leaving takes nothing with it: it goes on as it was.
    for leave in ["q".to_owned(), menu(Mode::Floor, Action::Leave)] {
        let before = rest();
        let left = before.clone().keys(&leave);
        assert!(left.quit);
        let (session, coming, ..) = standing(&left.again());
        assert_eq!(
            (session, coming),
            (standing(&before).0, standing(&before).1)
        );
    }
    // Finished too soon, or the last set recorded by mistake: back to the floor.
    let mut script = rest();
    while script.floor().session.remaining() > 1 {
        script = script.keys("k");
    }
    let script = script.keys("<enter>").wait_s(3);
    assert!(matches!(script.model.screen, Screen::Debrief(_)));
    let script = script.keys(&menu(Mode::Debrief, Action::TakeBack));
    assert!(matches!(script.model.screen, Screen::Floor(_)));
    assert_eq!(script.sets().len(), 1);
}

/// What u took away U brings back, in turn, whatever it was.
#[test]
fn taken_back_and_brought_back_in_turn() {
    let keys = ["<right>", "b", "7<enter>", ".1", "<right>", "k", "b"];
    let mut stands = vec![rest()];
    for key in keys {
        let last = stands.last().expect("one").clone();
        stands.push(last.keys(key).wait_s(3));
    }
    let mut script = stands.pop().expect("one");
    let end = script.clone();
    for before in stands.iter().rev() {
        script = script.keys("u");
        let (session, coming, ..) = standing(&script);
        let (sets, wanted, ..) = standing(before);
        assert_eq!((session.sets, coming), (sets.sets, wanted));
    }
    for _ in keys {
        script = script.keys("U");
    }
    assert_eq!(standing(&script), standing(&end));
    script.keys("U").shows("nothing to bring back");
}

/// One key says that it hurts and leaves out what loads it: one takes both back.
#[test]
fn pain_and_what_it_left_out_are_taken_back_together() {
    let script = rest().keys("p3/");
    let open = |script: &Script, item: usize| script.floor().session.items[item].coming().is_some();
    assert!(!open(&script, 1));
    let script = script.keys("u").shows("taken back");
    assert!(open(&script, 1) && script.floor().session.pains.is_empty());
    let script = script.keys("U");
    assert!(!open(&script, 1) && script.floor().session.pains.len() == 1);
}

/// Forgets to press: two sets and their rests went by.
#[test]
fn two_sets_logged_at_once() {
    let script = rest()
        .keys("<enter>")
        .wait_s(240)
        .keys("<enter>")
        .shows("one set or two?");
    let script = script.keys("2");
    let sets = script.sets();
    assert_eq!(sets.len(), 4);
    assert!(
        sets[2..].iter().all(|set| set.rest.is_none()),
        "nobody knows the rests"
    );
    assert!(sets.iter().all(|set| set.lifted.is_none()));
    let script = script.wait_s(3).keys("u");
    assert_eq!(script.sets().len(), 3, "one at a time is taken back");
}

/// Where one set is left there were no two.
#[test]
fn the_last_set_is_never_two() {
    let mut script = rest();
    while script.floor().session.remaining() > 1 {
        script = script.keys("k");
    }
    let script = script.wait_s(400).keys("<enter>");
    assert!(matches!(script.model.screen, Screen::Debrief(_)));
    assert_eq!(script.sets().len(), 2);
}

/// Talks for five minutes, then lifts: with Space the rest is what it was; with Enter alone the one
/// set is asked about, and its rest estimated.
#[test]
fn five_minutes_of_talk() {
    let script = rest()
        .keys("<enter>")
        .wait_s(300)
        .keys(" ")
        .wait_s(25)
        .keys("<enter>");
    let set = &script.sets()[2];
    let rest_before = set.rest.expect("a rest");
    assert_eq!(
        (rest_before.seconds.get(), rest_before.known),
        (300, RestKnown::Measured)
    );
    let script = rest().keys("<enter>").wait_s(325).keys("<enter>").keys("1");
    let set = &script.sets()[2];
    let rest_before = set.rest.expect("a rest");
    assert_eq!(rest_before.known, RestKnown::Estimated);
    assert_eq!(rest_before.seconds.get(), 325 - set.done.deciding() * 3);
}

/// Starts before the window opens: the rest is as short as it was.
#[test]
fn a_set_done_early() {
    let script = rest()
        .keys("<enter>")
        .wait_s(20)
        .keys(" ")
        .wait_s(24)
        .keys("<enter>");
    let before = script.sets()[2].rest.expect("a rest");
    assert_eq!(
        (before.seconds.get(), before.known),
        (20, RestKnown::Measured)
    );
    let script = rest().keys("<enter>").wait_s(44).keys("<enter>");
    let set = &script.sets()[2];
    let before = set.rest.expect("a rest");
    // The reps at the usual three seconds are taken off.
    assert_eq!(
        (before.seconds.get(), before.known),
        (44 - set.done.deciding() * 3, RestKnown::Estimated)
    );
}

/// The laptop sleeps through the rest: the time counts, and the first key records nothing.
#[test]
fn asleep_in_the_rest() {
    let script = rest().keys("<enter>").wait_s(10).sleep_s(170).wait_s(1);
    let script = script.keys("<enter>").shows("here is where things stand");
    assert_eq!(script.sets().len(), 2);
    let script = script.keys(" ").wait_s(24).keys("<enter>");
    let before = script.sets()[2].rest.expect("a rest");
    assert_eq!(
        (before.seconds.get(), before.known),
        (181, RestKnown::Measured)
    );
}

/// Notices the forgotten key late: the rest's start is moved back, and so is the record.
#[test]
fn logged_half_a_minute_late() {
    let script = rest()
        .keys("<enter>")
        .keys("bb")
        .wait_s(60)
        .keys(" ")
        .wait_s(24)
        .keys("<enter>");
    let before = script.sets()[2].rest.expect("a rest");
    assert_eq!(before.seconds.get(), 90);
}

/// Loads and moved rests are no events: they are taken back in their turn all the same, also by
/// another run than the one that did them.
#[test]
fn everything_is_taken_back_after_a_restart_too() {
    let steps = ["<right>", "b", "7<enter>", "<right>", "<right>", "b"];
    let (mut script, mut before) = (rest(), Vec::new());
    for keys in steps {
        before.push(standing(&script));
        script = script.keys(keys);
    }
    let end = standing(&script);
    for again in [false, true] {
        let run = |script: Script| if again { script.again() } else { script };
        let mut script = run(script.clone());
        for (keys, wanted) in steps.into_iter().zip(before.clone()).rev() {
            script = run(script.keys("u"));
            assert_eq!(standing(&script), wanted, "{keys}, again: {again}");
        }
        for _ in steps {
            script = run(script.keys("U"));
        }
        assert_eq!(standing(&script), end, "brought back, again: {again}");
    }
}
