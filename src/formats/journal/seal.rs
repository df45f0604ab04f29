//! The checksum behind a line, and where the value before it ends.

use memchr::memmem;

/// What the checksum of a line says. In order of trust, the most trusted first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Seal {
    /// The line is as it was written.
    Right,
    /// Written by hand, or its checksum taken away: as good.
    Absent,
    /// Damaged.
    Wrong,
}

/// A piece of a line taken apart: the value's bytes, and what its checksum says.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sealed<'a> {
    pub(super) value: &'a [u8],
    pub(super) seal: Seal,
}

const MARK: &[u8] = b"// crc ";
const DIGITS: usize = 8;

/// The comment that seals a value.
pub(super) fn seal(value: &str) -> String {
    format!(" // crc {:08x}", crc32fast::hash(value.as_bytes()))
}

/// The first value that is sealed rightly, from the line's start, and what stands behind it.
/// The checksum is carried on from mark to mark, so that many marks cost no more than one.
pub(super) fn first_right(line: &[u8]) -> Option<(&[u8], &[u8])> {
    let mut summed = crc32fast::Hasher::new();
    let mut done = 0;
    let mut from = 0;
    while let Some(at) = memmem::find(line.get(from..)?, MARK) {
        let mark = from + at;
        from = mark + MARK.len();
        let value = line.get(..mark)?.trim_ascii_end();
        let (digits, behind) = line.get(from..)?.split_at_checked(DIGITS)?;
        if !value.ends_with(b")") {
            continue;
        }
        summed.update(value.get(done..)?);
        done = value.len();
        if digits == hex(summed.clone().finalize()).as_bytes() {
            return Some((value, behind));
        }
    }
    None
}

/// Takes apart a piece that holds one value at most. Expects it without blanks around it.
pub(super) fn open(piece: &[u8]) -> Sealed<'_> {
    let whole = Sealed {
        value: piece,
        seal: Seal::Absent,
    };
    let Some(value) = up_to_bracket(piece) else {
        return whole;
    };
    let behind = piece.get(value.len()..).unwrap_or_default();
    let Some(digits) = behind.trim_ascii_start().strip_prefix(MARK) else {
        return whole;
    };
    let right = digits == hex(crc32fast::hash(value)).as_bytes();
    let seal = if right { Seal::Right } else { Seal::Wrong };
    Sealed { value, seal }
}

/// The pieces of a line that open like a line's value, each up to the next, with their places.
pub(super) fn segments(line: &[u8]) -> impl Iterator<Item = (usize, &[u8])> {
    const OPENING: &[u8] = b"(v:";
    let openings = line.windows(OPENING.len()).enumerate();
    let opens = |(at, bytes): (usize, &[u8])| (bytes == OPENING).then_some(at);
    let mut starts = openings.filter_map(opens).peekable();
    std::iter::from_fn(move || {
        let start = starts.next()?;
        let end = starts.peek().copied().unwrap_or(line.len());
        Some((start, line.get(start..end)?))
    })
}

/// The piece up to its last closing bracket.
pub(super) fn up_to_bracket(piece: &[u8]) -> Option<&[u8]> {
    let bracket = piece.iter().rposition(|byte| *byte == b')')?;
    piece.get(..=bracket)
}

fn hex(checksum: u32) -> String {
    format!("{checksum:08x}")
}
