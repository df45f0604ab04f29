//! Lines put together from chunks of a file, and the places where pieces of them begin.

use super::LONGEST;

/// Where a piece of a file begins.
#[derive(Clone, Copy)]
pub(super) struct Place {
    pub(super) line: usize,
    pub(super) offset: usize,
    /// Whether an event stands before it in its line.
    pub(super) is_inside: bool,
    /// Its bytes, where it is known to be an event.
    pub(super) length: usize,
}

impl Place {
    /// A place so many bytes on in the same line.
    pub(super) const fn after(self, bytes: usize) -> Self {
        Self {
            line: self.line,
            offset: self.offset + bytes,
            is_inside: self.is_inside,
            length: 0,
        }
    }

    /// The same place, of an event of so many bytes.
    pub(super) const fn of(self, length: usize) -> Self {
        Self { length, ..self }
    }

    /// The same, with an event before it.
    pub(super) const fn inside(self, bytes: usize) -> Self {
        Self {
            is_inside: true,
            ..self.after(bytes)
        }
    }
}

/// A line of which the end is not there yet.
#[derive(Debug, Default)]
pub(super) struct Part {
    /// Lines before it.
    lines: usize,
    /// Bytes of the file before it.
    offset: usize,
    /// Zero bytes that it opens with.
    pub(super) zeros: usize,
    /// What follows them, as far as a line may be long.
    pub(super) kept: Vec<u8>,
    /// How many bytes more there were.
    dropped: usize,
    /// Whether they were all zero.
    dropped_zeros: bool,
}

/// The longest line with all that an editor may put around it.
const KEPT: usize = LONGEST + 8;

impl Part {
    /// Takes the next bytes of the line.
    pub(super) fn take(&mut self, bytes: &[u8]) {
        let mut rest = bytes;
        if self.kept.is_empty() {
            let zeros = rest.iter().take_while(|byte| **byte == 0).count();
            self.zeros += zeros;
            rest = rest.get(zeros..).unwrap_or_default();
        }
        let room = KEPT.saturating_sub(self.kept.len()).min(rest.len());
        let (kept, dropped) = rest.split_at(room);
        self.kept.extend_from_slice(kept);
        self.dropped_zeros = (self.dropped == 0 || self.dropped_zeros)
            && dropped.iter().all(|byte| matches!(byte, 0 | b'\n'));
        self.dropped += dropped.len();
    }

    /// This line, ended; what follows begins the next.
    pub(super) fn next(&mut self) -> Self {
        let next = Self {
            lines: self.lines + 1,
            offset: self.offset + self.zeros + self.kept.len() + self.dropped,
            ..Self::default()
        };
        std::mem::replace(self, next)
    }

    /// Where it begins.
    pub(super) const fn place(&self) -> Place {
        Place {
            line: self.lines + 1,
            offset: self.offset,
            is_inside: false,
            length: 0,
        }
    }

    /// Its length, where it is longer than a line may be.
    pub(super) fn too_long(&self) -> Option<usize> {
        let too_long = self.dropped > 0 && !self.dropped_zeros;
        too_long.then_some(self.kept.len() + self.dropped)
    }
}
