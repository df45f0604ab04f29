//! Pain on the floor: it ends the set and is asked about in one key, spares what hurts by joints
//! and not by exercise, and leaves nobody with a load on it.

use crate::rig::script::Script;
use rackside::app::model::{Answer, Overlay, Screen};
use rackside::domain::exercise::Joint;
use rackside::domain::session::{Done, Ended, Event, Pain, SetKind, Whereabouts};
use rackside::domain::units::{Reps, Seconds, Spare};

fn floor() -> Script {
    Script::known().keys("<enter>").wait_s(60)
}

/// At the plank, its first set to come.
fn plank() -> Script {
    let mut script = floor();
    for _ in 0..5 {
        script = script.keys("<enter>").wait_s(100);
    }
    script.shows("PLANK")
}

/// One key asks where, whatever is on the screen and whatever the clock says.
#[test]
fn one_key_asks_where_in_every_state() {
    let rest = || floor().keys("<enter>");
    let mut states = vec![
        ("briefing", Script::known()),
        ("before the first set", floor()),
        ("recover", rest().wait_s(30)),
        ("open", rest().wait_s(70)),
        ("late", rest().wait_s(200)),
        ("lifting", rest().wait_s(70).keys(" ").wait_s(5)),
        ("lead-in", plank().keys(" ").wait_s(2)),
        ("hold", plank().keys(" ").wait_s(12)),
        (
            "hands-free, rest",
            plank().keys("<enter>").wait_s(2).keys("r").wait_s(9),
        ),
        ("hands-free, lead-in", plank().keys("r").wait_s(5)),
        ("hands-free, hold", plank().keys("r").wait_s(15)),
        ("time out", rest().wait_s(5).keys("t")),
        (
            "the first key after ten minutes",
            rest().wait_s(900).keys("x"),
        ),
        ("debrief", floor().keys("f1")),
    ];
    let keys = [
        "8",
        "8.",
        ".",
        "w2",
        "<up>",
        "/",
        "h",
        "c",
        "s",
        "f",
        "K",
        "<enter><enter>",
        "9<enter>",
    ];
    states.extend(keys.map(|keys| (keys, rest().wait_s(70).keys(keys))));
    for (name, script) in states {
        let script = script.keys("p");
        for size in [(60, 20), (80, 24), (200, 60)] {
            let screen = script.screen_of(size.0, size.1);
            assert!(screen.contains("Where does it hurt?"), "{name}\n{screen}");
            assert!(screen.contains("0 a muscle"), "{name}\n{screen}");
        }
        // Answered in one more key, and written down.
        let script = script.keys("8");
        let knee = Whereabouts::Joint(Joint::Knee);
        let told = |event: &Event| match event {
            Event::Pain(Pain { whereabouts, .. }) => *whereabouts == knee,
            _ => false,
        };
        assert!(
            script.journal.iter().any(|event| told(&event.event)),
            "{name}"
        );
    }
}

/// A hold stops at the key, not at the answer, and is no miss.
#[test]
fn a_hold_ends_where_it_hurt() {
    let script = plank()
        .keys(" ")
        .wait_s(5 + 12)
        .keys("p")
        .wait_s(30)
        .keys("6");
    let set = script.sets()[5].clone();
    assert_eq!(set.done, Done::Held(Seconds::clamped(12)));
    assert_eq!(set.ended, Ended::Interrupted);
    // Pressed by mistake: what was held is there, to be kept or not.
    let script = plank()
        .keys(" ")
        .wait_s(5 + 12)
        .keys("p")
        .wait_s(2)
        .keys("<esc>");
    assert_eq!(
        script.clone().keys("<enter>").sets()[5].done,
        Done::Held(Seconds::clamped(12))
    );
    assert_eq!(script.keys("<esc>").sets().len(), 5);
}

/// Reps typed so far are what was done; a set that is on without a count is left out.
#[test]
fn the_set_that_was_on_is_never_a_miss() {
    let script = floor().keys("5p3");
    let set = &script.sets()[0];
    assert_eq!(
        (set.done, set.ended),
        (Done::Reps(Reps::clamped(5)), Ended::Interrupted)
    );
    let script = floor()
        .keys("<enter>")
        .wait_s(70)
        .keys(" ")
        .wait_s(5)
        .keys("p3");
    assert_eq!(script.sets().len(), 1);
    // Recorded short, and then it is said why.
    let script = floor().keys("4<enter>").wait_s(5);
    assert_eq!(script.sets()[0].ended, Ended::Short);
    assert_eq!(
        script.clone().keys("p3").sets()[0].ended,
        Ended::Interrupted
    );
    assert_eq!(
        script.keys("p9").sets()[0].ended,
        Ended::Short,
        "the ankle had no part in it"
    );
}

/// By joints, not by exercise: all that loads the joint is spared, and nothing else.
#[test]
fn what_loads_the_joint_is_spared_and_nothing_else() {
    for (key, joint) in [
        ("3", Joint::Shoulder),
        ("4", Joint::Elbow),
        ("6", Joint::LowerBack),
        ("8", Joint::Knee),
    ] {
        let script = floor().keys("<enter>").wait_s(30).keys("p").keys(key);
        let it = Whereabouts::Joint(joint);
        let floor = script.floor();
        let coming = floor.session.coming().expect("a set").item;
        let loads = |item| {
            let exercise = floor.exercise(item, &script.model.desk).expect("known");
            it.is_loaded_by(exercise)
        };
        for item in (0..floor.session.items.len()).filter(|item| *item != coming) {
            let open = floor.session.items[item].coming().is_some();
            assert_eq!(open, !loads(item), "{joint:?}, item {item}");
        }
        let asked = match &script.model.overlay {
            Overlay::Ask(ask) => Some(ask.answers.clone()),
            _ => None,
        };
        assert_eq!(asked.is_some(), loads(coming), "{joint:?}");
        // What is offered does not load it; or the exercise, or the session, is left.
        let Some(answers) = asked else { continue };
        for (_, answer) in &answers {
            if let Answer::Swap(planned) = answer {
                let exercise = script
                    .model
                    .desk
                    .catalogue
                    .get(&planned.exercise)
                    .expect("known");
                assert!(!it.is_loaded_by(exercise), "{joint:?}: {}", exercise.name);
            }
        }
        let ways = |wanted: &Answer| answers.iter().any(|(_, answer)| answer == wanted);
        assert!(ways(&Answer::SkipExercise) && ways(&Answer::Finish));
    }
}

/// Who does not choose is not left with a load on what hurts; one key takes that back.
#[test]
fn esc_leaves_nobody_with_what_hurts() {
    let script = floor().keys("<enter>").wait_s(30).keys("p3<esc>");
    let shoulder = Whereabouts::Joint(Joint::Shoulder);
    if let Screen::Floor(floor) = &script.model.screen {
        let coming = floor.session.coming().expect("a set").item;
        let exercise = floor.exercise(coming, &script.model.desk).expect("known");
        assert!(!shoulder.is_loaded_by(exercise), "{}", exercise.name);
    }
    let script = script.wait_s(1).keys("u");
    assert!(matches!(script.model.screen, Screen::Floor(_)));
    assert_eq!(script.floor().session.coming().expect("a set").item, 0);
}

/// The next session: 50 to 70 % of the load, half the sets, four spare, and it says so; the second
/// time it is withdrawn and a professional is named.
#[test]
fn the_way_back_is_part_of_the_plan() {
    let script = Script::known();
    let before = script.briefing().plan.items[0].clone();
    let script = script
        .keys("<enter>")
        .wait_s(60)
        .keys("<enter>")
        .wait_s(30)
        .keys("p3");
    let script = script.keys("<esc>");
    let script = end(script);
    let back = &script.briefing().plan.items[0];
    let load = |item: &rackside::domain::session::PlannedItem| {
        let set = item.sets.last().expect("a set");
        set.load.entered().expect("a mass").mass.kg()
    };
    let share = load(back) / load(&before);
    assert!((0.5..=0.7).contains(&share), "{share}: {}", back.reason);
    let work = |item: &rackside::domain::session::PlannedItem| {
        item.sets
            .iter()
            .filter(|set| set.kind == SetKind::Working)
            .count()
    };
    assert_eq!(work(back), work(&before).div_ceil(2), "{}", back.reason);
    assert_eq!(back.spare, Some(Spare::clamped(4)));
    let screen = script.screen();
    assert!(screen.contains("hurt last time"), "{screen}");
    let script = script
        .keys("<enter>")
        .wait_s(60)
        .keys("<enter>")
        .wait_s(30)
        .keys("p3<esc>");
    let script = end(script);
    let plan = &script.briefing().plan;
    assert!(
        plan.items
            .iter()
            .all(|item| item.exercise != before.exercise)
    );
    let screen = script.screen_of(120, 40);
    assert!(screen.contains("doctor"), "{screen}");
}

/// Finished here, closed, and three days later.
fn end(script: Script) -> Script {
    let script = match script.model.screen {
        Screen::Debrief(_) => script,
        _ => script.keys("f1"),
    };
    script.keys("<enter>").wait_s(3 * 86_400).again()
}

/// Chest, head, breath, numbness: the session stops, help is named, nothing is offered. It stands
/// through a restart, until it is taken back.
#[test]
fn a_stop_sign_stands_until_it_is_taken_back() {
    let script = floor().keys("<enter>").wait_s(30).keys("p1");
    assert!(matches!(script.model.screen, Screen::Debrief(_)));
    assert_eq!(script.model.overlay, Overlay::None);
    for size in [(60, 20), (80, 24), (200, 60)] {
        let screen = script.screen_of(size.0, size.1).replace('\n', " ");
        let words = screen.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            words.contains("Stop the session.") && words.contains("medical help"),
            "{words}"
        );
    }
    let again = script.clone().again();
    assert!(again.model.alarm && matches!(again.model.screen, Screen::Debrief(_)));
    let back = script.wait_s(5).keys("u");
    assert!(!back.model.alarm && matches!(back.model.screen, Screen::Floor(_)));
    assert!(back.floor().session.pains.is_empty());
}

/// Before a session too: it does not start by one key.
#[test]
fn a_stop_sign_before_the_session() {
    let script = Script::known()
        .keys("p1")
        .keys("<enter>")
        .shows("Start all the same?");
    let script = script.keys("<enter>");
    assert!(matches!(script.model.screen, Screen::Briefing(_)), "no");
    let script = script.keys("<enter>2");
    assert!(!script.model.alarm, "pressed by mistake");
    let script = script.keys("<enter>");
    assert!(matches!(script.model.screen, Screen::Floor(_)));
}

/// A miss changes what comes at once, and says so in one line.
#[test]
fn a_miss_is_answered_at_once_in_one_line() {
    let load = |script: &Script| script.floor().coming_set().expect("a set").load;
    let before = load(&floor());
    let script = floor().keys("4<enter>");
    assert!(load(&script).heavier(before) == Some(std::cmp::Ordering::Less));
    let set = script.floor().coming_set().expect("a set");
    let said = script.floor().ways[&(set.item, set.kind)].say.clone();
    assert!(!said.is_empty());
    for size in [(60, 20), (80, 24), (120, 40), (200, 60)] {
        let screen = script.screen_of(size.0, size.1);
        assert!(screen.contains(&said), "{size:?}: {said}\n{screen}");
    }
}

/// Nobody is left to wonder whether the key was taken, also where nothing follows from it.
#[test]
fn pain_that_nothing_to_come_loads_is_said_to_be_written_down() {
    let script = Script::known().keys("<enter>").wait_s(60);
    let script = script
        .keys("p2")
        .shows("written down: nothing left loads it");
    assert!(matches!(script.last_event(), Event::Pain(_)));
    let taken = script.keys("u").shows("taken back: the pain");
    let done = taken.keys("f1").keys("p6");
    assert!(matches!(done.last_event(), Event::Pain(_)));
    done.shows("written down. u takes it back");
}
