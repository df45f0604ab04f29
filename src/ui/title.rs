//! What stands in the title of the terminal's window: what is counted down, and for which set.

use super::widgets::gauge;
use crate::app::floor::Stage;
use crate::app::model::{Floor, Model, Screen};
use crate::domain::diagnostic::neutral;
use crate::domain::session::Beat;
use crate::domain::units::Now;

/// The longest title: what does not fit behind it is of no use in a list of windows.
const LONGEST: usize = 60;

/// The title at an instant: nothing in it can end the sequence that sets it.
pub fn title(model: &Model, now: Now) -> String {
    let text = match &model.screen {
        Screen::Floor(floor) => on_the_floor(model, floor, now),
        Screen::FirstRun(_)
        | Screen::Waiting(_)
        | Screen::Briefing(_)
        | Screen::Debrief(_)
        | Screen::Logbook(_) => "rackside".to_owned(),
    };
    neutral(&text).chars().take(LONGEST).collect()
}

fn on_the_floor(model: &Model, floor: &Floor, now: Now) -> String {
    let Some(coming) = floor.coming_set() else {
        return "rackside".to_owned();
    };
    let name = floor
        .exercise(coming.item, &model.desk)
        .map_or("rackside", |exercise| exercise.name.as_str());
    let set = format!("{name} {}/{}", coming.number, coming.of);
    match (floor.beat, floor.rest(now)) {
        (Beat::LeadIn { until, .. }, _) => {
            format!("{} · {set}", gauge::clock(until.since(now.boot), true))
        }
        (Beat::Lifting { since, .. }, _) => {
            format!("{} · {set}", gauge::clock(now.boot.since(since), false))
        }
        (Beat::Between { .. }, _) => set,
        (Beat::Resting, Some(rest)) => {
            let counts = gauge::clock(rest.counts(), rest.stage != Stage::Late);
            let sign = match rest.stage {
                Stage::Recover => "rest",
                Stage::Open => "open",
                Stage::Late => "late",
            };
            format!("{sign} {counts} · {set}")
        }
        (Beat::Resting, None) => set,
    }
}
