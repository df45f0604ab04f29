//! What a set was done with, from a cell.

use super::Refusal;
use super::number::{Decimal, has_digit, plain};
use crate::domain::exercise::{Counts, Exercise};
use crate::domain::units::{BandStep, Load, Mass, Unit, Weight};

/// How masses are written in a sheet.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Masses {
    /// What stands before decimals, where that is known.
    pub(super) decimal: Option<Decimal>,
    /// The unit of those that name none.
    pub(super) unit: Unit,
}

/// More than a bar or a dumbbell is lifted with: beyond it a sign before decimals was misread, or
/// a load of something else was meant. Common sense, no source.
const HEAVIEST: Mass = Mass::from_ng(700 * Unit::Kg.nanograms());

/// Words for the body, longest first.
const BODY: [&str; 4] = ["body weight", "bodyweight", "body", "bw"];
/// Words for units, longest first.
const UNITS: [(&str, Unit); 10] = [
    ("kilograms", Unit::Kg),
    ("kilogram", Unit::Kg),
    ("kilos", Unit::Kg),
    ("kgs", Unit::Kg),
    ("kg", Unit::Kg),
    ("pounds", Unit::Lb),
    ("pound", Unit::Lb),
    ("lbs", Unit::Lb),
    ("lb", Unit::Lb),
    ("#", Unit::Lb),
];

impl Masses {
    /// The same where the unit of those that name none is another.
    pub(super) const fn with(self, unit: Unit) -> Self {
        Self { unit, ..self }
    }

    /// A mass, and whether it names its unit.
    pub(super) fn read(self, text: &str) -> Result<(Weight, bool), Refusal> {
        let lower = text.to_lowercase();
        let lower = lower.trim();
        let named = UNITS.iter().find_map(|(word, unit)| {
            let number = lower
                .strip_suffix(word)?
                .trim_end_matches(['.', ' ', '\u{a0}']);
            Some((number, *unit))
        });
        let (number, unit) = named.unwrap_or((lower, self.unit));
        let number: String = number.chars().filter(|c| !c.is_whitespace()).collect();
        let number = plain(&number, self.decimal)?;
        let mass = Mass::parse(&number.replace('\u{2212}', "-"), unit).map_err(|why| {
            Refusal::new(
                format!("\"{text}\" is no load: {why}"),
                "write it as in 22.5 kg or 50 lb",
            )
        })?;
        Ok((Weight::new(mass, unit), named.is_some()))
    }

    /// The load of a set of that exercise, how it counts, and whether a unit was wanting.
    pub(super) fn load(
        self,
        text: &str,
        exercise: &Exercise,
    ) -> Result<(Load, Counts, bool), Refusal> {
        let lower = text.to_lowercase();
        let lower = lower.trim();
        let counts = exercise.counts;
        let name = &exercise.name;
        match counts {
            Counts::PerHand | Counts::OneDumbbell | Counts::BarTotal => {
                let instead = format!("{name} is done with {}: write its mass", carrier(counts));
                if !has_digit(lower) || lower.starts_with(['b', '+']) {
                    let why = if lower.is_empty() {
                        "there is no load".to_owned()
                    } else {
                        format!("\"{text}\" is no mass")
                    };
                    return Err(Refusal::new(why, instead));
                }
                let (weight, named) = self.read(lower)?;
                if weight.mass <= Mass::ZERO {
                    return Err(Refusal::new(format!("\"{text}\" is no load"), instead));
                }
                if weight.mass > HEAVIEST {
                    return Err(Refusal::new(
                        format!("{weight} is more than anyone lifts so"),
                        "write the load of one set; --decimal says what stands before decimals",
                    ));
                }
                Ok((Load::Mass(weight), counts, !named))
            }
            Counts::Body { percent } | Counts::BodyPlus { percent } => {
                let (weight, wanting) = self.added(lower)?;
                // The body alone, with a mass added: it counts as such exercises do.
                let counts = match weight.mass == Mass::ZERO {
                    true => counts,
                    false => Counts::BodyPlus { percent },
                };
                Ok((Load::Body(weight), counts, wanting))
            }
            Counts::Band => {
                let step = lower.strip_prefix("band").unwrap_or(lower).trim();
                let step: Result<u8, _> = step.parse();
                let step = step.ok().filter(|step| *step > 0).ok_or_else(|| {
                    Refusal::new(
                        format!("\"{text}\" is no band"),
                        format!("{name} is done with a band: write band 1 for the lightest"),
                    )
                })?;
                Ok((Load::Band(BandStep(step)), counts, false))
            }
        }
    }

    /// What is added to the body; nothing where only the body is named, or nothing at all.
    fn added(self, lower: &str) -> Result<(Weight, bool), Refusal> {
        let body = BODY.iter().find_map(|word| lower.strip_prefix(word));
        let rest = body.unwrap_or(lower).trim();
        if rest.is_empty() {
            return Ok((Load::body(Unit::Kg).entered().unwrap_or_default(), false));
        }
        let (weight, named) = self.read(rest)?;
        match weight.mass == Mass::ZERO {
            true => Ok((Load::body(Unit::Kg).entered().unwrap_or_default(), false)),
            false => Ok((weight, !named)),
        }
    }
}

/// What carries the load, in words.
pub(super) const fn carrier(counts: Counts) -> &'static str {
    match counts {
        Counts::PerHand => "two dumbbells, the load being that of one hand",
        Counts::OneDumbbell => "one dumbbell",
        Counts::BarTotal => "a bar, the load being that of the bar with all on it",
        Counts::Body { .. } | Counts::BodyPlus { .. } => {
            "the body, the load being what is added to it"
        }
        Counts::Band => "a band",
    }
}
