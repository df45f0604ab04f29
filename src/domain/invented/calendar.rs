//! When the invented lifter trains: three days a week, some of them missed, now and then a lay-off.

use super::chance::Chance;
use crate::domain::units::{Civil, Millis};
use chrono::{Datelike, Weekday};

/// A day, in milliseconds.
pub const DAY: Millis = 86_400_000;
/// A minute, in milliseconds.
const MINUTE: Millis = 60_000;
/// The days of sixty years. Longer records than fill them hold every day, several sessions each:
/// no journal needs to begin before anyone kept one.
const SIXTY_YEARS: u64 = 60 * 365;
/// Of so many days to train on, one is missed.
const MISSED: i64 = 11;

/// The beginnings of so many sessions, oldest first, the last on a day before `until`.
pub fn beginnings(sessions: u64, until: Civil, chance: &mut Chance) -> Vec<Civil> {
    let crowded = sessions > SIXTY_YEARS * 3 / 7;
    let a_day = sessions.div_ceil(SIXTY_YEARS);
    let wanted = usize::try_from(sessions).unwrap_or(usize::MAX);
    let mut found = Vec::new();
    let mut day = until.midnight();
    let mut until_lay_off = 12 + chance.below(12);
    while found.len() < wanted {
        day = day.plus(-DAY);
        let trains = crowded || is_training_day(day);
        if !trains || chance.below(MISSED) == 0 {
            continue;
        }
        for session in (0..a_day).rev() {
            found.push(day.plus(hour(day, (session, a_day)) + chance.below(55) * MINUTE));
        }
        until_lay_off -= 1;
        if until_lay_off == 0 {
            day = day.plus(-(11 + chance.below(8)) * DAY);
            until_lay_off = 30 + chance.below(40);
        }
    }
    found.truncate(wanted);
    found.reverse();
    found
}

fn is_training_day(day: Civil) -> bool {
    match day.date().weekday() {
        Weekday::Mon | Weekday::Wed | Weekday::Sat => true,
        Weekday::Tue | Weekday::Thu | Weekday::Fri | Weekday::Sun => false,
    }
}

/// When a session begins at the earliest: after work, on Saturdays in the morning; where a day
/// holds several, from six o'clock on.
fn hour(day: Civil, (session, a_day): (u64, u64)) -> Millis {
    if a_day > 1 {
        let place = i64::try_from(session * 16 * 60 / a_day).unwrap_or(0);
        return (6 * 60 + place) * MINUTE;
    }
    let saturday = day.date().weekday() == Weekday::Sat;
    (if saturday { 9 * 60 + 20 } else { 17 * 60 + 40 }) * MINUTE
}
