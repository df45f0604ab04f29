//! The time there is for a session, as it is said on the command line.

use super::Failure;
use crate::domain::units::Civil;
use chrono::NaiveTime;

/// Less than this is no session.
const LEAST: i64 = 5;
/// More than this is no box.
const MOST: i64 = 300;

/// The time there is.
#[derive(Clone, Copy, Debug, Default, clap::Args)]
pub struct TimeBox {
    /// Fit the session into so many minutes
    #[arg(long, value_name = "N", conflicts_with = "by")]
    #[arg(value_parser = clap::value_parser!(u32).range(LEAST..=MOST))]
    minutes: Option<u32>,
    /// Fit the session in before a time of day, like 19:10
    #[arg(long, value_name = "HH:MM", value_parser = time)]
    by: Option<NaiveTime>,
}

fn time(text: &str) -> Result<NaiveTime, String> {
    let time = NaiveTime::parse_from_str(text, "%H:%M");
    time.map_err(|_| "write hours and minutes, like 19:10".to_owned())
}

impl TimeBox {
    /// How many minutes there are; none where all the time of the world is.
    ///
    /// # Errors
    ///
    /// The time of day is past, or so near or far that no session can be meant.
    pub fn minutes(self, now: Civil) -> Result<Option<u32>, Failure> {
        let Some(by) = self.by else {
            return Ok(self.minutes);
        };
        let clock = NaiveTime::parse_from_str(&now.clock(), "%H:%M").unwrap_or_default();
        let mut left = (by - clock).num_minutes();
        if left < -12 * 60 {
            // Past midnight.
            left += 24 * 60;
        }
        if !(LEAST..=MOST).contains(&left) {
            let by = by.format("%H:%M");
            return Err(Failure::usage(format!(
                "rackside: it is {}: {by} is {left} minutes from now\n\
                 name a time from {LEAST} minutes to {} hours ahead, or --minutes N",
                now.clock(),
                MOST / 60
            )));
        }
        Ok(u32::try_from(left).ok())
    }
}
