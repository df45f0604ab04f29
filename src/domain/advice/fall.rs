//! Strength that has fallen, as far as the belief is sure of it: what a lighter week is for.

use super::Context;
use super::past::days_between;
use crate::domain::exercise::{Exercise, ExerciseId};
use crate::domain::program::Tempo;
use crate::domain::session::{Ended, EventId};
use crate::domain::strength::belief::Believed;
use crate::domain::units::Odds;
use std::collections::BTreeSet;

/// Outings over which a fall is looked for: a steep one, and a slow one.
const SPANS: [usize; 2] = [3, 8];
/// Sessions before the first of them: sooner the belief has only found out.
const SETTLED: usize = 3;
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
    if !falls_short(ctx, exercise) {
        return None;
    }
    let trail = ctx.believed(exercise);
    SPANS.iter().find_map(|span| {
        let (from, outings) = span_of(ctx, exercise, *span)?;
        let then = trail.iter().position(|at| i64::from(at.day) >= from)?;
        let then = trail.get(then).filter(|_| then >= SETTLED)?;
        let (by, odds) = change(then, trail.last()?);
        (odds >= SURE && outings == *span).then(|| Fall {
            exercise: exercise.id.clone(),
            percent: 100.0 * (1.0 - libm::exp(by)),
            outings,
            odds: Odds::nearest(odds),
        })
    })
}

/// Whether a set of its last two outings fell short: without that no fall is looked for, since what
/// was believed then must be folded anew.
fn falls_short(ctx: &Context<'_>, exercise: &Exercise) -> bool {
    let last = ctx.history.outings(&exercise.id).iter().rev().take(2);
    let mut sets = last.flat_map(|outing| &outing.sets);
    sets.any(|set| set.record.ended == Ended::Short)
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
    fair.then(|| (super::evidence::day_of(first.at), compared.len() - 1))
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

/// The change of ln-strength from the first to the last, and the chance that it is a fall: what was
/// believed then against what is believed now, each with its own spread.
fn change(then: &Believed, now: &Believed) -> (f64, f64) {
    let by = now.mean - then.mean;
    let spread = libm::hypot(then.spread, now.spread).max(1e-6);
    let odds = 0.5 * libm::erfc(by / spread / std::f64::consts::SQRT_2);
    (by, odds)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The normal distribution, by its table: 0.9 lies below 1.2816.
    #[test]
    fn a_fall_is_weighed_by_both_spreads() {
        let at = |mean, spread| Believed {
            day: 0,
            mean,
            spread,
        };
        let (by, odds) = change(&at(0.0, 0.03), &at(-1.2816 * 0.05, 0.04));
        assert!((by + 1.2816 * 0.05).abs() < 1e-12);
        assert!((odds - 0.9).abs() < 1e-5, "{odds}");
    }
}
