//! Any bytes as a spreadsheet of sets: each row is told of printably, and what it becomes can be
//! written.

use super::printable;
use chrono::NaiveDate;
use rackside::domain::exercise::Catalogue;
use rackside::domain::history::History;
use rackside::domain::session::{Event, EventId, Stamped};
use rackside::domain::units::{Civil, Unit};
use rackside::formats::{journal, sheet};
use std::sync::LazyLock;

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(crate::files::catalogue);

/// The first byte says how the columns are known.
pub fn run(input: &[u8]) {
    let Some((which, bytes)) = input.split_first() else {
        return;
    };
    let columns = "date,exercise,load,reps,spare,notes";
    let columns = sheet::column_list(columns).expect("columns");
    let wish = sheet::Wish {
        columns: (which % 2 == 1).then_some(columns),
        ..sheet::Wish::default()
    };
    let history = History::default();
    let ground = sheet::Ground {
        catalogue: &CATALOGUE,
        history: &history,
        unit: Unit::Kg,
        today: NaiveDate::from_ymd_opt(2026, 11, 28).expect("a day"),
    };
    let found = match sheet::read(bytes, "sheet.csv", &wish, ground) {
        Ok(found) => found,
        Err(refusal) => {
            assert!(!refusal.why.is_empty() && !refusal.instead.is_empty());
            return;
        }
    };
    for row in &found.rows {
        printable(&sheet::row_line(row, &CATALOGUE));
    }
    let names = sheet::names_text(&found.unknown, "sheet.csv");
    printable(&names);
    if !found.unknown.is_empty() {
        let read = sheet::read_names("names.ron", &names, &CATALOGUE);
        let twice = |problems: Vec<_>| format!("{problems:?}").contains("second time");
        assert!(read.map_or_else(twice, |_| true), "{names}");
    }
    for day in found.days {
        let event = Stamped {
            id: EventId("dev1-run1-1".to_owned()),
            n: 1,
            session: None,
            at: Civil::parse("2026-11-19T18:22:05.123+01:00").expect("a time"),
            event: Event::Imported(Box::new(day)),
        };
        journal::write_line(&event).expect("a line");
    }
}
