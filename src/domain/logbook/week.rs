//! Weeks of training: they begin on Monday, as ISO 8601 has it.

use super::Logbook;
use super::digest::SessionDigest;
use super::foster::Foster;
use crate::domain::exercise::{Catalogue, Muscle};
use crate::domain::units::Mass;
use chrono::{Datelike, Days, NaiveDate};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// A week, by its Monday.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Week(NaiveDate);

impl Week {
    /// The week that a day belongs to.
    pub fn of(day: NaiveDate) -> Self {
        let back = Days::new(day.weekday().num_days_from_monday().into());
        Self(day.checked_sub_days(back).unwrap_or(day))
    }

    /// Its Monday.
    pub const fn monday(self) -> NaiveDate {
        self.0
    }

    /// The week so many weeks before.
    #[must_use]
    pub fn back(self, weeks: u64) -> Self {
        Self(
            self.0
                .checked_sub_days(Days::new(7 * weeks))
                .unwrap_or(self.0),
        )
    }

    /// The next week; itself where the calendar ends.
    #[must_use]
    pub fn next(self) -> Self {
        Self(self.0.checked_add_days(Days::new(7)).unwrap_or(self.0))
    }
}

impl fmt::Display for Week {
    /// As ISO 8601 writes it: `2026-W48`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let week = self.0.iso_week();
        write!(f, "{:04}-W{:02}", week.year(), week.week())
    }
}

/// What was done in a week.
#[derive(Clone, PartialEq, Debug)]
pub struct WeekDigest {
    /// Which.
    pub week: Week,
    /// Sessions with at least one set.
    pub sessions: u32,
    /// Days on which there was one.
    pub days: u32,
    /// Hard sets by muscle: whole where it does the work, half where it assists.
    pub hard: BTreeMap<Muscle, f64>,
    /// Hard sets, each once.
    pub hard_sets: u32,
    /// Volume load.
    pub volume: Mass,
    /// Minutes, of the sessions whose minutes are known.
    pub minutes: u32,
    /// Sessions whose effort was said.
    pub told: u32,
    /// The load of each day, Monday first, as far as efforts were said.
    pub loads: [u32; 7],
    /// Whether it is over.
    pub over: bool,
}

impl WeekDigest {
    fn new(week: Week, today: NaiveDate) -> Self {
        Self {
            week,
            sessions: 0,
            days: 0,
            hard: BTreeMap::new(),
            hard_sets: 0,
            volume: Mass::ZERO,
            minutes: 0,
            told: 0,
            loads: [0; 7],
            over: week.next().monday() <= today,
        }
    }

    fn take(&mut self, session: &SessionDigest, catalogue: &Catalogue) {
        self.sessions += 1;
        self.hard_sets += session.hard();
        self.volume = self.volume + session.volume();
        self.minutes = self.minutes.saturating_add(session.minutes.unwrap_or(0));
        self.told += u32::from(session.load().is_some());
        let day = session.day.weekday().num_days_from_monday() as usize;
        if let Some(sum) = self.loads.get_mut(day) {
            *sum = sum.saturating_add(session.load().unwrap_or(0));
        }
        for digest in session.exercises.iter().filter(|digest| digest.hard > 0) {
            let Some(exercise) = catalogue.get(&digest.exercise) else {
                continue;
            };
            for (muscle, share) in exercise.shares() {
                *self.hard.entry(muscle).or_insert(0.0) += share * f64::from(digest.hard);
            }
        }
    }

    /// Load, monotony and strain: none unless the week is over, and every session of it was told
    /// how hard it was.
    pub fn foster(&self) -> Option<Foster> {
        let whole = self.over && self.told == self.sessions && self.sessions > 0;
        whole.then(|| Foster::of(self.loads))
    }
}

impl Logbook {
    /// The weeks from one to another, both among them, those without a session too.
    pub fn weeks(
        &self,
        (first, last): (Week, Week),
        catalogue: &Catalogue,
        today: NaiveDate,
    ) -> Vec<WeekDigest> {
        let mut weeks = Vec::new();
        let mut places = BTreeMap::new();
        let mut week = first;
        while week <= last {
            places.insert(week, weeks.len());
            weeks.push(WeekDigest::new(week, today));
            if week.next() == week {
                break;
            }
            week = week.next();
        }
        let mut days = BTreeSet::new();
        let done = self.sessions.iter().filter(|s| !s.exercises.is_empty());
        for session in done {
            let place = places.get(&session.week());
            if let Some(week) = place.and_then(|place| weeks.get_mut(*place)) {
                week.days += u32::from(days.insert(session.day));
                week.take(session, catalogue);
            }
        }
        weeks
    }

    /// The week of the earliest session, if there is one.
    pub fn first_week(&self) -> Option<Week> {
        self.first_day().map(Week::of)
    }
}
