//! The sets of an exercise in one session as evidence of strength, or of how long it is held.

use super::ladder::Ladder;
use super::past::least;
use crate::domain::exercise::{Exercise, Sides};
use crate::domain::history::Outing;
use crate::domain::program::{Ask, RestWindow};
use crate::domain::session::{Ended, Performed, RestKnown, SetKind, SetRecord};
use crate::domain::strength::belief::{Ending, HoldSeen, SetSeen};
use crate::domain::units::Civil;
use chrono::Datelike;

/// Rest before a set of which nothing is known, in seconds.
pub(super) const USUAL_REST: u32 = 120;
/// The longest rest that a clock is believed, in seconds.
const LONGEST_REST: f64 = 3600.0;
/// Seconds of a rep.
const REP_SECONDS: f64 = 3.0;

/// A session as evidence.
#[derive(Clone, PartialEq, Debug)]
pub struct Seen {
    /// On which day.
    pub day: i64,
    /// Its sets.
    pub sets: Vec<SetSeen>,
}

/// Sets of an exercise in one session, and what was asked of them.
pub struct Work<'a> {
    at: Civil,
    deload: bool,
    ask: Option<Ask>,
    rest: Option<RestWindow>,
    sets: Vec<&'a Performed>,
}

impl<'a> Work<'a> {
    /// Those of an outing.
    pub fn of(outing: &'a Outing) -> Self {
        Self {
            at: outing.at,
            deload: outing.deload,
            ask: outing.ask,
            rest: outing.rest,
            sets: outing.sets.iter().collect(),
        }
    }

    /// The sets as evidence; none where they are no reps with a mass.
    pub fn seen(&self, exercise: &Exercise, ladder: &Ladder) -> Option<Seen> {
        let mut sets = Vec::with_capacity(self.sets.len());
        let mut before = None;
        for set in &self.sets {
            let record = &set.record;
            if record.done.is_hold() {
                return None;
            }
            let asked = record.asked.count();
            let failed = failed(record);
            sets.push(SetSeen {
                load: ladder.moved(record.load)?,
                reps: record.done.deciding(),
                asked,
                least: self.ask.map_or(asked, least).min(asked),
                ending: if failed {
                    Ending::Failed
                } else {
                    Ending::Stopped {
                        spare: record.spare.map(|spare| f64::from(spare.get())),
                    }
                },
                rest: self.rest_before(exercise, before, set),
                measured: record
                    .rest
                    .is_some_and(|rest| rest.known == RestKnown::Measured),
                evidence: self.is_evidence(record),
            });
            before = Some(*set);
        }
        (!sets.is_empty()).then_some(Seen {
            day: day_of(self.at),
            sets,
        })
    }

    /// The sets as holds; none where they are no seconds with a mass.
    pub fn held(&self, exercise: &Exercise, ladder: &Ladder) -> Option<Vec<HoldSeen>> {
        let mut sets = Vec::with_capacity(self.sets.len());
        let mut before = None;
        for set in &self.sets {
            let record = &set.record;
            sets.push(HoldSeen {
                load: ladder
                    .moved(record.load)
                    .filter(|_| record.done.is_hold())?,
                seconds: f64::from(record.done.deciding()),
                failed: failed(record),
                rest: self.rest_before(exercise, before, set),
                evidence: self.is_evidence(record),
            });
            before = Some(*set);
        }
        Some(sets)
    }

    fn is_evidence(&self, record: &SetRecord) -> bool {
        !self.deload && record.kind != SetKind::Ramp
    }

    /// Seconds from the set of this exercise before to this one: the other exercises of a group
    /// are rest for it.
    fn rest_before(&self, exercise: &Exercise, before: Option<&Performed>, set: &Performed) -> f64 {
        let record = &set.record;
        let planned = self
            .rest
            .map_or(f64::from(USUAL_REST), |rest| f64::from(rest.middle()));
        let told = record.rest.map(|rest| f64::from(rest.seconds.get()));
        let told = told.unwrap_or(planned);
        let sides = match exercise.sides {
            Sides::Both => 1.0,
            Sides::Each | Sides::Alternating => 2.0,
        };
        let each = if record.done.is_hold() {
            1.0
        } else {
            REP_SECONDS
        };
        let usual = f64::from(record.done.deciding()) * each * sides;
        let lifted = record.lifted.map_or(usual, |s| f64::from(s.get()));
        let gap = before.map_or(0.0, |before| set.at.since(before.at) as f64 / 1000.0) - lifted;
        if gap > told && gap < LONGEST_REST {
            gap
        } else {
            told
        }
    }
}

/// Whether a set came to its end since no more could be done: a miss, or an open set without a
/// word of more.
fn failed(record: &SetRecord) -> bool {
    let none_spare = record.spare.is_none_or(|spare| spare.get() == 0);
    match record.ended {
        Ended::Short => none_spare,
        Ended::AsAsked => record.open && none_spare,
        Ended::OnPurpose | Ended::Interrupted => false,
    }
}

/// A time's day, counted from the common era.
pub fn day_of(at: Civil) -> i64 {
    i64::from(at.date().num_days_from_ce())
}

/// Sets of an exercise that were done today.
#[derive(Clone, Copy, Default)]
pub struct Done<'a> {
    /// The sets, in order.
    pub sets: &'a [&'a Performed],
    /// What was asked of them.
    pub ask: Option<Ask>,
    /// The rest between them.
    pub rest: Option<RestWindow>,
    /// Whether it is deload work.
    pub deload: bool,
}

impl<'a> Done<'a> {
    /// The same as of a time.
    pub fn work(&self, at: Civil) -> Work<'a> {
        Work {
            at,
            deload: self.deload,
            ask: self.ask,
            rest: self.rest,
            sets: self.sets.to_vec(),
        }
    }
}
