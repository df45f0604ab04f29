//! A picture of values over days, in characters: marks for sets, a band, a line.

use super::said::amount;
use chrono::NaiveDate;

/// One set in a cell, several, what is believed, the trend, an equation.
const ONE: char = '•';
const SEVERAL: char = '●';
const BAND: char = '░';
const LINE: char = '─';
const CHECK: char = '+';
/// Cells left of the axis.
const LABEL: usize = 6;

/// What is drawn. Days are counted from the common era.
#[derive(Clone, Debug, Default)]
pub struct Plot {
    /// Sets: day and value.
    pub points: Vec<(f64, f64)>,
    /// Day, low end, high end, in order.
    pub band: Vec<(f64, f64, f64)>,
    /// Day and value by an equation.
    pub check: Vec<(f64, f64)>,
    /// Day and value of points on the trend's line, in order.
    pub line: Vec<(f64, f64)>,
}

/// The picture's cells, and what they stand for.
struct Canvas {
    cells: Vec<Vec<char>>,
    days: (f64, f64),
    values: (f64, f64),
}

impl Canvas {
    fn column(&self, day: f64) -> usize {
        let columns = self.cells.first().map_or(1, Vec::len);
        place(day, self.days, columns)
    }

    fn row(&self, value: f64) -> usize {
        let rows = self.cells.len();
        rows - 1 - place(value, self.values, rows)
    }

    fn put(&mut self, (column, row): (usize, usize), mark: char) {
        if let Some(cell) = self.cells.get_mut(row).and_then(|row| row.get_mut(column)) {
            let again = mark == ONE && (*cell == ONE || *cell == SEVERAL);
            *cell = if again { SEVERAL } else { mark };
        }
    }
}

/// Where a value falls among so many cells.
fn place(value: f64, (low, high): (f64, f64), cells: usize) -> usize {
    let share = if high > low {
        (value - low) / (high - low)
    } else {
        0.5
    };
    let last = cells.saturating_sub(1);
    (libm::round(share.clamp(0.0, 1.0) * last as f64) as usize).min(last)
}

/// What lies between two of the known values of a line, at a day.
fn between(known: &[(f64, f64)], day: f64) -> Option<f64> {
    let after = known.iter().position(|(other, _)| *other >= day)?;
    let (next, value) = *known.get(after)?;
    if next <= day || after == 0 {
        return (next <= day).then_some(value);
    }
    let (last, before) = *known.get(after - 1)?;
    Some(before + (value - before) * (day - last) / (next - last))
}

fn extent(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values.fold(None, |extent, value| {
        let (low, high) = extent.unwrap_or((value, value));
        Some((f64::min(low, value), f64::max(high, value)))
    })
}

impl Plot {
    /// The picture in so many columns and rows, with its axes; nothing where nothing is to be
    /// drawn, or there is no room.
    pub fn lines(&self, (columns, rows): (usize, usize)) -> Vec<String> {
        let days = self.points.iter().map(|(day, _)| *day);
        let days = days.chain(self.band.iter().map(|(day, ..)| *day));
        let values = self.points.iter().map(|(_, value)| *value);
        // What was believed at first may be so wide that nothing else could be seen beside it.
        let last = self.band.last().into_iter();
        let ends = last.flat_map(|(_, low, high)| [*low, *high]);
        let lines = self.line.iter().chain(&self.check);
        let values = values.chain(lines.map(|(_, value)| *value));
        let (Some(days), Some((low, high))) = (extent(days), extent(values.chain(ends))) else {
            return Vec::new();
        };
        if columns < 20 || rows < 5 {
            return Vec::new();
        }
        // A little room, so that nothing that hardly moves looks like much.
        let room = ((high + low) / 2.0 * 0.1 - (high - low) / 2.0).max((high - low) * 0.04);
        let mut canvas = Canvas {
            cells: vec![vec![' '; columns - LABEL - 2]; rows - 2],
            days,
            values: (low - room, high + room),
        };
        self.paint(&mut canvas);
        framed(&canvas)
    }

    fn paint(&self, canvas: &mut Canvas) {
        let lows: Vec<(f64, f64)> = self.band.iter().map(|(day, low, _)| (*day, *low)).collect();
        let highs: Vec<(f64, f64)> = self
            .band
            .iter()
            .map(|(day, _, high)| (*day, *high))
            .collect();
        let columns = canvas.cells.first().map_or(0, Vec::len);
        let (first, last) = canvas.days;
        for column in 0..columns {
            let share = column as f64 / columns.saturating_sub(1).max(1) as f64;
            let day = first + (last - first) * share;
            if let (Some(low), Some(high)) = (between(&lows, day), between(&highs, day)) {
                for row in canvas.row(high)..=canvas.row(low) {
                    canvas.put((column, row), BAND);
                }
            }
            if let Some(value) = between(&self.line, day) {
                let row = canvas.row(value);
                canvas.put((column, row), LINE);
            }
        }
        for (day, value) in &self.check {
            let at = (canvas.column(*day), canvas.row(*value));
            canvas.put(at, CHECK);
        }
        for (day, value) in &self.points {
            let at = (canvas.column(*day), canvas.row(*value));
            canvas.put(at, ONE);
        }
    }
}

/// The cells with the axes: values at the left, the first and the last day below.
fn framed(canvas: &Canvas) -> Vec<String> {
    let rows = canvas.cells.len();
    let (low, high) = canvas.values;
    let mut lines = Vec::with_capacity(rows + 2);
    for (row, cells) in canvas.cells.iter().enumerate() {
        let marked = row == 0 || row + 1 == rows || row == rows / 2;
        let share = 1.0 - row as f64 / (rows - 1) as f64;
        let label = if marked {
            amount(low + (high - low) * share)
        } else {
            String::new()
        };
        let axis = if marked { '┤' } else { '│' };
        let cells: String = cells.iter().collect();
        let line = format!("{label:>LABEL$} {axis}{cells}");
        lines.push(line.trim_end().to_owned());
    }
    let columns = canvas.cells.first().map_or(0, Vec::len);
    let date = |day: f64| {
        let day = NaiveDate::from_num_days_from_ce_opt(libm::round(day) as i32);
        day.map_or_else(String::new, |day| day.format("%-d %b %Y").to_string())
    };
    let (first, last) = (date(canvas.days.0), date(canvas.days.1));
    let gap = columns.saturating_sub(first.len() + last.len());
    let indent = " ".repeat(LABEL + 2);
    lines.push(format!(
        "{}{}",
        " ".repeat(LABEL + 1),
        "─".repeat(columns + 1)
    ));
    lines.push(format!("{indent}{first}{}{last}", " ".repeat(gap)));
    lines
}
