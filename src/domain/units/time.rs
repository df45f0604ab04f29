//! Instants as values: a clock that counts suspend for rests, civil time for records.

use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, SecondsFormat, Timelike};
use std::fmt;

/// A span in milliseconds, negative when it runs backward.
pub type Millis = i64;

/// Milliseconds since the machine started, suspend included. Comparable within one start only.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Boot(pub Millis);

impl Boot {
    /// Milliseconds from `earlier` to this instant; negative when it is later.
    pub const fn since(self, earlier: Self) -> Millis {
        self.0 - earlier.0
    }

    /// This instant moved by `span`.
    pub const fn plus(self, span: Millis) -> Self {
        Self(self.0 + span)
    }
}

/// What the clock on the wall said, to the millisecond, with its offset from UTC.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Civil(DateTime<FixedOffset>);

impl Civil {
    /// The instant, cut to whole milliseconds.
    pub fn new(at: DateTime<FixedOffset>) -> Self {
        let millis = at.timestamp_subsec_millis();
        Self(at.with_nanosecond(millis * 1_000_000).unwrap_or(at))
    }

    /// Reads `2026-11-19T18:22:05.123+01:00`.
    pub fn parse(text: &str) -> Option<Self> {
        DateTime::parse_from_rfc3339(text).ok().map(Self::new)
    }

    /// Milliseconds since the beginning of 1970, and the offset from UTC in seconds.
    pub fn parts(self) -> (i64, i64) {
        let offset = self.0.offset().local_minus_utc();
        (self.0.timestamp_millis(), offset.into())
    }

    /// The instant of these parts; `None` where the calendar has none.
    pub fn of_parts(millis: i64, offset: i64) -> Option<Self> {
        let offset = FixedOffset::east_opt(offset.try_into().ok()?)?;
        let at = DateTime::from_timestamp_millis(millis)?;
        Some(Self(at.with_timezone(&offset)))
    }

    /// The date where the person was.
    pub fn date(self) -> NaiveDate {
        self.0.date_naive()
    }

    /// The beginning of the day where the person was.
    pub fn midnight(self) -> Self {
        Self(
            self.0
                .with_time(chrono::NaiveTime::MIN)
                .single()
                .unwrap_or(self.0),
        )
    }

    /// Noon of a day, at the same offset; unmoved where the calendar ends.
    pub fn noon_of(self, day: NaiveDate) -> Self {
        let noon = day.and_hms_opt(12, 0, 0);
        let noon = noon.and_then(|noon| noon.and_local_timezone(*self.0.offset()).single());
        Self(noon.unwrap_or(self.0))
    }

    /// The calendar year where the person was.
    pub fn year(self) -> i32 {
        self.0.year()
    }

    /// Hours and minutes where the person was: `18:22`.
    pub fn clock(self) -> String {
        self.0.format("%H:%M").to_string()
    }

    /// The same to the second: `2026-11-19T18:22:05+01:00`.
    pub fn to_the_second(self) -> String {
        self.0.to_rfc3339_opts(SecondsFormat::Secs, false)
    }

    /// Milliseconds from `earlier` to this instant by the wall clock; negative when it is later.
    pub fn since(self, earlier: Self) -> Millis {
        (self.0 - earlier.0).num_milliseconds()
    }

    /// This instant moved by `span`, same offset; unmoved where the calendar ends.
    pub fn plus(self, span: Millis) -> Self {
        let moved = self
            .0
            .checked_add_signed(chrono::TimeDelta::milliseconds(span));
        Self(moved.unwrap_or(self.0))
    }
}

impl fmt::Display for Civil {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.to_rfc3339_opts(SecondsFormat::Millis, false))
    }
}

/// The two clocks, read together. Comes in with every message; nothing pure reads a clock.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Now {
    /// For rests and lifting times.
    pub boot: Boot,
    /// For records.
    pub civil: Civil,
}
