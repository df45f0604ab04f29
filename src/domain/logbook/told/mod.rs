//! Each view in lines, for a terminal and for a pipe: the commands and the screens say the same.

pub mod backing_off;
pub mod balance;
pub mod records;
pub mod sessions;
pub mod strength;
pub mod work;

use super::Logbook;
use crate::domain::exercise::{Catalogue, ExerciseId};
use crate::domain::history::History;
use crate::domain::logbook::said;
use crate::domain::units::Unit;
use crate::domain::words;
use chrono::{Datelike, Days, NaiveDate};

/// Days that a view looks back on where nobody says otherwise: half a year.
pub const USUAL_DAYS: u64 = 183;
/// Cells of an exercise's name in a list.
const NAME: usize = 28;
/// Narrower than this a list is told in shorter words.
const NARROW: usize = 64;

/// What views are read from, and how.
#[derive(Clone, Copy)]
pub struct Reading<'a> {
    /// The past.
    pub history: &'a History,
    /// Its digests.
    pub logbook: &'a Logbook,
    /// All exercises.
    pub catalogue: &'a Catalogue,
    /// The unit that masses of several exercises are told in.
    pub unit: Unit,
    /// The day of reading.
    pub today: NaiveDate,
    /// The first and the last day that is looked at.
    pub days: (NaiveDate, NaiveDate),
    /// Columns.
    pub width: usize,
    /// Rows that a picture may take with its words.
    pub rows: usize,
}

impl Reading<'_> {
    /// All days.
    pub const EVER: (NaiveDate, NaiveDate) = (NaiveDate::MIN, NaiveDate::MAX);

    /// The days that are looked at where nobody says otherwise.
    pub fn usual_days(today: NaiveDate) -> (NaiveDate, NaiveDate) {
        let since = today.checked_sub_days(Days::new(USUAL_DAYS));
        (since.unwrap_or(today), today)
    }

    /// The exercises done within the days, the last done first.
    pub fn exercises(&self) -> Vec<(&ExerciseId, NaiveDate)> {
        let within = |day: NaiveDate| day >= self.days.0 && day <= self.days.1;
        let last = |id| {
            let days = self.logbook.of_exercise(id).map(|(session, _)| session.day);
            days.filter(|day| within(*day)).max()
        };
        let done = self.logbook.exercises();
        let mut done: Vec<_> = done.filter_map(|id| Some((id, last(id)?))).collect();
        done.sort_by(|a, b| (b.1, a.0).cmp(&(a.1, b.0)));
        done
    }

    /// A line for each of them.
    fn each_exercise(&self, line: fn(&Self, &ExerciseId) -> String) -> Vec<String> {
        let exercises = self.exercises();
        if exercises.is_empty() {
            return vec!["No exercise was done in these days.".to_owned()];
        }
        exercises.iter().map(|(id, _)| line(self, id)).collect()
    }
}

/// A text in so many cells, cut with a mark where it is longer.
fn cell(text: &str, width: usize) -> String {
    let length = text.chars().count();
    if length <= width {
        return format!("{text}{}", " ".repeat(width - length));
    }
    let kept: String = text.chars().take(width.saturating_sub(1)).collect();
    format!("{kept}…")
}

/// A day in a list: where there is little room, without the year that is on, or without its name.
fn day_in_list(reading: &Reading<'_>, day: NaiveDate) -> String {
    if reading.width >= NARROW {
        said::day(day)
    } else if day.year() == reading.today.year() {
        words::day(day)
    } else {
        day.format("%-d %b %Y").to_string()
    }
}

/// A sentence in lines of so many cells, the later ones set in.
fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            Some(_) => lines.push(format!("  {word}")),
            None => lines.push(word.to_owned()),
        }
    }
    lines
}
