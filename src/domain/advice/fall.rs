//! Strength that has fallen, as far as the belief is sure of it: what a lighter week is for.

use super::Context;
use super::beliefs::Point;
use super::past::days_between;
use crate::domain::exercise::{Exercise, ExerciseId};
use crate::domain::program::Tempo;
use crate::domain::session::EventId;
use crate::domain::units::Odds;
use std::collections::BTreeSet;

/// Outings over which a fall is looked for: a steep one, and a slow one.
const SPANS: [usize; 2] = [3, 8];
/// The chance from which on a fall is sure.
const SURE: f64 = 0.90;
/// Days within which the last of them must lie.
const RECENT: i64 = 21;
/// Days off between two of them that make it a lay-off.
const LAY_OFF: i64 = 14;

/// A lift that has fallen.
#[derive(Clone, PartialEq, Debug)]
pub struct Fall {
    /// Which.
    pub exercise: ExerciseId,
    /// By how much, in percent of the strength before.
    pub percent: f64,
    /// Over how many outings.
    pub outings: usize,
    /// The chance that it is weaker now.
    pub odds: Odds,
}

/// How a lift has fallen, where the belief is sure of it. None is read from outings with a lay-off
/// among them, in another tempo, or behind other work for the same muscles.
pub fn fall(ctx: &Context<'_>, exercise: &Exercise) -> Option<Fall> {
    let trail = ctx.trail(exercise)?;
    SPANS.iter().find_map(|span| {
        let (from, outings) = span_of(ctx, exercise, *span)?;
        let points = trail.iter().filter(|point| point.day >= from);
        let (by, odds) = change(&points.collect::<Vec<_>>())?;
        eprintln!("DBG {span} {outings} {by} {odds}");
        (odds >= SURE && outings == *span).then(|| Fall {
            exercise: exercise.id.clone(),
            percent: 100.0 * (1.0 - libm::exp(by)),
            outings,
            odds: Odds::nearest(odds),
        })
    })
}

/// The day of the outing so many before the last, and how many there are since, where they can be
/// compared.
fn span_of(ctx: &Context<'_>, exercise: &Exercise, span: usize) -> Option<(i64, usize)> {
    let open = ctx.history.open_session().map(|session| &session.id);
    let outings = ctx.history.outings(&exercise.id).iter();
    let work: Vec<_> = outings
        .filter(|outing| !outing.deload && Some(&outing.session) != open)
        .collect();
    let from = work.len().checked_sub(span + 1)?;
    let compared = work.get(from..)?;
    let (first, last) = (compared.first()?, compared.last()?);
    let recent = days_between(last.at, ctx.now) <= RECENT;
    let gap = |pair: &[&crate::domain::history::Outing]| match pair {
        [a, b] => days_between(a.at, b.at) > LAY_OFF,
        _ => false,
    };
    let circumstances = around(ctx, exercise, &first.session);
    let alike = |outing: &&crate::domain::history::Outing| {
        around(ctx, exercise, &outing.session) == circumstances
    };
    let fair = recent && !compared.windows(2).any(gap) && compared.iter().all(alike);
    fair.then(|| (super::beliefs::day_of(first.at), compared.len() - 1))
}

/// What an exercise was done in: its tempo, and the work for the same prime muscles before it.
fn around(
    ctx: &Context<'_>,
    exercise: &Exercise,
    session: &EventId,
) -> Option<(Option<Tempo>, BTreeSet<ExerciseId>)> {
    let session = ctx.history.sessions.iter().find(|s| s.id == *session)?;
    let sets = session.sets.iter().map(|set| &set.record);
    let item = sets.clone().find(|set| set.exercise == exercise.id)?.item;
    let tempo = session.items.get(usize::from(item))?.planned.tempo;
    let shares = |id: &&ExerciseId| {
        let other = ctx.catalogue.get(id);
        other.is_some_and(|other| other.prime.iter().any(|m| exercise.prime.contains(m)))
    };
    let before = sets.take_while(|set| set.exercise != exercise.id);
    let before = before.map(|set| &set.exercise).filter(shares).cloned();
    Some((tempo, before.collect()))
}

/// The change of ln-strength from the first point to the last, and the chance that it is a fall.
/// The belief of then is looked at again with what is known now (Rauch, Tung & Striebel 1965: the
/// two are of one lifter, so that most of what is not known of them is the same).
fn change(points: &[&Point]) -> Option<(f64, f64)> {
    let last = points.last()?;
    let (mut mean, mut variance) = last.after;
    let mut shared = variance;
    for pair in points.windows(2).rev() {
        let [point, next] = pair else { continue };
        let (foreseen, spread) = next.before;
        let gain = point.after.1 / spread;
        mean = point.after.0 + gain * (mean - foreseen);
        variance = point.after.1 + gain * gain * (variance - spread);
        shared *= gain;
    }
    let by = last.after.0 - mean;
    let spread = (last.after.1 + variance - 2.0 * shared).max(1e-12).sqrt();
    let odds = 0.5 * libm::erfc(by / spread / std::f64::consts::SQRT_2);
    odds.is_finite().then_some((by, odds))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A random walk seen with noise, worked out by hand: one step, filtered and smoothed.
    #[test]
    fn a_fall_is_weighed_as_the_smoother_has_it() {
        let point = |before, after| Point {
            day: 0,
            before,
            after,
        };
        let first = point((0.0, 1.0), (0.0, 0.5));
        let second = point((0.0, 0.6), (-0.4, 0.2));
        let (by, odds) = change(&[&first, &second]).expect("a change");
        // gain 0.5/0.6; smoothed mean -1/3, variance 0.5 - 25/36 * 0.4 = 2/9, shared 1/6.
        assert!((by - (-0.4 + 1.0 / 3.0)).abs() < 1e-12);
        let spread = (0.2_f64 + 2.0 / 9.0 - 1.0 / 3.0).sqrt();
        let expected = 0.5 * libm::erfc(by / spread / std::f64::consts::SQRT_2);
        assert!((odds - expected).abs() < 1e-12 && odds > 0.5);
    }
}
