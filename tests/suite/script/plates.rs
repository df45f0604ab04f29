//! Plates on the floor: what changes from what is on now, on all handles and bars together.

use crate::rig::script::Script;
use rackside::app::model::{Answer, Overlay, Screen};
use rackside::domain::gear::{Place, PlaceId};
use rackside::domain::schedule::{Briefing, Plates};
use rackside::domain::session::{Choice, Event, SetKind};
use rackside::formats::gear_file;

/// A bar, two handles, and hardly plates enough for both.
fn few() -> Place {
    let text = r#"(format: 1, name: "Few plates", unit: Kg,
        handles: [(weight: "2 kg", count: 2, sleeve: 4)],
        bars: [(name: "bar", weight: "10 kg")],
        plates: [(weight: "10 kg", count: 2), (weight: "5 kg", count: 4),
            (weight: "2.5 kg", count: 4), (weight: "1.25 kg", count: 4)],
        has: [Bench, Floor, Rack, Step], safeties: true)"#;
    let id = PlaceId::new("few").expect("a name");
    gear_file::read("few.ron", &id, text).unwrap_or_else(|problems| panic!("{}", problems[0]))
}

/// Two exercises on one day, in turn or one after the other.
fn program(exercises: [&str; 2], group: &str) -> String {
    let slot = |exercise: &str| {
        let numbers = "sets: 3, reps: \"8-12\", rest: \"2:30-3:00\"";
        format!("(exercise: \"{exercise}\", {numbers}{group}),")
    };
    format!(
        "(format: 1, name: \"Two\", rhythm: Rotation(per_week: 3), phases: [(name: \"Only\", \
         weeks: 4, days: [(name: \"Day 1\", slots: [{}{}])])])",
        slot(exercises[0]),
        slot(exercises[1]),
    )
}

/// The whole session, each exercise with the load named at its first set.
fn done_with(mut script: Script, loads: [&str; 2]) -> Script {
    script = script.keys("<enter>");
    while let Screen::Floor(floor) = &script.model.screen {
        let coming = floor.coming_set().expect("a set");
        let begins = floor.session.records(coming.item).next().is_none();
        let load = format!("w{}<enter>", loads[coming.item]);
        script = script.wait_s(150).keys(if begins { &load } else { "" });
        script = script.keys("<enter>.2");
    }
    script.keys("<enter>").wait_s(3 * 86_400).again()
}

fn briefing(script: &Script) -> &Briefing {
    let Screen::Briefing(screen) = &script.model.screen else {
        panic!("{}", script.screen())
    };
    &screen.briefing
}

/// After a session of bench presses with 45 kg: 10 + 5 + 2.5 on each end of the bar, then the
/// dumbbells want all four plates of 5 kg, two of which are on the bar.
#[test]
fn plates_on_the_bar_come_off_before_they_go_on_the_handles() {
    let script = Script::at(&program(["bench_press", "dumbbell_bench_press"], ""), few());
    let mut script = script.keys("<enter>").wait_s(60).keys("w45<enter>");
    script = script
        .shows("plates 10 + 5 + 2.5 each end")
        .shows("each end: on 10 + 5 + 2.5");
    script = script
        .keys("<enter>")
        .wait_s(100)
        .keys("<right>")
        .shows("each end: on 1.25");
    script = script
        .keys("<left><left>")
        .shows("each end: off 2.5, on 1.25");
    script = script.keys("<right>").shows("as it is");
    for _ in 0..4 {
        script = script.keys("<enter>").wait_s(80);
    }
    script = script.keys("w12<enter>").shows("plates 5 each end");
    let change = "first 2 × 2.5 + 2 × 5 off the bar; each end: on 5";
    script = script.shows(change);
    assert!(
        script
            .screen_of(60, 20)
            .replace("\n ", " ")
            .contains(change)
    );
    // Two plates of each kind off the bar, one on each of four ends.
    assert_eq!(
        script.floor().plates.as_ref().expect("plates").moves,
        2 + 2 + 4
    );
    // Another load, then none of them: what is on is what was lifted.
    script = script.keys("<enter>").wait_s(90).keys("<right>");
    let before = script.floor().plates.clone();
    assert!(before.as_ref().is_some_and(|plates| plates.moves > 0));
    let script = script.again();
    assert_eq!(script.floor().plates, before, "after a crash too");
}

/// 20 on each end of the bar takes a plate of 5 kg, and 5 on each end of two handles all four that
/// there are. With 2.5 on the handles all is there at once.
#[test]
fn exercises_in_turn_need_plates_for_both_at_once() {
    let program = program(
        ["bench_press", "dumbbell_bench_press"],
        ", group: 1, policy: DoubleProgression",
    );
    let script = done_with(Script::at(&program, few()), ["50", "12"]);
    let parted = briefing(&script);
    let want = "Bench press and Dumbbell bench press want the same plates: one, then the other";
    assert_eq!(parted.remarks, [want]);
    assert!(parted.plan.items[1].group.is_none());
    let script = done_with(Script::at(&program, few()), ["15", "7"]);
    let turns = briefing(&script);
    assert_eq!(turns.remarks, Vec::<String>::new());
    assert_eq!(turns.plan.turns()[..3], [(0, 0), (1, 0), (0, 1)]);
    // Behind the first working set of each, nothing moves.
    for (item, stacks) in turns.plan.items.iter().zip(&turns.stacks.sets) {
        let working = item
            .sets
            .iter()
            .position(|set| set.kind == SetKind::Working);
        let later = stacks
            .iter()
            .skip(working.expect("a working set") + 1)
            .flatten();
        assert_eq!(
            later.map(|set| set.moves).sum::<u32>(),
            0,
            "both stay loaded"
        );
    }
}

/// The order in which plates are planned is the order in which sets come.
#[test]
fn plates_are_planned_in_the_order_of_doing() {
    for groups in [[", group: 1", ", group: 1"], ["", ""], [", group: 1", ""]] {
        let text = program(["bench_press", "dumbbell_bench_press"], "GROUP");
        let text = text
            .replacen("GROUP", groups[0], 1)
            .replacen("GROUP", groups[1], 1);
        let mut script = Script::at(&text, few()).keys("<enter>");
        let plan = script.floor().session.plan.clone().expect("a plan");
        let mut seen = Vec::new();
        while let Screen::Floor(floor) = &script.model.screen {
            let coming = floor.coming_set().expect("a set");
            seen.push((coming.item, coming.cell));
            script = script.wait_s(100).keys("<enter>");
        }
        assert_eq!(plan.turns(), seen);
    }
}

/// 47.5 kg on the bar and 12 kg on the handles: 45 kg leaves the plates of 1.25 kg alone. The
/// briefing says so, and the floor until a working set is done.
#[test]
fn a_load_beside_the_suggested_one_that_saves_moves_is_said() {
    let program = program(["bench_press", "dumbbell_bench_press"], "");
    let script = done_with(Script::at(&program, few()), ["47.5", "12"]);
    let said = "45 kg would save 8 plate moves: 5 % lighter";
    let script = script.shows(said);
    let found = briefing(&script);
    let mut lighter = found.plan.clone();
    let sets = lighter.items[0].sets.iter_mut();
    for set in sets.filter(|set| set.kind == SetKind::Working) {
        set.load = found.savings[0].instead;
    }
    let (catalogue, place) = (crate::files::catalogue(), few());
    let stacks = Plates::of(&place, &catalogue, &lighter).stacks(&lighter);
    assert_eq!(found.stacks.moves() - stacks.moves(), 8);
    let mut script = script.keys("<enter>").shows(said);
    while script.floor().coming_set().expect("a set").kind == SetKind::Ramp {
        script = script.wait_s(100).keys("<enter>").shows(said);
    }
    script = script.again().shows(said);
    assert!(
        !script
            .wait_s(100)
            .keys("<enter>")
            .screen()
            .contains("would save")
    );
}

/// Epley 1985, w (1 + n / 30), gives the two loads the same one-rep max.
#[test]
fn what_another_load_costs_is_told_in_reps() {
    let slot = |exercise: &str, reps: &str| {
        let numbers = "sets: 3, rest: \"2:30-3:00\", spare: 2";
        format!("(exercise: \"{exercise}\", reps: \"{reps}\", {numbers}),")
    };
    let text = format!(
        "(format: 1, name: \"Two\", rhythm: Rotation(per_week: 3), phases: [(name: \"Only\", \
         weeks: 4, days: [(name: \"Day 1\", slots: [{}{}])])])",
        slot("bench_press", "5-6"),
        slot("dumbbell_bench_press", "8-12"),
    );
    let script = done_with(Script::at(&text, few()), ["47.5", "12"]);
    let found = briefing(&script);
    let saving = found.saving(0).expect("a saving");
    let asked = found.plan.items[0].sets.last().expect("sets").asked.count();
    let ratio = 45.0 / 47.5;
    let most = f64::from(asked + 2);
    let instead = 30.0 * ((1.0 + most / 30.0) / ratio - 1.0);
    assert_eq!(saving.harder, Some((most - instead).round() as i32));
    assert!(saving.to_string().ends_with("easier"), "{saving}");
}

/// Another place, chosen in the briefing: the same program, its loads made there.
#[test]
fn the_place_is_chosen_in_the_briefing() {
    let script = Script::known();
    let at_club = briefing(&script).plan.clone();
    let script = script.keys("l").shows("where?").shows("2 Garage").keys("2");
    let garage = briefing(&script);
    assert_eq!(garage.plan.place.as_str(), "garage");
    assert!(matches!(
        script.last_event(),
        Event::Chose(Choice::Place(_))
    ));
    let (there, here) = (&at_club.items[0].sets[0], &garage.plan.items[0].sets[0]);
    assert_ne!(
        there.load, here.load,
        "6 kg dumbbells there, handles with plates here"
    );
}

/// The gear is busy: what is offered can be done here, works the same muscles, each once, and
/// begins with a load carried over, with its own last time.
#[test]
fn busy_gear_is_swapped_for_what_this_place_allows() {
    let script = done_with(
        Script::at(&program(["dumbbell_bench_press", "one_arm_row"], ""), few()),
        ["12", "12"],
    );
    let script = script.keys("<enter>s").shows("what instead?");
    let Overlay::Ask(ask) = &script.model.overlay else {
        panic!("no question")
    };
    let catalogue = crate::files::catalogue();
    let planned = &briefed(&script).plan.items[0].exercise;
    let press = catalogue.get(planned).expect("known");
    let mut seen = Vec::new();
    for (_, answer) in &ask.answers {
        let Answer::Swap(item) = answer else { continue };
        let other = catalogue.get(&item.exercise).expect("known");
        assert!(
            few().lacks(&other.needs, other.implement()).is_empty(),
            "{}",
            other.name
        );
        assert!(
            other.prime.iter().any(|m| press.prime.contains(m)),
            "{}",
            other.name
        );
        assert!(!seen.contains(&item.exercise), "{} twice", other.name);
        seen.push(item.exercise.clone());
    }
    assert!(seen.len() > 1);
    let script = script
        .keys("1")
        .shows("carried over")
        .shows("not done before");
    let load = script.floor().coming_set().expect("a set").load;
    let kg = load.entered().expect("a mass").mass.kg();
    // The bar in both hands: no more than two dumbbells of 12 kg, and no empty bar.
    assert!((12.0..=24.0).contains(&kg), "{load}");
}

fn briefed(script: &Script) -> &Briefing {
    &script.floor().briefing
}

/// Two exercises with the same two handles, each with a load of its own: no plate is short, the
/// handles are.
#[test]
fn exercises_in_turn_need_handles_of_their_own() {
    let program = program(
        ["dumbbell_romanian_deadlift", "dumbbell_bench_press"],
        ", group: 1, policy: DoubleProgression",
    );
    let script = done_with(Script::at(&program, few()), ["7", "12"]);
    let names = "Dumbbell Romanian deadlift and Dumbbell bench press";
    let want = format!("{names} want the same handles: one, then the other");
    assert_eq!(briefing(&script).remarks, [want]);
}
