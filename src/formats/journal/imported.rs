//! The sets of a day that came from elsewhere, as they stand in a line.

use super::event::in_bounds;
use super::set::WireSet;
use super::text::{DateText, WeightText};
use crate::domain::session::{EventId, ImportPart, Imported, SetRecord};
use serde::{Deserialize, Serialize};

/// The sets of a day. What stands behind `sets` came later, and is left out where it says nothing.
#[derive(Serialize, Deserialize)]
pub(super) struct WireImported {
    date: DateText,
    source: String,
    sets: Vec<WireSet>,
    #[serde(skip_serializing_if = "Option::is_none")]
    part: Option<WirePart>,
    #[serde(skip_serializing_if = "Option::is_none")]
    effort: Option<u8>,
    #[serde(skip_serializing_if = "Option::is_none")]
    minutes: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    body_weight: Option<WeightText>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    notes: Vec<String>,
}

/// Which import of several days the day is part of.
#[derive(Serialize, Deserialize)]
struct WirePart {
    import: String,
    days: u32,
}

impl From<&Imported> for WireImported {
    fn from(imported: &Imported) -> Self {
        Self {
            date: DateText(imported.date),
            source: imported.source.clone(),
            sets: imported.sets.iter().map(WireSet::from).collect(),
            part: imported.part.as_ref().map(|part| WirePart {
                import: part.import.0.clone(),
                days: part.days,
            }),
            effort: imported.effort,
            minutes: imported.minutes,
            body_weight: imported.body_weight.map(WeightText),
            notes: imported.notes.clone(),
        }
    }
}

impl TryFrom<WireImported> for Imported {
    type Error = String;

    fn try_from(wire: WireImported) -> Result<Self, String> {
        let sets = wire.sets.into_iter().map(SetRecord::try_from);
        Ok(Self {
            date: wire.date.0,
            source: wire.source,
            sets: sets.collect::<Result<_, _>>()?,
            part: wire.part.map(|part| ImportPart {
                import: EventId(part.import),
                days: part.days,
            }),
            effort: in_bounds(wire.effort)?,
            minutes: wire.minutes,
            body_weight: wire.body_weight.map(|weight| weight.0),
            notes: wire.notes,
        })
    }
}
