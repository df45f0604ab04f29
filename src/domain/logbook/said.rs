//! Numbers as people say them.

use crate::domain::units::{Mass, Unit};
use chrono::NaiveDate;

/// An estimate: to a half below 30, whole above.
pub fn amount(value: f64) -> String {
    if value.abs() < 30.0 {
        let halves = libm::round(value * 2.0) / 2.0;
        format!("{halves}")
    } else {
        grouped(libm::round(value) as i64)
    }
}

/// A whole number with its thousands apart: "12 480".
pub fn grouped(number: i64) -> String {
    let digits = number.unsigned_abs().to_string();
    let mut text = String::new();
    for (k, digit) in digits.chars().enumerate() {
        if k > 0 && (digits.len() - k).is_multiple_of(3) {
            text.push(' ');
        }
        text.push(digit);
    }
    if number < 0 {
        text.insert(0, '-');
    }
    text
}

/// A volume load, whole: "12 480 kg".
pub fn volume(mass: Mass, unit: Unit) -> String {
    format!("{} {unit}", grouped(libm::round(mass.amount(unit)) as i64))
}

/// A share as percent with one decimal, less its sign: "1.3 %".
pub fn percent(share: f64) -> String {
    let tenths = libm::round(share.abs() * 1000.0) / 10.0;
    if tenths >= 10.0 {
        format!("{} %", libm::round(tenths))
    } else {
        format!("{tenths} %")
    }
}

/// Sets, in halves at most: "12", "7.5".
pub fn sets(sets: f64) -> String {
    format!("{}", libm::round(sets * 2.0) / 2.0)
}

/// A day with its year: "Thu 26 Nov 2026".
pub fn day(date: NaiveDate) -> String {
    date.format("%a %-d %b %Y").to_string()
}

/// Minutes as hours and minutes: "52 min", "1 h 05".
pub fn minutes(minutes: u32) -> String {
    if minutes < 60 {
        format!("{minutes} min")
    } else {
        format!("{} h {:02}", minutes / 60, minutes % 60)
    }
}
