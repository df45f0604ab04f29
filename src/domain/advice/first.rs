//! The first session of an exercise: feeling for its load.

use super::ladder::is_above;
use super::past::{Past, least};
use super::proposal::Proposal;
use super::situation::Situation;
use super::{Context, Felt};
use crate::domain::exercise::Exercise;
use crate::domain::units::Load;

/// Feelers that are planned; up to two working sets more may still feel upward.
const FEELERS: u8 = 2;
/// Reps in reserve that a feeler is to leave.
pub const FEELER_SPARE: u32 = 3;
/// What a carried-over load is begun with: a first guess deserves caution.
const CARRIED: f64 = 0.80;
/// What a load of half a year ago is begun with.
const FORGOTTEN: f64 = 0.50;
/// Reps per unit of relative load, as in the situation's rep slope.
const SLOPE: f64 = 0.036;

/// Where a first load comes from.
enum Whence {
    Guess(Load),
    Long(Load),
    Related { name: String, load: Load },
    Today(Load),
    Lightest,
}

/// What is proposed where nothing is known of the exercise. `None`: nothing can be made here.
pub fn propose(ctx: &Context<'_>, at: &Situation<'_>) -> Option<Proposal> {
    let lightest = at.ladder.lightest()?;
    let from = whence(ctx, at);
    let start = match &from {
        Whence::Guess(load) => at.ladder.at_most(*load),
        Whence::Long(load) => Some(at.lighter(*load, FORGOTTEN)),
        Whence::Related { load, .. } | Whence::Today(load) => at.ladder.at_most(*load),
        Whence::Lightest => None,
    };
    let load = start.unwrap_or(lightest);
    let single = at.ladder.up(lightest).is_none();
    let feelers = if single || at.holds() { 0 } else { FEELERS };
    let sets = if at.pains.is_empty() && !at.frame.easier_week {
        at.slot.sets
    } else {
        at.slot.sets.div_ceil(2)
    };
    Some(Proposal {
        load,
        asked: at.least(),
        sets,
        first: None,
        feelers,
        spare: at.slot.spare.map(|s| s.get()).max(Some(FEELER_SPARE)),
        deload: false,
        why: why(&from, load, feelers > 0),
    })
}

fn why(from: &Whence, load: Load, feels: bool) -> String {
    let then = if feels {
        "feel for the load, saying how many were spare"
    } else {
        "say how many were spare (8.2)"
    };
    match from {
        Whence::Guess(guess) => format!("first time, your guess of {guess}: {then}"),
        Whence::Long(was) => format!("half a year since {was}, so it is new again: {then}"),
        Whence::Related { name, .. } => {
            format!("first time, {load} carried over from {name}: {then}")
        }
        Whence::Today(_) => {
            format!("first time, {load} carried over from what it stands in for: {then}")
        }
        Whence::Lightest => format!("first time: begin light and {then}"),
    }
}

fn whence(ctx: &Context<'_>, at: &Situation<'_>) -> Whence {
    if !at.pains.is_empty() {
        return Whence::Lightest;
    }
    let fits = |guess: &Load| {
        at.ladder
            .lightest()
            .is_some_and(|l| l.heavier(*guess).is_some())
    };
    if let Some(guess) = at.frame.guess.filter(fits) {
        return Whence::Guess(guess);
    }
    if let Some(last) = at.past.last() {
        return Whence::Long(last.load);
    }
    if let Some(felt) = at.frame.felt
        && let Some(load) = carried(at, felt)
    {
        return Whence::Today(load);
    }
    match related(ctx, at) {
        Some((name, load)) => Whence::Related { name, load },
        None => Whence::Lightest,
    }
}

/// The related exercise that was done last, and what its load carries over to.
fn related(ctx: &Context<'_>, at: &Situation<'_>) -> Option<(String, Load)> {
    let mut best: Option<(&Exercise, Past, f64)> = None;
    for other in ctx.catalogue.iter() {
        let Some(factor) = factor(other, at.exercise) else {
            continue;
        };
        let past = Past::of(ctx.history, other, std::iter::empty());
        let when = |past: &Past| past.last().map(|e| e.at);
        if when(&past).is_some() && best.as_ref().is_none_or(|(_, b, _)| when(b) < when(&past)) {
            best = Some((other, past, factor));
        }
    }
    let (other, past, factor) = best?;
    let outing = past.last()?;
    let felt = Felt {
        kg: ctx.ladder(other).moved(outing.load)? * factor,
        reps: outing.lowest(),
    };
    Some((other.name.clone(), carried(at, felt)?))
}

/// What a set of another exercise comes to here: the reps that are asked, and some caution.
fn carried(at: &Situation<'_>, felt: Felt) -> Option<Load> {
    let had = f64::from(felt.reps) - 1.0;
    let wanted = f64::from(least(at.slot.ask)) - 1.0;
    let kg = felt.kg * (1.0 + SLOPE * had) / (1.0 + SLOPE * wanted) * CARRIED;
    let light = |load: &&Load| at.ladder.moved(**load).is_some_and(|made| made <= kg);
    let load = at.ladder.loads().iter().rev().find(light).copied();
    load.or(at.ladder.lightest())
}

/// What `from`'s load is multiplied by to get `to`'s, where one can stand in for the other and
/// both carry a mass.
pub fn factor(from: &Exercise, to: &Exercise) -> Option<f64> {
    let stands = |a: &Exercise, b: &Exercise| {
        let found = a.stand_ins.iter().find(|s| s.exercise == b.id);
        found.map(|s| s.factor).filter(|f| *f > 0.0)
    };
    let masses = from.counts.is_mass() && to.counts.is_mass();
    let found = stands(from, to).or_else(|| stands(to, from).map(|f| 1.0 / f));
    found.filter(|_| masses && from.id != to.id)
}

/// Whether a feeler with so many spare calls for more load, and how much more, as a ratio.
pub fn feeler_rise(spare: u32) -> Option<f64> {
    match spare {
        0..=3 => None,
        4..=5 => Some(1.10),
        _ => Some(1.20),
    }
}

/// The load of the next feeler: one step, or as much as the ratio says where steps are finer.
pub fn next_feeler(at: &super::ladder::Ladder, from: Load, ratio: f64) -> Option<Load> {
    let step = at.up(from)?;
    let more = at.within(from, ratio).filter(|load| is_above(*load, step));
    Some(more.unwrap_or(step))
}
