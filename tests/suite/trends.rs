//! What the journal shows over months: how often stated odds came true.

use crate::rig::cli::Cli;
use crate::rig::script::Script;
use rackside::domain::history::History;
use rackside::domain::session::Ended;
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
    let object = calibration::object(&found);
    assert_eq!(object["next_set"]["stated"], squares.len());
    assert_eq!(object["exercise"]["came_true"], 0);
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
