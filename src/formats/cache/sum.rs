//! The checksum of a file's first bytes.

use super::Settled;
use crc32fast::Hasher;

/// The checksum of bytes that come chunk by chunk, as far as they are to settle.
#[derive(Clone, Debug)]
pub struct Sum {
    sum: Hasher,
    left: u64,
    ends_line: bool,
}

impl Sum {
    /// Of a file's first so many bytes, of which some are known already.
    pub fn onward(known: &Settled, upto: u64) -> Option<Self> {
        Some(Self {
            sum: Hasher::new_with_initial_len(known.sum, known.bytes),
            left: upto.checked_sub(known.bytes)?,
            ends_line: true,
        })
    }

    /// Takes the next bytes, and gives back those that are not to settle.
    pub fn take<'a>(&mut self, bytes: &'a [u8]) -> &'a [u8] {
        let left = usize::try_from(self.left).unwrap_or(usize::MAX);
        let (own, behind) = bytes.split_at(left.min(bytes.len()));
        self.sum.update(own);
        self.left -= own.len() as u64;
        self.ends_line = own.last().map_or(self.ends_line, |last| *last == b'\n');
        behind
    }

    /// The checksum, where all of the bytes came and are whole lines.
    pub fn finish(self) -> Option<u32> {
        (self.left == 0 && self.ends_line).then(|| self.sum.finalize())
    }
}
