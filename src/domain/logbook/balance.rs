//! Pairs of muscles and movements that should keep pace: weekly hard sets first, then loads, where
//! two exercises can be compared.

use super::strength::{Measure, Strength};
use super::week::Week;
use super::{Digest, Logbook, SessionDigest};
use crate::domain::exercise::{Catalogue, Exercise, Pattern};
use crate::domain::history::History;
use chrono::{Days, NaiveDate};

/// Weeks that are looked at, the current one apart.
pub const WEEKS: u64 = 8;
/// Fewer hard sets of both together say nothing.
const THIN: f64 = 20.0;
/// Fewer weeks with a session say nothing.
const FEW_WEEKS: usize = 3;
/// Spreads to either side that a band holds: 95 in 100.
const SURE: f64 = 1.96;
/// Sessions from which a load is taken.
const SESSIONS: usize = 6;
/// Spread of what one session shows (ln), and of equations between two exercises: small-muscle
/// lifts carry about twice the error of large ones (Hutchins & Gearhart 2010, abstract).
const SHOWS: f64 = 0.05;
const BETWEEN: f64 = 0.07;

/// Two things that should keep pace.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Pair {
    /// What each is called.
    pub names: (&'static str, &'static str),
    patterns: (&'static [Pattern], &'static [Pattern]),
    /// The first by the second, in weekly hard sets: what is let be.
    pub sets: (f64, f64),
    /// The same of loads, where they can be compared at all.
    pub loads: Option<(f64, f64)>,
    /// Where that comes from.
    pub source: &'static str,
    /// Where the range of loads comes from.
    pub loads_source: &'static str,
}

const CUSTOM: &str = "common practice, no source";

/// The pairs.
pub const PAIRS: [Pair; 4] = [
    Pair {
        names: ("push across", "pull across"),
        patterns: (&[Pattern::PushAcross], &[Pattern::PullAcross]),
        sets: (0.5, 1.5),
        loads: Some((0.6, 1.4)),
        source: CUSTOM,
        loads_source: CUSTOM,
    },
    Pair {
        names: ("push overhead", "pull overhead"),
        patterns: (&[Pattern::PushOverhead], &[Pattern::PullOverhead]),
        sets: (0.5, 2.0),
        loads: None,
        source: CUSTOM,
        loads_source: CUSTOM,
    },
    Pair {
        names: ("squat", "hinge"),
        patterns: (
            &[Pattern::Squat, Pattern::Lunge, Pattern::KneeExtension],
            &[Pattern::Hinge, Pattern::HipDrive, Pattern::KneeFlexion],
        ),
        sets: (0.5, 2.0),
        loads: None,
        source: CUSTOM,
        loads_source: CUSTOM,
    },
    Pair {
        names: ("elbow extension", "elbow flexion"),
        patterns: (&[Pattern::ElbowExtension], &[Pattern::ElbowFlexion]),
        sets: (0.67, 2.6),
        loads: Some((0.6, 1.4)),
        source: "the extensor is 56 to 72 % of the upper arm: Holzbaur et al. 2007, from memory",
        loads_source: "0.84 to 0.86: Lategan & Kruger 2003; the limit is custom",
    },
];

/// A ratio with its band.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Ratio {
    /// The first by the second.
    pub ratio: f64,
    /// It lies between these, 95 in 100.
    pub band: (f64, f64),
}

impl Ratio {
    fn of(ln: f64, error: f64) -> Self {
        let at = |z: f64| libm::exp(ln + z * error);
        Self {
            ratio: at(0.0),
            band: (at(-SURE), at(SURE)),
        }
    }

    /// Where the whole band lies against a range.
    fn against(self, (low, high): (f64, f64)) -> Says {
        if self.band.1 < low {
            Says::FirstLags
        } else if self.band.0 > high {
            Says::SecondLags
        } else {
            Says::Even
        }
    }
}

/// What a ratio says.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Says {
    /// Too little was done to say.
    TooLittle,
    /// Nothing to change.
    Even,
    /// The first of the two lags.
    FirstLags,
    /// The second lags.
    SecondLags,
}

/// Loads of two exercises that count alike.
#[derive(Clone, PartialEq, Debug)]
pub struct Loads {
    /// Their names.
    pub names: (String, String),
    /// The one-rep max of the first by that of the second.
    pub ratio: Ratio,
    /// What it says.
    pub says: Says,
}

/// A pair as it stands.
#[derive(Clone, PartialEq, Debug)]
pub struct Balance {
    /// Which.
    pub pair: Pair,
    /// Hard sets a week of each.
    pub weekly: (f64, f64),
    /// The first by the second; none where either was not done.
    pub ratio: Option<Ratio>,
    /// What that says.
    pub says: Says,
    /// Loads, where two exercises can be compared.
    pub loads: Option<Loads>,
}

/// The pairs over the last eight whole weeks.
pub fn balance(
    (history, logbook): (&History, &Logbook),
    catalogue: &Catalogue,
    today: NaiveDate,
) -> Vec<Balance> {
    let (first, end) = (Week::of(today).back(WEEKS), Week::of(today));
    let within = |session: &&SessionDigest| {
        (first.monday()..end.monday()).contains(&session.day) && !session.exercises.is_empty()
    };
    let sessions: Vec<&SessionDigest> = logbook.sessions.iter().filter(within).collect();
    let mut weeks: Vec<Week> = sessions.iter().map(|session| session.week()).collect();
    weeks.sort_unstable();
    weeks.dedup();
    PAIRS
        .into_iter()
        .map(|pair| {
            let count = |patterns| hard_sets(&sessions, patterns, catalogue);
            let sets = (count(pair.patterns.0), count(pair.patterns.1));
            let (ratio, says) = by_sets(&pair, sets, weeks.len());
            let number = weeks.len().max(1) as f64;
            Balance {
                pair,
                weekly: (sets.0 / number, sets.1 / number),
                ratio,
                says,
                loads: loads((history, logbook), &pair, catalogue, today),
            }
        })
        .collect()
}

fn hard_sets(sessions: &[&SessionDigest], patterns: &[Pattern], catalogue: &Catalogue) -> f64 {
    let of_pattern = |digest: &&Digest| {
        let exercise = catalogue.get(&digest.exercise);
        exercise.is_some_and(|exercise| patterns.contains(&exercise.pattern))
    };
    let digests = sessions.iter().flat_map(|session| &session.exercises);
    let hard = digests.filter(of_pattern).map(|digest| digest.hard);
    f64::from(hard.sum::<u32>())
}

/// The ratio of hard sets; its band as if sets fell by chance.
fn by_sets(pair: &Pair, (a, b): (f64, f64), weeks: usize) -> (Option<Ratio>, Says) {
    let ratio =
        (a > 0.0 && b > 0.0).then(|| Ratio::of(libm::log(a / b), (1.0 / a + 1.0 / b).sqrt()));
    let says = match ratio {
        _ if a + b < THIN || weeks < FEW_WEEKS => Says::TooLittle,
        Some(ratio) => ratio.against(pair.sets),
        None if a > 0.0 => Says::SecondLags,
        None => Says::FirstLags,
    };
    (ratio, says)
}

/// The exercises of each side that were done most and count alike.
fn loads(
    records: (&History, &Logbook),
    pair: &Pair,
    catalogue: &Catalogue,
    today: NaiveDate,
) -> Option<Loads> {
    let range = pair.loads?;
    let since = today.checked_sub_days(Days::new(7 * WEEKS))?;
    let of = |patterns: &'static [Pattern]| {
        let done = records.1.exercises().filter_map(|id| catalogue.get(id));
        let done = done.filter(move |exercise| patterns.contains(&exercise.pattern));
        let known = done.filter_map(move |exercise| {
            Some((exercise, shown(records, exercise, (since, today))?))
        });
        known.collect::<Vec<_>>()
    };
    let (firsts, seconds) = (of(pair.patterns.0), of(pair.patterns.1));
    let alike = |a: &Exercise, b: &Exercise| {
        a.counts.is_mass() && a.counts == b.counts && a.sides == b.sides
    };
    let pairs = firsts.iter().flat_map(|first| {
        let seconds = seconds.iter().filter(|second| alike(first.0, second.0));
        seconds.map(move |second| (first, second))
    });
    let (first, second) = pairs.max_by_key(|(first, second)| first.1.1.min(second.1.1))?;
    let (ln, number) = first.1;
    let (other, others) = second.1;
    let error = SHOWS * SHOWS * (1.0 / number as f64 + 1.0 / others as f64) + BETWEEN * BETWEEN;
    let ratio = Ratio::of(ln - other, error.sqrt());
    let thin = number.min(others) < FEW_WEEKS;
    Some(Loads {
        names: (first.0.name.clone(), second.0.name.clone()),
        ratio,
        says: if thin {
            Says::TooLittle
        } else {
            ratio.against(range)
        },
    })
}

/// Mean ln(e1RM) of an exercise's last sessions, and how many they were.
fn shown(
    records: (&History, &Logbook),
    exercise: &Exercise,
    days: (NaiveDate, NaiveDate),
) -> Option<(f64, usize)> {
    let strength = Strength::of(records, exercise, days, None)?;
    let Measure::Max(unit) = strength.measure else {
        return None;
    };
    let points = strength.sessions.iter().rev().filter_map(|s| s.point);
    let values: Vec<f64> = points.take(SESSIONS).map(|point| point.value).collect();
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    let in_kilograms = libm::log(unit.nanograms() as f64 / 1e12);
    (!values.is_empty()).then_some((mean + in_kilograms, values.len()))
}
