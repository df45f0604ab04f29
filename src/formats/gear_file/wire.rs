//! The shape of a place's file.

use crate::formats::mirror::{WireFits, WireFixture, WireUnit};
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(rename = "place", deny_unknown_fields)]
pub(super) struct WirePlace {
    pub format: u32,
    pub name: String,
    pub unit: WireUnit,
    #[serde(default)]
    pub dumbbells: Vec<WireDumbbells>,
    #[serde(default)]
    pub handles: Vec<WireHandle>,
    #[serde(default)]
    pub bars: Vec<WireBar>,
    #[serde(default)]
    pub plates: Vec<WirePlate>,
    #[serde(default)]
    pub bands: Vec<String>,
    #[serde(default)]
    pub has: Vec<WireFixture>,
    #[serde(default)]
    pub safeties: bool,
    #[serde(default)]
    pub any_order: bool,
}

/// A row of fixed dumbbells, or a single weight of them.
#[derive(Deserialize)]
#[serde(rename = "dumbbells", deny_unknown_fields)]
pub(super) struct WireDumbbells {
    pub from: String,
    pub to: Option<String>,
    pub step: Option<String>,
    #[serde(default)]
    pub missing: Vec<String>,
    #[serde(default = "two")]
    pub count: u8,
}

#[derive(Deserialize)]
#[serde(rename = "handles", deny_unknown_fields)]
pub(super) struct WireHandle {
    pub weight: String,
    pub collars: Option<String>,
    #[serde(default = "two")]
    pub count: u8,
    pub sleeve: Option<u8>,
}

#[derive(Deserialize)]
#[serde(rename = "bar", deny_unknown_fields)]
pub(super) struct WireBar {
    pub name: String,
    pub weight: String,
    pub collars: Option<String>,
    pub sleeve: Option<u8>,
}

#[derive(Deserialize)]
#[serde(rename = "plates", deny_unknown_fields)]
pub(super) struct WirePlate {
    pub weight: String,
    pub count: u8,
    #[serde(default = "all")]
    pub fits: WireFits,
}

const fn two() -> u8 {
    2
}

const fn all() -> WireFits {
    WireFits::All
}

/// What to write for each field.
pub(super) fn hints(thing: &str, field: &str) -> Option<&'static str> {
    Some(match (thing, field) {
        ("place", "unit") => "Kg or Lb",
        ("place", "bands") => "their names, the lightest first, like [\"yellow\", \"red\"]",
        ("place", "has") => {
            "what stands there: Bench, InclineBench, Floor, PullUpBar, DipBars, Rack, Step"
        }
        ("place", "safeties") => "true where the rack catches a bar, else false",
        ("place", "any_order") => {
            "true where plates may lie in any order to save moves, else false"
        }
        (_, "weight" | "from" | "to" | "step" | "collars") => "a weight, like \"22.5 kg\"",
        (_, "count") => "how many there are, 1 to 100",
        (_, "sleeve") => "the most plates one end holds, 1 to 100",
        _ => return None,
    })
}
