//! A session's plan as it stands in the line that opens it.

use super::details::WireDetails;
use super::set::{WireAsked, exercise, not_a_name, odds, predicted, reps, seconds, spare};
use super::text::{LoadText, TempoText};
use crate::domain::gear::PlaceId;
use crate::domain::program::{Ask, Details, ProgramId, RestWindow, SlotId};
use crate::domain::session::{Plan, PlannedItem, PlannedSet};
use crate::domain::units::{Odds, Predicted, Spare};
use crate::formats::mirror::{WireKind, WirePolicy};
use serde::{Deserialize, Serialize};

/// A whole session as planned.
#[derive(Serialize, Deserialize)]
pub(super) struct WirePlan {
    program: String,
    phase: u16,
    phase_name: String,
    week: u16,
    weeks: u16,
    day: u16,
    day_name: String,
    place: String,
    items: Vec<WireItem>,
}

/// One exercise.
#[derive(Serialize, Deserialize)]
pub(super) struct WireItem {
    slot: String,
    exercise: String,
    sets: Vec<WirePlannedSet>,
    ask: WireAsk,
    rest: WireWindow,
    #[serde(skip_serializing_if = "Option::is_none")]
    spare: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    tempo: Option<TempoText>,
    policy: WirePolicy,
    #[serde(skip_serializing_if = "Option::is_none")]
    group: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    details: Option<WireDetails>,
    #[serde(default, skip_serializing_if = "is_false")]
    deload: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    odds: Option<f64>,
    reason: String,
}

/// One set.
#[derive(Serialize, Deserialize)]
pub(super) struct WirePlannedSet {
    kind: WireKind,
    load: LoadText,
    asked: WireAsked,
    #[serde(default, skip_serializing_if = "is_false")]
    feeler: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    open: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    predicted: Option<f64>,
}

/// What a slot asks of a working set.
#[derive(Serialize, Deserialize)]
pub(super) enum WireAsk {
    Reps { min: u32, max: u32 },
    Hold { min_s: u32, max_s: u32 },
}

/// The rest between sets.
#[derive(Serialize, Deserialize)]
pub(super) struct WireWindow {
    opens_s: u32,
    closes_s: u32,
}

/// By reference, as the serialiser asks.
pub(super) fn is_false(flag: &bool) -> bool {
    !*flag
}

impl From<&PlannedSet> for WirePlannedSet {
    fn from(set: &PlannedSet) -> Self {
        Self {
            kind: set.kind.into(),
            load: LoadText(set.load),
            asked: set.asked.into(),
            feeler: set.feeler,
            open: set.open,
            predicted: set.predicted.map(Predicted::count),
        }
    }
}

impl TryFrom<WirePlannedSet> for PlannedSet {
    type Error = String;

    fn try_from(set: WirePlannedSet) -> Result<Self, String> {
        Ok(Self {
            kind: set.kind.into(),
            load: set.load.0,
            asked: set.asked.try_into()?,
            feeler: set.feeler,
            open: set.open,
            predicted: set.predicted.map(predicted).transpose()?,
        })
    }
}

impl From<Ask> for WireAsk {
    fn from(ask: Ask) -> Self {
        match ask {
            Ask::Reps { min, max } => Self::Reps {
                min: min.get(),
                max: max.get(),
            },
            Ask::Hold { min, max } => Self::Hold {
                min_s: min.get(),
                max_s: max.get(),
            },
        }
    }
}

impl TryFrom<WireAsk> for Ask {
    type Error = String;

    fn try_from(ask: WireAsk) -> Result<Self, String> {
        Ok(match ask {
            WireAsk::Reps { min, max } => Self::Reps {
                min: reps(min)?,
                max: reps(max)?,
            },
            WireAsk::Hold { min_s, max_s } => Self::Hold {
                min: seconds(min_s)?,
                max: seconds(max_s)?,
            },
        })
    }
}

impl From<RestWindow> for WireWindow {
    fn from(window: RestWindow) -> Self {
        Self {
            opens_s: window.opens.get(),
            closes_s: window.closes.get(),
        }
    }
}

impl TryFrom<WireWindow> for RestWindow {
    type Error = String;

    fn try_from(window: WireWindow) -> Result<Self, String> {
        Ok(Self {
            opens: seconds(window.opens_s)?,
            closes: seconds(window.closes_s)?,
        })
    }
}

impl From<&PlannedItem> for WireItem {
    fn from(item: &PlannedItem) -> Self {
        Self {
            slot: item.slot.0.clone(),
            exercise: item.exercise.as_str().to_owned(),
            sets: item.sets.iter().map(WirePlannedSet::from).collect(),
            ask: item.ask.into(),
            rest: item.rest.into(),
            spare: item.spare.map(Spare::get),
            tempo: item.tempo.map(TempoText),
            policy: item.policy.into(),
            group: item.group,
            details: WireDetails::of(&item.details),
            deload: item.deload,
            odds: item.odds.map(Odds::chance),
            reason: item.reason.clone(),
        }
    }
}

impl TryFrom<WireItem> for PlannedItem {
    type Error = String;

    fn try_from(item: WireItem) -> Result<Self, String> {
        let sets = item.sets.into_iter().map(PlannedSet::try_from);
        let details = item.details.map(Details::try_from);
        Ok(Self {
            slot: SlotId(item.slot),
            exercise: exercise(&item.exercise)?,
            sets: sets.collect::<Result<_, _>>()?,
            ask: item.ask.try_into()?,
            rest: item.rest.try_into()?,
            spare: item.spare.map(spare).transpose()?,
            tempo: item.tempo.map(|tempo| tempo.0),
            policy: item.policy.into(),
            group: item.group,
            details: details.transpose()?.unwrap_or_default(),
            deload: item.deload,
            odds: item.odds.map(odds).transpose()?,
            reason: item.reason,
        })
    }
}

impl From<&Plan> for WirePlan {
    fn from(plan: &Plan) -> Self {
        Self {
            program: plan.program.as_str().to_owned(),
            phase: plan.phase,
            phase_name: plan.phase_name.clone(),
            week: plan.week,
            weeks: plan.weeks,
            day: plan.day,
            day_name: plan.day_name.clone(),
            place: plan.place.as_str().to_owned(),
            items: plan.items.iter().map(WireItem::from).collect(),
        }
    }
}

impl TryFrom<WirePlan> for Plan {
    type Error = String;

    fn try_from(plan: WirePlan) -> Result<Self, String> {
        let items = plan.items.into_iter().map(PlannedItem::try_from);
        Ok(Self {
            program: program(&plan.program)?,
            phase: plan.phase,
            phase_name: plan.phase_name,
            week: plan.week,
            weeks: plan.weeks,
            day: plan.day,
            day_name: plan.day_name,
            place: place(&plan.place)?,
            items: items.collect::<Result<_, _>>()?,
        })
    }
}

pub(super) fn program(name: &str) -> Result<ProgramId, String> {
    ProgramId::new(name).ok_or_else(|| not_a_name("program", name))
}

pub(super) fn place(name: &str) -> Result<PlaceId, String> {
    PlaceId::new(name).ok_or_else(|| not_a_name("place", name))
}
