//! Which session of a program is today's, and why.

use super::stall;
use crate::domain::history::{Adoption, History};
use crate::domain::program::{Phase, Program, Rhythm};
use crate::domain::session::SetKind;
use crate::domain::units::Civil;
use crate::domain::words;
use chrono::{Datelike, NaiveDate, Weekday};

/// After so many days off the first phase is proposed again (more than eight weeks).
const LONG_OFF: i64 = 56;

/// A session of a program, and why it is the one.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Today {
    /// Phase of the program, from 1.
    pub phase: u16,
    /// Week of the phase, from 1.
    pub week: u16,
    /// Day of the phase, from 1.
    pub day: u16,
    /// What it is called, for the person to choose by.
    pub name: String,
    /// Whether the week is an easier one.
    pub easier_week: bool,
    /// Why it is this one.
    pub why: String,
}

/// A session of the program that was done.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Done {
    pub phase: u16,
    pub week: u16,
    pub day: u16,
    pub name: String,
    pub date: NaiveDate,
}

/// The session of a program that is today's. One session counts as done once a working set of it
/// is recorded.
pub fn today(program: &Program, history: &History, now: Civil) -> Today {
    let date = now.date();
    let done = done(program, history, date);
    let adoption = adoption(program, history, date);
    let phase = adoption.map_or(1, |adoption| adoption.adopted.phase);
    let today = after(program, &done, (date, phase));
    stall::eased(today, program, history, date)
}

/// The session that follows those that were done, on a day; `phase` is the one to begin with.
pub(super) fn after(program: &Program, done: &[Done], (date, phase): (NaiveDate, u16)) -> Today {
    let Some(last) = done.last() else {
        let why = "the program begins".to_owned();
        return first_of(program, phase, date, why);
    };
    let off = (date - last.date).num_days();
    if off > LONG_OFF {
        let why = format!("{} weeks off: the first phase again", off / 7);
        return first_of(program, 1, date, why);
    }
    match &program.rhythm {
        Rhythm::Rotation { per_week } => {
            let why = format!("{} was {}", last.name, ago(off));
            in_turn(program, done, u16::from(*per_week), why)
        }
        Rhythm::Every { days } => {
            let due = i64::from(*days) - off;
            let last_name = &last.name;
            let why = match due {
                ..=-1 => format!(
                    "due {} ago",
                    words::count(due.unsigned_abs() as usize, "day")
                ),
                0 => format!("due today, {last_name} was {}", ago(off)),
                1.. => format!(
                    "due in {}",
                    words::count(due.unsigned_abs() as usize, "day")
                ),
            };
            in_turn(program, done, u16::from((7 / days.max(&1)).max(1)), why)
        }
        Rhythm::Weekdays(weekdays) => on_weekday(program, done, weekdays, date),
    }
}

/// The other sessions of the same week that can be chosen, and the way into the next phase.
pub fn others(program: &Program, today: &Today) -> Vec<Today> {
    let Some(phase) = program.phases.get(usize::from(today.phase) - 1) else {
        return Vec::new();
    };
    let chosen = || "you chose it".to_owned();
    let days = 1..=u16::try_from(phase.days.len()).unwrap_or(1);
    let other_days = days.filter(|day| *day != today.day);
    let mut all: Vec<Today> = other_days
        .map(|day| at(program, (today.phase, today.week, day), chosen()))
        .collect();
    if usize::from(today.phase) < program.phases.len() {
        all.push(at(program, (today.phase + 1, 1, 1), chosen()));
    }
    if today.phase > 1 {
        all.push(at(program, (today.phase - 1, 1, 1), chosen()));
    }
    all
}

/// The sessions of this program that were done since it was taken up, in order.
///
/// Sessions that were opened before it was said that the program is taken up count only where it
/// was taken up from an earlier day on, and in the phase that was named or a later one.
pub(super) fn done(program: &Program, history: &History, date: NaiveDate) -> Vec<Done> {
    let adoption = adoption(program, history, date);
    let after = adoption.and_then(|adoption| adoption.after.as_ref());
    let sessions = history.recent_sessions();
    let before = after.and_then(|id| sessions.iter().position(|s| s.id == *id));
    let counts = |place: usize, done: &Done| {
        let Some(Adoption { adopted, said, .. }) = adoption else {
            return true;
        };
        let earlier = before.is_some_and(|last| place <= last);
        let named = adopted.from < *said && done.phase >= adopted.phase;
        done.date >= adopted.from && (!earlier || named)
    };
    let worked = |session: &crate::domain::session::Session| {
        session
            .sets
            .iter()
            .any(|set| set.record.kind != SetKind::Ramp)
    };
    let sessions = sessions.iter().enumerate();
    sessions
        .filter(|(_, session)| worked(session))
        .filter_map(|(place, session)| {
            let plan = session.plan.as_ref().filter(|p| p.program == program.id)?;
            let done = Done {
                phase: plan.phase,
                week: plan.week,
                day: plan.day,
                name: plan.day_name.clone(),
                date: session.opened.date(),
            };
            Some((place, done))
        })
        .filter(|(place, done)| counts(*place, done))
        .map(|(_, done)| done)
        .collect()
}

/// When the program was taken up, where it is the one that holds on the day.
pub(super) fn adoption<'h>(
    program: &Program,
    history: &'h History,
    date: NaiveDate,
) -> Option<&'h Adoption> {
    let adoption = history.choices.adopted_on(date)?;
    (adoption.adopted.program == program.id).then_some(adoption)
}

/// Days in turn: so many sessions make a week.
fn in_turn(program: &Program, done: &[Done], per_week: u16, why: String) -> Today {
    let Some(last) = done.last() else {
        return at(program, (1, 1, 1), why);
    };
    let phase = place_of(last.phase, program.phases.len());
    let same = |other: &&Done| other.phase == last.phase && other.week == last.week;
    let in_week = done.iter().rev().take_while(same).count();
    let days = program
        .phases
        .get(phase)
        .map_or(1, |phase| phase.days.len());
    let day = u16::try_from(usize::from(last.day) % days.max(1) + 1).unwrap_or(1);
    if in_week < usize::from(per_week) {
        return at(program, (last.phase, last.week, day), why);
    }
    next_week(program, (last.phase, last.week), day, why)
}

/// The week after, in the next phase where this one is over; at the end the last phase again.
fn next_week(program: &Program, (phase, week): (u16, u16), day: u16, why: String) -> Today {
    let weeks = program
        .phases
        .get(place_of(phase, program.phases.len()))
        .map_or(1, |p| p.weeks);
    if week < u16::from(weeks) {
        return at(program, (phase, week + 1, day), why);
    }
    if usize::from(phase) < program.phases.len() {
        let why = format!("{why}; a new phase begins");
        return at(program, (phase + 1, 1, 1), why);
    }
    let why = "the program is through: its last phase again, or take up another".to_owned();
    at(program, (phase, 1, 1), why)
}

/// Each day on its weekday: today's; one that was missed this week; else the next.
fn on_weekday(program: &Program, done: &[Done], days: &[Weekday], date: NaiveDate) -> Today {
    let week_of = |date: NaiveDate| (date.iso_week().year(), date.iso_week().week());
    let this: Vec<&Done> = done
        .iter()
        .filter(|d| week_of(d.date) == week_of(date))
        .collect();
    let (phase, week) = phase_and_week(program, done, date);
    let is_done = |place: usize| this.iter().any(|done| usize::from(done.day) == place + 1);
    let day = |place: usize| u16::try_from(place + 1).unwrap_or(1);
    let today = date.weekday();
    let places = || days.iter().enumerate();
    if let Some((place, _)) = places().find(|(place, d)| **d == today && !is_done(*place)) {
        return at(
            program,
            (phase, week, day(place)),
            "it is its day".to_owned(),
        );
    }
    let before = |d: Weekday| d.num_days_from_monday() < today.num_days_from_monday();
    let missed = places().find(|(place, d)| before(**d) && !is_done(*place));
    if let (Some((place, missed)), false) = (missed, days.contains(&today)) {
        let why = format!("missed on {}", long(*missed));
        return at(program, (phase, week, day(place)), why);
    }
    let after = |d: Weekday| d.num_days_from_monday() > today.num_days_from_monday();
    if let Some((place, next)) = places().find(|(place, d)| after(**d) && !is_done(*place)) {
        let why = format!("its day is {}", long(*next));
        return at(program, (phase, week, day(place)), why);
    }
    let why = days
        .first()
        .map_or_else(String::new, |d| format!("its day is {}", long(*d)));
    if this.is_empty() {
        return at(program, (phase, week, 1), why);
    }
    next_week(program, (phase, week), 1, why)
}

/// Weeks without a session do not count: the phase waits.
fn phase_and_week(program: &Program, done: &[Done], date: NaiveDate) -> (u16, u16) {
    let Some(last) = done.last() else {
        return (1, 1);
    };
    let same_week = last.date.iso_week() == date.iso_week();
    if same_week {
        return (last.phase, last.week);
    }
    let next = next_week(program, (last.phase, last.week), 1, String::new());
    (next.phase, next.week)
}

fn first_of(program: &Program, phase: u16, date: NaiveDate, why: String) -> Today {
    match &program.rhythm {
        Rhythm::Weekdays(days) => {
            let today = on_weekday(program, &[], days, date);
            at(program, (phase, 1, today.day), why)
        }
        Rhythm::Rotation { .. } | Rhythm::Every { .. } => at(program, (phase, 1, 1), why),
    }
}

fn place_of(number: u16, len: usize) -> usize {
    usize::from(number.max(1) - 1).min(len.saturating_sub(1))
}

/// The session at a place of the program, brought inside what the program has.
fn at(program: &Program, (phase, week, day): (u16, u16, u16), why: String) -> Today {
    let place = place_of(phase, program.phases.len());
    let found: Option<&Phase> = program.phases.get(place);
    let weeks = found.map_or(1, |phase| u16::from(phase.weeks));
    let week = week.clamp(1, weeks);
    let days = found.map_or(1, |phase| phase.days.len());
    let day = place_of(day, days);
    let names = found.and_then(|p| Some((p.name.as_str(), p.days.get(day)?.name.as_str())));
    let (phase_name, day_name) = names.unwrap_or_default();
    Today {
        phase: u16::try_from(place + 1).unwrap_or(1),
        week,
        day: u16::try_from(day + 1).unwrap_or(1),
        name: format!("{day_name} · {phase_name}, week {week} of {weeks}"),
        easier_week: found.is_some_and(|phase| phase.is_easier(week)),
        why,
    }
}

fn ago(days: i64) -> String {
    match days {
        ..=0 => "today".to_owned(),
        1 => "yesterday".to_owned(),
        days => format!("{days} days ago"),
    }
}

const fn long(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "Monday",
        Weekday::Tue => "Tuesday",
        Weekday::Wed => "Wednesday",
        Weekday::Thu => "Thursday",
        Weekday::Fri => "Friday",
        Weekday::Sat => "Saturday",
        Weekday::Sun => "Sunday",
    }
}
