//! Every row of the key table: what it does to the record.

use crate::rig::script::Script;
use rackside::app::effect::Cue;
use rackside::app::keymap::{Action, Key, Mode, TABLE, action, menu_entries};
use rackside::app::model::{Overlay, Screen};
use rackside::app::msg::Msg;
use rackside::domain::session::{Done, Ended, Event, Pain, RestKnown, Typed, Whereabouts};
use rackside::domain::units::{Reps, Seconds, Spare};

/// On the floor, loads known from a session before.
fn floor() -> Script {
    Script::known().keys("<enter>").wait_s(60)
}

/// What the coming set asks for.
fn asked(script: &Script) -> Done {
    let asked = script.floor().coming_set().expect("a set").asked;
    rackside::domain::session::done_of(asked, asked.count())
}

fn reps(count: u32) -> Done {
    Done::Reps(Reps::clamped(count))
}

#[test]
fn enter_records_the_set_as_asked() {
    let script = floor();
    let asked = asked(&script);
    let script = script.keys("<enter>");
    let sets = script.sets();
    assert_eq!(sets.len(), 1);
    assert_eq!((sets[0].done, sets[0].ended), (asked, Ended::AsAsked));
    assert_eq!(sets[0].rest, None, "no rest before the first set");
    script.shows("all recorded").shows("u takes it back");
}

#[test]
fn a_planned_session_takes_a_key_a_set() {
    let mut script = Script::known().keys("<enter>");
    let mut keys = 1;
    while !matches!(script.model.screen, Screen::Debrief(_)) {
        script = script.wait_s(120).keys("<enter>");
        keys += 1;
    }
    script = script.keys("<enter>");
    assert_eq!(
        script.sets().len() + 2,
        keys + 1,
        "start, a key a set, close"
    );
    assert!(matches!(script.last_event(), Event::Closed(_)));
}

#[test]
fn digits_say_other_reps_and_the_point_says_spare() {
    let script = floor().keys("12.2<enter>");
    let set = &script.sets()[0];
    assert_eq!((set.done, set.spare), (reps(12), Some(Spare::clamped(2))));
    let script = floor().keys("7<enter>");
    assert_eq!(
        (script.sets()[0].done, script.sets()[0].ended),
        (reps(7), Ended::Short)
    );
    let script = floor().keys("6.2<enter>");
    assert_eq!(
        script.sets()[0].ended,
        Ended::OnPurpose,
        "two were left: stopped on purpose"
    );
    let script = floor().keys("8,3<enter>");
    assert_eq!(
        script.sets()[0].spare,
        Some(Spare::clamped(3)),
        "a comma is a point"
    );
}

#[test]
fn the_point_alone_says_the_spare_of_the_set_just_done() {
    let script = floor().keys("<enter>").wait_s(5).keys(".3");
    assert_eq!(script.sets()[0].spare, Some(Spare::clamped(3)));
    let script = floor().keys(".").shows("no set is done yet");
    assert!(script.sets().is_empty());
}

#[test]
fn each_side_asks_for_the_other_and_enter_means_the_same() {
    let row = || {
        let mut script = floor();
        for _ in 0..3 {
            script = script.keys("<enter>").wait_s(100);
        }
        script.shows("ONE-ARM ROW")
    };
    let script = row().keys("9<enter>").shows("other side?").keys("<enter>");
    assert_eq!(script.sets()[3].done, reps(9));
    let script = row().keys("9.1<enter>7<enter>");
    let set = &script.sets()[3];
    let (left, right) = (Reps::clamped(9), Reps::clamped(7));
    assert_eq!(set.done, Done::RepsBySide { left, right });
    assert_eq!(
        (set.spare, set.done.deciding()),
        (Some(Spare::clamped(1)), 7)
    );
    let script = row();
    let asked = asked(&script);
    let script = script.keys("<enter>");
    assert_eq!(
        script.sets()[3].done,
        asked,
        "Enter alone: both sides as asked"
    );
}

#[test]
fn space_measures_the_rest_and_the_set() {
    for key in [" ", "*"] {
        let script = floor()
            .keys("<enter>")
            .wait_s(75)
            .keys(key)
            .wait_s(30)
            .keys("<enter>");
        let set = script.sets()[1].clone();
        let rest = set.rest.expect("a rest");
        assert_eq!((rest.seconds.get(), rest.known), (75, RestKnown::Measured));
        assert_eq!(set.lifted, Some(Seconds::clamped(30)));
    }
    let script = floor().keys("<enter>").wait_s(75).keys("<enter>");
    let rest = script.sets()[1].rest.expect("a rest");
    assert_eq!(
        rest.known,
        RestKnown::Estimated,
        "worked out from the usual pace"
    );
    assert!(rest.seconds.get() < 75);
    let script = floor()
        .keys("<enter>")
        .wait_s(75)
        .keys(" ")
        .wait_s(5)
        .keys("<esc>");
    assert_eq!(script.sets().len(), 1, "Esc: not begun after all");
}

#[test]
fn a_hold_counts_in_holds_and_records_itself() {
    let plank = || {
        let mut script = floor();
        for _ in 0..5 {
            script = script.keys("<enter>").wait_s(100);
        }
        script.shows("PLANK")
    };
    let before = plank();
    let asked = before.floor().coming_set().expect("a set").asked.count();
    let script = plank().keys(" ").wait_s(5 + i64::from(asked) + 1);
    assert_eq!(script.sets()[5].done, Done::Held(Seconds::clamped(asked)));
    let ticks = script
        .cues
        .iter()
        .filter(|cue| **cue == Cue::LeadIn)
        .count();
    assert_eq!(ticks, 5, "five seconds counted in");
    assert!(script.cues.ends_with(&[Cue::HoldBegins, Cue::HoldOver]));
    let script = plank().keys(" ").wait_s(5 + 12).keys("x");
    let set = &script.sets()[5];
    assert_eq!(
        set.done,
        Done::Held(Seconds::clamped(12)),
        "any key ends it early"
    );
    assert_eq!(set.ended, Ended::Short);
    let script = plank().keys(" ").wait_s(2).keys("<esc>").wait_s(60);
    assert_eq!(script.sets().len(), 5, "Esc in the lead-in: not begun");
}

#[test]
fn arrows_signs_and_w_change_the_load() {
    let load = |script: &Script| script.floor().coming_set().expect("a set").load.to_string();
    let start = load(&floor());
    for (up, down) in [("<right>", "<left>"), ("+", "-")] {
        let script = floor().keys(up);
        assert_ne!(load(&script), start);
        assert_eq!(load(&script.keys(down)), start);
    }
    let script = floor()
        .keys("w22.5<enter>")
        .shows("not in this place's gear")
        .keys("<enter>");
    assert_eq!(
        script.sets()[0].load.to_string(),
        "22.5 kg",
        "the record is what was lifted"
    );
    let script = floor()
        .keys("w14<enter>")
        .keys("<enter>")
        .wait_s(90)
        .keys("<enter>");
    assert_eq!(
        script.sets()[1].load.to_string(),
        "14 kg",
        "and so for those behind it"
    );
    let script = floor().keys("w<esc><enter>");
    assert_eq!(script.sets()[0].load.to_string(), start);
}

#[test]
fn the_tape_is_walked_and_a_set_is_changed() {
    let script = floor()
        .keys("<enter>")
        .wait_s(100)
        .keys("<enter>")
        .wait_s(10);
    let script = script.keys("<up><up>").shows("set 1 was");
    let script = script.keys("10.1<enter>").wait_s(1);
    let set = &script.sets()[0];
    assert_eq!((set.done, set.spare), (reps(10), Some(Spare::clamped(1))));
    assert_eq!(script.sets().len(), 2, "changed, not added");
    let script = script.keys("<up><right><enter>");
    assert!(script.sets()[1].load.to_string() != script.sets()[0].load.to_string());
    let script = script.keys("<up>.4<enter>");
    assert_eq!(script.sets()[1].spare, Some(Spare::clamped(4)));
    let script = script.keys("<up>5<esc><esc>").keys("<down>");
    assert_ne!(script.sets()[1].done, reps(5), "Esc: nothing changed");
}

#[test]
fn u_takes_back_and_capital_u_brings_back() {
    let script = floor()
        .keys("<enter>")
        .wait_s(100)
        .keys("9<enter>")
        .wait_s(3)
        .keys("u");
    assert_eq!(script.sets().len(), 1);
    let script = script.shows("U brings it back").keys("u");
    assert!(script.sets().is_empty());
    let script = script.keys("U");
    assert_eq!(script.sets().len(), 1);
    let script = script.keys("U");
    assert_eq!(script.sets()[1].done, reps(9));
    let script = script.keys("U").shows("nothing to bring back");
    assert_eq!(script.sets().len(), 2);
}

#[test]
fn taking_back_restores_the_rest_that_stood_before() {
    let script = floor()
        .keys("<enter>")
        .wait_s(70)
        .keys("<enter>")
        .wait_s(5)
        .keys("u");
    let rest = script.floor().rest(script.now).expect("a rest");
    assert_eq!(rest.elapsed, 75_000);
}

#[test]
fn the_rest_can_be_moved_back() {
    let script = floor().keys("<enter>").wait_s(20).keys("bb");
    let rest = script.floor().rest(script.now).expect("a rest");
    assert_eq!(rest.elapsed, 50_000);
}

#[test]
fn the_menu_reaches_everything_by_number_and_by_letter() {
    let resting = floor().keys("<enter>").wait_s(30);
    for (k, entry) in menu_entries(Mode::Floor).enumerate() {
        let number = format!("/{}<enter>", k + 1);
        let by_number = resting.clone().keys(&number);
        let direct = pressed(resting.clone(), entry.keys[0]);
        assert_eq!(
            by_number.journal.len(),
            direct.journal.len(),
            "{}",
            entry.help
        );
        assert_eq!(by_number.screen(), direct.screen(), "{}", entry.help);
        if let Key::Char(_) = entry.keys[0] {
            let by_letter = pressed(resting.clone().keys("/"), entry.keys[0]);
            assert_eq!(by_letter.screen(), direct.screen(), "{}", entry.help);
        }
    }
    assert!(matches!(floor().keys("/").model.overlay, Overlay::Menu(_)));
    assert!(matches!(
        floor().keys("/<esc>").model.overlay,
        Overlay::None
    ));
}

fn pressed(mut script: Script, key: Key) -> Script {
    script.send(Msg::Key(key));
    script
}

/// The briefing and the debrief have a menu too: from a keypad there is no other way to their keys.
#[test]
fn briefing_and_debrief_have_a_numbered_menu() {
    let script = Script::known()
        .keys("/")
        .shows("another place")
        .keys("2<enter>");
    script.shows("where?");
    let script = floor().keys("<enter>").wait_s(30).keys("f1");
    let script = script.keys("/").shows("take back").keys("/").keys("5");
    let script = script.keys("/4<enter>").shows("a set added");
    assert!(matches!(script.model.screen, Screen::Floor(_)));
}

#[test]
fn swap_put_off_skip_and_add() {
    let script = floor().keys("s").shows("what instead?").keys("1");
    assert!(matches!(script.last_event(), Event::Swapped { .. }));
    let script = floor().keys("o");
    assert_eq!(script.floor().coming_set().expect("a set").item, 1);
    let script = floor().keys("k");
    assert_eq!(script.floor().session.remaining(), 6);
    let script = floor().keys("K");
    assert_eq!(script.floor().session.remaining(), 4);
    let script = floor().keys("<enter>").wait_s(30).keys("a");
    assert_eq!(script.floor().session.remaining(), 7);
    assert_eq!(
        script.keys("u").floor().session.remaining(),
        6,
        "and taken back"
    );
}

#[test]
fn an_interrupted_set_is_no_miss() {
    let script = floor().keys("5<enter>").wait_s(5).keys("i");
    assert_eq!(script.sets()[0].ended, Ended::Interrupted);
}

#[test]
fn notes_pause_mute_digits_cues_help() {
    let script = floor().keys("nleft knee tape<enter>");
    let Event::Note { text } = script.last_event() else {
        panic!("no note")
    };
    assert_eq!(text, "left knee tape");
    let script = floor()
        .keys("<enter>")
        .wait_s(10)
        .keys("t")
        .shows("time out")
        .wait_s(300);
    assert!(!script.cues.contains(&Cue::Opens), "no signs in a time out");
    assert!(script.keys("t").floor().session.paused.is_none());
    assert!(floor().keys("m").model.prefs.mute);
    assert!(floor().keys("d").model.prefs.small);
    floor().keys("c").shows("getting set");
    for key in ["h", "?", "<f1>"] {
        floor().keys(key).shows("the coming set is done as asked");
    }
}

#[test]
fn finishing_asks_and_leaving_does_not() {
    let script = floor()
        .keys("<enter>")
        .wait_s(30)
        .keys("f")
        .shows("not done?")
        .keys("1");
    assert!(matches!(script.model.screen, Screen::Debrief(_)));
    assert!(floor().keys("q").quit);
    assert!(floor().keys("<ctrl-c>").quit);
}

#[test]
fn finished_too_soon_it_goes_on() {
    let script = floor().keys("<enter>").wait_s(30).keys("f1").keys("<esc>");
    assert!(matches!(script.model.screen, Screen::Floor(_)));
    assert_eq!(script.floor().coming_set().expect("a set").number, 2);
    let script = script.keys("p1").keys("<esc>").shows("a stop sign stands");
    assert!(matches!(script.model.screen, Screen::Debrief(_)));
}

/// What was done on each side is changed side by side.
#[test]
fn an_earlier_set_of_two_sides_is_changed_by_sides() {
    let mut script = floor();
    for _ in 0..4 {
        script = script.keys("<enter>").wait_s(100);
    }
    let script = script
        .keys("<up>9.1<enter>")
        .shows("other side?")
        .keys("7<enter>");
    let (left, right) = (Reps::clamped(9), Reps::clamped(7));
    let set = &script.sets()[3];
    assert_eq!(set.done, Done::RepsBySide { left, right });
    assert_eq!(set.spare, Some(Spare::clamped(1)));
    let script = script.wait_s(1).keys("<up>8<enter><enter>");
    assert_eq!(script.sets()[3].done, reps(8));
    assert_eq!(script.sets().len(), 4, "changed, not added");
}

#[test]
fn erase_takes_the_last_digit() {
    let script = floor().keys("12<bs>0<enter>");
    assert_eq!(script.sets()[0].done, reps(10));
}

#[test]
fn pain_ends_the_set_as_no_miss_and_spares_what_hurts() {
    let script = floor().keys("5p").shows("Where does it hurt?").keys("3");
    let sets = script.sets();
    assert_eq!((sets[0].done, sets[0].ended), (reps(5), Ended::Interrupted));
    let hurts = |event: &Event| matches!(event, Event::Pain(Pain { .. }));
    assert!(script.journal.iter().any(|event| hurts(&event.event)));
    let row = script.floor().session.items[1].coming();
    assert_eq!(row, None, "the row loads the shoulder: left out");
}

#[test]
fn a_stop_sign_ends_the_session_and_offers_nothing() {
    let script = floor().keys("<enter>").wait_s(30).keys("p1");
    assert!(matches!(script.model.screen, Screen::Debrief(_)));
    let alarm = |e: &Event| {
        matches!(
            e,
            Event::Pain(Pain {
                whereabouts: Whereabouts::Alarm,
                ..
            })
        )
    };
    assert!(script.journal.iter().any(|event| alarm(&event.event)));
    script.shows("medical");
}

/// Pain is asked for in every state of the floor.
#[test]
fn the_program_is_seen_week_by_week_from_the_briefing() {
    let script = Script::known()
        .sized(60, 20)
        .keys("v")
        .shows("== Only")
        .shows("One-arm row");
    let first = script.screen();
    let script = script.keys("<down><down>");
    assert_ne!(script.screen(), first, "it can be scrolled");
    script.keys("<esc>").shows("Enter start");
}

/// A page is turned by a key, also from a keypad, and the last one stays whole.
#[test]
fn long_pages_are_turned() {
    let first = Script::screen;
    let floor = || floor().sized(60, 20);
    let page = Script::known().sized(60, 20).keys("v");
    let down = page.clone().keys("<pgdn>");
    let by_lines = page.clone().keys(&"<down>".repeat(15));
    assert_eq!(first(&down), first(&by_lines));
    assert_eq!(first(&page.clone().keys("+")), first(&down));
    assert_eq!(first(&down.clone().keys("<pgup>")), first(&page));
    assert_eq!(first(&down.keys("-")), first(&page));
    let help = floor().keys("h");
    assert!(first(&help).contains("more below"), "{}", first(&help));
    let end = help.clone().keys("<pgdn><pgdn>");
    assert!(first(&end).contains("leave; it waits"), "{}", first(&end));
    // Where there is room, side by side and at once.
    for (width, height) in [(80, 24), (120, 40), (200, 60)] {
        let wide = help.screen_of(width, height);
        assert!(!wide.contains("more below"), "{wide}");
        assert!(wide.contains("leave; it waits"), "{wide}");
    }
    // A numeric keypad without its lock sends the same keys on the floor.
    assert!(floor().keys("<pgdn>").shows("Num Lock").sets().is_empty());
}

#[test]
fn a_key_pressed_while_the_session_is_drawn_up_is_answered() {
    let mut script = Script::known();
    script.model.drawing_up = true;
    let script = script.keys("<enter>").shows("still drawing up");
    assert!(matches!(script.model.screen, Screen::Briefing(_)));
    let mut script = script;
    script.model.screen = Screen::Waiting(Box::default());
    script.keys("<enter>").shows("still drawing up");
}

#[test]
fn a_debrief_longer_than_the_screen_says_so() {
    let mut script = Script::known().keys("<enter>");
    while !matches!(script.model.screen, Screen::Debrief(_)) {
        script = script.wait_s(150).keys("<enter>").keys(".2");
    }
    let script = script.sized(60, 20).keys("<enter>");
    let cut = script.screen();
    assert!(
        cut.contains("more") && !cut.contains("volume load"),
        "{cut}"
    );
    let at = |text: &str| cut.lines().position(|line| line.contains(text));
    assert_eq!(
        at("next: Day 1"),
        Some(2),
        "what comes next comes first\n{cut}"
    );
    assert!(at("Plank: hold") > at("next: Day 1"), "{cut}");
    let whole = script.keys(&"<down>".repeat(20)).screen();
    assert!(whole.contains("volume load"), "{whole}");
}

/// A key down where there is no further down is undone by none: the first key up moves the page.
#[test]
fn nobody_is_lost_below_the_end_of_a_page() {
    let mut done = floor();
    while !matches!(done.model.screen, Screen::Debrief(_)) {
        done = done.wait_s(150).keys("<enter>").keys(".2");
    }
    let small = |script: Script| script.sized(60, 20);
    let pages = [
        ("help", small(floor()).keys("h")),
        ("program", small(Script::known()).keys("v")),
        ("cues", small(floor()).keys("c")),
        ("debrief", small(done).keys("<enter>")),
        ("work", small(Script::known()).keys("b3")),
        ("best", small(Script::known()).keys("b5<enter>")),
    ];
    for (name, page) in pages {
        let top = page.screen();
        let reach = page.model.reach;
        let far = page.keys(&"<down>".repeat(reach + 9)).keys("<pgdn>");
        let end = far.screen();
        assert_eq!(end == top, reach == 0, "{name}\n{end}");
        if reach > 0 {
            let up = far.clone().keys("<up>");
            assert_ne!(up.screen(), end, "{name}");
        }
        assert_eq!(far.keys(&"<up>".repeat(reach)).screen(), top, "{name}");
    }
}

#[test]
fn what_was_lighter_on_purpose_is_said_to_have_been() {
    let mut script = Script::known();
    assert!(!script.screen().contains("easier"));
    for event in &mut script.journal {
        if let Event::Opened(opened) = &mut event.event {
            opened
                .plan
                .items
                .iter_mut()
                .for_each(|item| item.deload = true);
        }
    }
    let script = script.again().shows("Thu 19 Nov, easier");
    script
        .keys("<enter>")
        .shows("last time, Thu 19 Nov, easier");
}

#[test]
fn pain_after_one_side_keeps_what_was_done() {
    let mut script = floor();
    for _ in 0..3 {
        script = script.keys("<enter>").wait_s(100);
    }
    let script = script.keys("9<enter>").shows("other side?").keys("p8");
    let set = &script.sets()[3];
    let (left, right) = (Reps::clamped(9), Reps::clamped(0));
    assert_eq!(set.done, Done::RepsBySide { left, right });
    assert_eq!(set.ended, Ended::Interrupted, "and it is no miss");
}

#[test]
fn pain_is_reached_from_every_state() {
    for keys in [
        "p", " p", "8p", ".p", "<enter>p", "/p", "hp", "sp", "cp", "<up>p",
    ] {
        floor()
            .keys("<enter>")
            .wait_s(70)
            .keys(keys)
            .shows("Where does it hurt?");
    }
}

/// Each row of the floor is bound, and bound once.
#[test]
fn every_row_of_the_table_is_reached() {
    for row in TABLE {
        for key in row.keys {
            let found = action(row.mode, *key);
            assert_eq!(found, Some(row.action), "{:?} {key:?}", row.mode);
        }
    }
    assert_eq!(action(Mode::Floor, Key::Char('5')), Some(Action::Digit(5)));
    assert!(matches!(Typed::default(), Typed::Nothing));
}

/// A load that was wrong is said of an earlier set by name too; what is none is refused, and the
/// set stays as it was.
#[test]
fn an_earlier_set_gets_another_load_by_name() {
    let script = floor().keys("<enter>").wait_s(20);
    let none = script.clone().keys("<up>w0<enter>").shows("is no load");
    assert_eq!(none.sets()[0], script.sets()[0]);
    let changed = script.keys("<up>w7.5<enter>").shows("set changed");
    assert_eq!(changed.sets()[0].load.to_string(), "7.5 kg");
}
