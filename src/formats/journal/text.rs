//! Quantities as a person writes them in a journal line: "22.5 kg", "body -15 kg", "3-1-X-0".

use crate::domain::program::Tempo;
use crate::domain::units::{BandStep, Civil, Load, Mass, Unit, Weight};
use chrono::NaiveDate;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};

/// Declares a wrapper that stands in a line as a text.
macro_rules! as_text {
    ($wrapper:ident of $inner:ty, $write:expr, $read:expr) => {
        #[derive(Clone, Copy)]
        pub(super) struct $wrapper(pub(super) $inner);

        impl Serialize for $wrapper {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(&$write(self.0))
            }
        }

        impl<'de> Deserialize<'de> for $wrapper {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let text = String::deserialize(deserializer)?;
                $read(&text).map(Self).map_err(D::Error::custom)
            }
        }
    };
}

as_text!(LoadText of Load, write_load, read_load);
as_text!(WeightText of Weight, write_weight, read_weight);
as_text!(CivilText of Civil, |at: Civil| at.to_string(), read_civil);
as_text!(DateText of NaiveDate, |date: NaiveDate| date.to_string(), read_date);
as_text!(TempoText of Tempo, write_tempo, read_tempo);

/// Decimals that hold every mass: a nanogram is 10^-12 kg.
const DECIMALS: u32 = 12;

/// The mass in a unit, exactly; `None` where no twelve decimals hold it.
pub(crate) fn exact(mass: Mass, unit: Unit) -> Option<String> {
    let scaled = i128::from(mass.ng()) * 10_i128.pow(DECIMALS);
    let per = i128::from(unit.nanograms());
    if scaled % per != 0 {
        return None;
    }
    let units = (scaled / per).unsigned_abs();
    let one = 10_u128.pow(DECIMALS);
    let fraction = format!("{:0width$}", units % one, width = DECIMALS as usize);
    let fraction = fraction.trim_end_matches('0');
    let point = if fraction.is_empty() { "" } else { "." };
    let sign = if mass.ng() < 0 { "-" } else { "" };
    Some(format!("{sign}{}{point}{fraction}", units / one))
}

/// A weight in the unit it was entered in; where pounds cannot say it exactly, "20 kg in lb".
pub(super) fn write_weight(weight: Weight) -> String {
    let Weight { mass, unit } = weight;
    match (exact(mass, unit), exact(mass, Unit::Kg)) {
        (Some(number), _) => format!("{number} {unit}"),
        (None, Some(number)) => format!("{number} kg in {unit}"),
        (None, None) => format!("{} {unit}", mass.text(unit)),
    }
}

pub(super) fn read_weight(text: &str) -> Result<Weight, String> {
    let advice = |why: String| format!("{text:?} is not a mass: {why}");
    let (text, entered) = match text.trim().strip_suffix(" in lb") {
        Some(rest) => (rest, Some(Unit::Lb)),
        None => (text.trim(), None),
    };
    let units = [(Unit::Kg, "kg"), (Unit::Lb, "lb")];
    let found = units
        .into_iter()
        .find_map(|(unit, symbol)| text.strip_suffix(symbol).map(|number| (unit, number)));
    let (unit, number) = found.ok_or_else(|| advice("write its unit, as in 22.5 kg".to_owned()))?;
    let mass = Mass::parse(number.trim(), unit).map_err(|e| advice(e.to_string()))?;
    Ok(Weight::new(mass, entered.unwrap_or(unit)))
}

pub(crate) fn write_load(load: Load) -> String {
    match load {
        Load::Mass(weight) => write_weight(weight),
        Load::Body(weight) if weight == Weight::default() => "body".to_owned(),
        Load::Body(weight) if weight.mass < Mass::ZERO => format!("body {}", write_weight(weight)),
        Load::Body(weight) => format!("body +{}", write_weight(weight)),
        Load::Band(step) => format!("band {}", step.0),
    }
}

/// A load as a person names it instead of another; a bare number is in the other's unit.
///
/// # Errors
///
/// It is no load: what to write instead.
pub fn load_like(text: &str, other: Load) -> Result<Load, String> {
    let bare = text
        .trim()
        .bytes()
        .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b','));
    match other {
        Load::Mass(weight) if bare => read_load(&format!("{text} {}", weight.unit)),
        Load::Mass(_) | Load::Body(_) | Load::Band(_) => read_load(text),
    }
}

pub(crate) fn read_load(text: &str) -> Result<Load, String> {
    let text = text.trim();
    if let Some(added) = text.strip_prefix("body") {
        return match added.trim() {
            "" => Ok(Load::body(Unit::Kg)),
            added => {
                let digits = added.replacen("+ ", "+", 1).replacen("- ", "-", 1);
                read_weight(&digits).map(Load::Body)
            }
        };
    }
    if let Some(step) = text.strip_prefix("band") {
        let step = step.trim().parse().map(|step| Load::Band(BandStep(step)));
        return step.map_err(|_| format!("{text:?} is not a band: write band 1 to band 255"));
    }
    read_weight(text).map(Load::Mass)
}

fn read_civil(text: &str) -> Result<Civil, String> {
    let wanted = "write it as in 2026-11-19T18:22:05.123+01:00";
    Civil::parse(text).ok_or_else(|| format!("{text:?} is not a time: {wanted}"))
}

fn read_date(text: &str) -> Result<NaiveDate, String> {
    let wanted = "write it as in 2026-11-19";
    text.parse()
        .map_err(|_| format!("{text:?} is not a date: {wanted}"))
}

fn write_tempo(tempo: Tempo) -> String {
    let Tempo {
        lowering,
        bottom,
        lifting,
        top,
    } = tempo;
    let lifting = lifting.map_or("X".to_owned(), |seconds| seconds.to_string());
    format!("{lowering}-{bottom}-{lifting}-{top}")
}

fn read_tempo(text: &str) -> Result<Tempo, String> {
    let read = || {
        let parts: Vec<&str> = text.split('-').collect();
        let [lowering, bottom, lifting, top] = parts.as_slice() else {
            return None;
        };
        let lifting = match *lifting {
            "X" | "x" => None,
            seconds => Some(seconds.parse().ok()?),
        };
        Some(Tempo {
            lowering: lowering.parse().ok()?,
            bottom: bottom.parse().ok()?,
            lifting,
            top: top.parse().ok()?,
        })
    };
    read().ok_or_else(|| format!("{text:?} is not a tempo: write four parts, as in 3-1-X-0"))
}
