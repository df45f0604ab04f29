//! What a damaged file can be turned into: a new text, and line by line what would differ.

use super::line::{Value, read_value};
use super::read::read;
use super::seal::{self, Seal};

/// A new text for a file, beside what it was made from.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Mended {
    /// The text.
    pub bytes: Vec<u8>,
    /// Where it differs, in order.
    pub changes: Vec<Change>,
}

/// A line that differs.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Change {
    /// Which line of the file, from 1.
    pub line: usize,
    /// The line, as far as it is text.
    pub before: String,
    /// What stands in its place; nothing where nothing in it can be read.
    pub after: Vec<String>,
}

/// A text of all that can be read as an event, each on a line of its own, byte for byte; the rest
/// is left out. Damaged events stay as they are, with their wrong checksums.
pub fn salvage(file: &[u8]) -> Mended {
    let found = read(file, "");
    let entries = found.entries.iter().map(|e| (e.line, e.bytes(file)));
    let unused = found.unused.iter().map(|u| (u.line, u.bytes(file)));
    let mut pieces: Vec<(usize, &[u8])> = entries.chain(unused).collect();
    // Bytes of one file: where a piece stands is where its bytes begin.
    pieces.sort_by_key(|(line, piece)| (*line, piece.as_ptr()));
    let mut pieces = pieces.into_iter().peekable();
    by_line(file, |number, _| {
        let mut after = Vec::new();
        while let Some((_, piece)) = pieces.next_if(|(line, _)| *line == number) {
            after.push(piece.to_vec());
        }
        after
    })
}

/// A text in which every event that stands alone on its line has the right checksum; all other
/// lines are as they were. For a person who changed lines and stands by them.
pub fn reseal(file: &[u8]) -> Mended {
    by_line(file, |_, line| vec![resealed(line)])
}

fn resealed(line: &[u8]) -> Vec<u8> {
    // Where another event shares the line, what is read as this one's comment would take it along.
    if seal::segments(line).any(|(_, segment)| seal::first_right(segment).is_some()) {
        return line.to_vec();
    }
    let sealed = seal::open(line.trim_ascii());
    // What stands behind the value is a comment, and goes.
    let value = seal::up_to_bracket(sealed.value).unwrap_or_default();
    let value = std::str::from_utf8(value).unwrap_or_default();
    match (read_value(value), sealed.seal) {
        (Value::Event(_), Seal::Absent | Seal::Wrong) => {
            let mut line = value.as_bytes().to_vec();
            line.extend(seal::seal(value).bytes());
            line
        }
        (Value::Event(_), Seal::Right) | (Value::Unknown(_) | Value::Nonsense(_), _) => {
            line.to_vec()
        }
    }
}

/// Puts for each line of a file what `after` gives for it.
fn by_line(file: &[u8], mut after: impl FnMut(usize, &[u8]) -> Vec<Vec<u8>>) -> Mended {
    let mut mended = Mended::default();
    for (k, whole) in file.split_inclusive(|byte| *byte == b'\n').enumerate() {
        let line = whole.strip_suffix(b"\n").unwrap_or(whole);
        let after = after(k + 1, line);
        let is_same = match after.as_slice() {
            [] => line.is_empty(),
            [one] => one == line,
            _ => false,
        };
        if !is_same {
            let text = |bytes: &Vec<u8>| String::from_utf8_lossy(bytes).into_owned();
            mended.changes.push(Change {
                line: k + 1,
                before: String::from_utf8_lossy(line).into_owned(),
                after: after.iter().map(text).collect(),
            });
        }
        for line in after {
            mended.bytes.extend(line);
            mended.bytes.push(b'\n');
        }
    }
    mended
}
