//! What people do when they are tired: twice, too early, too late, not at all. Each ends in a true
//! record.

use crate::rig::script::Script;
use rackside::app::effect::Cue;
use rackside::app::floor::Stage;
use rackside::app::model::{Overlay, Screen};
use rackside::app::msg::Msg;
use rackside::domain::advice::Revision;
use rackside::domain::session::Event;

fn floor() -> Script {
    Script::known().keys("<enter>").wait_s(60)
}

#[test]
fn enter_twice_is_one_set() {
    let script = floor().keys("<enter><enter>");
    assert_eq!(script.sets().len(), 1);
    assert!(matches!(script.model.overlay, Overlay::None));
}

#[test]
fn a_held_enter_is_one_set() {
    let mut script = floor();
    for _ in 0..20 {
        script = script.keys("<enter>");
        script.now.boot = script.now.boot.plus(30);
    }
    assert_eq!(script.sets().len(), 1);
}

#[test]
fn enter_far_too_early_is_asked_about() {
    let script = floor()
        .keys("<enter>")
        .wait_s(3)
        .keys("<enter>")
        .shows("set 2 done already?");
    assert_eq!(script.sets().len(), 1);
    assert_eq!(
        script.keys("<enter>").sets().len(),
        2,
        "a second Enter says yes"
    );
    let script = floor().keys("<enter>").wait_s(3).keys("<enter>2");
    assert_eq!(script.sets().len(), 1, "no");
}

#[test]
fn enter_ten_minutes_late_shows_and_then_asks() {
    let script = floor().keys("<enter>").wait_s(600).keys("<enter>");
    assert_eq!(script.sets().len(), 1);
    let script = script
        .shows("here is where things stand")
        .keys("<enter>")
        .shows("one set or two?");
    let one = script.keys("1");
    assert_eq!(one.sets().len(), 2);
    let late = floor().keys("<enter>").wait_s(600).keys("<enter><enter>2");
    assert_eq!(late.sets().len(), 3, "two sets were done");
    assert_eq!(
        late.sets()[2].rest,
        None,
        "nobody knows when the second began"
    );
}

#[test]
fn the_first_key_after_sleep_only_shows() {
    let script = floor().keys("<enter>").sleep_s(120).keys("<enter>");
    assert_eq!(script.sets().len(), 1);
    assert_eq!(script.keys("<enter>").sets().len(), 2);
}

#[test]
fn a_keypad_without_num_lock_records_nothing() {
    let script = floor().keys("<up><left><keypad-off>").shows("Num Lock");
    assert!(script.sets().is_empty());
}

#[test]
fn the_rest_opens_announces_its_close_and_closes_once() {
    let script = floor().keys("<enter>").wait_s(400);
    let signs: Vec<Cue> = script
        .cues
        .iter()
        .copied()
        .filter(|cue| *cue != Cue::Record)
        .collect();
    let last = &signs[signs.len() - 3..];
    assert_eq!(last, [Cue::Opens, Cue::ClosesSoon, Cue::Closed]);
    assert_eq!(
        script.floor().rest(script.now).expect("a rest").stage,
        Stage::Late
    );
    let rang = signs.len();
    let script = script.wait_s(100);
    let signs = script
        .cues
        .iter()
        .filter(|cue| **cue != Cue::Record)
        .count();
    assert_eq!(signs, rang, "then silence");
}

#[test]
fn the_window_opens_to_the_second() {
    let script = floor().keys("<enter>").wait_s(59);
    assert_eq!(
        script.floor().rest(script.now).expect("a rest").stage,
        Stage::Recover
    );
    let script = script.wait_s(1);
    assert_eq!(
        script.floor().rest(script.now).expect("a rest").stage,
        Stage::Open
    );
    script.shows("OPEN, closes in 0:30");
}

#[test]
fn after_sleep_no_burst_of_signs() {
    let script = floor().keys("<enter>").wait_s(10);
    let before = script.cues.len();
    let script = script.sleep_s(1000).wait_s(1);
    assert_eq!(script.cues.len(), before, "stale signs are of no use");
}

#[test]
fn killed_in_a_rest_it_goes_on_at_the_same_second() {
    let script = floor().keys("<enter>").wait_s(40).again();
    let rest = script.floor().rest(script.now).expect("a rest");
    assert_eq!(rest.elapsed, 40_000);
    assert_eq!(script.floor().coming_set().expect("a set").number, 2);
    script.shows("RECOVER, opens in 0:20");
}

#[test]
fn killed_while_lifting_it_goes_on_lifting() {
    let script = floor()
        .keys("<enter>")
        .wait_s(80)
        .keys(" ")
        .wait_s(10)
        .again()
        .wait_s(5);
    let script = script.keys("<enter>");
    let set = &script.sets()[1];
    assert_eq!(set.lifted.expect("measured").get(), 15);
    assert_eq!(set.rest.expect("measured").seconds.get(), 80);
}

#[test]
fn killed_with_a_count_half_typed_it_is_still_there() {
    let script = floor()
        .keys("<enter>")
        .wait_s(80)
        .keys("1")
        .again()
        .keys("1<enter>");
    assert_eq!(script.sets()[1].done.deciding(), 11);
}

#[test]
fn a_chosen_load_outlives_the_program() {
    let script = floor().keys("<right>");
    let load = script.floor().coming_set().expect("a set").load;
    let script = script.again();
    assert_eq!(script.floor().coming_set().expect("a set").load, load);
}

/// A set whose line was damaged meanwhile stays done, and is no evidence for the sets to come,
/// before and after the next event.
#[test]
fn a_damaged_set_is_done_and_stays_marked() {
    let mut script = floor().keys("<enter>").wait_s(80);
    let damaged = script.floor().session.sets[0].id.clone();
    script.damaged.insert(damaged);
    let marks = |script: &Script| -> Vec<bool> {
        let sets = script.floor().session.sets.iter();
        sets.map(|set| set.damaged).collect()
    };
    let script = script.again();
    assert_eq!(marks(&script), [true]);
    assert_eq!(script.floor().coming_set().expect("a set").number, 2);
    let script = script.keys("<enter>");
    assert_eq!(marks(&script), [true, false]);
}

#[test]
fn left_for_more_than_four_hours_it_is_closed() {
    let script = floor().keys("<enter>").wait_s(10).sleep_s(5 * 3600).again();
    assert!(matches!(script.last_event(), Event::Closed(_)));
    assert!(matches!(script.model.screen, Screen::Briefing(_)));
}

#[test]
fn what_is_not_on_the_disk_is_not_called_recorded() {
    let mut script = floor();
    script.disk = false;
    let script = script.keys("<enter>");
    assert!(!script.screen().contains("all recorded"));
    script.shows("NOT SAVED: 1");
}

#[test]
fn every_size_down_to_sixty_by_twenty_shows_the_set_and_smaller_says_so() {
    let script = floor().keys("<enter>").wait_s(70);
    for (width, height) in [(80, 24), (60, 20), (200, 50), (120, 40)] {
        let screen = script.screen_of(width, height);
        assert!(screen.contains("set 2 of 3"), "{width}x{height}\n{screen}");
        assert!(screen.contains("OPEN"), "{width}x{height}\n{screen}");
    }
    assert!(script.screen_of(40, 10).contains("needs 60x20, has 40x10"));
    for width in 0..70 {
        for height in 0..26 {
            script.screen_of(width.max(1), height.max(1));
        }
    }
}

#[test]
fn the_narrow_briefing_keeps_its_title() {
    let narrow = Script::new().screen_of(60, 20);
    let title = narrow.lines().next().expect("a title");
    assert!(title.contains("week 1 of 4 "), "{title}");
    assert!(title.contains("done about"), "{title}");
}

#[test]
fn a_miss_lowers_what_comes_and_says_so() {
    let script = floor().keys("4<enter>");
    let load = |s: &Script| s.floor().coming_set().expect("a set").load;
    let before = load(&floor());
    assert!(load(&script).heavier(before) == Some(std::cmp::Ordering::Less));
}

#[test]
fn between_exercises_the_longer_window_holds_and_plates_take_their_time() {
    let mut script = floor();
    for _ in 0..5 {
        script = script.keys("<enter>").wait_s(100);
    }
    // One-arm row 1:00-1:30, plank 0:45-1:15: nothing to load between them.
    let window = script.floor().rest(script.now).expect("a rest").window;
    assert_eq!((window.opens.get(), window.closes.get()), (60, 90));
    let mut script = Script::at_home().keys("<enter>").wait_s(60);
    for _ in 0..3 {
        script = script.keys("<enter>").wait_s(100);
    }
    // One of the two handles, as it is.
    let window = script.floor().rest(script.now).expect("a rest").window;
    assert_eq!(window.opens.get(), 60);
    let script = script.keys("<right>");
    let plates = script.floor().plates.clone().expect("plates");
    let window = script.floor().rest(script.now).expect("a rest").window;
    assert!(plates.moves > 0, "another load on the handle");
    assert_eq!(window.opens.get(), 60 + 3 * plates.moves);
    let screen = script.screen();
    assert!(screen.contains(&plates.change), "{screen}");
}

/// Two sets of ten reps at three seconds, one rest in the middle of its window, getting set: nobody
/// rests behind the last set.
#[test]
fn the_estimate_counts_no_rest_behind_the_last_set() {
    let program = r#"(format: 1, name: "One", rhythm: Rotation(per_week: 3), phases: [
        (name: "Only", weeks: 1, days: [(name: "Day 1", slots: [
            (exercise: "push_up", sets: 2, reps: "10", rest: "1:00-2:00"),
        ])]),
    ])"#;
    let script = Script::of(program);
    let Screen::Briefing(screen) = &script.model.screen else {
        panic!("no briefing")
    };
    let push_up = rackside::domain::exercise::ExerciseId::new("push_up").expect("a name");
    let setup = crate::files::catalogue()
        .get(&push_up)
        .expect("known")
        .setup
        .get();
    assert_eq!(screen.briefing.takes.get(), 2 * 30 + 90 + setup);
}

#[test]
fn pain_in_the_last_set_ends_the_session_there() {
    let mut script = Script::known().keys("<enter>").wait_s(60);
    while script.floor().session.remaining() > 1 {
        script = script.keys("k");
    }
    let script = script.keys(" ").wait_s(8).keys("p8");
    assert!(matches!(script.model.screen, Screen::Debrief(_)));
    script.shows("session done");
}

/// The numbers of the last time are there before any load is found.
#[test]
fn the_first_screen_tells_the_session_and_what_was_done_last_time() {
    let script = Script::known();
    let name = script
        .screen()
        .lines()
        .next()
        .unwrap()
        .split("  ")
        .next()
        .unwrap()
        .to_owned();
    assert!(script.began.starts_with(&name), "{}", script.began);
    assert!(
        script.began.contains("drawing up the session"),
        "{}",
        script.began
    );
    let done: Vec<String> = script.screen().lines().map(str::to_owned).collect();
    let last = done.iter().filter(|line| line.starts_with("   last "));
    let last: Vec<&str> = last
        .map(|line| line.trim().split("   ").next().unwrap())
        .collect();
    assert_eq!(last.len(), 3, "{}", script.screen());
    for text in last {
        assert!(script.began.contains(text), "{text}: {}", script.began);
    }
}

/// What was learned from a set arrives a moment after it; a load that the person chose in between
/// stands, and gives way to what the next set tells.
#[test]
fn a_load_chosen_before_the_suggestion_arrives_stands() {
    let script = floor().keys("<enter>");
    let coming = |script: &Script| script.floor().coming_set().expect("a set");
    let set = coming(&script);
    let learned = |after| Msg::Revised {
        item: set.item,
        after,
        revision: Some(Revision {
            load: set.load,
            asked: set.asked,
            say: "as before".to_owned(),
        }),
    };
    let mut script = script.keys("<right><right>");
    let chosen = coming(&script).load;
    assert_ne!(chosen, set.load);
    script.send(learned(1));
    assert_eq!(coming(&script).load, chosen);
    let mut script = script.wait_s(90).keys("<enter>");
    script.send(learned(2));
    assert_eq!(
        coming(&script).load,
        set.load,
        "what the next set tells holds"
    );
}
