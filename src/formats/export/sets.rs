//! Every set, flat: all that the journal says of it, and of its session and exercise.

use super::sessions::{at_second, notes, planned};
use super::{Cell, Ground, Table};
use crate::domain::exercise::{Counts, Exercise, Muscle, Sides};
use crate::domain::session::{
    Asked, Done, Performed, PlannedItem, PlannedSet, RestKnown, Session, SetKind,
};
use crate::domain::units::Load;
use crate::formats::json;

const COLUMNS: [&str; 46] = [
    "session",
    "set_id",
    "source",
    "date",
    "at",
    "program",
    "phase",
    "week",
    "day",
    "place",
    "effort",
    "minutes",
    "notes",
    "item",
    "exercise",
    "name",
    "kind",
    "set",
    "load",
    "unit",
    "load_kg",
    "counts",
    "percent",
    "sides",
    "body_weight_kg",
    "reps",
    "left",
    "right",
    "seconds",
    "seconds_left",
    "seconds_right",
    "asked",
    "spare",
    "rest_s",
    "rest_measured",
    "took_s",
    "odds",
    "ended",
    "deload",
    "damaged",
    "plan_exercise",
    "plan_odds",
    "plan_sets",
    "plan_load",
    "plan_asked",
    "muscles",
];

pub(super) fn table(ground: Ground<'_>) -> Table {
    let mut table = Table::new(&COLUMNS);
    for (session, digest) in ground.history.sessions.iter().zip(&ground.logbook.sessions) {
        let body = ground
            .history
            .body_weight_on(digest.day)
            .or(ground.body_weight);
        let body = Cell::of(body, |weight| Cell::kg(weight.mass));
        let of_session = planned(session, digest);
        for (place, set) in session.sets.iter().enumerate() {
            let exercise = ground.catalogue.get(&set.record.exercise);
            let name = ground.catalogue.name(&set.record.exercise);
            let mut row = vec![
                Cell::text(session.id.to_string()),
                Cell::text(set.id.to_string()),
                Cell::of(session.source.as_ref(), Cell::text),
                Cell::text(digest.day.to_string()),
            ];
            // Of imported sets the day alone is known.
            let at = session.source.is_none().then_some(set.at);
            row.push(Cell::of(at, at_second));
            row.extend(of_session.iter().cloned());
            row.push(notes(session));
            row.extend(load(set, name, exercise));
            row.push(body.clone());
            row.extend(done(set));
            row.extend(plan(session, place, set));
            row.push(Cell::of(exercise, |e| muscles(&e.prime, &e.assisting)));
            table.rows.push(row);
        }
    }
    table
}

/// Item, exercise, name, kind, set, load, unit, load_kg, counts, percent and sides.
fn load(set: &Performed, name: &str, exercise: Option<&Exercise>) -> [Cell; 11] {
    let record = &set.record;
    let entered = record.load.entered();
    let (counts, percent) = match record.counts {
        Counts::PerHand => ("per_hand", None),
        Counts::OneDumbbell => ("one_dumbbell", None),
        Counts::BarTotal => ("bar_total", None),
        Counts::Body { percent } => ("body", Some(percent)),
        Counts::BodyPlus { percent } => ("body_plus", Some(percent)),
        Counts::Band => ("band", None),
    };
    let sides = exercise.map(|exercise| match exercise.sides {
        Sides::Both => "both",
        Sides::Each => "each",
        Sides::Alternating => "alternating",
    });
    [
        Cell::whole(u64::from(record.item) + 1),
        Cell::text(record.exercise.as_str()),
        Cell::text(name),
        Cell::text(json::kind(record.kind)),
        Cell::whole(record.number),
        Cell::text(record.load.to_string()),
        Cell::of(entered, |weight| Cell::text(weight.unit.symbol())),
        match record.load {
            Load::Mass(weight) | Load::Body(weight) => Cell::kg(weight.mass),
            Load::Band(_) => Cell::Empty,
        },
        Cell::text(counts),
        Cell::of(percent, Cell::whole),
        Cell::of(sides, Cell::text),
    ]
}

/// Reps to damaged.
fn done(set: &Performed) -> Vec<Cell> {
    let record = &set.record;
    let (left, right) = record.done.by_side();
    let by_side = |cell: u32, split: bool| match split {
        true => Cell::whole(cell),
        false => Cell::Empty,
    };
    let (reps, held) = match record.done {
        Done::Reps(_) => (false, false),
        Done::RepsBySide { .. } => (true, false),
        Done::Held(_) => (false, false),
        Done::HeldBySide { .. } => (false, true),
    };
    let count = Cell::whole(record.done.deciding());
    let (of_reps, of_seconds) = match record.done.is_hold() {
        true => (Cell::Empty, count),
        false => (count, Cell::Empty),
    };
    let measured = |rest: crate::domain::session::Rest| rest.known == RestKnown::Measured;
    vec![
        of_reps,
        by_side(left, reps),
        by_side(right, reps),
        of_seconds,
        by_side(left, held),
        by_side(right, held),
        Cell::whole(record.asked.count()),
        Cell::of(record.spare, |spare| Cell::whole(spare.get())),
        Cell::of(record.rest, |rest| Cell::whole(rest.seconds.get())),
        Cell::of(record.rest, |rest| Cell::Flag(measured(rest))),
        Cell::of(record.lifted, |took| Cell::whole(took.get())),
        Cell::of(record.odds, |odds| Cell::decimal(odds.chance())),
        Cell::text(json::ended(record.ended)),
    ]
}

/// Deload, damaged, and what the plan of the session said when it was opened.
fn plan(session: &Session, place: usize, set: &Performed) -> Vec<Cell> {
    let record = &set.record;
    let deload = session
        .planned_for(record)
        .is_some_and(|planned| planned.deload);
    let mut row = vec![Cell::Flag(deload), Cell::Flag(set.damaged)];
    let items = session.plan.iter().flat_map(|plan| &plan.items);
    let Some(item) = items.into_iter().nth(record.item.into()) else {
        row.extend(std::iter::repeat_n(Cell::Empty, 5));
        return row;
    };
    let working = |set: &&PlannedSet| set.kind == SetKind::Working;
    let planned = planned_set(session, place, set, item);
    row.extend([
        Cell::text(item.exercise.as_str()),
        Cell::of(item.odds, |odds| Cell::decimal(odds.chance())),
        Cell::count(item.sets.iter().filter(working).count()),
        Cell::of(planned, |planned| Cell::text(planned.load.to_string())),
        Cell::of(planned, |planned| match planned.asked {
            Asked::Reps(reps) => Cell::whole(reps.get()),
            Asked::Hold(seconds) => Cell::whole(seconds.get()),
        }),
    ]);
    row
}

/// The planned working set that this one is held against: the first against the first, and so on.
fn planned_set<'p>(
    session: &Session,
    place: usize,
    set: &Performed,
    item: &'p PlannedItem,
) -> Option<&'p PlannedSet> {
    let own = |other: &&Performed| {
        other.record.item == set.record.item
            && other.record.exercise == item.exercise
            && other.record.kind == SetKind::Working
            && !other.damaged
    };
    if !own(&set) {
        return None;
    }
    let before = session.sets.iter().take(place).filter(own).count();
    let working = item.sets.iter().filter(|set| set.kind == SetKind::Working);
    working.into_iter().nth(before)
}

/// Muscles that do the work, and, in brackets, those that assist.
fn muscles(prime: &[Muscle], assisting: &[Muscle]) -> Cell {
    let prime = prime.iter().map(ToString::to_string);
    let assisting = assisting.iter().map(|muscle| format!("({muscle})"));
    Cell::text(prime.chain(assisting).collect::<Vec<_>>().join(", "))
}
