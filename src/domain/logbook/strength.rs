//! What an exercise's sessions say of strength: an estimate from each set, a point for each
//! session, and the trend through them.

use super::set::{MOST_SPARE, SetDigest};
use super::trend::{Point, REP_COST, Trend, UNTOLD};
use super::{Logbook, SessionDigest};
use crate::domain::exercise::{Counts, Effort, Exercise};
use crate::domain::history::History;
use crate::domain::session::{Ended, SetKind, SetRecord};
use crate::domain::units::{Load, Mass, Unit};
use chrono::{Datelike, NaiveDate};
use std::cmp::Ordering;
use std::collections::BTreeMap;

/// The sets of a session that a point is made of, from the first on: later ones are too tired to
/// compare where their number changes.
const SETS: usize = 3;
/// What an untold reserve hides of a hold, as a share of it.
const HOLD_UNTOLD: f64 = 0.08;

/// What is followed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Measure {
    /// The estimated one-rep max; of body-weight work with the part of the body that moves.
    Max(Unit),
    /// Reps to failure with this load.
    Reps(Load),
    /// Seconds held with this load.
    Hold(Load),
}

/// One session of an exercise.
#[derive(Clone, PartialEq, Debug)]
pub struct Shown {
    /// Its place in the history's sessions.
    pub session: usize,
    /// The day.
    pub day: NaiveDate,
    /// What each of its sets says, in the measure's unit, in order.
    pub sets: Vec<f64>,
    /// What they say together, where they say enough.
    pub point: Option<Point>,
}

/// An exercise over time.
#[derive(Clone, PartialEq, Debug)]
pub struct Strength {
    /// What is followed.
    pub measure: Measure,
    /// Its sessions, deloads left out, oldest first.
    pub sessions: Vec<Shown>,
    /// The trend through them.
    pub trend: Option<Trend>,
}

/// A set that says something: what it was done with, and reps or seconds to failure.
#[derive(Clone, Copy)]
struct Says {
    load: Load,
    moved: Option<Mass>,
    count: f64,
    told: bool,
}

impl Says {
    /// What a set says; nothing where it only says "at least", or was cut short.
    fn of(set: &SetDigest, record: &SetRecord) -> Option<Self> {
        let counts = set.work && record.kind == SetKind::Working;
        let spare = record.spare.map(|spare| spare.get());
        let (more, told) = match (spare, record.ended) {
            (Some(spare), _) if spare > MOST_SPARE => return None,
            (Some(spare), _) => (f64::from(spare), true),
            (None, Ended::Short) => (0.0, true),
            (None, Ended::AsAsked) if set.held => (0.0, false),
            (None, Ended::AsAsked) => (UNTOLD, false),
            (None, Ended::OnPurpose | Ended::Interrupted) => return None,
        };
        counts.then(|| Self {
            load: record.load,
            moved: set.moved.map(|moved| moved.mass),
            count: f64::from(set.done) + more,
            told,
        })
    }

    /// The value in the measure's unit.
    fn value(&self, measure: Measure) -> Option<f64> {
        match measure {
            Measure::Max(unit) => {
                let kg = self.moved?.amount(unit);
                Some(kg * (1.0 + REP_COST * (self.count - 1.0)))
            }
            Measure::Reps(load) | Measure::Hold(load) => {
                let same = self.load.heavier(load) == Some(Ordering::Equal);
                same.then_some(self.count)
            }
        }
    }

    /// What the rep slope, and a rep in reserve, would change of the value's logarithm.
    fn hangs_on(&self, measure: Measure) -> (f64, f64) {
        match measure {
            Measure::Max(_) => {
                let times = 1.0 + REP_COST * (self.count - 1.0);
                ((self.count - 1.0) / times, REP_COST / times)
            }
            Measure::Reps(_) => (0.0, 1.0 / self.count.max(1.0)),
            Measure::Hold(_) => (0.0, HOLD_UNTOLD),
        }
    }
}

fn point(says: &[Says], measure: Measure, day: NaiveDate) -> Option<Point> {
    let values = says
        .iter()
        .filter_map(|set| Some((set, set.value(measure).filter(|v| *v > 0.0)?)));
    let heaviest = values.clone().map(|(set, _)| set.moved).max()?;
    let top = values.filter(|(set, _)| set.moved == heaviest);
    let mut sum = Point {
        day: f64::from(day.num_days_from_ce()),
        value: 0.0,
        slope: 0.0,
        rep: 0.0,
        untold: 0.0,
    };
    let mut number = 0.0;
    for (set, value) in top.take(SETS) {
        let (slope, rep) = set.hangs_on(measure);
        sum.value += libm::log(value);
        sum.slope += slope;
        sum.rep += rep;
        sum.untold += if set.told { 0.0 } else { 1.0 };
        number += 1.0;
    }
    (number > 0.0).then(|| Point {
        day: sum.day,
        value: sum.value / number,
        slope: sum.slope / number,
        rep: sum.rep / number,
        untold: sum.untold / number,
    })
}

/// The sets of the sessions that say something.
fn says<'a>(
    history: &'a History,
    sessions: &[(&'a SessionDigest, &'a super::Digest)],
) -> Vec<(&'a SessionDigest, Vec<Says>)> {
    let of = |(session, digest): &(&'a SessionDigest, &'a super::Digest)| {
        let done = history.sessions.get(session.place)?;
        let sets = digest.sets.iter().filter_map(|set| {
            let record = &done.sets.get(set.place)?.record;
            Says::of(set, record)
        });
        Some((*session, sets.collect()))
    };
    sessions.iter().filter_map(of).collect()
}

/// The load that most of these sessions were done with, the latest of equals.
fn usual(sessions: &[(&SessionDigest, Vec<Says>)]) -> Option<Load> {
    let mut counts: BTreeMap<(Mass, u8), (usize, Load)> = BTreeMap::new();
    let mut best: Option<(usize, Load)> = None;
    for (_, says) in sessions {
        let Some(load) = says.first().map(|set| set.load) else {
            continue;
        };
        let key = match load {
            Load::Mass(weight) | Load::Body(weight) => (weight.mass, 0),
            Load::Band(step) => (Mass::ZERO, step.0),
        };
        let count = counts.entry(key).or_insert((0, load));
        count.0 += 1;
        if best.is_none_or(|(most, _)| count.0 >= most) {
            best = Some(*count);
        }
    }
    best.map(|(_, load)| load)
}

impl Strength {
    /// What the sessions of an exercise since a day say; reps at a load where one is named. None
    /// where they say nothing.
    pub fn of(
        (history, logbook): (&History, &Logbook),
        exercise: &Exercise,
        (since, until): (NaiveDate, NaiveDate),
        load: Option<Load>,
    ) -> Option<Self> {
        let within = |session: &SessionDigest| (since..=until).contains(&session.day);
        let digests: Vec<(&SessionDigest, &super::Digest)> = logbook
            .of_exercise(&exercise.id)
            .filter(|(session, digest)| within(session) && !digest.deload)
            .collect();
        let sessions = says(history, &digests);
        let measure = measure(exercise, load, &sessions)?;
        let shown = |(session, says): &(&SessionDigest, Vec<Says>)| Shown {
            session: session.place,
            day: session.day,
            sets: says.iter().filter_map(|set| set.value(measure)).collect(),
            point: point(says, measure, session.day),
        };
        let mut sessions: Vec<Shown> = sessions.iter().map(shown).collect();
        sessions.retain(|session| !session.sets.is_empty());
        sessions.sort_by_key(|session| session.day);
        let points: Vec<Point> = sessions
            .iter()
            .filter_map(|session| session.point)
            .collect();
        (!sessions.is_empty()).then(|| Self {
            measure,
            trend: Trend::of(&points),
            sessions,
        })
    }
}

fn measure(
    exercise: &Exercise,
    named: Option<Load>,
    sessions: &[(&SessionDigest, Vec<Says>)],
) -> Option<Measure> {
    let usual = usual(sessions)?;
    let at = named.unwrap_or(usual);
    let by_reps = match exercise.counts {
        Counts::Body { .. } | Counts::Band => true,
        Counts::PerHand | Counts::OneDumbbell | Counts::BarTotal | Counts::BodyPlus { .. } => {
            named.is_some()
        }
    };
    match exercise.effort {
        Effort::Hold => Some(Measure::Hold(at)),
        Effort::Reps if by_reps => Some(Measure::Reps(at)),
        Effort::Reps => Some(Measure::Max(usual.entered()?.unit)),
    }
}
