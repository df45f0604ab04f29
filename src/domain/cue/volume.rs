//! How loud signs are.

/// How loud signs are, in percent of what they are as written: 0 to 100.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Volume(u8);

impl Volume {
    /// As written.
    pub const FULL: Self = Self(100);

    /// So many percent; none above 100.
    pub fn new(percent: u8) -> Option<Self> {
        (percent <= 100).then_some(Self(percent))
    }

    /// In percent.
    pub const fn percent(self) -> u8 {
        self.0
    }

    /// A sample at this volume. The third power makes equal steps sound about equal, as the volume
    /// controls of sound servers have it.
    pub fn of(self, sample: i16) -> i16 {
        let share = i64::from(self.0).pow(3);
        let scaled = i64::from(sample) * share / 1_000_000;
        i16::try_from(scaled).unwrap_or(sample)
    }
}

impl Default for Volume {
    fn default() -> Self {
        Self::FULL
    }
}
