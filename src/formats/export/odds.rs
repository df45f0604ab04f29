//! Stated odds by range, and how often they came true.

use super::{Cell, Ground, Table};
use crate::domain::strength::calibration::{BINS, Bin, Calibration, Score};

const COLUMNS: [&str; 9] = [
    "odds_of",
    "from",
    "to",
    "stated",
    "came_true",
    "mean_stated",
    "share_true",
    "brier",
    "left_out",
];

pub(super) fn table(ground: Ground<'_>) -> Table {
    let mut table = Table::new(&COLUMNS);
    let found = Calibration::of(ground.history);
    for (name, score) in [("set", &found.sets), ("exercise", &found.exercises)] {
        for (k, bin) in score.bins.iter().enumerate() {
            let edge = |k: usize| Cell::decimal(k as f64 / BINS as f64);
            table
                .rows
                .push(row(name, [edge(k), edge(k + 1)], bin, None));
        }
        let whole = [Cell::whole(0_u32), Cell::whole(1_u32)];
        table
            .rows
            .push(row(name, whole, &score.whole(), Some(score)));
    }
    table
}

/// A range; of the whole from 0 to 1 the score as well.
fn row(name: &str, [from, to]: [Cell; 2], bin: &Bin, score: Option<&Score>) -> Vec<Cell> {
    vec![
        Cell::text(name),
        from,
        to,
        Cell::count(bin.count),
        Cell::count(bin.happened),
        Cell::of(bin.stated(), Cell::decimal),
        Cell::of(bin.came_true(), Cell::decimal),
        Cell::of(score.and_then(Score::brier), Cell::decimal),
        Cell::of(score, |score| Cell::count(score.left_out)),
    ]
}
