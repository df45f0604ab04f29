//! Any bytes as a journal: read alike in any chunks and by both readers of lines, united alike
//! however often, and what was read is written as it was.

use super::printable;
use rackside::domain::history::History;
use rackside::formats::journal::{Read, Reader, Seal, Trouble, read, union, write_line};

/// More pieces of trouble than this are counted, not listed; some lines have two.
const LISTED: usize = 1_001;

/// Reads the bytes behind the first, which says where the file is cut in two.
pub fn run(input: &[u8]) {
    let Some((cut, bytes)) = input.split_first() else {
        return;
    };
    let whole = read(bytes, "j.ron");
    assert_eq!(whole, in_chunks(bytes, usize::from(*cut) + 1));
    assert!(whole.problems.len() <= LISTED);
    for problem in &whole.problems {
        assert!(problem.offset <= bytes.len());
        printable(&problem.diagnostic().to_string());
    }
    for entry in &whole.entries {
        // The bytes that it is said to have are the event, and nothing else is needed for it.
        let own = read(&bytes[entry.offset..][..entry.length], "j.ron");
        let same: Vec<_> = own.entries.iter().map(|e| (&e.stamped, e.seal)).collect();
        assert_eq!(same, [(&entry.stamped, entry.seal)]);
        let Ok(line) = write_line(&entry.stamped) else {
            // Only lines that people edited; the program writes none of the kind.
            assert_ne!(entry.seal, Seal::Right);
            continue;
        };
        let again = read(line.as_bytes(), "j.ron");
        assert_eq!(again.problems, []);
        assert_eq!(again.entries[0].stamped, entry.stamped);
    }
    let lines = bytes.split(|byte| *byte == b'\n');
    lines.for_each(|line| alike_with_a_blank(value_of(line)));
    unite(&whole, in_two(bytes, usize::from(*cut)));
}

/// A line without its checksum.
pub fn value_of(line: &[u8]) -> &[u8] {
    let mark = line.windows(8).position(|bytes| bytes == b" // crc ");
    &line[..mark.unwrap_or(line.len())]
}

/// A blank keeps a line from the reader of what the program writes. Asks for the same event, or the
/// same complaint, with one behind the first bracket and without.
pub fn alike_with_a_blank(value: &[u8]) {
    let Some(rest) = value.strip_prefix(b"(") else {
        return;
    };
    let said = |bytes: &[u8]| {
        let read = read(bytes, "j.ron");
        let events = read.entries.into_iter().map(|entry| entry.stamped);
        let problems = read.problems.into_iter().map(|problem| problem.trouble);
        (events.collect::<Vec<_>>(), problems.collect::<Vec<_>>())
    };
    assert_eq!(said(value), said(&[b"( ", rest].concat()));
}

fn in_chunks(bytes: &[u8], size: usize) -> Read {
    let mut reader = Reader::new("j.ron");
    bytes.chunks(size).for_each(|chunk| reader.feed(chunk));
    reader.finish()
}

/// The same file as two, cut behind one of its lines.
fn in_two(bytes: &[u8], behind: usize) -> [Read; 2] {
    let mut ends = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n');
    let end = ends.nth(behind).map_or(bytes.len(), |(at, _)| at + 1);
    let (before, after) = bytes.split_at(end);
    [read(before, "j.ron"), read(after, "j.ron")]
}

/// Asks for the same events and damage from the file, from the file twice, and from its halves
/// in the wrong order.
fn unite(whole: &Read, [before, after]: [Read; 2]) {
    let once = union(vec![whole.clone()]);
    let listed = |trouble: &Trouble| matches!(trouble, Trouble::SameId { .. });
    let clash = once.problems.iter().any(|problem| listed(&problem.trouble));
    for other in [
        union(vec![whole.clone(), whole.clone()]),
        union(vec![after, before]),
    ] {
        assert_eq!(once.damaged, other.damaged);
        assert_eq!(once.highest_n, other.highest_n);
        let clashes = other
            .problems
            .iter()
            .any(|problem| listed(&problem.trouble));
        assert_eq!(clash, clashes);
        assert_eq!(once.events, other.events);
    }
    let history = History::with_damaged(once.events, &once.damaged);
    let _ = history.open_session();
}
