//! Masses in whole nanograms: exact for 0.001 lb and for sixteenths of a pound.

use std::fmt;

/// A mass in whole nanograms. Signed, since assistance is a negative added mass.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Mass(i64);

/// The unit that a person reads and writes masses in.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Unit {
    /// Kilograms.
    #[default]
    Kg,
    /// Avoirdupois pounds of exactly 0.45359237 kg (international agreement of 1959).
    Lb,
}

/// A mass together with the unit in which it was entered.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct Weight {
    /// How heavy.
    pub mass: Mass,
    /// The unit in which a person entered it, and reads it.
    pub unit: Unit,
}

/// Why a text is not a mass.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum MassError {
    /// Not digits with at most one decimal point or comma.
    NotANumber,
    /// More decimals than whole nanograms can hold.
    TooFine,
    /// Outside -[`Mass::MAX`]..=[`Mass::MAX`].
    OutOfBounds,
}

impl Unit {
    /// Nanograms in one of this unit.
    pub const fn nanograms(self) -> i64 {
        match self {
            Self::Kg => 1_000_000_000_000,
            Self::Lb => 453_592_370_000,
        }
    }

    /// The unit's symbol.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Kg => "kg",
            Self::Lb => "lb",
        }
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

impl Mass {
    /// What a value of this type is, for messages.
    pub const WHAT: &str = "mass";
    /// No mass at all.
    pub const ZERO: Self = Self(0);
    /// The heaviest mass taken: two tonnes.
    pub const MAX: Self = Self(2_000 * Unit::Kg.nanograms());

    /// A mass of so many nanograms.
    pub const fn from_ng(ng: i64) -> Self {
        Self(ng)
    }

    /// The mass in nanograms.
    pub const fn ng(self) -> i64 {
        self.0
    }

    /// The nearest mass to `amount` in `unit`; `None` when not finite or out of bounds.
    pub fn nearest(amount: f64, unit: Unit) -> Option<Self> {
        let ng = amount * unit.nanograms() as f64;
        let bound = Self::MAX.0 as f64;
        (ng.is_finite() && ng.abs() <= bound).then(|| Self(libm::round(ng) as i64))
    }

    /// How much this is in `unit`, to the nearest `f64`.
    pub fn amount(self, unit: Unit) -> f64 {
        self.0 as f64 / unit.nanograms() as f64
    }

    /// Kilograms, to the nearest `f64`.
    pub fn kg(self) -> f64 {
        self.amount(Unit::Kg)
    }

    /// Reads a decimal number of `unit`. Point and comma both separate decimals.
    pub fn parse(text: &str, unit: Unit) -> Result<Self, MassError> {
        let (negative, digits) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text.strip_prefix('+').unwrap_or(text)),
        };
        let (whole, decimals) = digits.split_once(['.', ',']).unwrap_or((digits, ""));
        let only_digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if whole.len() + decimals.len() == 0 || !only_digits(whole) || !only_digits(decimals) {
            return Err(MassError::NotANumber);
        }
        let decimals = decimals.trim_end_matches('0');
        let whole = whole.trim_start_matches('0');
        if decimals.len() > 12 {
            return Err(MassError::TooFine);
        }
        if whole.len() > 7 {
            return Err(MassError::OutOfBounds);
        }
        let mantissa = format!("0{whole}{decimals}")
            .parse::<i128>()
            .unwrap_or(i128::MAX);
        let scale = 10_i128.pow(decimals.len() as u32);
        let scaled = mantissa * i128::from(unit.nanograms());
        if scaled % scale != 0 {
            return Err(MassError::TooFine);
        }
        let ng = scaled / scale;
        if ng > i128::from(Self::MAX.0) {
            return Err(MassError::OutOfBounds);
        }
        Ok(Self(if negative { -(ng as i64) } else { ng as i64 }))
    }

    /// The decimal text of this mass in `unit`: exact where six decimals hold it, else to two.
    pub fn text(self, unit: Unit) -> String {
        let per = i128::from(unit.nanograms());
        let scaled = i128::from(self.0.abs()) * 1_000_000;
        let decimals = if scaled % per == 0 { 6 } else { 2 };
        let scale = 10_i128.pow(decimals);
        let units = (i128::from(self.0.abs()) * scale + per / 2) / per;
        let sign = if self.0 < 0 && units != 0 { "-" } else { "" };
        let fraction = format!("{:0width$}", units % scale, width = decimals as usize);
        let fraction = fraction.trim_end_matches('0');
        let point = if fraction.is_empty() { "" } else { "." };
        format!("{sign}{}{point}{fraction}", units / scale)
    }
}

impl std::ops::Add for Mass {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl std::ops::Sub for Mass {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl std::ops::Mul<i64> for Mass {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0.saturating_mul(times))
    }
}

impl std::iter::Sum for Mass {
    fn sum<I: Iterator<Item = Self>>(masses: I) -> Self {
        masses.fold(Self::ZERO, |a, b| a + b)
    }
}

impl Weight {
    /// A weight of so many kilograms' worth of nanograms.
    pub const fn new(mass: Mass, unit: Unit) -> Self {
        Self { mass, unit }
    }

    /// Reads a weight with an optional unit behind it ("22.5", "22.5kg", "50 lb").
    pub fn parse(text: &str, unit_if_none: Unit) -> Result<Self, MassError> {
        let text = text.trim();
        let (number, unit) = if let Some(n) = text.strip_suffix("kg") {
            (n, Unit::Kg)
        } else if let Some(n) = text.strip_suffix("lb") {
            (n, Unit::Lb)
        } else {
            (text, unit_if_none)
        };
        Ok(Self {
            mass: Mass::parse(number.trim(), unit)?,
            unit,
        })
    }

    /// The number alone, in the unit in which it was entered.
    pub fn number(self) -> String {
        self.mass.text(self.unit)
    }
}

impl fmt::Display for Weight {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.number(), self.unit)
    }
}

impl fmt::Display for MassError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotANumber => "not a number: write a mass like 22.5",
            Self::TooFine => "finer than a nanogram: write fewer decimals",
            Self::OutOfBounds => "heavier than 2000 kg: write the load of one exercise",
        })
    }
}
