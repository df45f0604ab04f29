//! Journals of every version of the format, read for ever.

use rackside::domain::history::History;
use rackside::formats::journal::{Seal, VERSION, read, union, write_line};
use rackside::formats::json;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Versions and samples of them: what was added within a version has a sample of its own.
const SAMPLES: [(u32, &str); 3] = [(0, "0"), (1, "1"), (1, "1-imports")];

fn sample(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/journals");
    folder.join(name)
}

/// Each line reads without a complaint, says what it said when it was written, and would be
/// written the same today.
#[test]
fn every_version_reads_as_it_was_written() {
    for (version, name) in SAMPLES {
        let path = sample(&format!("{name}.ron"));
        let bytes = fs::read(&path).expect("a sample of every version");
        let found = read(&bytes, "sample");
        assert_eq!(found.problems, [], "{}", path.display());
        let text = String::from_utf8(bytes).expect("a text");
        assert_eq!(found.entries.len(), text.lines().count());
        for (entry, line) in found.entries.iter().zip(text.lines()) {
            assert_eq!(entry.seal, Seal::Right);
            let (value, _) = line.rsplit_once(" // crc ").expect("a checksum");
            let today = write_line(&entry.stamped).expect("a line");
            let (today, _) = today.rsplit_once(" // crc ").expect("a checksum");
            let then = value.replacen(&format!("v:{version},"), &format!("v:{VERSION},"), 1);
            assert_eq!(then, today);
        }
        let history = History::of(union(vec![found]).events);
        let sets = history.sessions.iter().flat_map(|session| &session.sets);
        let told: String = sets.map(|set| format!("{}\n", json::set(set))).collect();
        let expected = fs::read_to_string(sample(&format!("{name}.sets.jsonl")));
        assert_eq!(told, expected.expect("what the sample tells"));
    }
}

/// The page that promises the format names every event and the version that is written.
#[test]
fn the_page_of_the_format_is_complete() {
    let page = include_str!("../../../shared/journal.md");
    assert!(page.starts_with(&format!("# The journal, format {VERSION}\n")));
    let newest = SAMPLES.iter().filter(|(version, _)| *version == VERSION);
    let samples: String = newest
        .map(|(_, name)| fs::read_to_string(sample(&format!("{name}.ron"))).expect("a sample"))
        .collect();
    let mut kinds = BTreeSet::new();
    for line in samples.lines() {
        let (_, event) = line.split_once(",event:").expect("an event");
        let name: String = event
            .chars()
            .take_while(char::is_ascii_alphanumeric)
            .collect();
        assert!(
            page.contains(&format!("`{name}`")),
            "{name} is not in the page"
        );
        kinds.insert(name);
    }
    assert_eq!(kinds.len(), 20, "the sample has every kind of event");
}
