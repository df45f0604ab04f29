//! One row of a sheet, read by itself.

use super::beside::Beside;
use super::cells::Line;
use super::columns::{Column, Layout};
use super::dates::Dates;
use super::load::Masses;
use super::names::{self, Named, Unknown};
use super::number::{Decimal, whole};
use super::{Ground, Refusal, Sheet, Wish};
use crate::domain::exercise::{Counts, Effort, Exercise, Sides};
use crate::domain::session::Done;
use crate::domain::units::{Load, Reps, Seconds, Unit};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Which side worked.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Side {
    Left,
    Right,
}

/// What a row says.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Parsed<'a> {
    pub(super) date: NaiveDate,
    pub(super) exercise: &'a Exercise,
    pub(super) load: Load,
    pub(super) counts: Counts,
    pub(super) done: Done,
    /// How many sets like this.
    pub(super) sets: u16,
    pub(super) side: Option<Side>,
    pub(super) beside: Beside,
}

/// What can be made of a row by itself.
pub(super) enum Made<'a> {
    Set(Box<Parsed<'a>>),
    LeftOut,
    Refused(Vec<Refusal>),
}

/// Reads rows, one after the other.
pub(super) struct Reader<'a> {
    layout: &'a Layout,
    wish: &'a Wish,
    ground: Ground<'a>,
    dates: Dates,
    masses: Masses,
    /// What an empty cell of a date or an exercise stands for: the one above.
    above: (Option<NaiveDate>, Option<String>),
    /// What was made of each name: a long sheet has few.
    named: BTreeMap<String, Named<'a>>,
    unknown: Vec<Unknown>,
    carried: usize,
    unitless: bool,
    carriers: Vec<&'a Exercise>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(
        layout: &'a Layout,
        wish: &'a Wish,
        ground: Ground<'a>,
        (dates, decimal): (Dates, Option<Decimal>),
    ) -> Self {
        let unit = wish.unit.or(layout.unit).unwrap_or(ground.unit);
        Self {
            layout,
            wish,
            ground,
            dates,
            masses: Masses { decimal, unit },
            above: (None, None),
            named: BTreeMap::new(),
            unknown: Vec::new(),
            carried: 0,
            unitless: false,
            carriers: Vec::new(),
        }
    }

    /// Says what was found on the way; and whether a mass named no unit.
    pub(super) fn finish(self, sheet: &mut Sheet) -> bool {
        sheet.unknown = self.unknown;
        if self.carried > 0 {
            let rows = crate::domain::words::count(self.carried, "row");
            let remark = "without a date or an exercise: taken from the row above";
            sheet.remarks.push(format!("{rows} {remark}"));
        }
        for exercise in self.carriers {
            let carrier = super::load::carrier(exercise.counts);
            sheet
                .remarks
                .push(format!("{} is done with {carrier}", exercise.name));
        }
        self.unitless
    }

    pub(super) fn read(&mut self, line: &Line) -> Made<'a> {
        if self
            .layout
            .width
            .is_some_and(|width| is_too_wide(line, width))
        {
            return Made::Refused(vec![Refusal::new(
                "it has more cells than the first row",
                "put quotes around a cell that holds the separator",
            )]);
        }
        let date = self.date(line);
        let exercise = match self.exercise(line) {
            Ok(Some(exercise)) => exercise,
            Ok(None) => return Made::LeftOut,
            Err(refusal) => {
                let date = date.err().into_iter();
                return Made::Refused(date.chain([refusal]).collect());
            }
        };
        let mut wrong = Vec::new();
        let date = note_wrong(date, &mut wrong);
        let side = note_wrong(self.side(line, exercise), &mut wrong).flatten();
        let counted = note_wrong(self.counted(line, exercise), &mut wrong);
        let load = note_wrong(self.load(line, exercise), &mut wrong);
        let beside = Beside::of(self.layout, line, self.masses);
        let beside = note_all(beside, &mut wrong);
        let (Some(date), Some((done, sets)), Some((load, counts)), Some(beside), true) =
            (date, counted, load, beside, wrong.is_empty())
        else {
            return Made::Refused(wrong);
        };
        if !self.carriers.iter().any(|known| known.id == exercise.id) && counts.is_mass() {
            self.carriers.push(exercise);
        }
        Made::Set(Box::new(Parsed {
            date,
            exercise,
            load,
            counts,
            done,
            sets,
            side,
            beside,
        }))
    }

    fn date(&mut self, line: &Line) -> Result<NaiveDate, Refusal> {
        let cell = self.layout.cell(line, Column::Date);
        if cell.is_empty() {
            self.carried += usize::from(self.above.0.is_some());
            return self.above.0.ok_or_else(|| {
                Refusal::new(
                    "there is no date here, and none above",
                    "write the day of the set",
                )
            });
        }
        let read = self.dates.read(cell);
        self.above.0 = read.as_ref().ok().copied();
        let date = read?;
        if date > self.ground.today {
            return Err(Refusal::new(
                format!("{date} is still to come"),
                "write the day on which it was done",
            ));
        }
        let oldest = NaiveDate::from_ymd_opt(OLDEST, 1, 1);
        if oldest.is_some_and(|oldest| date < oldest) {
            return Err(Refusal::new(
                format!("{date} is long ago"),
                format!("write a day from {OLDEST} on"),
            ));
        }
        Ok(date)
    }

    /// The exercise; none where the person leaves it out.
    fn exercise(&mut self, line: &Line) -> Result<Option<&'a Exercise>, Refusal> {
        let cell = self.layout.cell(line, Column::Exercise);
        let name = match (cell, &self.above.1) {
            ("", None) => {
                return Err(Refusal::new(
                    "there is no exercise here, and none above",
                    "write what was done",
                ));
            }
            ("", Some(above)) => {
                self.carried += 1;
                above.clone()
            }
            (cell, _) => cell.to_owned(),
        };
        self.above.1 = Some(name.clone());
        let found = match self.named.get(&name) {
            Some(found) => found.clone(),
            None => {
                let found = self.wish.names.find(&name, self.ground.catalogue);
                self.named.insert(name.clone(), found.clone());
                found
            }
        };
        match found {
            Named::Exercise(exercise) => Ok(Some(exercise)),
            Named::LeftOut => Ok(None),
            Named::Unknown(near) => {
                let refusal = names::refusal(&name, &near);
                match self.unknown.iter_mut().find(|unknown| unknown.name == name) {
                    Some(known) => known.rows += 1,
                    None => self.unknown.push(Unknown {
                        name,
                        rows: 1,
                        near,
                    }),
                }
                Err(refusal)
            }
        }
    }

    fn side(&self, line: &Line, exercise: &Exercise) -> Result<Option<Side>, Refusal> {
        let cell = self.layout.cell(line, Column::Side);
        let side = match cell.to_lowercase().as_str() {
            "" | "both" | "each" | "-" => return Ok(None),
            "l" | "left" => Side::Left,
            "r" | "right" => Side::Right,
            _ => {
                return Err(Refusal::new(
                    format!("\"{cell}\" is no side"),
                    "write left or right, or nothing where both sides did the same",
                ));
            }
        };
        match exercise.sides {
            Sides::Each | Sides::Alternating => Ok(Some(side)),
            Sides::Both => Err(Refusal::new(
                format!("{} is done with both sides at once", exercise.name),
                "leave the side empty, or name the one-sided exercise",
            )),
        }
    }

    fn load(&mut self, line: &Line, exercise: &Exercise) -> Result<(Load, Counts), Refusal> {
        let cell = self.layout.cell(line, Column::Load);
        let unit = self.layout.cell(line, Column::Unit).to_lowercase();
        let masses = match unit.trim_end_matches(['s', '.']) {
            "" => self.masses,
            "kg" | "kilogram" | "kilo" => self.masses.with(Unit::Kg),
            "lb" | "pound" => self.masses.with(Unit::Lb),
            _ => {
                return Err(Refusal::new(
                    format!("\"{unit}\" is no unit"),
                    "write kg or lb",
                ));
            }
        };
        let (load, counts, wanting) = masses.load(cell, exercise)?;
        self.unitless |= wanting && unit.is_empty();
        Ok((load, counts))
    }

    /// What was done, and how often.
    fn counted(&self, line: &Line, exercise: &Exercise) -> Result<(Done, u16), Refusal> {
        let cell = |column| self.layout.cell(line, column);
        let (reps, seconds) = (cell(Column::Reps), cell(Column::Seconds));
        let (times, reps) = match reps.split_once(['x', '\u{d7}', 'X']) {
            Some((times, reps)) if cell(Column::Sets).is_empty() => (times.trim(), reps.trim()),
            _ => (cell(Column::Sets), reps),
        };
        let sets = match times {
            "" => 1,
            times => small(times, 1..=MOST_SETS).ok_or_else(|| {
                Refusal::new(
                    format!("\"{times}\" is no number of sets"),
                    format!("write a whole number, 1 to {MOST_SETS}"),
                )
            })?,
        };
        let done = match exercise.effort {
            Effort::Hold => Done::Held(held(exercise, reps, seconds)?),
            Effort::Reps => match (cell(Column::Left), cell(Column::Right)) {
                ("", "") => Done::Reps(repeated(exercise, reps, seconds)?),
                (left, right) => {
                    let left = repeated(exercise, left, seconds)?;
                    let right = repeated(exercise, right, seconds)?;
                    by_side(left, right)
                }
            },
        };
        Ok((done, u16::try_from(sets).unwrap_or(1)))
    }
}

/// Nothing older is a record of training that somebody types.
const OLDEST: i32 = 1930;
/// More sets than anybody does alike in one go.
const MOST_SETS: u32 = 20;

/// Reps of both sides; one count where they do not differ.
pub(super) fn by_side(left: Reps, right: Reps) -> Done {
    match left == right {
        true => Done::Reps(left),
        false => Done::RepsBySide { left, right },
    }
}

fn small(text: &str, bounds: std::ops::RangeInclusive<u32>) -> Option<u32> {
    whole(text).filter(|number| bounds.contains(number))
}

fn repeated(exercise: &Exercise, text: &str, seconds: &str) -> Result<Reps, Refusal> {
    let lower = text.to_lowercase();
    let mut bare = lower.as_str();
    for tail in ["per side", "/side", "each", "reps", "rep"] {
        bare = bare.strip_suffix(tail).unwrap_or(bare).trim_end();
    }
    if text.is_empty() && !seconds.is_empty() {
        return Err(Refusal::new(
            format!("{} counts reps, and there are seconds alone", exercise.name),
            "write how many reps were done",
        ));
    }
    let count = small(bare, Reps::MIN..=Reps::MAX).map(Reps::clamped);
    count.ok_or_else(|| {
        let why = match text {
            "" => "there are no reps".to_owned(),
            text => format!("\"{text}\" is no number of reps"),
        };
        Refusal::new(
            why,
            "write what was done as one whole number, one row a set: 8",
        )
    })
}

fn held(exercise: &Exercise, reps: &str, seconds: &str) -> Result<Seconds, Refusal> {
    let told = if seconds.is_empty() { reps } else { seconds };
    let lower = told.to_lowercase();
    let bare = ["seconds", "secs", "sec", "s"].iter();
    let bare = bare.fold(lower.as_str(), |text, tail| {
        text.strip_suffix(tail).unwrap_or(text)
    });
    let bare = bare.trim_end();
    let marked = !seconds.is_empty() || bare.len() < lower.len() || bare.contains(':');
    let count = match bare.split_once(':') {
        Some((minutes, seconds)) => match (whole(minutes), small(seconds, 0..=59)) {
            (Some(minutes), Some(seconds)) => minutes.checked_mul(60).map(|m| m + seconds),
            _ => None,
        },
        None => whole(bare),
    };
    let count = count.filter(|count| marked && (1..=MOST_HELD).contains(count));
    count.map(Seconds::clamped).ok_or_else(|| {
        let why = match told {
            "" => "there are no seconds".to_owned(),
            told => format!("\"{told}\" does not say for how long"),
        };
        let instead = format!(
            "{} is held: write its seconds, as in 30 s or 0:30",
            exercise.name
        );
        Refusal::new(why, instead)
    })
}

/// The longest hold that is taken, an hour.
const MOST_HELD: u32 = 3600;

fn is_too_wide(line: &Line, width: usize) -> bool {
    line.cells.iter().skip(width).any(|cell| !cell.is_empty())
}

fn note_wrong<T>(result: Result<T, Refusal>, wrong: &mut Vec<Refusal>) -> Option<T> {
    note_all(result.map_err(|refusal| vec![refusal]), wrong)
}

fn note_all<T>(result: Result<T, Vec<Refusal>>, wrong: &mut Vec<Refusal>) -> Option<T> {
    result.map_err(|refusals| wrong.extend(refusals)).ok()
}
