//! Every session in a row.

use super::{Cell, Ground, Table};
use crate::domain::logbook::SessionDigest;
use crate::domain::session::Session;
use crate::domain::units::Civil;

const COLUMNS: [&str; 17] = [
    "session",
    "source",
    "date",
    "at",
    "iso_week",
    "program",
    "phase",
    "week",
    "day",
    "place",
    "effort",
    "minutes",
    "load",
    "exercises",
    "hard_sets",
    "volume_kg",
    "notes",
];

pub(super) fn table(ground: Ground<'_>) -> Table {
    let mut table = Table::new(&COLUMNS);
    for (session, digest) in ground.history.sessions.iter().zip(&ground.logbook.sessions) {
        let at = session.source.is_none().then_some(session.opened);
        let mut row = vec![
            Cell::text(session.id.to_string()),
            Cell::of(session.source.as_ref(), Cell::text),
            Cell::text(session.opened.date().to_string()),
            Cell::of(at, at_second),
            Cell::text(digest.week().to_string()),
        ];
        row.extend(planned(session, digest));
        row.extend([
            Cell::of(digest.load(), Cell::whole),
            Cell::count(digest.exercises.len()),
            Cell::whole(digest.hard()),
            Cell::kg(digest.volume()),
            notes(session),
        ]);
        table.rows.push(row);
    }
    table
}

/// Program, phase, week, day, place, effort and minutes of a session.
pub(super) fn planned(session: &Session, digest: &SessionDigest) -> [Cell; 7] {
    let plan = session.plan.as_ref();
    [
        Cell::of(plan, |plan| Cell::text(plan.program.as_str())),
        Cell::of(plan, |plan| Cell::text(&plan.phase_name)),
        Cell::of(plan, |plan| Cell::whole(plan.week)),
        Cell::of(plan, |plan| Cell::text(&plan.day_name)),
        Cell::of(plan, |plan| Cell::text(plan.place.as_str())),
        Cell::of(digest.effort, Cell::whole),
        Cell::of(digest.minutes, Cell::whole),
    ]
}

/// All notes of a session in one cell.
pub(super) fn notes(session: &Session) -> Cell {
    let notes: Vec<&str> = session
        .notes
        .iter()
        .map(|(_, note)| note.as_str())
        .collect();
    Cell::text(notes.join(" | "))
}

/// A time to the second with its offset from UTC (RFC 3339).
pub(super) fn at_second(at: Civil) -> Cell {
    Cell::text(at.to_the_second())
}
