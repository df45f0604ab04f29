//! A set as it stands in a line, and what is later said to be different about it.

use super::plan::is_false;
use super::text::LoadText;
use crate::domain::exercise::ExerciseId;
use crate::domain::session::{Amendment, Asked, Done, Ended, Rest, RestKnown, SetRecord};
use crate::domain::units::{Odds, Predicted, Reps, Seconds, Spare};
use crate::formats::mirror::{WireCounts, WireEnded, WireKind};
use serde::{Deserialize, Serialize};

/// What was done: reps, or seconds held; by side where the sides differ.
#[derive(Clone, Copy, Serialize, Deserialize)]
pub(super) enum WireDone {
    Reps(u32),
    Sides { left: u32, right: u32 },
    Held(u32),
    HeldSides { left: u32, right: u32 },
}

impl From<Done> for WireDone {
    fn from(done: Done) -> Self {
        match done {
            Done::Reps(reps) => Self::Reps(reps.get()),
            Done::RepsBySide { left, right } => Self::Sides {
                left: left.get(),
                right: right.get(),
            },
            Done::Held(seconds) => Self::Held(seconds.get()),
            Done::HeldBySide { left, right } => Self::HeldSides {
                left: left.get(),
                right: right.get(),
            },
        }
    }
}

impl TryFrom<WireDone> for Done {
    type Error = String;

    fn try_from(done: WireDone) -> Result<Self, String> {
        Ok(match done {
            WireDone::Reps(count) => Self::Reps(reps(count)?),
            WireDone::Sides { left, right } => Self::RepsBySide {
                left: reps(left)?,
                right: reps(right)?,
            },
            WireDone::Held(count) => Self::Held(seconds(count)?),
            WireDone::HeldSides { left, right } => Self::HeldBySide {
                left: seconds(left)?,
                right: seconds(right)?,
            },
        })
    }
}

/// What a set is asked for: reps, or seconds held.
#[derive(Clone, Copy, Serialize, Deserialize)]
pub(super) enum WireAsked {
    Reps(u32),
    Hold(u32),
}

impl From<Asked> for WireAsked {
    fn from(asked: Asked) -> Self {
        match asked {
            Asked::Reps(reps) => Self::Reps(reps.get()),
            Asked::Hold(seconds) => Self::Hold(seconds.get()),
        }
    }
}

impl TryFrom<WireAsked> for Asked {
    type Error = String;

    fn try_from(asked: WireAsked) -> Result<Self, String> {
        match asked {
            WireAsked::Reps(count) => reps(count).map(Self::Reps),
            WireAsked::Hold(count) => seconds(count).map(Self::Hold),
        }
    }
}

/// Rest before a set, in seconds.
#[derive(Clone, Copy, Serialize, Deserialize)]
pub(super) enum WireRest {
    Measured(u32),
    Estimated(u32),
}

impl From<Rest> for WireRest {
    fn from(rest: Rest) -> Self {
        match rest.known {
            RestKnown::Measured => Self::Measured(rest.seconds.get()),
            RestKnown::Estimated => Self::Estimated(rest.seconds.get()),
        }
    }
}

impl TryFrom<WireRest> for Rest {
    type Error = String;

    fn try_from(rest: WireRest) -> Result<Self, String> {
        let (count, known) = match rest {
            WireRest::Measured(count) => (count, RestKnown::Measured),
            WireRest::Estimated(count) => (count, RestKnown::Estimated),
        };
        seconds(count).map(|seconds| Self { seconds, known })
    }
}

/// A set that was done.
#[derive(Serialize, Deserialize)]
pub(super) struct WireSet {
    exercise: String,
    kind: WireKind,
    number: u16,
    load: LoadText,
    done: WireDone,
    asked: WireAsked,
    #[serde(default, skip_serializing_if = "is_false")]
    open: bool,
    ended: WireEnded,
    #[serde(skip_serializing_if = "Option::is_none")]
    spare: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rest_s: Option<WireRest>,
    #[serde(skip_serializing_if = "Option::is_none")]
    lifted_s: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    odds: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    predicted: Option<f64>,
    counts: WireCounts,
    item: u16,
}

impl From<&SetRecord> for WireSet {
    fn from(set: &SetRecord) -> Self {
        Self {
            exercise: set.exercise.as_str().to_owned(),
            kind: set.kind.into(),
            number: set.number,
            load: LoadText(set.load),
            done: set.done.into(),
            asked: set.asked.into(),
            open: set.open,
            ended: set.ended.into(),
            spare: set.spare.map(Spare::get),
            rest_s: set.rest.map(WireRest::from),
            lifted_s: set.lifted.map(Seconds::get),
            odds: set.odds.map(Odds::chance),
            predicted: set.predicted.map(Predicted::count),
            counts: set.counts.into(),
            item: set.item,
        }
    }
}

impl TryFrom<WireSet> for SetRecord {
    type Error = String;

    fn try_from(set: WireSet) -> Result<Self, String> {
        Ok(Self {
            item: set.item,
            exercise: exercise(&set.exercise)?,
            counts: set.counts.into(),
            kind: set.kind.into(),
            number: set.number,
            load: set.load.0,
            done: set.done.try_into()?,
            asked: set.asked.try_into()?,
            open: set.open,
            spare: set.spare.map(spare).transpose()?,
            rest: set.rest_s.map(Rest::try_from).transpose()?,
            lifted: set.lifted_s.map(seconds).transpose()?,
            odds: set.odds.map(odds).transpose()?,
            predicted: set.predicted.map(predicted).transpose()?,
            ended: set.ended.into(),
        })
    }
}

/// What is different about a set.
#[derive(Serialize, Deserialize)]
pub(super) struct WireAmendment {
    set: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    load: Option<LoadText>,
    #[serde(skip_serializing_if = "Option::is_none")]
    done: Option<WireDone>,
    #[serde(skip_serializing_if = "Option::is_none")]
    spare: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ended: Option<WireEnded>,
}

impl WireAmendment {
    pub(super) fn new(set: &str, change: &Amendment) -> Self {
        Self {
            set: set.to_owned(),
            load: change.load.map(LoadText),
            done: change.done.map(WireDone::from),
            spare: change.spare.map(Spare::get),
            ended: change.ended.map(WireEnded::from),
        }
    }

    /// The set's id and what is different.
    pub(super) fn change(self) -> Result<(String, Amendment), String> {
        let change = Amendment {
            load: self.load.map(|load| load.0),
            done: self.done.map(Done::try_from).transpose()?,
            spare: self.spare.map(spare).transpose()?,
            ended: self.ended.map(Ended::from),
        };
        Ok((self.set, change))
    }
}

pub(super) fn reps(count: u32) -> Result<Reps, String> {
    Reps::new(count).map_err(|e| e.to_string())
}

pub(super) fn seconds(count: u32) -> Result<Seconds, String> {
    Seconds::new(count).map_err(|e| e.to_string())
}

pub(super) fn spare(count: u32) -> Result<Spare, String> {
    Spare::new(count).map_err(|e| e.to_string())
}

pub(super) fn odds(chance: f64) -> Result<Odds, String> {
    let stated = (0.0..=1.0).contains(&chance);
    let stated = stated.then(|| Odds::nearest(chance));
    stated.ok_or_else(|| "odds must be 0 to 1".to_owned())
}

pub(super) fn predicted(count: f64) -> Result<Predicted, String> {
    let told = (0.0..=Predicted::MAX).contains(&count);
    let told = told.then(|| Predicted::nearest(count));
    told.ok_or_else(|| format!("what is predicted must be 0 to {}", Predicted::MAX))
}

pub(super) fn exercise(name: &str) -> Result<ExerciseId, String> {
    ExerciseId::new(name).ok_or_else(|| not_a_name("exercise", name))
}

/// What to say of a name that is none.
pub(super) fn not_a_name(what: &str, name: &str) -> String {
    let shown: String = name.chars().take(40).collect();
    format!("the {what} {shown:?} is not a name: write lower-case letters, digits and _")
}
