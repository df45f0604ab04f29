//! Whole commands on a long record and on an empty one; the cache made anew and brought up to date.

use crate::Bench;
use crate::table::Table;
use crate::timed::{once, process};
use std::fs::{self, OpenOptions};
use std::io::Write;

const BRIEF: [&str; 2] = ["brief", "--json"];

pub fn measure(bench: &Bench, table: &mut Table) {
    let long = || bench.long.run(&bench.program, &BRIEF);
    bench.long.forget_caches();
    let cold = process(1, long);
    let warm = process(11, long);
    let empty = process(11, || bench.empty.run(&bench.program, &BRIEF));
    table.time(
        "brief --json, cache up to date",
        warm,
        ("an empty journal", empty),
    );
    let grown = updated(bench);
    table.time(
        "brief --json, one more line to take in",
        grown,
        ("nothing new", warm),
    );
    table.time(
        "brief --json, cache made anew",
        cold,
        ("cache up to date", warm),
    );
    for view in ["sessions", "strength", "work", "balance", "records", "odds"] {
        let command = || bench.long.run(&bench.program, &["trends", view, "--json"]);
        table.time(
            format!("trends {view}"),
            process(1, command),
            ("an empty journal", empty),
        );
    }
}

/// The time that the next start takes after a line was added behind what the cache knows. The line
/// is the last of the last file once more: a record that came twice changes nothing.
fn updated(bench: &Bench) -> f64 {
    let journal = bench.long.journal();
    let last = journal.last().expect("a journal");
    let bytes = fs::read(last).expect("read");
    let text = String::from_utf8_lossy(&bytes);
    let line = text
        .trim_end()
        .rsplit('\n')
        .next()
        .expect("a line")
        .to_owned();
    let mut file = OpenOptions::new().append(true).open(last).expect("opened");
    writeln!(file, "{line}").expect("written");
    let mut command = bench.long.run(&bench.program, &BRIEF);
    let seconds = once(|| command.output().expect("it runs"));
    file.set_len(bytes.len() as u64).expect("as it was");
    drop(file);
    bench
        .long
        .run(&bench.program, &BRIEF)
        .output()
        .expect("it runs");
    seconds
}
