//! The table that is printed: a figure, its baseline, their ratio.

use std::fmt;

/// Rows in the order in which they were measured.
#[derive(Default)]
pub struct Table(Vec<Row>);

struct Row {
    what: String,
    ours: f64,
    beside: &'static str,
    theirs: f64,
    unit: Unit,
}

/// What a figure counts.
#[derive(Clone, Copy)]
pub enum Unit {
    /// Seconds.
    Time,
    /// Bytes.
    Bytes,
}

impl Table {
    /// A row of times in seconds.
    pub fn time(&mut self, what: impl Into<String>, ours: f64, beside: (&'static str, f64)) {
        self.row(what.into(), ours, beside, Unit::Time);
    }

    /// A row of bytes.
    pub fn bytes(&mut self, what: impl Into<String>, ours: f64, beside: (&'static str, f64)) {
        self.row(what.into(), ours, beside, Unit::Bytes);
    }

    fn row(&mut self, what: String, ours: f64, beside: (&'static str, f64), unit: Unit) {
        eprintln!(
            "{what}: {}, {}: {}",
            unit.say(ours),
            beside.0,
            unit.say(beside.1)
        );
        self.0.push(Row {
            what,
            ours,
            beside: beside.0,
            theirs: beside.1,
            unit,
        });
    }
}

impl Unit {
    /// Three digits, and the unit in which they are easy to read.
    pub fn say(self, value: f64) -> String {
        let steps: &[(f64, &str)] = match self {
            Self::Time => &[(1.0, "s"), (1e-3, "ms"), (1e-6, "µs"), (1e-9, "ns")],
            Self::Bytes => &[(1e9, "GB"), (1e6, "MB"), (1e3, "kB"), (1.0, "B")],
        };
        let fits = steps.iter().find(|(size, _)| value >= *size);
        let (size, unit) = fits.or(steps.last()).copied().unwrap_or((1.0, ""));
        let shown = value / size;
        let places = if shown >= 100.0 {
            0
        } else {
            usize::from(shown < 10.0) + 1
        };
        format!("{shown:.places$} {unit}")
    }
}

impl fmt::Display for Table {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "| what | rackside | beside it | | ratio |\n|---|--:|---|--:|--:|"
        )?;
        for row in &self.0 {
            let (ours, theirs) = (row.unit.say(row.ours), row.unit.say(row.theirs));
            let ratio = row.ours / row.theirs;
            let places = if ratio < 10.0 { 2 } else { 0 };
            let (what, beside) = (&row.what, row.beside);
            writeln!(
                f,
                "| {what} | {ours} | {beside} | {theirs} | {ratio:.places$} |"
            )?;
        }
        Ok(())
    }
}
