//! Every week from the first session to today: hard sets of each muscle, volume load, strain.

use super::{Cell, Ground, Table};
use crate::domain::exercise::Muscle;
use crate::domain::logbook::week::{Week, WeekDigest};

const COLUMNS: [&str; 12] = [
    "iso_week",
    "monday",
    "over",
    "sessions",
    "days",
    "told",
    "minutes",
    "hard_sets",
    "volume_kg",
    "load",
    "monotony",
    "strain",
];

/// The column of a muscle: "sets_front_deltoid".
fn column(muscle: Muscle) -> String {
    format!("sets_{}", muscle.to_string().replace(' ', "_"))
}

pub(super) fn table(ground: Ground<'_>) -> Table {
    let mut table = Table::new(&COLUMNS);
    table.columns.extend(Muscle::ALL.map(column));
    let Some(first) = ground.logbook.first_week() else {
        return table;
    };
    let last = Week::of(ground.today).max(first);
    let weeks = ground
        .logbook
        .weeks((first, last), ground.catalogue, ground.today);
    table.rows = weeks.iter().map(row).collect();
    table
}

fn row(week: &WeekDigest) -> Vec<Cell> {
    let foster = week.foster();
    let mut row = vec![
        Cell::text(week.week.to_string()),
        Cell::text(week.week.monday().to_string()),
        Cell::Flag(week.over),
        Cell::whole(week.sessions),
        Cell::whole(week.days),
        Cell::whole(week.told),
        Cell::whole(week.minutes),
        Cell::whole(week.hard_sets),
        Cell::kg(week.volume),
        Cell::of(foster, |foster| Cell::whole(foster.load)),
        Cell::of(foster.and_then(|foster| foster.monotony), Cell::decimal),
        Cell::of(foster.and_then(|foster| foster.strain), Cell::decimal),
    ];
    let sets = |muscle| week.hard.get(&muscle).copied().unwrap_or(0.0);
    row.extend(Muscle::ALL.map(|muscle| Cell::decimal(sets(muscle))));
    row
}
