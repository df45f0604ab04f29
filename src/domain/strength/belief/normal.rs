//! The normal distribution from tables: the same to the bit everywhere, and fast enough to be
//! asked for every cell of a belief.

use std::sync::LazyLock;

/// Cells per standard deviation.
const FINE: f64 = 256.0;
/// Beyond so many standard deviations the tail is nothing.
const END: f64 = 8.0;
const CELLS: usize = (2.0 * END * FINE) as usize + 2;

struct Tables {
    below: Vec<f64>,
    bell: Vec<f64>,
    report: Vec<f64>,
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| {
    let at = |cell: usize| cell as f64 / FINE - END;
    let report = |cell: usize| libm::pow(cell as f64 / REPORT_FINE, REPORT_POWER);
    Tables {
        below: (0..CELLS)
            .map(|cell| 0.5 * libm::erfc(-at(cell) / std::f64::consts::SQRT_2))
            .collect(),
        bell: (0..CELLS)
            .map(|cell| libm::exp(-0.5 * at(cell) * at(cell)))
            .collect(),
        report: (0..=REPORT_FINE as usize + 1).map(report).collect(),
    }
});

/// What a report counts for beside a count of reps: reports of one session share their error.
const REPORT_POWER: f64 = 0.7;
const REPORT_FINE: f64 = 8192.0;

/// A hold on the tables, taken once for many questions.
#[derive(Clone, Copy)]
pub struct Normal(&'static Tables);

impl Normal {
    /// The tables.
    pub fn new() -> Self {
        Self(&TABLES)
    }

    /// The share of a standard normal distribution below `z`, to 2e-6.
    #[inline]
    pub fn below(self, z: f64) -> f64 {
        look_up(&self.0.below, (z + END) * FINE)
    }

    /// exp(-z^2/2), to 2e-6.
    #[inline]
    pub fn bell(self, z: f64) -> f64 {
        look_up(&self.0.bell, (z + END) * FINE)
    }

    /// `y` from 0 to 1, to the power that a report counts for.
    #[inline]
    pub fn report(self, y: f64) -> f64 {
        look_up(&self.0.report, y * REPORT_FINE)
    }
}

/// The value at a place between two cells, by a straight line; the ends hold beyond the table.
#[inline]
fn look_up(table: &[f64], at: f64) -> f64 {
    let last = table.len() - 2;
    let at = at.clamp(0.0, last as f64);
    let cell = at as usize;
    match table.get(cell..cell + 2) {
        Some([a, b]) => a + (b - a) * (at - cell as f64),
        Some(_) | None => 0.0,
    }
}
