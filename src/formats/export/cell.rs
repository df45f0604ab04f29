//! One value of a table.

use crate::domain::diagnostic::neutral;
use crate::domain::units::{Mass, Unit};
use crate::formats::journal::exact;
use serde_json::{Number, Value};

/// One value of a table.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Cell {
    /// Nothing is known.
    Empty,
    /// A text; whatever could steer, hide or reorder has been made visible.
    Text(String),
    /// A number in decimals.
    Number(String),
    /// Yes or no.
    Flag(bool),
}

/// What a spreadsheet program takes for the beginning of a formula (OWASP, CSV Injection), the wide
/// forms of East Asian sets of characters among them.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

impl Cell {
    pub(super) fn text(text: impl AsRef<str>) -> Self {
        match text.as_ref() {
            "" => Self::Empty,
            text => Self::Text(neutral(text)),
        }
    }

    pub(super) fn whole(number: impl Into<u64>) -> Self {
        Self::Number(number.into().to_string())
    }

    pub(super) fn count(number: usize) -> Self {
        Self::Number(number.to_string())
    }

    /// To six decimals, noughts at the end left out.
    pub(super) fn decimal(number: f64) -> Self {
        if !number.is_finite() {
            return Self::Empty;
        }
        let text = format!("{number:.6}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        Self::Number(if text == "-0" { "0" } else { text }.to_owned())
    }

    /// Kilograms, exactly.
    pub(super) fn kg(mass: Mass) -> Self {
        exact(mass, Unit::Kg).map_or(Self::Empty, Self::Number)
    }

    pub(super) fn of<T>(value: Option<T>, cell: impl FnOnce(T) -> Self) -> Self {
        value.map_or(Self::Empty, cell)
    }

    /// As it stands in CSV. A text that a spreadsheet program would reckon with gets an apostrophe
    /// before it; a number never does.
    pub fn csv(&self) -> String {
        match self {
            Self::Empty => String::new(),
            Self::Text(text) if text.starts_with(FORMULA) => format!("'{text}"),
            Self::Text(text) | Self::Number(text) => text.clone(),
            Self::Flag(flag) => flag.to_string(),
        }
    }

    /// As it stands in JSON.
    pub fn json(&self) -> Value {
        match self {
            Self::Empty => Value::Null,
            Self::Text(text) => Value::String(text.clone()),
            Self::Number(text) => {
                let number = text.parse().ok().and_then(Number::from_f64);
                let whole = text.parse::<u64>().map(Number::from).ok();
                whole.or(number).map_or(Value::Null, Value::Number)
            }
            Self::Flag(flag) => Value::Bool(*flag),
        }
    }
}
