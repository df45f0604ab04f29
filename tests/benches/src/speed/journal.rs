//! The journal: read against the bytes alone and against RON in one pass, append against a bare
//! write and sync.

use crate::Bench;
use crate::table::Table;
use crate::timed::{median, once};
use rackside::formats::journal::{read, union};
use rackside::shell::{Disk, Storage};
use std::fs;
use std::io::Write;

pub fn measure(bench: &Bench, table: &mut Table) {
    let paths = bench.long.journal();
    let load = || -> Vec<Vec<u8>> {
        paths
            .iter()
            .map(|path| fs::read(path).expect("read"))
            .collect()
    };
    let files = load();
    let bytes: usize = files.iter().map(Vec::len).sum();
    let sets = bench.sets;
    let whole = once(|| union(files.iter().map(|file| read(file, "journal")).collect()));
    table.time(
        format!("journal of {sets} sets, read"),
        whole,
        ("the bytes alone", once(load)),
    );
    let ron = once(|| files.iter().map(|file| in_one_pass(file)).sum::<usize>());
    table.time("the same", whole, ("parsed as RON in one pass", ron));
    eprintln!("{bytes} bytes");
    append(&files[0], table);
}

/// Every line as a RON value; how many there were.
fn in_one_pass(file: &[u8]) -> usize {
    let text = std::str::from_utf8(file).expect("text");
    let values = text
        .lines()
        .map(|line| ron::from_str::<ron::Value>(line).expect("RON"));
    values.map(|value| std::hint::black_box(value)).count()
}

fn append(file: &[u8], table: &mut Table) {
    let folder = tempfile::tempdir_in(".").expect("a folder on the disk");
    let end = file.iter().position(|byte| *byte == b'\n').expect("a line");
    let line = &file[..=end];
    let ours = folder.path().join("ours");
    let append = median("append", || Disk.append(&ours, line).expect("appended"));
    let bare = folder.path().join("bare");
    let mut options = fs::OpenOptions::new();
    options.append(true).create(true);
    let write = median("bare", || {
        let mut file = options.open(&bare).expect("opened");
        file.write_all(line).expect("written");
        file.sync_data().expect("synced");
    });
    table.time(
        "a line appended and synced",
        append,
        ("bare write and sync", write),
    );
}
