//! What the journal shows over months: how often stated odds came true.

use crate::rig::cli::Cli;
use crate::rig::script::Script;
use rackside::domain::history::History;
use rackside::domain::session::{Ended, SetKind};
use rackside::domain::strength::calibration::Calibration;
use rackside::formats::calibration;

/// The first exercise of a session: made, missed, interrupted.
fn done() -> Script {
    let script = Script::known().keys("<enter>").wait_s(60).keys("<enter>");
    let script = script.wait_s(90).keys("4<enter>").wait_s(90);
    script.keys("5<enter>").keys("i")
}

#[test]
fn scores_are_those_of_the_sets_that_tell() {
    let script = done();
    let sets = script.sets();
    assert_eq!(sets.len(), 3);
    assert_eq!(sets[2].ended, Ended::Interrupted);
    assert!(sets.iter().all(|set| set.odds.is_some()));
    let history = History::of(script.journal);
    let found = Calibration::of(&history);
    let score = &found.sets;
    let all = history.sessions.iter().flat_map(|session| &session.sets);
    let told = all.filter(|set| set.record.ended != Ended::Interrupted);
    // Brier (1950), by hand: the mean of (chance - outcome) squared; one set was missed.
    let mut squares = Vec::new();
    for (odds, set) in told.filter_map(|set| Some((set.record.odds?, &set.record))) {
        let outcome = if set.ended == Ended::Short { 0.0 } else { 1.0 };
        squares.push((odds.chance() - outcome).powi(2));
    }
    assert_eq!((score.count(), score.left_out), (squares.len(), 1));
    assert_eq!(score.whole().happened, squares.len() - 1);
    let by_hand = squares.iter().sum::<f64>() / squares.len() as f64;
    assert!((score.brier().expect("a score") - by_hand).abs() < 1e-12);
    // One exercise was stated and missed; the others were not begun.
    assert_eq!(
        (found.exercises.count(), found.exercises.whole().happened),
        (1, 0)
    );
    let told = calibration::lines(&found);
    assert!(told.contains("too few to judge by"), "{told}");
    assert!(
        told.contains("  reps to failure: too few to judge by, "),
        "{told}"
    );
    let object = calibration::object(&found);
    assert_eq!(object["next_set"]["stated"], squares.len());
    assert_eq!(object["exercise"]["came_true"], 0);
}

/// A set stopped at what was asked says "at least"; a miss, an open set and a few spare say more.
#[test]
fn predicted_reps_are_held_against_the_sets_that_tell_them() {
    let script = Script::known().keys("<enter>").wait_s(60).keys("<enter>");
    let script = script.wait_s(90).keys("4<enter>").wait_s(90);
    let script = script.keys("<enter>.2").wait_s(90).keys("<enter>.7");
    let before = Calibration::of(&History::of(Script::known().journal));
    let history = History::of(script.journal);
    let (found, before) = (Calibration::of(&history).sets.reps, before.sets.reps);
    assert_eq!(
        (found.told, found.untold),
        (before.told + 2, before.untold + 2)
    );
    let today = &history.sessions.last().expect("today").sets;
    let off = |k: usize, actual: u32| {
        today[k].record.predicted.expect("predicted").count() - f64::from(actual)
    };
    let off = [off(1, 4), off(2, today[2].record.done.deciding() + 2)];
    let sum = |mean: Option<f64>, told: usize| mean.map_or(0.0, |mean| mean * told as f64);
    let added = sum(found.mean_error(), found.told) - sum(before.mean_error(), before.told);
    assert!((added - (off[0] + off[1])).abs() < 1e-9);
    let apart = sum(found.mean_distance(), found.told) - sum(before.mean_distance(), before.told);
    assert!((apart - (off[0].abs() + off[1].abs())).abs() < 1e-9);
}

/// The line that opens a session keeps the reps predicted of its sets, fewer as they tire.
#[test]
fn what_was_predicted_is_kept_with_the_plan() {
    let script = Script::known().keys("<enter>");
    let history = History::of(script.journal);
    let plan = history
        .sessions
        .last()
        .and_then(|s| s.plan.clone())
        .expect("a plan");
    let known = plan.items.iter().filter(|item| item.odds.is_some());
    let mut seen = 0;
    for item in known {
        let work = item.sets.iter().filter(|set| set.kind == SetKind::Working);
        let reps: Vec<f64> = work
            .map(|set| set.predicted.expect("predicted").count())
            .collect();
        assert!(reps.is_sorted_by(|a, b| a >= b), "{reps:?}");
        seen += 1;
    }
    assert!(seen > 0);
}

#[test]
fn where_none_were_stated_it_says_so() {
    let cli = Cli::new();
    let told = cli.run(["trends", "odds"]).ok();
    assert!(
        told.contains("odds of the next set, started then: none stated yet"),
        "{told}"
    );
    let object: serde_json::Value =
        serde_json::from_str(&cli.run(["trends", "odds", "--json"]).ok()).expect("JSON");
    assert_eq!(object["v"], 1);
    assert!(object["next_set"]["brier"].is_null());
}
