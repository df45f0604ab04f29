//! When to back off, and which lifts have come to a stop: what the numbers say, and what could be
//! done. Nothing here changes a plan.

use super::strength::Strength;
use super::trend::Point;
use super::week::Week;
use super::{Logbook, SessionDigest};
use crate::domain::exercise::{Catalogue, ExerciseId};
use crate::domain::history::{History, Outing};
use chrono::{Days, NaiveDate};

/// Days without a session that are a lay-off.
const LAY_OFF: i64 = 14;
/// Days within which a lift was done to be looked at.
const RECENT: u64 = 21;
/// Days that are looked back on for a fall.
const LOOK_BACK: u64 = 120;
/// Exposures that show a fall, those before them, and the share that a fall must come to.
const LAST: usize = 3;
const BEFORE: usize = 6;
const FALL: f64 = 0.02;
/// 90 in 100, one-sided.
const SURE: f64 = 1.2816;
/// No spread of sessions is smaller than this (half of Grgic et al. 2020).
const LEAST_SPREAD: f64 = 0.021;
/// Lifts that must have stopped; custom.
const LIFTS: usize = 2;
/// Weeks between easier ones: every 5.6, give or take 2.3 (Rogerson et al. 2024, abstract).
pub const USUAL: (u64, u64) = (4, 8);
/// Weeks after a lay-off or an easier week without a suggestion.
const FRESH: u64 = 3;

/// What a lift does of late.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Lately {
    /// It missed its least twice running.
    Missed,
    /// Its last three sessions are below those before, 90 in 100.
    Falls,
    /// Neither.
    Holds,
    /// Too few sessions.
    TooFew,
}

/// A lift of late.
#[derive(Clone, PartialEq, Debug)]
pub struct Lift {
    /// Which.
    pub exercise: ExerciseId,
    /// What it does.
    pub lately: Lately,
    /// The last three sessions against those before, as a share; none of too few.
    pub change: Option<f64>,
}

/// What could be done.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Suggestion {
    /// Nothing is known yet.
    TooLittle,
    /// Fresh from an easier week or a lay-off.
    Fresh,
    /// Go on.
    GoOn,
    /// An easier week would be usual about now.
    Usual,
    /// Lifts have stopped: an easier week could help.
    Stopped,
}

/// The last time of less work.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Rest {
    /// An easier session, on this day.
    Easier(NaiveDate),
    /// A lay-off of so many days that ended on this one.
    LayOff(NaiveDate, i64),
}

impl Rest {
    /// When it was over.
    pub const fn ended(self) -> NaiveDate {
        match self {
            Self::Easier(day) | Self::LayOff(day, _) => day,
        }
    }
}

/// How things stand.
#[derive(Clone, PartialEq, Debug)]
pub struct BackingOff {
    /// When work was last less, if ever.
    pub rest: Option<Rest>,
    /// Weeks of training since, or since the first session.
    pub weeks: u64,
    /// The lifts that were done of late, those that stopped first.
    pub lifts: Vec<Lift>,
    /// Effort times minutes of the last whole week, and the mean of the four before; none where
    /// efforts were not said.
    pub load: Option<(f64, f64)>,
    /// What could be done.
    pub suggestion: Suggestion,
}

impl BackingOff {
    /// As of a day.
    pub fn of(
        (history, logbook): (&History, &Logbook),
        catalogue: &Catalogue,
        today: NaiveDate,
    ) -> Self {
        let done = |session: &&SessionDigest| !session.exercises.is_empty();
        let sessions: Vec<&SessionDigest> = logbook.sessions.iter().filter(done).collect();
        let rest = last_rest(&sessions, today);
        let since = rest.map(Rest::ended).or(logbook.first_day());
        let days = since.map_or(0, |since| (today - since).num_days().max(0));
        let weeks = days.unsigned_abs() / 7;
        let mut lifts = lifts((history, logbook), catalogue, today);
        lifts.sort_by_key(|lift| lift.lately);
        let stopped = lifts.iter().filter(|lift| lift.lately < Lately::Holds);
        let stopped = stopped.count();
        let known = lifts.iter().any(|lift| lift.lately != Lately::TooFew);
        let suggestion = match rest {
            _ if !known => Suggestion::TooLittle,
            Some(_) if weeks < FRESH => Suggestion::Fresh,
            _ if stopped >= LIFTS => Suggestion::Stopped,
            _ if weeks >= USUAL.1 => Suggestion::Usual,
            _ => Suggestion::GoOn,
        };
        Self {
            rest,
            weeks,
            lifts,
            load: load(logbook, catalogue, today),
            suggestion,
        }
    }
}

/// The last easier session or lay-off, a lay-off that still lasts among them.
fn last_rest(sessions: &[&SessionDigest], today: NaiveDate) -> Option<Rest> {
    let mut next = today;
    for session in sessions.iter().rev() {
        let gap = (next - session.day).num_days();
        if gap > LAY_OFF {
            return Some(Rest::LayOff(next, gap));
        }
        if session.exercises.iter().all(|digest| digest.deload) {
            return Some(Rest::Easier(session.day));
        }
        next = session.day;
    }
    None
}

fn lifts(
    (history, logbook): (&History, &Logbook),
    catalogue: &Catalogue,
    today: NaiveDate,
) -> Vec<Lift> {
    let back = |days| today.checked_sub_days(Days::new(days)).unwrap_or(today);
    let (recent, since) = (back(RECENT), back(LOOK_BACK));
    let late = logbook.exercises().filter(|id| {
        let last = logbook.of_exercise(id).next_back();
        last.is_some_and(|(session, _)| session.day >= recent)
    });
    let lift = |id: &ExerciseId| {
        let exercise = catalogue.get(id)?;
        let days = (since, today);
        let strength = Strength::of((history, logbook), exercise, days, None);
        let sessions = strength.map_or_else(Vec::new, |strength| strength.sessions);
        let points: Vec<Point> = sessions.iter().filter_map(|shown| shown.point).collect();
        let fell = change(&points);
        let work: Vec<&Outing> = history.outings(id).iter().filter(|o| !o.deload).collect();
        let twice = work.len() >= 2 && work.iter().rev().take(2).all(|outing| outing.missed());
        let lately = match fell {
            _ if twice => Lately::Missed,
            Some((_, true)) => Lately::Falls,
            Some((_, false)) => Lately::Holds,
            None => Lately::TooFew,
        };
        Some(Lift {
            exercise: id.clone(),
            lately,
            change: fell.map(|(change, _)| change),
        })
    };
    late.filter_map(lift).collect()
}

/// The last three sessions against those before, as a share, and whether that is a fall.
fn change(points: &[Point]) -> Option<(f64, bool)> {
    let split = points
        .len()
        .checked_sub(LAST)
        .filter(|before| *before >= LAST)?;
    let (before, last) = points.split_at(split);
    let before = before.get(before.len().saturating_sub(BEFORE)..)?;
    let mean = |points: &[Point]| {
        points.iter().map(|point| point.value).sum::<f64>() / points.len() as f64
    };
    let off = |points: &[Point]| {
        let middle = mean(points);
        points
            .iter()
            .map(|p| (p.value - middle).powi(2))
            .sum::<f64>()
    };
    let free = (before.len() + last.len() - 2) as f64;
    let spread = ((off(before) + off(last)) / free).sqrt().max(LEAST_SPREAD);
    let error = spread * (1.0 / before.len() as f64 + 1.0 / last.len() as f64).sqrt();
    let change = mean(last) - mean(before);
    let falls = change < -SURE * error && change < -FALL;
    Some((libm::expm1(change), falls))
}

/// The load of the last whole week, and the mean of the four before.
fn load(logbook: &Logbook, catalogue: &Catalogue, today: NaiveDate) -> Option<(f64, f64)> {
    let this = Week::of(today);
    let weeks = logbook.weeks((this.back(5), this.back(1)), catalogue, today);
    let loads: Vec<f64> = weeks
        .iter()
        .map(|week| week.foster().map(|foster| f64::from(foster.load)))
        .collect::<Option<_>>()?;
    let (last, before) = loads.split_last()?;
    Some((*last, before.iter().sum::<f64>() / before.len() as f64))
}
