//! How far the load may rise from one session to the next.

use super::ladder::heavier_of;
use super::past::{Exposure, days_between};
use super::situation::Situation;
use crate::domain::units::Load;
use std::cmp::Ordering;

/// The most that a load rises in one session where the gear's steps are finer.
const FINE: f64 = 1.05;
/// The same for the legs and hips.
const FINE_LEGS: f64 = 1.10;
/// The most that it rises in a week, unless one step is more.
const WEEK: f64 = 1.10;
/// A step above this waits for two sessions that earned it.
const BIG: f64 = 0.10;

/// What the load may rise to, and what holds it there.
#[derive(Clone, PartialEq, Debug)]
pub struct Reach {
    /// The heaviest load.
    pub to: Load,
    /// Why no rise at all, where there may be none.
    pub held: Option<String>,
}

/// How far the load may rise above that of the deciding outing.
pub fn reach(at: &Situation<'_>, anchor: &Exposure) -> Reach {
    let from = anchor.load;
    let newest = at.past.last().unwrap_or(anchor);
    if newest.missed {
        let why = format!(
            "{} last time, {} asked: no rise until that is made",
            newest.told(),
            newest.minimum
        );
        return held(from, why);
    }
    if asks_for_report(at) {
        let why = "a failed rep pins you here: say how many were spare (8.2) before it rises";
        return held(from, why.to_owned());
    }
    let fine = if at.exercise.is_lower_body() {
        FINE_LEGS
    } else {
        FINE
    };
    let step = at.ladder.up(from).unwrap_or(from);
    if is_big(at, from, step) && !at.by_odds && !earned_twice(at, from) {
        let finer = at.ladder.within(from, fine).unwrap_or(from);
        return Reach {
            to: heavier_of(from, finer),
            held: None,
        };
    }
    let today = at
        .ladder
        .within(from, fine)
        .map_or(step, |l| heavier_of(l, step));
    if at.by_odds && at.feels() {
        return Reach {
            to: today,
            held: None,
        };
    }
    Reach {
        to: lighter_of(today, heavier_of(week(at, from), from)),
        held: None,
    }
}

fn held(to: Load, why: String) -> Reach {
    Reach {
        to,
        held: Some(why),
    }
}

/// Whether a pinning exercise has gone two sessions without a word on the reserve.
fn asks_for_report(at: &Situation<'_>) -> bool {
    at.pins && !at.past.exposures.iter().rev().take(2).any(|e| e.reported)
}

/// Whether a step is so big that it waits for two sessions; a band's step always is.
pub fn is_big(at: &Situation<'_>, from: Load, to: Load) -> bool {
    to.heavier(from) == Some(Ordering::Greater)
        && at
            .ladder
            .jump(from, to)
            .is_none_or(|jump| jump > BIG + 1e-9)
}

/// Whether the last two sessions in a row worked with `load`, or more, and made the minimum.
fn earned_twice(at: &Situation<'_>, load: Load) -> bool {
    let made = |e: &&Exposure| {
        !e.missed
            && matches!(
                e.load.heavier(load),
                Some(Ordering::Equal | Ordering::Greater)
            )
    };
    at.past.exposures.iter().rev().take(2).filter(made).count() == 2
}

/// The heaviest load that the last seven days leave room for.
fn week(at: &Situation<'_>, from: Load) -> Load {
    let recent = at.past.exposures.iter().rev();
    let base = recent
        .take_while(|e| days_between(e.at, at.now) <= 7)
        .map(|e| e.load)
        .fold(from, lighter_of);
    let step = at.ladder.up(base).unwrap_or(base);
    let most = at.ladder.within(base, WEEK).unwrap_or(base);
    heavier_of(step, most)
}

/// The lighter of two loads of one kind.
pub fn lighter_of(a: Load, b: Load) -> Load {
    if heavier_of(a, b) == a { b } else { a }
}
