//! The shape of a program's file. What each field means, its unit and its bounds stand in the
//! table of `fields.rs`.

use crate::formats::mirror::{WirePolicy, WireSides};
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(rename = "program", deny_unknown_fields)]
pub(super) struct WireProgram {
    pub format: u32,
    pub name: String,
    #[serde(default)]
    pub note: String,
    pub rhythm: WireRhythm,
    pub phases: Vec<WirePhase>,
}

#[derive(Deserialize)]
#[serde(rename = "rhythm", deny_unknown_fields)]
pub(super) enum WireRhythm {
    Rotation { per_week: u8 },
    Weekdays(Vec<WireWeekday>),
    Every { days: u8 },
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename = "weekday")]
pub(super) enum WireWeekday {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

#[derive(Deserialize)]
#[serde(rename = "phase", deny_unknown_fields)]
pub(super) struct WirePhase {
    pub name: String,
    #[serde(default)]
    pub note: String,
    pub weeks: u8,
    #[serde(default)]
    pub easier_weeks: Vec<u8>,
    #[serde(default)]
    pub easier_on_stall: bool,
    #[serde(default)]
    pub days: Vec<WireDay>,
    pub builds_on: Option<String>,
    #[serde(default)]
    pub more_sets: u8,
    #[serde(default)]
    pub shorter_rests_s: u32,
    #[serde(default)]
    pub change: Vec<WireChange>,
    #[serde(default)]
    pub add: Vec<WireDay>,
}

#[derive(Deserialize)]
#[serde(rename = "day", deny_unknown_fields)]
pub(super) struct WireDay {
    pub name: String,
    pub slots: Vec<WireSlot>,
}

#[derive(Deserialize)]
#[serde(rename = "slot", deny_unknown_fields)]
pub(super) struct WireSlot {
    pub exercise: String,
    pub sets: u8,
    pub reps: Option<String>,
    pub hold: Option<String>,
    pub total: Option<u32>,
    pub rest: String,
    pub spare: Option<u8>,
    pub tempo: Option<String>,
    pub open_last: Option<bool>,
    pub back_off: Option<WireBackOff>,
    pub wave: Option<Vec<WireStep>>,
    pub group: Option<u8>,
    pub inside: Option<String>,
    pub sides: Option<WireSides>,
    pub policy: Option<WirePolicy>,
    pub note: Option<String>,
}

/// Fields that are given take the place of the earlier phase's.
#[derive(Deserialize)]
#[serde(rename = "change", deny_unknown_fields)]
pub(super) struct WireChange {
    pub day: String,
    pub exercise: String,
    pub which: Option<u8>,
    pub with: Option<String>,
    pub sets: Option<u8>,
    pub reps: Option<String>,
    pub hold: Option<String>,
    pub total: Option<u32>,
    pub rest: Option<String>,
    pub spare: Option<u8>,
    pub tempo: Option<String>,
    pub open_last: Option<bool>,
    pub back_off: Option<WireBackOff>,
    pub wave: Option<Vec<WireStep>>,
    pub group: Option<u8>,
    pub inside: Option<String>,
    pub sides: Option<WireSides>,
    pub policy: Option<WirePolicy>,
    pub note: Option<String>,
}

#[derive(Deserialize)]
#[serde(rename = "back_off", deny_unknown_fields)]
pub(super) struct WireBackOff {
    pub sets: u8,
    pub percent: u8,
    pub reps: Option<String>,
    pub hold: Option<String>,
}

#[derive(Deserialize)]
#[serde(rename = "step", deny_unknown_fields)]
pub(super) struct WireStep {
    pub sets: Option<u8>,
    pub reps: Option<String>,
    pub hold: Option<String>,
    pub spare: Option<u8>,
}

/// What a slot, or a change of one, says.
pub(super) struct Given<'w> {
    pub sets: Option<u8>,
    pub ask: Asked<'w>,
    pub rest: Option<&'w str>,
    pub spare: Option<u8>,
    pub tempo: Option<&'w str>,
    pub open_last: Option<bool>,
    pub back_off: Option<&'w WireBackOff>,
    pub wave: Option<&'w [WireStep]>,
    pub group: Option<u8>,
    pub inside: Option<&'w str>,
    pub sides: Option<WireSides>,
    pub policy: Option<WirePolicy>,
    pub note: Option<&'w str>,
}

/// What is asked of a set, as it stands in the file.
#[derive(Clone, Copy, Default)]
pub(super) struct Asked<'w> {
    pub reps: Option<&'w str>,
    pub hold: Option<&'w str>,
    pub total: Option<u32>,
}

impl Asked<'_> {
    /// How many of the three are given.
    pub fn count(&self) -> usize {
        let given = [
            self.reps.is_some(),
            self.hold.is_some(),
            self.total.is_some(),
        ];
        given.into_iter().filter(|given| *given).count()
    }
}

macro_rules! given {
    ($wire:ident, $sets:expr, $rest:expr) => {
        Given {
            sets: $sets,
            ask: Asked {
                reps: $wire.reps.as_deref(),
                hold: $wire.hold.as_deref(),
                total: $wire.total,
            },
            rest: $rest,
            spare: $wire.spare,
            tempo: $wire.tempo.as_deref(),
            open_last: $wire.open_last,
            back_off: $wire.back_off.as_ref(),
            wave: $wire.wave.as_deref(),
            group: $wire.group,
            inside: $wire.inside.as_deref(),
            sides: $wire.sides,
            policy: $wire.policy,
            note: $wire.note.as_deref(),
        }
    };
}

impl WireSlot {
    pub fn given(&self) -> Given<'_> {
        given!(self, Some(self.sets), Some(self.rest.as_str()))
    }
}

impl WireChange {
    pub fn given(&self) -> Given<'_> {
        given!(self, self.sets, self.rest.as_deref())
    }
}
