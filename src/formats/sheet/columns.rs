//! What stands in which column: as a person says, or as the first row says.

use super::Refusal;
use super::cells::{Cells, Line};
use super::number::has_digit;
use crate::domain::units::Unit;
use crate::domain::words;
use crate::formats::ron_text::near;

/// What a column of a spreadsheet holds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Column {
    /// The day.
    Date,
    /// The exercise, by any name.
    Exercise,
    /// What it was done with, its unit beside it or not.
    Load,
    /// The unit of the load.
    Unit,
    /// Repetitions; each side's where sides take turns.
    Reps,
    /// Repetitions of the left side.
    Left,
    /// Repetitions of the right side.
    Right,
    /// Seconds held; of a set that counts reps, how long it took.
    Seconds,
    /// How many sets like this one.
    Sets,
    /// The number of the set within its exercise.
    Set,
    /// Reps in reserve.
    Spare,
    /// Exertion of the set from 1 to 10, ten being the most (RPE).
    Rpe,
    /// Which side worked.
    Side,
    /// Ramp, working or back-off.
    Kind,
    /// A text.
    Notes,
    /// Effort of the whole session, 0 to 10.
    Effort,
    /// How many minutes the session took.
    Minutes,
    /// Body weight on the day.
    BodyWeight,
    /// Nothing that is wanted.
    Other,
}

impl Column {
    /// What is asked for on the command line, and other words that first rows have for it.
    const NAMES: [(Self, &'static str, &'static [&'static str]); 18] = [
        (
            Self::Date,
            "date",
            &["day", "when", "datetime", "time stamp"],
        ),
        (
            Self::Exercise,
            "exercise",
            &["movement", "lift", "exercise name"],
        ),
        (Self::Load, "load", &["weight", "mass"]),
        (Self::Unit, "unit", &["units", "weight unit", "load unit"]),
        (Self::Reps, "reps", &["rep", "repetitions", "reps done"]),
        (Self::Left, "left", &["reps left", "left reps"]),
        (Self::Right, "right", &["reps right", "right reps"]),
        (
            Self::Seconds,
            "seconds",
            &["hold", "hold s", "secs", "held"],
        ),
        (Self::Sets, "sets", &["number of sets"]),
        (Self::Set, "set", &["set number", "set no", "number"]),
        (Self::Spare, "spare", &["rir", "reps in reserve"]),
        (Self::Rpe, "rpe", &["exertion"]),
        (Self::Side, "side", &["arm", "leg"]),
        (Self::Kind, "kind", &["type", "set type"]),
        (
            Self::Notes,
            "notes",
            &["note", "comment", "comments", "remark"],
        ),
        (Self::Effort, "effort", &["session effort", "session rpe"]),
        (
            Self::Minutes,
            "minutes",
            &["duration min", "session minutes"],
        ),
        (Self::BodyWeight, "body_weight", &["bodyweight", "bw"]),
    ];

    /// Its name on the command line.
    pub fn name(self) -> &'static str {
        let named = Self::NAMES.iter().find(|(column, _, _)| *column == self);
        named.map_or("-", |(_, name, _)| name)
    }
}

/// The columns that a person names, from the left: `date,exercise,load,-,reps`.
///
/// # Errors
///
/// A name is none: what to write.
pub fn list(text: &str) -> Result<Vec<Column>, String> {
    let columns = text.split(',').map(|name| {
        let name = name.trim();
        if name == "-" || name.is_empty() {
            return Ok(Column::Other);
        }
        let names = Column::NAMES.iter().map(|(_, name, _)| *name);
        let known = Column::NAMES.iter().find(|(_, known, _)| *known == name);
        known.map(|(column, _, _)| *column).ok_or_else(|| {
            let hint = near(name, names.clone()).map(|near| format!("; did you mean {near}?"));
            let all: Vec<&str> = names.collect();
            format!(
                "{name} is no column{}\nwrite, from the left, what each column holds: {}, or - for \
                 one that is not wanted",
                hint.unwrap_or_default(),
                all.join(", ")
            )
        })
    });
    let columns: Vec<Column> = columns.collect::<Result<_, _>>()?;
    for (k, column) in columns.iter().enumerate() {
        if *column != Column::Other && columns.iter().take(k).any(|other| other == column) {
            return Err(format!("{} is named twice", column.name()));
        }
    }
    Ok(columns)
}

/// Which column is where.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Layout {
    columns: Vec<Column>,
    /// The unit that the first row names for loads.
    pub(super) unit: Option<Unit>,
    /// How many cells the first row has, where it names the columns.
    pub(super) width: Option<usize>,
    pub(super) remarks: Vec<String>,
}

impl Layout {
    /// As the person says, else as the first row says. A first row that names the columns is taken
    /// from the lines.
    pub(super) fn of(wished: Option<&[Column]>, cells: &mut Cells) -> Result<Self, Refusal> {
        let mut remarks = Vec::new();
        if wished.is_none() {
            remarks.extend(leave_out_titles(&mut cells.lines));
        }
        let Some(first) = cells.lines.first() else {
            return Err(Refusal::new(
                "there is no row in this file",
                "name another file",
            ));
        };
        let (found, unit) = headed(&first.cells);
        let mut layout = Self {
            columns: wished.map_or(found, <[Column]>::to_vec),
            unit,
            width: None,
            remarks,
        };
        let at = |column| layout.columns.iter().position(|other| *other == column);
        let digits = [Column::Date, Column::Reps, Column::Load, Column::Seconds];
        let mut cell = digits
            .iter()
            .filter_map(|column| first.cells.get(at(*column)?));
        let has_digits = cell.any(|cell| has_digit(cell));
        if wished.is_none() {
            layout.is_enough(first, has_digits)?;
        }
        if !has_digits {
            let heading = cells.lines.remove(0);
            layout.width = Some(heading.cells.len());
            layout.remarks.push(match wished {
                None => layout.told(&heading),
                Some(_) => format!("line {} is taken for names of columns", heading.number),
            });
            // Files put one behind the other have it again.
            let before = cells.lines.len();
            cells.lines.retain(|line| line.cells != heading.cells);
            if cells.lines.len() < before {
                let again = words::count(before - cells.lines.len(), "row");
                layout
                    .remarks
                    .push(format!("{again} with the same names left out"));
            }
        }
        Ok(layout)
    }

    fn is_enough(&self, first: &Line, has_digits: bool) -> Result<(), Refusal> {
        if !has_digits && names_enough(&self.columns) {
            return Ok(());
        }
        let cells: Vec<String> = first
            .cells
            .iter()
            .map(|cell| format!("\"{cell}\""))
            .collect();
        Err(Refusal::new(
            format!(
                "the first row does not say which column holds what: {}",
                cells.join(", ")
            ),
            "say so with --columns, from the left, - for what is not wanted: \
             --columns date,exercise,load,reps,-,notes",
        ))
    }

    /// Which columns are used, and which are not.
    fn told(&self, heading: &Line) -> String {
        let pairs = heading.cells.iter().zip(&self.columns);
        let (unused, used): (Vec<_>, Vec<_>) =
            pairs.partition(|(_, column)| **column == Column::Other);
        let used: Vec<String> = used
            .iter()
            .map(|(cell, column)| match column.name() == cell.as_str() {
                true => column.name().to_owned(),
                false => format!("{} (\"{cell}\")", column.name()),
            })
            .collect();
        let unused: Vec<String> = unused
            .iter()
            .map(|(cell, _)| format!("\"{cell}\""))
            .collect();
        let left = match unused.is_empty() {
            true => String::new(),
            false => format!("; not used: {}", unused.join(", ")),
        };
        format!("columns by the first row: {}{left}", used.join(", "))
    }

    /// What a line holds in a column; an empty text where it has none.
    pub(super) fn cell<'l>(&self, line: &'l Line, column: Column) -> &'l str {
        let place = self.columns.iter().position(|other| *other == column);
        let cell = place.and_then(|place| line.cells.get(place));
        cell.map_or("", String::as_str)
    }

    /// Whether nothing that is wanted stands in a line.
    pub(super) fn is_empty(&self, line: &Line) -> bool {
        let wanted = self.columns.iter().zip(&line.cells);
        let mut wanted = wanted.filter(|(column, _)| **column != Column::Other);
        wanted.all(|(_, cell)| cell.is_empty())
    }

    /// All that stands in a column, with the lines.
    pub(super) fn texts<'l>(
        &'l self,
        lines: &'l [&'l Line],
        column: Column,
    ) -> impl Iterator<Item = (u64, &'l str)> {
        lines
            .iter()
            .map(move |line| (line.number, self.cell(line, column)))
    }
}

/// Whether date, exercise and a count are among columns.
fn names_enough(columns: &[Column]) -> bool {
    let has = |column| columns.contains(&column);
    let counts = [Column::Reps, Column::Left, Column::Seconds];
    has(Column::Date) && has(Column::Exercise) && counts.into_iter().any(has)
}

/// So many rows may stand above the one that names the columns.
const TITLES: usize = 20;

/// Takes away what stands above the row that names the columns; says what that is.
fn leave_out_titles(lines: &mut Vec<Line>) -> Option<String> {
    let names = |line: &Line| names_enough(&headed(&line.cells).0);
    let place = lines.iter().take(TITLES).position(names)?;
    let titles: Vec<String> = lines
        .drain(..place)
        .filter(|line| line.cells.iter().any(|cell| !cell.is_empty()))
        .map(|line| {
            let cells: Vec<String> = line.cells.into_iter().filter(|c| !c.is_empty()).collect();
            format!("line {} (\"{}\")", line.number, cells.join(" "))
        })
        .collect();
    let above = "above the row that names the columns, left out";
    (!titles.is_empty()).then(|| format!("{above}: {}", titles.join(", ")))
}

/// The columns that a first row names, each once, and the unit that it names for loads.
fn headed(cells: &[String]) -> (Vec<Column>, Option<Unit>) {
    let mut columns: Vec<Column> = Vec::with_capacity(cells.len());
    let mut unit = None;
    for cell in cells {
        let lower = cell.to_lowercase();
        let words = lower
            .split(|c: char| !c.is_alphanumeric())
            .filter(|w| !w.is_empty());
        let (units, words): (Vec<&str>, Vec<&str>) =
            words.partition(|word| ["kg", "kgs", "lb", "lbs"].contains(word));
        let plain = words.join(" ");
        let is_it = |(_, name, others): &&(Column, &str, &[&str])| {
            name.replace('_', " ") == plain || others.contains(&plain.as_str())
        };
        let found = Column::NAMES
            .iter()
            .find(is_it)
            .map(|(column, _, _)| *column);
        let found = found.filter(|column| !columns.contains(column));
        if let (Some(Column::Load), Some(symbol)) = (found, units.first()) {
            unit = Some(if symbol.starts_with("kg") {
                Unit::Kg
            } else {
                Unit::Lb
            });
        }
        columns.push(found.unwrap_or(Column::Other));
    }
    (columns, unit)
}
