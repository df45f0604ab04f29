//! From rows to days: sides put together, sets numbered, what is there already left out.

use super::doubles::Doubles;
use super::row::{Made, Parsed, Side, by_side};
use super::{Outcome, Refusal, Row, Sheet};
use crate::domain::exercise::ExerciseId;
use crate::domain::history::History;
use crate::domain::session::{Asked, Done, Ended, Imported, SetKind, SetRecord};
use crate::domain::units::{Reps, Seconds};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// The rows of a sheet, read one by one.
pub(super) struct Days<'a> {
    source: String,
    rows: Vec<(u64, Made<'a>)>,
}

impl<'a> Days<'a> {
    pub(super) fn new(source: &str) -> Self {
        Self {
            source: source.to_owned(),
            rows: Vec::new(),
        }
    }

    pub(super) fn take(&mut self, line: u64, made: Made<'a>) {
        self.rows.push((line, made));
    }

    /// What the rows become together. Without a history nothing is a double.
    pub(super) fn finish(self, history: Option<&History>, sheet: &mut Sheet) {
        let mut doubles = history.map(Doubles::of);
        let mut days: BTreeMap<NaiveDate, Day> = BTreeMap::new();
        for (line, made) in paired(self.rows) {
            let outcome = match made {
                Paired::Refused(refusals) => Outcome::Refused(refusals),
                Paired::LeftOut => Outcome::LeftOut,
                Paired::OtherSide(of) => Outcome::OtherSide(of),
                Paired::Set(parsed) => {
                    let double = doubles.as_mut().and_then(|found| found.find(line, &parsed));
                    match double {
                        Some(place) => Outcome::Double(place),
                        None => days.entry(parsed.date).or_default().take(line, *parsed),
                    }
                }
            };
            sheet.rows.push(Row { line, outcome });
        }
        let source = self.source;
        let days = days.into_iter().filter(|(_, day)| !day.sets.is_empty());
        sheet.days = days
            .map(|(date, day)| day.imported(date, &source))
            .collect();
    }
}

enum Paired<'a> {
    Set(Box<Parsed<'a>>),
    OtherSide(u64),
    LeftOut,
    Refused(Vec<Refusal>),
}

/// Puts the rows of the left and the right side of one set together: they follow each other.
fn paired(rows: Vec<(u64, Made<'_>)>) -> Vec<(u64, Paired<'_>)> {
    let mut all: Vec<(u64, Paired<'_>)> = Vec::with_capacity(rows.len());
    for (line, made) in rows {
        let parsed = match made {
            Made::LeftOut => {
                all.push((line, Paired::LeftOut));
                continue;
            }
            Made::Refused(refusals) => {
                all.push((line, Paired::Refused(refusals)));
                continue;
            }
            Made::Set(parsed) => parsed,
        };
        if let Some((before, Paired::Set(half))) = all.last_mut()
            && let Some(done) = both(half, &parsed)
        {
            let before = *before;
            (half.done, half.side) = (done, None);
            all.push((line, Paired::OtherSide(before)));
            continue;
        }
        all.push((line, Paired::Set(parsed)));
    }
    for (_, paired) in &mut all {
        if let Paired::Set(parsed) = paired
            && parsed.side.is_some()
        {
            *paired = Paired::Refused(vec![Refusal::new(
                "the other side is not in the row before or after, with the same load",
                "put left and right in two rows, one after the other; leave the side empty where \
                 both did the same",
            )]);
        }
    }
    all
}

/// What both sides did, where two rows are the two sides of one set.
fn both(half: &Parsed<'_>, other: &Parsed<'_>) -> Option<Done> {
    let alike = half.date == other.date
        && half.exercise.id == other.exercise.id
        && half.load == other.load
        && half.sets == other.sets
        && half.beside.kind == other.beside.kind;
    let (first, second) = (half.done.deciding(), other.done.deciding());
    let (left, right) = match (half.side?, other.side?) {
        (Side::Left, Side::Right) => (first, second),
        (Side::Right, Side::Left) => (second, first),
        (Side::Left, Side::Left) | (Side::Right, Side::Right) => return None,
    };
    let done = match half.done.is_hold() {
        false => by_side(Reps::clamped(left), Reps::clamped(right)),
        true if left == right => Done::Held(Seconds::clamped(left)),
        true => Done::HeldBySide {
            left: Seconds::clamped(left),
            right: Seconds::clamped(right),
        },
    };
    alike.then_some(done)
}

/// A day as it fills.
#[derive(Debug, Default)]
struct Day {
    sets: Vec<SetRecord>,
    exercises: Vec<ExerciseId>,
    effort: Option<(u8, u64)>,
    minutes: Option<(u32, u64)>,
    body_weight: Option<crate::domain::units::Weight>,
    notes: Vec<String>,
    noted: BTreeSet<String>,
    /// The last number of each item and kind.
    numbers: BTreeMap<(u16, SetKind), u16>,
}

impl Day {
    fn take(&mut self, line: u64, parsed: Parsed<'_>) -> Outcome {
        let beside = &parsed.beside;
        let once = said_once(&mut self.effort, beside.effort, line, "effort")
            .and_then(|()| said_once(&mut self.minutes, beside.minutes, line, "minutes"));
        if let Err(refusal) = once {
            return Outcome::Refused(vec![refusal]);
        }
        self.body_weight = self.body_weight.or(beside.body_weight);
        if let Some(note) = &beside.note
            && self.noted.insert(note.clone())
        {
            self.notes.push(note.clone());
        }
        let id = &parsed.exercise.id;
        let known = self.exercises.iter().position(|exercise| exercise == id);
        let item = known.unwrap_or_else(|| {
            self.exercises.push(id.clone());
            self.exercises.len() - 1
        });
        let item = u16::try_from(item).unwrap_or(u16::MAX);
        let last = self.numbers.entry((item, beside.kind)).or_default();
        let from = beside.number.unwrap_or(last.saturating_add(1));
        *last = (*last).max(from.saturating_add(parsed.sets - 1));
        let sets: Vec<SetRecord> = (0..parsed.sets)
            .map(|k| record(&parsed, item, from.saturating_add(k)))
            .collect();
        self.sets.extend(sets.iter().cloned());
        Outcome::Sets(parsed.date, sets)
    }

    fn imported(self, date: NaiveDate, source: &str) -> Imported {
        Imported {
            date,
            source: source.to_owned(),
            sets: self.sets,
            part: None,
            effort: self.effort.map(|(effort, _)| effort),
            minutes: self.minutes.map(|(minutes, _)| minutes),
            body_weight: self.body_weight,
            notes: self.notes,
        }
    }
}

/// What a day has one of: what a later row says must be the same.
fn said_once<T: Copy + PartialEq + std::fmt::Display>(
    held: &mut Option<(T, u64)>,
    said: Option<T>,
    line: u64,
    what: &str,
) -> Result<(), Refusal> {
    match (*held, said) {
        (_, None) => Ok(()),
        (None, Some(said)) => {
            *held = Some((said, line));
            Ok(())
        }
        (Some((held, _)), Some(said)) if held == said => Ok(()),
        (Some((held, before)), Some(said)) => Err(Refusal::new(
            format!("{what} {said} here, and {held} in line {before} of the same day"),
            "a day has one: make them the same, or leave one empty",
        )),
    }
}

fn record(parsed: &Parsed<'_>, item: u16, number: u16) -> SetRecord {
    let count = parsed.done.deciding();
    let asked = match parsed.done.is_hold() {
        true => Asked::Hold(Seconds::clamped(count.max(1))),
        false => Asked::Reps(Reps::clamped(count.max(1))),
    };
    SetRecord {
        item,
        exercise: parsed.exercise.id.clone(),
        counts: parsed.counts,
        kind: parsed.beside.kind,
        number,
        load: parsed.load,
        done: parsed.done,
        asked,
        open: false,
        spare: parsed.beside.spare,
        rest: None,
        lifted: parsed.beside.seconds.filter(|_| !parsed.done.is_hold()),
        odds: None,
        predicted: None,
        ended: if count == 0 {
            Ended::Short
        } else {
            Ended::AsAsked
        },
    }
}
