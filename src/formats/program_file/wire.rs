//! The shape of a program's file.

use crate::formats::mirror::WirePolicy;
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
    pub days: Vec<WireDay>,
    /// The earlier phase that this one builds on.
    pub builds_on: Option<String>,
    /// Sets added to each of its slots.
    #[serde(default)]
    pub more_sets: u8,
    /// What is different about some of its slots.
    #[serde(default)]
    pub change: Vec<WireChange>,
    /// What comes on top, by day.
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
    pub rest: String,
    pub spare: Option<u8>,
    pub tempo: Option<String>,
    pub policy: Option<WirePolicy>,
    pub group: Option<u8>,
    #[serde(default)]
    pub note: String,
}

/// Fields that are given take the place of the earlier phase's.
#[derive(Deserialize)]
#[serde(rename = "change", deny_unknown_fields)]
pub(super) struct WireChange {
    pub day: String,
    pub exercise: String,
    pub with: Option<String>,
    pub sets: Option<u8>,
    pub reps: Option<String>,
    pub hold: Option<String>,
    pub rest: Option<String>,
    pub spare: Option<u8>,
    pub tempo: Option<String>,
}

/// What to write for each field.
pub(super) fn hints(thing: &str, field: &str) -> Option<&'static str> {
    Some(match (thing, field) {
        ("file", _) => "README.md shows a whole example to begin from",
        ("program", "rhythm") => {
            "Rotation(per_week: 3), Weekdays([Monday, Thursday]) or Every(days: 2)"
        }
        (_, "per_week") => "sessions in a week, 1 to 7",
        ("rhythm", "days") => "calendar days from one session to the next, 1 to 14",
        ("phase", "weeks") => "weeks, 1 to 52",
        ("phase", "easier_weeks") => "numbers of weeks of the phase, like [4]",
        (_, "sets" | "more_sets") => "sets, 1 to 20",
        (_, "reps") => "\"8\" or \"8-12\", 1 to 100",
        (_, "hold") => "seconds, \"30\" or \"20-40\", 1 to 600",
        (_, "rest") => "minutes and seconds, \"1:00-1:30\", up to 15:00",
        (_, "spare") => "reps in reserve, 0 to 9",
        (_, "tempo") => "four digits: lowering, bottom, lifting (or X), top, like \"30X0\"",
        ("slot", "group") => "a number: slots of one day with the same are done in turn",
        _ => return None,
    })
}
