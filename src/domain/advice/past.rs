//! What an exercise's earlier outings say, digested for deciding on the next.

use super::ladder::is_above;
use crate::domain::exercise::{Effort, Exercise};
use crate::domain::gear::PlaceId;
use crate::domain::history::{History, Outing};
use crate::domain::program::{Ask, RestWindow};
use crate::domain::session::{Ended, EventId, SetKind, SetRecord};
use crate::domain::units::{Civil, Load};
use std::cmp::Ordering;

/// Days from one instant to another, by the calendar.
pub fn days_between(from: Civil, to: Civil) -> i64 {
    (to.date() - from.date()).num_days()
}

/// One earlier outing of an exercise, digested. Reps below stand for seconds in a hold.
#[derive(Clone, PartialEq, Debug)]
pub struct Exposure {
    /// Its session.
    pub session: EventId,
    /// When.
    pub at: Civil,
    /// Where, if that is known.
    pub place: Option<PlaceId>,
    /// The load that was worked with.
    pub load: Load,
    /// Reps of the sets at that load, in order; never empty.
    pub counts: Vec<u32>,
    /// Working sets in all, those on the way up among them.
    pub sets: usize,
    /// The least that made a set count as made.
    pub minimum: u32,
    /// Whether a working set missed the minimum.
    pub missed: bool,
    /// Whether a set at that load was cut short by something else than the muscles.
    pub cut: bool,
    /// The fewest reps in reserve that were reported at that load.
    pub spare: Option<u32>,
    /// Whether any working set carries a report of reserve.
    pub reported: bool,
    /// Whether any of them was open: as many as went well.
    pub open: bool,
    /// Seconds of rest that were asked between its sets, where that is known.
    pub rest: Option<u32>,
}

impl Exposure {
    /// The fewest reps of the sets at its load.
    pub fn lowest(&self) -> u32 {
        self.counts.iter().copied().min().unwrap_or(0)
    }

    /// Its counts as people read them: `8 8 7`.
    pub fn told(&self) -> String {
        let counts: Vec<String> = self.counts.iter().map(u32::to_string).collect();
        counts.join(" ")
    }

    fn of(outing: &Outing) -> Option<Self> {
        let sets: Vec<&SetRecord> = outing
            .sets
            .iter()
            .map(|set| &set.record)
            .filter(|record| record.kind == SetKind::Working)
            .collect();
        let when = When {
            session: outing.session.clone(),
            at: outing.at,
            place: outing.place.clone(),
        };
        let same = |load| {
            sets.iter()
                .any(|s| s.load.heavier(load) == Some(Ordering::Equal))
        };
        let planned = outing.planned.filter(|load| same(*load));
        let found = Self::digest(when, &sets, outing.ask.map(least), planned)?;
        let rest = outing.rest.map(RestWindow::middle);
        Some(Self { rest, ..found })
    }

    /// Whether each of at least so many sets at its load made this minimum, none of them cut short.
    pub fn is_clean(&self, sets: u32, least: u32) -> bool {
        let all = u32::try_from(self.counts.len()).is_ok_and(|done| done >= sets);
        all && !self.missed && !self.cut && self.lowest() >= least
    }

    /// What these working sets come to, where `minimum` was the least that made a set and `planned`
    /// the load that was planned for all; `None` of no sets.
    pub fn digest(
        when: When,
        sets: &[&SetRecord],
        minimum: Option<u32>,
        planned: Option<Load>,
    ) -> Option<Self> {
        let load = worked_with(sets, minimum, planned)?;
        let at_load = at_load(sets, load, minimum);
        let spare = at_load.iter().filter_map(|s| s.spare).min();
        Some(Self {
            session: when.session,
            at: when.at,
            place: when.place,
            load,
            counts: at_load.iter().map(|set| set.done.deciding()).collect(),
            sets: sets.len(),
            minimum: minimum.unwrap_or_else(|| sets.first().map_or(1, |s| s.asked.count())),
            missed: sets.iter().any(|set| misses(set, minimum)),
            cut: at_load.iter().any(|set| cut(set)),
            spare: spare.map(|s| s.get()),
            reported: sets.iter().any(|set| set.spare.is_some()),
            open: sets.iter().any(|set| set.open),
            rest: None,
        })
    }
}

/// When and where an outing was.
#[derive(Clone, PartialEq, Debug)]
pub struct When {
    /// Its session.
    pub session: EventId,
    /// When.
    pub at: Civil,
    /// Where, if that is known.
    pub place: Option<PlaceId>,
}

/// What is known of an exercise's past, before the session that is open now.
#[derive(Clone, PartialEq, Debug)]
pub struct Past {
    /// Its outings that were no deload work, oldest first.
    pub exposures: Vec<Exposure>,
    /// Its outings that were.
    pub easier: Vec<Exposure>,
    /// When this exercise, or another of its movement pattern, was done, in order.
    pub trained: Vec<Civil>,
}

impl Past {
    /// The past of `exercise`; `kin` are the exercises of its movement pattern.
    pub fn of<'a>(
        history: &History,
        exercise: &Exercise,
        kin: impl Iterator<Item = &'a Exercise>,
    ) -> Self {
        let holds = exercise.effort == Effort::Hold;
        let fits = |outing: &&Outing| outing.sets.iter().all(|s| s.record.done.is_hold() == holds);
        let mut trained: Vec<Civil> = kin
            .flat_map(|other| history.recent(&other.id))
            .map(|outing| outing.at)
            .collect();
        trained.sort_unstable();
        let digested = |deload: bool| {
            let own = history.recent(&exercise.id);
            own.filter(|outing| outing.deload == deload)
                .filter(fits)
                .filter_map(Exposure::of)
                .collect()
        };
        Self {
            exposures: digested(false),
            easier: digested(true),
            trained,
        }
    }

    /// The last outing that was no deload work.
    pub fn last(&self) -> Option<&Exposure> {
        self.exposures.last()
    }

    /// How many of the last outings in a row missed the minimum with the load of the last.
    pub fn misses_in_a_row(&self) -> usize {
        let Some(last) = self.last() else { return 0 };
        let same = |e: &&Exposure| e.load.heavier(last.load) == Some(Ordering::Equal);
        let back = self.exposures.iter().rev();
        back.take_while(same).take_while(|e| e.missed).count()
    }

    /// Days since the movement was last trained.
    pub fn days_off(&self, now: Civil) -> Option<i64> {
        Some(days_between(*self.trained.last()?, now))
    }

    /// The break before the last time that the movement was trained, in days.
    pub fn break_before_last(&self) -> Option<i64> {
        match self.trained.as_slice() {
            [.., before, last] => Some(days_between(*before, *last)),
            [] | [_] => None,
        }
    }
}

/// The least that makes a set of this ask count as made.
pub fn least(ask: Ask) -> u32 {
    match ask {
        Ask::Reps { min, .. } => min.get(),
        Ask::Hold { min, .. } => min.get(),
    }
}

/// The most that this ask's range holds.
pub fn most(ask: Ask) -> u32 {
    match ask {
        Ask::Reps { min, max } => max.max(min).get(),
        Ask::Hold { min, max } => max.max(min).get(),
    }
}

/// Whether a set is a miss of the minimum: fewer reps, none spare or no word, not cut short by
/// something else. A feeler is held to what it asked.
pub fn misses(set: &SetRecord, minimum: Option<u32>) -> bool {
    let asked = set.asked.count();
    let needed = minimum.map_or(asked, |least| least.min(asked));
    let none_spare = set.spare.is_none_or(|spare| spare.get() == 0);
    set.done.deciding() < needed && none_spare && !cut(set)
}

fn cut(set: &SetRecord) -> bool {
    match set.ended {
        Ended::AsAsked | Ended::Short => false,
        Ended::OnPurpose | Ended::Interrupted => true,
    }
}

/// The sets at a load; those that asked for less than the minimum felt for it, and are left out
/// where there are others.
fn at_load<'a>(sets: &[&'a SetRecord], load: Load, minimum: Option<u32>) -> Vec<&'a SetRecord> {
    let same = |set: &&&SetRecord| set.load.heavier(load) == Some(Ordering::Equal);
    let whole = |set: &&&SetRecord| minimum.is_none_or(|least| set.asked.count() >= least);
    let work: Vec<&SetRecord> = sets.iter().filter(same).filter(whole).copied().collect();
    if work.is_empty() {
        return sets.iter().filter(same).copied().collect();
    }
    work
}

/// Whether the first set tried a heavier load, and the others went on with more reps asked.
fn tried_first(sets: &[&SetRecord]) -> bool {
    let [first, others @ ..] = sets else {
        return false;
    };
    let goes_on = |set: &&SetRecord| {
        is_above(first.load, set.load) && set.asked.count() > first.asked.count()
    };
    !others.is_empty() && others.iter().all(goes_on)
}

/// The load that an outing worked with: the last one where nothing was missed; else the planned
/// one; else the one that the climb of the first sets came to, unless it failed there.
fn worked_with(sets: &[&SetRecord], minimum: Option<u32>, planned: Option<Load>) -> Option<Load> {
    if !sets.iter().any(|set| misses(set, minimum)) || tried_first(sets) {
        return Some(sets.last()?.load);
    }
    if planned.is_some() {
        return planned;
    }
    let climb = sets
        .windows(2)
        .take_while(|pair| matches!(pair, [a, b] if is_above(b.load, a.load)))
        .count();
    let top = sets.get(climb)?;
    if climb > 0 && misses(top, minimum) {
        let settled = sets.get(climb + 1).or_else(|| sets.get(climb - 1))?;
        return Some(settled.load);
    }
    Some(top.load)
}
