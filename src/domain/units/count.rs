//! Counts: repetitions, seconds, reps in reserve, and odds in a hundred.

use std::fmt;

/// A value outside its type's bounds.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct OutOfBounds {
    /// What the value was to be.
    pub what: &'static str,
    /// The least that is taken.
    pub min: u32,
    /// The most that is taken.
    pub max: u32,
}

impl OutOfBounds {
    const fn check(self, count: u32) -> Result<u32, Self> {
        if self.clamp(count) == count {
            Ok(count)
        } else {
            Err(self)
        }
    }

    const fn clamp(self, count: u32) -> u32 {
        if count < self.min {
            self.min
        } else if count > self.max {
            self.max
        } else {
            count
        }
    }
}

impl fmt::Display for OutOfBounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} must be {} to {}", self.what, self.min, self.max)
    }
}

/// Repetitions of a set.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Reps(u16);

impl Reps {
    /// What a value of this type is, for messages.
    pub const WHAT: &str = "reps";
    /// A set may fail before its first rep.
    pub const MIN: u32 = 0;
    /// More than anyone counts in one set.
    pub const MAX: u32 = 999;

    const BOUNDS: OutOfBounds = OutOfBounds {
        what: Self::WHAT,
        min: Self::MIN,
        max: Self::MAX,
    };

    /// So many reps, brought inside the bounds.
    pub const fn clamped(count: u32) -> Self {
        Self(Self::BOUNDS.clamp(count) as u16)
    }

    /// So many reps, or the bounds that the number misses.
    pub const fn new(count: u32) -> Result<Self, OutOfBounds> {
        match Self::BOUNDS.check(count) {
            Ok(count) => Ok(Self(count as u16)),
            Err(missed) => Err(missed),
        }
    }

    /// The count.
    pub const fn get(self) -> u32 {
        self.0 as u32
    }
}

impl fmt::Display for Reps {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// A span in whole seconds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Seconds(u32);

impl Seconds {
    /// What a value of this type is, for messages.
    pub const WHAT: &str = "seconds";
    /// Nothing at all.
    pub const MIN: u32 = 0;
    /// A day.
    pub const MAX: u32 = 86_400;

    const BOUNDS: OutOfBounds = OutOfBounds {
        what: Self::WHAT,
        min: Self::MIN,
        max: Self::MAX,
    };

    /// So many seconds, brought inside the bounds.
    pub const fn clamped(count: u32) -> Self {
        Self(Self::BOUNDS.clamp(count))
    }

    /// So many seconds, or the bounds that the number misses.
    pub const fn new(count: u32) -> Result<Self, OutOfBounds> {
        match Self::BOUNDS.check(count) {
            Ok(count) => Ok(Self(count)),
            Err(missed) => Err(missed),
        }
    }

    /// The count.
    pub const fn get(self) -> u32 {
        self.0
    }

    /// The same span in milliseconds.
    pub const fn millis(self) -> i64 {
        self.0 as i64 * 1000
    }
}

impl fmt::Display for Seconds {
    /// Minutes and seconds, as on a clock: `1:05`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{:02}", self.0 / 60, self.0 % 60)
    }
}

/// Reps in reserve: how many more the person says they could have done.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Spare(u8);

impl Spare {
    /// What a value of this type is, for messages.
    pub const WHAT: &str = "reps spare";
    /// None left.
    pub const MIN: u32 = 0;
    /// One digit: beyond it nobody can tell.
    pub const MAX: u32 = 9;

    const BOUNDS: OutOfBounds = OutOfBounds {
        what: Self::WHAT,
        min: Self::MIN,
        max: Self::MAX,
    };

    /// So many reps spare, brought inside the bounds.
    pub const fn clamped(count: u32) -> Self {
        Self(Self::BOUNDS.clamp(count) as u8)
    }

    /// So many reps spare, or the bounds that the number misses.
    pub const fn new(count: u32) -> Result<Self, OutOfBounds> {
        match Self::BOUNDS.check(count) {
            Ok(count) => Ok(Self(count as u8)),
            Err(missed) => Err(missed),
        }
    }

    /// The count.
    pub const fn get(self) -> u32 {
        self.0 as u32
    }
}

impl fmt::Display for Spare {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// A stated chance, from 0 to 1, held in ten-thousandths so that it is written as it was said.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Odds(u16);

impl Odds {
    /// The nearest stated chance to `p`; anything not a number is no chance.
    pub fn nearest(p: f64) -> Self {
        let p = if p.is_finite() {
            p.clamp(0.0, 1.0)
        } else {
            0.0
        };
        Self(libm::round(p * 10_000.0) as u16)
    }

    /// The chance from 0 to 1.
    pub fn chance(self) -> f64 {
        f64::from(self.0) / 10_000.0
    }

    /// In a hundred, as people say it; never 0 or 100, which would be a promise.
    pub fn in_hundred(self) -> u32 {
        (u32::from(self.0) + 50).div_euclid(100).clamp(1, 99)
    }
}

impl fmt::Display for Odds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} in 100", self.in_hundred())
    }
}

/// A count to failure that was predicted, reps or seconds held, in tenths so that it is written as
/// it was said.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Predicted(u32);

impl Predicted {
    /// The most that is predicted: a day, in seconds.
    pub const MAX: f64 = Seconds::MAX as f64;

    /// The nearest to `count`, brought inside the bounds; anything not a number is none at all.
    pub fn nearest(count: f64) -> Self {
        let count = if count.is_finite() {
            count.clamp(0.0, Self::MAX)
        } else {
            0.0
        };
        Self(libm::round(count * 10.0) as u32)
    }

    /// The count.
    pub fn count(self) -> f64 {
        f64::from(self.0) / 10.0
    }
}
