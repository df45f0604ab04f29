//! Words shared by every voice of the program: screens, commands, prompts.

pub mod caution;
mod letters;

pub use letters::{Letters, stand_in};

use chrono::NaiveDate;

/// "1 set", "3 sets".
pub fn count(number: usize, one: &str) -> String {
    if number == 1 {
        format!("1 {one}")
    } else {
        format!("{number} {one}s")
    }
}

/// A day as people say it: "Thu 19 Nov".
pub fn day(date: NaiveDate) -> String {
    date.format("%a %-d %b").to_string()
}

/// A name with its first letter raised.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
