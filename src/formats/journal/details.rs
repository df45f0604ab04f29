//! What sets an exercise's work apart from equal sets, as it stands in the line that opens a
//! session. Lines written before there was any of it have none.

use super::plan::{WireAsk, WireWindow};
use super::set::reps;
use crate::domain::program::{BackOff, Details};
use crate::formats::mirror::WireSides;
use serde::{Deserialize, Serialize};

/// What differs from equal sets.
#[derive(Serialize, Deserialize)]
pub(super) struct WireDetails {
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    open_last: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    total: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    back_off: Option<WireBackOff>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    inside: Option<WireWindow>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    sides: Option<WireSides>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
}

/// Lighter sets behind the working sets.
#[derive(Serialize, Deserialize)]
struct WireBackOff {
    sets: u8,
    percent: u8,
    ask: WireAsk,
}

impl WireDetails {
    /// None of equal sets.
    pub(super) fn of(details: &Details) -> Option<Self> {
        (*details != Details::default()).then(|| Self {
            open_last: details.open_last,
            total: details.total.map(|total| total.get()),
            back_off: details.back_off.map(|back_off| WireBackOff {
                sets: back_off.sets,
                percent: back_off.percent,
                ask: back_off.ask.into(),
            }),
            inside: details.inside.map(WireWindow::from),
            sides: details.sides.map(WireSides::from),
            note: details.note.clone(),
        })
    }
}

impl TryFrom<WireDetails> for Details {
    type Error = String;

    fn try_from(wire: WireDetails) -> Result<Self, String> {
        let back_off = wire.back_off.map(|back_off| {
            Ok::<BackOff, String>(BackOff {
                sets: back_off.sets,
                percent: back_off.percent,
                ask: back_off.ask.try_into()?,
            })
        });
        Ok(Self {
            open_last: wire.open_last,
            total: wire.total.map(reps).transpose()?,
            back_off: back_off.transpose()?,
            inside: wire.inside.map(TryInto::try_into).transpose()?,
            sides: wire.sides.map(Into::into),
            note: wire.note,
        })
    }
}
