//! Every exercise of every session: its one-rep maxes, hard sets, volume load.

use super::{Cell, Ground, Table};
use crate::domain::logbook::Digest;
use crate::domain::logbook::set::SetDigest;
use crate::domain::strength::equations::Equation;
use crate::domain::units::{Unit, Weight};

const COLUMNS: [&str; 10] = [
    "session",
    "date",
    "iso_week",
    "exercise",
    "name",
    "deload",
    "sets",
    "hard_sets",
    "volume_kg",
    "unit",
];

/// The column of an equation.
const fn column(equation: Equation) -> &'static str {
    match equation {
        Equation::Epley => "e1rm_epley",
        Equation::Brzycki => "e1rm_brzycki",
        Equation::Lander => "e1rm_lander",
        Equation::Lombardi => "e1rm_lombardi",
        Equation::Mayhew => "e1rm_mayhew",
        Equation::OConner => "e1rm_oconner",
        Equation::Wathan => "e1rm_wathan",
    }
}

pub(super) fn table(ground: Ground<'_>) -> Table {
    let maxes = Equation::ALL.map(column);
    let mut table = Table::new(&[&COLUMNS[..], &maxes].concat());
    for session in &ground.logbook.sessions {
        let id = ground
            .history
            .sessions
            .get(session.place)
            .map(|session| &session.id);
        for digest in &session.exercises {
            let unit = unit(digest);
            let mut row = vec![
                Cell::of(id, |id| Cell::text(id.to_string())),
                Cell::text(session.day.to_string()),
                Cell::text(session.week().to_string()),
                Cell::text(digest.exercise.as_str()),
                Cell::text(ground.catalogue.name(&digest.exercise)),
                Cell::Flag(digest.deload),
                Cell::count(digest.work().count()),
                Cell::whole(digest.hard),
                Cell::kg(digest.volume),
                Cell::of(unit, |unit| Cell::text(unit.symbol())),
            ];
            let maxes = Equation::ALL.map(|equation| one_rep_max(digest, equation, unit));
            row.extend(maxes.map(|max| Cell::of(max, Cell::decimal)));
            table.rows.push(row);
        }
    }
    table
}

/// The unit of the first set of work.
fn unit(digest: &Digest) -> Option<Unit> {
    let moved = digest.work().find_map(|set| set.moved);
    moved.map(|weight| weight.unit)
}

/// The highest of the sets' one-rep maxes, in that unit.
fn one_rep_max(digest: &Digest, equation: Equation, unit: Option<Unit>) -> Option<f64> {
    let unit = unit?;
    let of_set = |set: &SetDigest| {
        let max = set.one_rep_max(equation)?;
        let Weight { unit: own, .. } = set.moved?;
        let per = |unit: Unit| unit.nanograms() as f64;
        Some(if own == unit {
            max
        } else {
            max * per(own) / per(unit)
        })
    };
    digest.sets.iter().filter_map(of_set).max_by(f64::total_cmp)
}
