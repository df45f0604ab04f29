//! How the screen looks: contrast by computation, room at every size, a cursor that can be found.

mod contrast;

use crate::rig::script::Script;
use rackside::domain::history::Ground;
use rackside::domain::words::Letters;
use rackside::ui::theme::{Depth, Look};
use rackside::ui::title;

const ASCII: Look = Look {
    depth: Depth::Full,
    letters: Letters::Ascii,
};

const SIZES: [(u16, u16); 5] = [(60, 20), (80, 24), (100, 30), (120, 40), (200, 60)];

/// Every kind of screen, each with what is in focus there.
fn screens() -> Vec<(&'static str, Script, &'static str)> {
    let floor = || Script::known().keys("<enter>").wait_s(60);
    let done = || floor().keys("<enter>").wait_s(10);
    let hold = || floor().keys("KK").wait_s(10);
    vec![
        ("briefing", Script::known(), " Dumbbell bench press "),
        (
            "briefing, further down",
            Script::known().keys("<down>"),
            " One-arm row ",
        ),
        ("floor", floor(), "DUMBBELL BENCH PRESS · set"),
        ("rest", done(), "DUMBBELL BENCH PRESS · set"),
        ("typing", floor().keys("12"), "> 12"),
        ("load", floor().keys("w22"), "> load: 22"),
        ("edit", done().keys("<up>"), "set 1 was"),
        ("menu", floor().keys("/<down>"), " 2 u take back"),
        ("question", floor().keys("p<down>"), "2 neck"),
        ("note", floor().keys("nab"), "note: ab"),
        ("help", floor().keys("h"), "8 Enter"),
        ("program", Script::known().keys("v"), "Short (short)"),
        ("stand-ins", done().keys("s"), "1 "),
        ("pain", done().keys("p"), "1 chest, head"),
        ("hands-free", hold().keys("r").wait_s(3), "PLANK · set"),
        ("hold", hold().keys(" ").wait_s(9), "PLANK · set"),
        (
            "menu of the debrief",
            floor().keys("f1/"),
            " 1   the last digit",
        ),
        ("coaching", floor().keys("c"), "Dumbbell bench press"),
        ("debrief", floor().keys("f1"), "how hard was it"),
        ("closed", floor().keys("f1<enter>"), "session closed"),
    ]
}

#[test]
fn the_cursor_stands_on_the_focus_of_every_screen() {
    for (name, script, focus) in screens() {
        for size in SIZES {
            let (screen, cursor) = script.screen_in(Look::default(), size);
            let cursor = cursor.unwrap_or_else(|| panic!("{name}: no cursor\n{screen}"));
            let line = screen.lines().nth(cursor.y.into()).unwrap();
            assert!(
                line.contains(focus),
                "{name} at {size:?}: {line:?}\n{screen}"
            );
            let end = line.chars().count();
            assert!(
                usize::from(cursor.x) <= end + 1,
                "{name} at {size:?}: behind the line"
            );
        }
    }
    let (_, cursor) = Script::known().screen_in(Look::default(), (20, 5));
    assert!(cursor.is_some(), "too small a screen");
}

#[test]
fn every_screen_has_an_ascii_form_in_which_states_differ() {
    for (name, script, _) in screens() {
        for size in SIZES {
            let (screen, _) = script.screen_in(ASCII, size);
            assert!(screen.is_ascii(), "{name} at {size:?}\n{screen}");
            let marks = |text: &str| text.matches('?').count();
            let (drawn, _) = script.screen_in(Look::default(), size);
            assert_eq!(
                marks(&screen),
                marks(&drawn),
                "{name} at {size:?}\n{screen}"
            );
        }
    }
    let rest = Script::known().keys("<enter>").wait_s(60).keys("<enter>");
    let gauge = |script: &Script| {
        let screen = script.screen_in(ASCII, (80, 24)).0;
        screen
            .lines()
            .find(|l| l.contains("rest  |"))
            .unwrap()
            .to_owned()
    };
    let recover = gauge(&rest);
    assert!(recover.contains("RECOVER"), "{recover}");
    let open = rest.wait_s(75);
    let opened = gauge(&open);
    assert!(
        opened.contains("==[###") && opened.contains("OPEN"),
        "{opened}"
    );
    let late = gauge(&open.wait_s(30));
    assert!(late.contains("]>") && late.contains("LATE"), "{late}");
}

/// The four shapes of the tape stay apart in ASCII: done, missed, now, to come.
#[test]
fn the_tape_tells_done_missed_now_and_to_come_apart() {
    let script = Script::known().keys("<enter>").wait_s(60).keys("<enter>");
    let script = script.wait_s(90).keys("1<enter>").wait_s(10);
    let tape = |look| {
        let screen = script.screen_in(look, (80, 24)).0;
        screen.lines().nth(1).unwrap()[..]
            .trim_start()
            .chars()
            .take(3)
            .collect::<String>()
    };
    assert_eq!(tape(Look::default()), "▮◇▶");
    assert_eq!(tape(ASCII), "#x>");
}

/// Through a whole rest nothing stands elsewhere than before, but for what is counted: the clock,
/// the big form, the gauge, the odds.
#[test]
fn nothing_moves_while_a_rest_is_counted() {
    for (size, counted) in [
        ((60, 20), vec![0, 3, 4, 5, 6, 7, 9, 10]),
        ((80, 24), vec![0, 5, 6, 7, 8, 9, 11, 12]),
        (
            (120, 40),
            vec![0, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 16, 17],
        ),
    ] {
        let still = |script: &Script| -> Vec<String> {
            let screen = script.screen_of(size.0, size.1);
            let lines = screen.lines().enumerate();
            let still = lines.filter(|(y, _)| !counted.contains(y));
            still.map(|(_, line)| line.to_owned()).collect()
        };
        let beside = |script: &Script| -> Vec<String> {
            let screen = script.screen_of(size.0, size.1);
            let right = |line: &str| line.chars().skip(65).collect();
            screen.lines().skip(3).map(right).collect()
        };
        let mut script = Script::known().keys("<enter>").wait_s(60).keys("<enter>");
        // What was recorded is named for a while.
        script = script.wait_s(6);
        let (first, right) = (still(&script), beside(&script));
        for second in 7..200 {
            script = script.wait_s(1);
            assert_eq!(still(&script), first, "{size:?}, {second} s");
            if size.0 == 120 {
                assert_eq!(beside(&script), right, "{size:?}, {second} s");
            }
        }
    }
}

/// The terminal is told how far it is, and nothing where nothing is counted.
#[test]
fn progress_follows_what_is_counted() {
    use rackside::ui::{Progress, progress};
    let rest = Script::known().keys("<enter>").wait_s(60);
    let of = |script: &Script| progress(&script.model, script.now);
    assert_eq!(of(&rest), Progress::Nothing, "no set is done yet");
    let rest = rest.keys("<enter>");
    assert_eq!(of(&rest.clone().wait_s(30)), Progress::OnTheWay(50));
    assert_eq!(of(&rest.clone().wait_s(75)), Progress::Open(50));
    assert_eq!(of(&rest.clone().wait_s(400)), Progress::Open(100));
    assert_eq!(of(&rest.clone().wait_s(10).keys("t")), Progress::Nothing);
    assert_eq!(
        of(&rest.wait_s(70).keys(" ").wait_s(9)),
        Progress::Nothing,
        "nobody knows its end"
    );
}

/// Preferred height of what is read at three metres: 20 to 22 minutes of arc (ISO 9241-3 as quoted
/// in shared/reference, display_sound_units.csv), with rows of 4.2 mm.
#[test]
fn big_digits_can_be_read_from_three_metres() {
    let preferred = (22.0_f64 / 60.0).to_radians().tan() * 3000.0;
    let rest = Script::known().keys("<enter>").wait_s(60).keys("<enter>");
    let heights = [
        (60, 20, 5),
        (80, 24, 5),
        (100, 30, 7),
        (120, 40, 10),
        (200, 60, 10),
    ];
    for (width, height, wanted) in heights {
        let size = (width, height);
        let (screen, _) = rest.screen_in(Look::default(), size);
        let column = |c: char| screen.lines().filter(|line| line.contains(c)).count();
        assert_eq!(column('█'), wanted, "{size:?}\n{screen}");
        assert!(wanted as f64 * 4.2 >= preferred, "{preferred:.1} mm wanted");
    }
}

/// Load and count, and the unit behind them, are whole at every width.
#[test]
fn big_loads_are_never_cut() {
    use rackside::domain::units::{Load, Unit};
    for load in ["14.5", "102.5", "7.25", "80", "1"] {
        for count in [8, 12, 20] {
            let script = Script::known().keys("<enter>").wait_s(60);
            let mut script = script.keys(&format!("w{load}<enter>"));
            let floor = match &mut script.model.screen {
                rackside::app::model::Screen::Floor(floor) => floor,
                other => panic!("{other:?}"),
            };
            let coming = floor.coming_set().unwrap();
            let Load::Mass(weight) = coming.load else {
                panic!("{coming:?}")
            };
            assert_eq!(weight.unit, Unit::Kg);
            let way = floor.ways.get_mut(&(coming.item, coming.kind)).unwrap();
            let reps = rackside::domain::units::Reps::clamped(count);
            way.asked = Some(rackside::domain::session::Asked::Reps(reps));
            for width in 60..=200 {
                let screen = script.screen_of(width, 24);
                let rows: Vec<&str> = screen.lines().skip(5).take(5).collect();
                // The last digit ends with a full stroke, and then comes the unit.
                let last = rows[4]
                    .find(" kg")
                    .unwrap_or_else(|| panic!("{width}: {load}\n{screen}"));
                assert!(
                    rows[4][..last].trim_end().ends_with('█'),
                    "{width}: {load}\n{screen}"
                );
            }
        }
    }
}

#[test]
fn a_key_makes_loads_small_and_leaves_the_countdown_big() {
    let floor = Script::known().keys("<enter>").wait_s(60);
    let blocks = |script: &Script| script.screen().contains("██");
    assert!(blocks(&floor));
    let small = floor.keys("d");
    assert!(!blocks(&small), "{}", small.screen());
    let load = small.floor().coming_set().expect("a set").load.to_string();
    let number = load.trim_end_matches(" kg");
    let small = small.shows(&format!("{number} × ")).keys("<enter>");
    assert!(blocks(&small), "a countdown is big in any case");
}

#[test]
fn nothing_moves_while_a_rest_passes() {
    let mut script = Script::known()
        .keys("<enter>")
        .wait_s(60)
        .keys("<enter>")
        .wait_s(6);
    for size in SIZES {
        let place = |script: &Script| {
            let (screen, _) = script.screen_in(Look::default(), size);
            let at = |what: &str| screen.lines().position(|line| line.contains(what));
            let column = screen
                .lines()
                .find_map(|l| l.find("last time, ").map(|b| l[..b].chars().count()));
            [at("rest  ├"), at("last time, "), at("next  "), column]
        };
        let before = place(&script);
        assert!(before.iter().all(Option::is_some), "{size:?}: {before:?}");
        for _ in 0..30 {
            script = script.wait_s(4);
            assert_eq!(place(&script), before, "{size:?}\n{}", script.screen());
        }
        script = script.keys("u").wait_s(6).keys("<enter>").wait_s(6);
    }
}

#[test]
fn wide_screens_show_the_plan_and_the_cues_beside_the_set() {
    let script = Script::known()
        .keys("<enter>")
        .wait_s(60)
        .keys("<enter>")
        .wait_s(10);
    for (size, columns) in [((120, 40), [66, 66, 66]), ((200, 60), [82, 82, 141])] {
        let (screen, _) = script.screen_in(Look::default(), size);
        for wanted in ["One-arm row", "Plank", "RECOVER"] {
            assert!(screen.contains(wanted), "{wanted}\n{screen}");
        }
        let beside = ["last time, ", "the session", "how it is done"];
        for (wanted, column) in beside.into_iter().zip(columns) {
            let line = screen.lines().find_map(|line| line.split_once(wanted));
            let (before, _) = line.unwrap_or_else(|| panic!("{wanted}\n{screen}"));
            assert_eq!(before.chars().count(), column, "{wanted}\n{screen}");
        }
        let words = screen.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(!words.contains('…'), "nothing is cut\n{screen}");
        for word in ["getting set:", "movement:", "faults:", "Stop if"] {
            assert!(words.contains(word), "{word}\n{screen}");
        }
    }
    assert!(!script.screen().contains("the session"));
}

/// An exercise that is new has a whole cue before each of its sets on the smallest screen; where
/// one is too long for it, it says which key shows all.
#[test]
fn a_small_screen_tells_one_cue_a_set_and_cuts_none_in_silence() {
    let mut script = Script::known().sized(60, 20).keys("<enter>").wait_s(60);
    for cue in ["getting set: Sit", "movement: Lower", "faults: Elbows"] {
        let screen = script.clone().wait_s(6).screen();
        let lines: Vec<&str> = screen.lines().map(str::trim).collect();
        let from = lines.iter().position(|line| line.starts_with(cue));
        let from = from.unwrap_or_else(|| panic!("{cue}\n{screen}"));
        let told = lines[from..lines.len() - 2].join(" ");
        let told = told.trim();
        assert!(
            told.ends_with('.') || told.ends_with("… c: all of it"),
            "{screen}"
        );
        script = script.keys("<enter>").wait_s(75);
    }
    let whole = script.keys("c").screen();
    for word in ["getting set:", "movement:", "faults:"] {
        assert!(whole.contains(word), "{word}\n{whole}");
    }
}

/// What has no room for its last words says so, and the alarm covers nothing.
#[test]
fn no_last_words_are_lost_on_the_smallest_screen() {
    let name = "name: \"Only\"";
    let long = crate::rig::script::PROGRAM.replace(name, "name: \"Build up again\"");
    let new = Script::of(&long).sized(60, 20);
    let briefing = new.screen();
    for whole in [
        "feel for it from 2 kg each side",
        "rest 1:00-1:30",
        "begin light and feel …",
    ] {
        assert!(briefing.contains(whole), "{whole}\n{briefing}");
    }
    let floor = new.keys("<enter>").screen();
    let head = floor.lines().next().unwrap().to_owned();
    assert!(head.contains("Build up again, week 1 of 4  "), "{floor}");
    assert!(head.contains("18:22"), "{floor}");
    let best = Script::known().sized(60, 20).keys("b5").screen();
    assert!(best.contains("Thu 19 Nov") && !best.contains('…'), "{best}");
    for view in ["b1", "b2", "b7"] {
        let list = Script::known().sized(60, 20).keys(view).screen();
        assert!(!list.contains('…'), "{view}\n{list}");
    }
    let work = Script::known().sized(60, 20).keys("b3").screen();
    assert!(work.contains(" more"), "{work}");
    let alarm = Script::known().sized(60, 20).keys("<enter>p1").screen();
    for whole in [
        "pass at once.",
        "session done",
        "Dumbbell bench press  3 sets not done",
    ] {
        assert!(alarm.contains(whole), "{whole}\n{alarm}");
    }
}

/// A set that the disk refuses is told, with the reason, as long as it is refused.
#[test]
fn what_is_not_saved_is_told_with_its_reason() {
    let mut script = Script::known().sized(60, 20).keys("<enter>").wait_s(60);
    script.disk = false;
    let screen = script.keys("<enter>").wait_s(20).screen();
    assert!(screen.contains("NOT SAVED: 1"), "{screen}");
    assert!(screen.contains("not saved: no space left."), "{screen}");
}

#[test]
fn an_alarm_is_told_in_full_and_stays() {
    let script = Script::known()
        .keys("<enter>")
        .wait_s(60)
        .keys("p1")
        .wait_s(120);
    for size in SIZES {
        let (screen, _) = script.screen_in(Look::default(), size);
        let words: String = screen.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            words.contains("call for medical help now if it does not pass at once."),
            "{screen}"
        );
    }
}

#[test]
fn a_key_goes_through_the_grounds_and_the_choice_is_kept() {
    let script = Script::known().keys("<enter>").wait_s(60);
    let mut seen = vec![script.model.ground];
    let mut script = script;
    for _ in 0..3 {
        script = script.keys("g");
        assert_eq!(script.model.prefs.ground, Some(script.model.ground));
        seen.push(script.model.ground);
    }
    assert_eq!(
        seen,
        [Ground::Dark, Ground::Light, Ground::Plain, Ground::Dark]
    );
    assert_eq!(
        script.keys("/").keys("g").model.ground,
        Ground::Light,
        "from the menu"
    );
}

#[test]
fn the_title_counts_down() {
    let script = Script::known().keys("<enter>").wait_s(60).keys("<enter>");
    let script = script.wait_s(20);
    assert_eq!(
        title(&script.model, script.now),
        "rest 0:40 · Dumbbell bench press 2/3"
    );
    let script = script.wait_s(45);
    assert_eq!(
        title(&script.model, script.now),
        "open 0:25 · Dumbbell bench press 2/3"
    );
    let script = script.wait_s(30);
    assert_eq!(
        title(&script.model, script.now),
        "late 0:05 · Dumbbell bench press 2/3"
    );
    let script = script.keys("f1");
    assert_eq!(title(&script.model, script.now), "rackside");
}
