//! Every record of every exercise, and when it fell.

use super::{Cell, Ground, Table};
use crate::domain::exercise::ExerciseId;
use crate::domain::logbook::records::{Fell, Lifted, Records, Work};

const COLUMNS: [&str; 10] = [
    "exercise", "name", "record", "load", "reps", "seconds", "value", "unit", "date", "session",
];

pub(super) fn table(ground: Ground<'_>) -> Table {
    let mut table = Table::new(&COLUMNS);
    for exercise in ground.logbook.exercises() {
        let records = Records::of(ground.history, ground.logbook, exercise);
        let rows = of_exercise(&records);
        table
            .rows
            .extend(rows.into_iter().map(|row| row.cells(exercise, ground)));
    }
    table
}

/// One record: its name, load, reps, seconds, value and unit, and when it fell.
struct Row {
    record: &'static str,
    cells: [Cell; 5],
    fell: Fell<()>,
}

impl Row {
    fn cells(self, exercise: &ExerciseId, ground: Ground<'_>) -> Vec<Cell> {
        let name = ground.catalogue.name(exercise);
        let before = [exercise.as_str(), name, self.record].map(Cell::text);
        let session = ground.history.sessions.get(self.fell.session);
        let after = [
            Cell::text(self.fell.day.to_string()),
            Cell::of(session, |session| Cell::text(session.id.to_string())),
        ];
        before.into_iter().chain(self.cells).chain(after).collect()
    }
}

fn of_exercise(records: &Records) -> Vec<Row> {
    let mut rows = Vec::new();
    if let Some(fell) = records.max {
        let max = Cell::decimal(fell.best.mass.amount(fell.best.unit));
        let unit = Cell::text(fell.best.unit.symbol());
        rows.push(Row {
            record: "e1rm",
            cells: [Cell::Empty, Cell::Empty, Cell::Empty, max, unit],
            fell: when(&fell),
        });
    }
    let lifted = |record, held: bool| {
        move |fell: &Fell<Lifted>| {
            let load = Cell::text(fell.best.load.to_string());
            let count = Cell::whole(fell.best.count);
            let (reps, seconds) = match held {
                true => (Cell::Empty, count),
                false => (count, Cell::Empty),
            };
            Row {
                record,
                cells: [load, reps, seconds, Cell::Empty, Cell::Empty],
                fell: when(fell),
            }
        }
    };
    rows.extend(records.heaviest.iter().map(lifted("heaviest", false)));
    rows.extend(records.most.iter().map(lifted("most_reps", false)));
    rows.extend(records.holds.iter().map(lifted("longest_hold", true)));
    if let Some(fell) = records.work {
        let (unit, value) = match fell.best {
            Work::Volume(mass) => ("kg", Cell::kg(mass)),
            Work::Reps(count) => ("reps", Cell::whole(count)),
            Work::Seconds(count) => ("s", Cell::whole(count)),
        };
        rows.push(Row {
            record: "most_work",
            cells: [
                Cell::Empty,
                Cell::Empty,
                Cell::Empty,
                value,
                Cell::text(unit),
            ],
            fell: when(&fell),
        });
    }
    rows
}

const fn when<T>(fell: &Fell<T>) -> Fell<()> {
    Fell {
        best: (),
        day: fell.day,
        session: fell.session,
    }
}
