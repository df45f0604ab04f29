//! How far what is counted has come, for terminals that show it on their window's button or tab.

use crate::app::floor::Stage;
use crate::app::model::{Model, Screen};
use crate::app::update::LEAD_IN;
use crate::domain::session::Beat;
use crate::domain::units::{Millis, Now};

/// What is counted, and how far it has come.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Progress {
    /// Nothing is counted.
    Nothing,
    /// So many in a hundred of the way: to the opening of the window, through a lead-in or a hold.
    OnTheWay(u8),
    /// So many in a hundred of the open window, and all of it once it has closed.
    Open(u8),
}

/// How far it is at an instant.
pub fn progress(model: &Model, now: Now) -> Progress {
    let Screen::Floor(floor) = &model.screen else {
        return Progress::Nothing;
    };
    match floor.beat {
        Beat::Resting if floor.session.paused.is_some() => Progress::Nothing,
        Beat::Resting => match floor.rest(now) {
            None => Progress::Nothing,
            Some(rest) => {
                let (opens, closes) = (rest.window.opens.millis(), rest.window.closes.millis());
                match rest.stage {
                    Stage::Recover => Progress::OnTheWay(share(rest.elapsed, opens)),
                    Stage::Open => Progress::Open(share(rest.elapsed - opens, closes - opens)),
                    Stage::Late => Progress::Open(100),
                }
            }
        },
        Beat::Between { .. } => Progress::Nothing,
        Beat::LeadIn { until, .. } => {
            // Of a longer one the last seconds alone are counted.
            let whole = Millis::from(LEAD_IN) * 1000;
            let left = until.since(now.boot).clamp(0, whole);
            Progress::OnTheWay(share(whole - left, whole))
        }
        Beat::Lifting { since, .. } => match floor.stretch(&model.desk) {
            Some(stretch) => Progress::OnTheWay(share(now.boot.since(since), stretch.millis())),
            None => Progress::Nothing,
        },
    }
}

fn share(part: Millis, whole: Millis) -> u8 {
    let share = (part.max(0) * 100) / whole.max(1);
    u8::try_from(share.min(100)).unwrap_or(100)
}
