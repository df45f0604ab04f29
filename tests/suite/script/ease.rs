//! A lighter week: suggested, taken with one key, never imposed.

use crate::rig::script::Script;
use rackside::app::model::Screen;
use rackside::domain::schedule::{Briefing, Ease};
use rackside::domain::session::Event;

fn briefing(script: &Script) -> &Briefing {
    match &script.model.screen {
        Screen::Briefing(screen) => &screen.briefing,
        other => panic!("no briefing: {other:?}"),
    }
}

#[test]
fn one_key_takes_a_lighter_week_and_the_same_key_leaves_it() {
    let script = Script::known();
    assert_eq!(briefing(&script).ease, Ease::No);
    let sets = briefing(&script).plan.items[0].sets.len();
    let script = script.keys("e");
    let taken = briefing(&script);
    assert!(matches!(taken.ease, Ease::Taken(_)), "{:?}", taken.ease);
    assert!(taken.plan.items[0].deload && taken.plan.items[0].sets.len() < sets);
    let screen = script.screen();
    assert!(screen.contains("lighter week until"), "{screen}");
    let last = script.journal.last().expect("an event");
    assert!(matches!(last.event, Event::Eased { until: Some(_) }));
    let script = script.keys("e");
    assert_eq!(briefing(&script).ease, Ease::No);
    assert!(!briefing(&script).plan.items[0].deload);
    let last = script.journal.last().expect("an event");
    assert!(matches!(last.event, Event::Eased { until: None }));
}
