//! The line mode: the same model as the screen, told in lines that are printed once each, and
//! answered with lines. Fit for a screen reader, and for a terminal that can do no more.

mod scene;
mod typed;

pub use scene::standing;
pub use typed::{Entered, entered};

use super::widgets::gauge;
use crate::app::model::{Floor, Model, Notice, Overlay, Screen};
use crate::app::update::LEAD_IN;
use crate::domain::diagnostic::neutral;
use crate::domain::session::{Asked, Beat, Cued};
use crate::domain::units::Now;

/// What was told last, so that only news is told.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Teller {
    scene: Vec<String>,
    /// What was before the person when nothing lay over it.
    below: Vec<String>,
    notice: Option<Notice>,
    /// How many events were given ids when "recorded" was last said.
    recorded: u64,
    not_saved: usize,
    cued: Cued,
    beat: Option<Beat>,
}

impl Teller {
    /// What is new since the last call, an event a line, nothing in it that steers a terminal.
    pub fn tell(&mut self, model: &Model, now: Now) -> Vec<String> {
        let mut lines = Vec::new();
        if model.notice != self.notice {
            lines.extend(model.notice.iter().map(|notice| notice.text.clone()));
            self.notice.clone_from(&model.notice);
        }
        lines.extend(self.saved(model));
        if let Screen::Floor(floor) = &model.screen {
            lines.extend(self.counted(floor, now));
        }
        lines.extend(self.seen(model));
        lines.iter().map(|line| neutral(line)).collect()
    }

    /// What is new before the person. Back from a menu or a question, the head of what lay below is
    /// enough to know it by.
    fn seen(&mut self, model: &Model) -> Vec<String> {
        let scene = scene::scene(model);
        let before = std::mem::replace(&mut self.scene, scene.clone());
        if before == scene {
            return Vec::new();
        }
        if model.overlay != Overlay::None {
            return scene;
        }
        let below = std::mem::replace(&mut self.below, scene.clone());
        let back = before != below;
        let fresh = |(k, line): &(usize, String)| (back && *k == 0) || !below.contains(line);
        let lines = scene.into_iter().enumerate().filter(fresh);
        lines.map(|(_, line)| line).collect()
    }

    /// What has reached the disk, or has not.
    fn saved(&mut self, model: &Model) -> Option<String> {
        let ledger = &model.ledger;
        let refused = ledger.not_saved.len();
        if refused != self.not_saved {
            self.not_saved = refused;
            if refused > 0 {
                return Some(format!("NOT SAVED: {refused}: {}", ledger.why));
            }
        }
        let all = refused == 0 && ledger.saving.is_empty();
        let new = ledger.given > self.recorded;
        (all && new).then(|| {
            self.recorded = ledger.given;
            "all recorded".to_owned()
        })
    }

    /// The ends of the rest window, the seconds of a lead-in, the begin of a hold.
    fn counted(&mut self, floor: &Floor, now: Now) -> Option<String> {
        let before = self.beat.replace(floor.beat);
        let cued = std::mem::replace(&mut self.cued, floor.cued);
        match floor.beat {
            Beat::LeadIn { told, .. } if before != self.beat && told <= LEAD_IN => {
                Some(told.to_string())
            }
            Beat::Lifting { .. } => {
                let led = matches!(before, Some(Beat::LeadIn { .. }));
                let asked = floor.coming_set().filter(|_| led)?.asked;
                Some(match asked {
                    Asked::Hold(_) => "hold now; any line ends it".to_owned(),
                    Asked::Reps(reps) => format!("go: {reps}"),
                })
            }
            Beat::LeadIn { .. } | Beat::Between { .. } => None,
            Beat::Resting => {
                let rest = floor.rest(now).filter(|_| floor.cued > cued)?;
                Some(format!("rest: {}", gauge::told(rest)))
            }
        }
    }
}
