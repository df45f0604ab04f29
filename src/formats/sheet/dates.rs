//! Dates in the forms that spreadsheets have.

use super::Refusal;
use chrono::NaiveDate;

/// Which comes first in dates like 3/4/2024.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Order {
    /// 3 April.
    DayFirst,
    /// 4 March.
    MonthFirst,
}

/// What is written, as far as it can be told by itself.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Written {
    /// A date.
    Day(NaiveDate),
    /// Two numbers whose order must be known, and a year.
    Either(u32, u32, i32),
}

/// Reads the dates of one sheet.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Dates(Option<Order>);

impl Dates {
    /// As the person says, else as the dates themselves tell: a number above twelve is a day.
    pub(super) fn of<'t>(
        texts: impl Iterator<Item = (u64, &'t str)>,
        wished: Option<Order>,
    ) -> Result<Self, Refusal> {
        if wished.is_some() {
            return Ok(Self(wished));
        }
        let (mut day_first, mut month_first, mut untold) = (None, None, None);
        for (line, text) in texts {
            let Some(Written::Either(a, b, _)) = written(text) else {
                continue;
            };
            match (a > 12, b > 12) {
                (true, false) => day_first = day_first.or(Some((line, text))),
                (false, true) => month_first = month_first.or(Some((line, text))),
                (false, false) if a != b => untold = untold.or(Some((line, text))),
                (false, false) | (true, true) => {}
            }
        }
        let instead = "say which comes first: --dates day-first or --dates month-first";
        match (day_first, month_first, untold) {
            (Some((a, day)), Some((b, month)), _) => Err(Refusal::new(
                format!("line {a} has a day first ({day}), line {b} a month ({month})"),
                instead,
            )),
            (None, None, Some((line, text))) => Err(Refusal::new(
                format!("line {line}: {text} can be two days, and no other line tells which"),
                instead,
            )),
            (Some(_), None, _) => Ok(Self(Some(Order::DayFirst))),
            (None, Some(_), _) => Ok(Self(Some(Order::MonthFirst))),
            (None, None, None) => Ok(Self(None)),
        }
    }

    /// The day that a text says.
    pub(super) fn read(self, text: &str) -> Result<NaiveDate, Refusal> {
        let refusal = || {
            Refusal::new(
                format!("\"{text}\" is no date"),
                "write it as in 2024-03-19, 19.3.2024 or 19 Mar 2024",
            )
        };
        match written(text).ok_or_else(refusal)? {
            Written::Day(date) => Ok(date),
            Written::Either(a, b, year) => {
                let (day, month) = match self.0 {
                    Some(Order::MonthFirst) => (b, a),
                    Some(Order::DayFirst) | None => (a, b),
                };
                NaiveDate::from_ymd_opt(year, month, day).ok_or_else(refusal)
            }
        }
    }
}

/// Days of a spreadsheet's own count that are taken for dates: 1954 to 2119.
const COUNTED: std::ops::Range<i64> = 20_000..80_000;

fn written(text: &str) -> Option<Written> {
    let spaced = text.replace(',', " ");
    let date = match spaced.split_once('T') {
        Some((date, time)) if date.ends_with(is_digit) && time.starts_with(is_digit) => date,
        _ => spaced.as_str(),
    };
    let words = date
        .split_whitespace()
        .filter(|word| !is_time(word) && !is_weekday(word));
    let words: Vec<&str> = words.collect();
    match words.as_slice() {
        [one] if one.chars().all(is_digit) => counted(one),
        // A day of a spreadsheet's count with the time as its fraction.
        [one] if is_fraction(one) => counted(one.split('.').next()?),
        [one] => {
            let parts: Vec<&str> = one.split(['-', '/', '.']).collect();
            let [a, b, c] = parts.as_slice() else {
                return None;
            };
            parted([a, b, c], one.contains('.'))
        }
        [a, b, c] => parted([a, b, c], false),
        _ => None,
    }
}

/// Digits alone: year, month and day in eight, or days since the end of 1899.
fn counted(digits: &str) -> Option<Written> {
    if digits.len() == 8 {
        let date = NaiveDate::parse_from_str(digits, "%Y%m%d").ok()?;
        return Some(Written::Day(date));
    }
    let days: i64 = digits.parse().ok()?;
    let start = NaiveDate::from_ymd_opt(1899, 12, 30)?;
    let date = COUNTED
        .contains(&days)
        .then(|| chrono::TimeDelta::days(days))?;
    start.checked_add_signed(date).map(Written::Day)
}

fn parted([a, b, c]: [&str; 3], dotted: bool) -> Option<Written> {
    let day = |y: i32, m: u32, d: u32| NaiveDate::from_ymd_opt(y, m, d).map(Written::Day);
    match (month(a), month(b)) {
        (Some(m), None) => return day(year(c)?, m, number(b)?),
        (None, Some(m)) if a.len() == 4 && a.chars().all(is_digit) => {
            return day(year(a)?, m, number(c)?);
        }
        (None, Some(m)) => return day(year(c)?, m, number(a)?),
        (Some(_), Some(_)) => return None,
        (None, None) => {}
    }
    if a.len() == 4 {
        return day(year(a)?, number(b)?, number(c)?);
    }
    let (a, b, year) = (number(a)?, number(b)?, year(c)?);
    // Points between numbers are a habit of places where the day comes first.
    if dotted {
        return day(year, b, a);
    }
    (1..=31)
        .contains(&a.max(b))
        .then_some(Written::Either(a, b, year))
}

/// A day or month; "1st" and "1." are 1.
fn number(text: &str) -> Option<u32> {
    let bare = text.trim_end_matches(['.', 's', 't', 'n', 'd', 'r', 'h']);
    let number: u32 = bare.parse().ok()?;
    (1..=31).contains(&number).then_some(number)
}

/// A year; of two digits as POSIX has it: 69 to 99 are of the last century.
fn year(text: &str) -> Option<i32> {
    let year: i32 = text.parse().ok()?;
    match (text.len(), year) {
        (2, 69..) => Some(1900 + year),
        (2, 0..) => Some(2000 + year),
        (4, 1000..) => Some(year),
        _ => None,
    }
}

fn month(text: &str) -> Option<u32> {
    const MONTHS: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let lower = text.trim_end_matches('.').to_lowercase();
    let is_it = |month: &&str| lower.len() >= 3 && month.starts_with(&lower);
    let found = MONTHS.iter().zip(1..).find(|(month, _)| is_it(month));
    found
        .map(|(_, number)| number)
        .or_else(|| (lower == "sept").then_some(9))
}

fn is_time(word: &str) -> bool {
    let lower = word.to_lowercase();
    let marks = ["am", "pm", "z", "utc"];
    (word.contains(':') && word.starts_with(is_digit)) || marks.contains(&lower.as_str())
}

fn is_weekday(word: &str) -> bool {
    const DAYS: [&str; 7] = [
        "monday",
        "tuesday",
        "wednesday",
        "thursday",
        "friday",
        "saturday",
        "sunday",
    ];
    let lower = word.trim_end_matches('.').to_lowercase();
    lower.len() >= 3 && DAYS.iter().any(|day| day.starts_with(&lower))
}

fn is_fraction(word: &str) -> bool {
    let parts = word.split_once('.');
    parts.is_some_and(|(days, time)| {
        days.len() == 5 && (days.to_owned() + time).chars().all(is_digit)
    })
}

const fn is_digit(c: char) -> bool {
    c.is_ascii_digit()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ymd(y: i32, m: u32, d: u32) -> Option<NaiveDate> {
        NaiveDate::from_ymd_opt(y, m, d)
    }

    #[test]
    fn the_forms_of_one_day() {
        // 45370 is the day's number in the count that spreadsheets share, 1 being 31 December 1899
        // (OASIS OpenDocument 1.3, table:null-date, whose default is 1899-12-30).
        for text in [
            "2024-03-19",
            "2024/3/19",
            "20240319",
            "19.3.2024",
            "19.03.24",
            "19 Mar 2024",
            "Tue 19 March 2024",
            "March 19, 2024",
            "Mar 19th, 2024",
            "19-Mar-24",
            "45370",
            "45370.765",
            "2024-03-19T18:22:05+01:00",
            "2024-03-19 18:22",
            "19/3/2024",
            "19/03/2024 6:22 PM",
            "2024-Mar-19",
            "19. Mar. 2024",
        ] {
            let day = Dates(None).read(text);
            assert_eq!(day.ok(), ymd(2024, 3, 19), "{text}");
        }
        for text in [
            "",
            "Total",
            "2024",
            "31.2.2024",
            "19/3",
            "8-12",
            "0000-00-00",
            "12:30",
        ] {
            assert!(Dates(None).read(text).is_err(), "{text}");
        }
    }

    #[test]
    fn the_order_comes_from_the_whole_column() {
        let of = |texts: &[&'static str]| Dates::of((1..).zip(texts.iter().copied()), None);
        let first = |dates: Result<Dates, Refusal>| dates.and_then(|dates| dates.read("3/4/2024"));
        assert_eq!(first(of(&["3/4/2024", "13/4/2024"])).ok(), ymd(2024, 4, 3));
        assert_eq!(first(of(&["3/4/2024", "4/13/2024"])).ok(), ymd(2024, 3, 4));
        assert!(of(&["3/4/2024", "5/6/2024"]).is_err());
        assert!(of(&["13/4/2024", "4/13/2024"]).is_err());
        assert!(of(&["4/4/2024"]).is_ok());
    }
}
