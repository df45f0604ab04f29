//! The sessions that come, each with its day, if all goes as planned.

use super::Today;
use super::today::{Done, adoption, after, done};
use crate::domain::history::History;
use crate::domain::program::{Program, Rhythm};
use chrono::{Datelike, Days, NaiveDate};

/// A session to come.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ComingSession {
    /// Its day.
    pub date: NaiveDate,
    /// Which of its week of the program it is, from 1, those done among them.
    pub number: usize,
    /// Which session it is.
    pub session: Today,
}

/// The sessions of a program from a day on, up to its end or for so many days.
pub fn coming(
    program: &Program,
    history: &History,
    (today, days): (NaiveDate, u64),
) -> Vec<ComingSession> {
    let mut known = done(program, history, today);
    let phase = adoption(program, history, today).map_or(1, |adoption| adoption.adopted.phase);
    let end = today.checked_add_days(Days::new(days)).unwrap_or(today);
    let mut found: Vec<ComingSession> = Vec::new();
    let mut earliest = today;
    while let Some(date) = next_day(program, &known, (earliest, &found)) {
        if date >= end {
            break;
        }
        let session = after(program, &known, (date, phase));
        let before = found
            .last()
            .map(|last| (last.session.phase, last.session.week));
        if before.is_some_and(|before| (session.phase, session.week) < before) {
            // Through: what follows is its last phase again.
            break;
        }
        let same = |done: &&Done| done.phase == session.phase && done.week == session.week;
        let number = known.iter().rev().take_while(same).count() + 1;
        known.push(Done {
            phase: session.phase,
            week: session.week,
            day: session.day,
            name: session.name.clone(),
            date,
        });
        found.push(ComingSession {
            date,
            number,
            session,
        });
        let Some(next) = date.succ_opt() else {
            break;
        };
        earliest = next;
    }
    found
}

/// The day of the next session: from `earliest` on.
fn next_day(
    program: &Program,
    done: &[Done],
    (earliest, found): (NaiveDate, &[ComingSession]),
) -> Option<NaiveDate> {
    let trained = done.last().is_some_and(|last| last.date >= earliest);
    let earliest = if trained {
        earliest.succ_opt()?
    } else {
        earliest
    };
    let last = done.last().map(|last| last.date);
    let plus = |days: u64| last.and_then(|last| last.checked_add_days(Days::new(days)));
    match &program.rhythm {
        Rhythm::Weekdays(days) => earliest
            .iter_days()
            .take(7)
            .find(|date| days.contains(&date.weekday())),
        Rhythm::Every { days } => {
            Some(plus(u64::from(*days)).map_or(earliest, |d| d.max(earliest)))
        }
        Rhythm::Rotation { per_week } => {
            // Spread over the week: the n-th session n sevenths of a week behind the first.
            let (n, per_week) = (found.len() as u64, u64::from(*per_week).max(1));
            let first = found.first().map(|first| first.date);
            let spread =
                first.and_then(|first| first.checked_add_days(Days::new(n * 7 / per_week)));
            let rested = plus(7 / per_week);
            Some(
                spread
                    .or(rested)
                    .map_or(earliest, |date| date.max(earliest)),
            )
        }
    }
}
