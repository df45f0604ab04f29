//! A general database over the same sets, asked for last time, best, and weekly sets per muscle.

use crate::Bench;
use crate::table::Table;
use crate::timed::{middle, once, process};
use rackside::domain::session::Event;
use rackside::domain::units::{Load, Unit};
use rackside::formats::journal::{read, union};
use rackside::formats::table::catalogue;
use rusqlite::{Connection, params};
use std::fs;
use std::path::Path;

pub fn measure(bench: &Bench, table: &mut Table) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("sets.db");
    fill(bench, &path);
    let asked = middle((0..5).map(|_| once(|| ask(&path))).collect());
    let brief = || bench.long.run(&bench.program, &["brief", "--json"]);
    let ours = process(5, brief);
    table.time(
        "last time, best, the week's sets",
        ours,
        ("SQLite, indexed, three queries", asked),
    );
}

const TABLES: &str = "
    CREATE TABLE sets (exercise TEXT, session TEXT, at INTEGER, kg REAL, reps INTEGER);
    CREATE TABLE muscles (exercise TEXT, muscle TEXT, share REAL);
    BEGIN";
const INDEXES: &str = "
    COMMIT;
    CREATE INDEX by_exercise ON sets (exercise, at, kg, reps);
    CREATE INDEX by_time ON sets (at, exercise);
    ANALYZE";

fn fill(bench: &Bench, path: &Path) {
    let files = bench.long.journal();
    let reads = files
        .iter()
        .map(|file| read(&fs::read(file).expect("read"), "journal"));
    let record = union(reads.collect());
    let database = Connection::open(path).expect("a database");
    database.execute_batch(TABLES).expect("tables");
    let mut set = database
        .prepare("INSERT INTO sets VALUES (?, ?, ?, ?, ?)")
        .expect("SQL");
    for stamped in &record.events {
        let Event::Set(done) = &stamped.event else {
            continue;
        };
        let Load::Mass(load) = done.load else {
            continue;
        };
        let session = stamped.session.as_ref().map(ToString::to_string);
        let kg = load.mass.ng() as f64 / Unit::Kg.nanograms() as f64;
        let row = params![
            done.exercise.as_str(),
            session,
            stamped.at.parts().0,
            kg,
            done.done.deciding(),
        ];
        set.execute(row).expect("a row");
    }
    drop(set);
    let mut share = database
        .prepare("INSERT INTO muscles VALUES (?, ?, ?)")
        .expect("SQL");
    for exercise in catalogue(None).expect("it ships").iter() {
        for (muscle, part) in exercise.shares() {
            let row = params![exercise.id.as_str(), format!("{muscle:?}"), part];
            share.execute(row).expect("a row");
        }
    }
    drop(share);
    database.execute_batch(INDEXES).expect("indexes");
}

const LAST: &str = "SELECT kg, reps FROM sets WHERE exercise = ?1 AND session =
    (SELECT session FROM sets WHERE exercise = ?1 ORDER BY at DESC LIMIT 1)";
const BEST: &str =
    "SELECT max(kg * (1 + reps / 30.0)) FROM sets WHERE exercise = ?1 AND reps <= 10";
const WEEK: &str = "SELECT muscle, sum(share) FROM sets JOIN muscles USING (exercise)
    WHERE at > (SELECT max(at) FROM sets) - 604800000 GROUP BY muscle";
const ALL: &str = "SELECT DISTINCT exercise FROM sets";

/// Opens the database and asks the three, for every exercise.
fn ask(path: &Path) -> usize {
    let database = Connection::open(path).expect("a database");
    let mut all = database.prepare(ALL).expect("SQL");
    let names = all
        .query_map([], |row| row.get::<_, String>(0))
        .expect("rows");
    let names: Vec<String> = names.map(|name| name.expect("a name")).collect();
    let mut rows = 0;
    for name in &names {
        for question in [LAST, BEST] {
            let mut query = database.prepare_cached(question).expect("SQL");
            rows += query.query_map([name], |_| Ok(())).expect("rows").count();
        }
    }
    rows + database
        .prepare(WEEK)
        .expect("SQL")
        .query_map([], |_| Ok(()))
        .expect("rows")
        .count()
}
