//! What a program says is what the floor does.

use crate::rig::script::Script;
use rackside::domain::session::SetKind;

fn at(slots: &str) -> Script {
    let program = format!(
        "(format: 1, name: \"Short\", rhythm: Rotation(per_week: 3), phases: [(name: \"Only\", \
         weeks: 4, days: [(name: \"Day 1\", slots: [{slots}])])])"
    );
    Script::of(&program).keys("<enter>")
}

fn coming(script: &Script) -> Option<(String, u32)> {
    let set = script.floor().coming_set()?;
    let item = &script.floor().session.items[set.item].planned;
    Some((item.exercise.to_string(), set.asked.count()))
}

fn window(script: &Script) -> (u32, u32) {
    let item = script.floor().coming_set().unwrap().item;
    let window = script.floor().session.window(item);
    (window.opens.get(), window.closes.get())
}

#[test]
fn a_total_is_shared_out_among_the_sets_that_are_left() {
    let pull = r#"(exercise: "push_up", sets: 4, total: 30, rest: "1:00-1:30"),
        (exercise: "plank", sets: 1, hold: "20", rest: "0:45-1:15")"#;
    let mut script = at(pull);
    assert_eq!(coming(&script).unwrap().1, 8);
    script = script.wait_s(60).keys("12<enter>");
    assert_eq!(coming(&script).unwrap().1, 6, "18 left over three sets");
    script = script.wait_s(100).keys("10<enter>");
    assert_eq!(coming(&script).unwrap().1, 4);
    script = script.wait_s(100).keys("8<enter>");
    assert_eq!(coming(&script).unwrap().0, "plank", "thirty are done");
    // Started again it stands where it stood.
    let script = script.again();
    assert_eq!(coming(&script).unwrap().0, "plank");
    // Taken back, the set is to come again, with what is left.
    let script = script.keys("u");
    assert_eq!(coming(&script), Some(("push_up".to_owned(), 4)));
}

const PAIR: &str = r#"
    (exercise: "push_up", sets: 2, reps: "8", rest: "1:30-2:00", group: 1 INSIDE),
    (exercise: "plank_row", sets: 2, reps: "8", rest: "1:00-1:30", group: 1)"#;

#[test]
fn in_a_pair_the_rest_of_one_is_the_work_of_the_other() {
    let mut script = at(&PAIR.replace("INSIDE", "")).wait_s(60).keys("8<enter>");
    assert_eq!(coming(&script).unwrap().0, "plank_row");
    assert_eq!(window(&script).0, 0, "straight on");
    script = script.wait_s(50).keys("8<enter>");
    assert_eq!(coming(&script).unwrap().0, "push_up");
    assert_eq!(
        window(&script),
        (40, 70),
        "50 s of its 1:30 to 2:00 are gone"
    );
    script = script.wait_s(80).keys("8<enter>");
    assert_eq!(coming(&script).unwrap().0, "plank_row");
    assert_eq!(window(&script), (0, 10));
}

#[test]
fn rests_inside_a_pair_and_after_it_are_those_that_are_named() {
    let named = PAIR.replace("INSIDE", r#", inside: "0:10-0:20""#);
    let mut script = at(&named).wait_s(60).keys("8<enter>");
    assert_eq!(window(&script), (10, 20));
    script = script.wait_s(50).keys("8<enter>");
    assert_eq!(window(&script), (90, 120), "after the round");
    // Skipping one keeps the other.
    script = script.keys("K");
    assert_eq!(coming(&script).unwrap().0, "plank_row");
}

#[test]
fn an_open_last_set_is_called_so_and_tempo_and_note_are_shown() {
    let slots = r#"(exercise: "push_up", sets: 2, reps: "8", rest: "1:00-1:30", open_last: true,
        tempo: "30X0", note: "elbows close")"#;
    let script = at(slots);
    assert!(
        script.screen().contains("tempo 30X0"),
        "{}",
        script.screen()
    );
    assert!(
        script.screen().contains("elbows close"),
        "{}",
        script.screen()
    );
    assert!(!script.floor().coming_set().unwrap().open);
    let script = script.wait_s(60).keys("8<enter>");
    assert!(script.floor().coming_set().unwrap().open);
    assert!(
        script.screen().contains("open set 2 of 2"),
        "{}",
        script.screen()
    );
}

#[test]
fn back_off_sets_follow_the_load_of_the_top_sets() {
    let slots = r#"(exercise: "dumbbell_bench_press", sets: 1, reps: "5", rest: "1:00-1:30",
        back_off: (sets: 2, percent: 80, reps: "8"))"#;
    let mut script = at(slots);
    for _ in 0..6 {
        let set = script.floor().coming_set().expect("a set");
        if set.kind == SetKind::BackOff {
            break;
        }
        script = script
            .wait_s(120)
            .keys("w20<enter>")
            .keys("<enter>")
            .keys(".2");
    }
    let set = script.floor().coming_set().expect("a back-off set");
    assert_eq!(
        (set.kind, set.asked.count(), set.of),
        (SetKind::BackOff, 8, 2)
    );
    assert_eq!(set.load.to_string(), "16 kg", "80 % of 20 kg");
}

/// Two lifts that stay below their least in two sessions running: the next one is made easier, and
/// says so.
#[test]
fn a_week_is_made_easier_once_lifts_have_come_to_a_stop() {
    let program = |stall: bool| {
        format!(
            "(format: 1, name: \"Short\", rhythm: Rotation(per_week: 3), phases: [(name: \"Only\", \
             weeks: 4, easier_on_stall: {stall}, days: [(name: \"Day 1\", slots: [\
             (exercise: \"push_up\", sets: 2, reps: \"8\", rest: \"1:00-1:30\"),\
             (exercise: \"bodyweight_squat\", sets: 2, reps: \"8\", rest: \"1:00-1:30\")])])])"
        )
    };
    for stall in [true, false] {
        let mut script = Script::of(&program(stall));
        for session in 0..3 {
            let briefing = script.briefing();
            assert!(!briefing.today.easier_week, "session {session}");
            script = script.keys("<enter>");
            for _ in 0..4 {
                let reps = if session == 0 {
                    "8<enter>"
                } else {
                    "5.0<enter>"
                };
                script = script.wait_s(120).keys(reps);
            }
            script = script.keys("<enter>").wait_s(2 * 86_400).again();
        }
        let today = &script.briefing().today;
        assert_eq!(today.easier_week, stall, "{}", today.why);
        assert_eq!(today.why.contains("come to a stop"), stall, "{}", today.why);
    }
}
