//! Signs for the ear: to the millisecond, announced, and shown where they cannot be heard.

use crate::rig::script::Script;
use rackside::app::effect::{Cue, Effect};
use rackside::app::msg::Msg;
use rackside::domain::units::Boot;
use rackside::ui::{draw, theme::Look};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::style::Modifier;

/// At the floor, in the rest behind the first set: a window from 1:00 to 1:30.
fn resting() -> Script {
    let mut script = Script::known().keys("<enter>").wait_s(120).keys("<enter>");
    script.signs.clear();
    script
}

/// What was given so many milliseconds after an instant.
fn after(script: &Script, begin: Boot) -> Vec<(i64, Effect)> {
    let since = |(at, effect): &(Boot, Effect)| (at.since(begin), effect.clone());
    script.signs.iter().map(since).collect()
}

#[test]
fn a_rest_is_signed_at_the_very_instants_and_announced_three_seconds_ahead() {
    let script = resting();
    let begin = script.now.boot;
    let script = script.wait_s(300);
    assert_eq!(
        after(&script, begin),
        [
            (57_000, Effect::CueAhead(Cue::Opens)),
            (60_000, Effect::Cue(Cue::Opens)),
            (77_000, Effect::CueAhead(Cue::ClosesSoon)),
            (80_000, Effect::Cue(Cue::ClosesSoon)),
            (87_000, Effect::CueAhead(Cue::Closed)),
            (90_000, Effect::Cue(Cue::Closed)),
        ],
        "closed once, then silence"
    );
}

#[test]
fn nothing_is_announced_in_a_time_out() {
    let script = resting().keys("t").wait_s(300);
    assert_eq!(script.signs, []);
}

#[test]
fn the_end_of_a_hold_is_announced() {
    let mut script = Script::known().keys("<enter>");
    for _ in 0..5 {
        script = script.wait_s(120).keys("<enter>");
    }
    script = script.wait_s(120);
    script.signs.clear();
    let begin = script.now.boot;
    let asked = script.floor().coming_set().expect("a set").asked.count();
    let script = script.keys(" ").wait_s(5 + i64::from(asked));
    let over = (5 + i64::from(asked)) * 1000;
    let given = after(&script, begin);
    let ends = [
        (over - 3_000, Effect::CueAhead(Cue::HoldOver)),
        (over, Effect::Cue(Cue::HoldOver)),
    ];
    assert_eq!(given[given.len() - 2..], ends);
    let ticks = (0..5).map(|second| (second * 1000, Effect::Cue(Cue::LeadIn)));
    assert_eq!(given[..5], ticks.collect::<Vec<_>>());
    assert_eq!(given[5], (5_000, Effect::Cue(Cue::HoldBegins)));
}

#[test]
fn a_sign_that_cannot_be_heard_rings_and_flashes_for_a_moment() {
    let reversed = |script: &Script| {
        let mut terminal = Terminal::new(TestBackend::new(80, 24)).expect("a terminal");
        let drawn = terminal.draw(|frame| {
            draw(&script.model, Look::default(), script.now, frame);
        });
        let cells = &drawn.expect("drawn").buffer.content;
        let on = cells
            .iter()
            .filter(|cell| cell.modifier.contains(Modifier::REVERSED));
        on.count() * 2 > cells.len()
    };
    for (cue, rings) in [
        (Cue::Opens, Some(1)),
        (Cue::ClosesSoon, Some(2)),
        (Cue::Closed, Some(1)),
        (Cue::HoldOver, Some(2)),
        (Cue::Record, Some(2)),
        (Cue::Mistake, None),
    ] {
        let mut script = resting().wait_s(10);
        assert!(!reversed(&script));
        script.signs.clear();
        script.send(Msg::Unheard(cue));
        let rung: Vec<Effect> = script
            .signs
            .iter()
            .map(|(_, effect)| effect.clone())
            .collect();
        let wanted: Vec<Effect> = rings.into_iter().map(Effect::Ring).collect();
        assert_eq!(rung, wanted);
        assert_eq!(reversed(&script), rings.is_some());
        assert!(
            !reversed(&script.wait_s(1)),
            "a moment later it is as before"
        );
    }
}
