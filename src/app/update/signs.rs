//! What the clock brings about: signs at the ends of the rest window, leads-in, the end of a
//! hold; and when the next of them is due.

use super::super::effect::{Cue, Effect};
use super::super::floor::RestView;
use super::super::model::{Floor, Model, Screen};
use super::Turn;
use super::{hands_free, lift};
use crate::domain::session::{Beat, Cued};
use crate::domain::units::{Boot, Millis, Now};

/// So long before the close it is announced, where the open span is long enough.
const SOON: Millis = 10_000;
/// The shortest open span whose close is announced beforehand.
const WORTH_ANNOUNCING: Millis = 15_000;
/// A sign that comes later than this (the machine slept) is of no use any more.
const STALE: Millis = 3_000;

/// Gives the signs that are due and lets a hold begin or end.
pub(super) fn give(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    match floor.beat {
        Beat::Resting => {
            let Some(rest) = floor
                .rest(turn.now)
                .filter(|_| floor.session.paused.is_none())
            else {
                return;
            };
            let due = signs(rest);
            let last = due.iter().rfind(|(at, _, _)| *at <= rest.elapsed);
            if let Some((at, cued, cue)) = last
                && *cued > floor.cued
            {
                floor.cued = *cued;
                if rest.elapsed - at <= STALE {
                    turn.push(Effect::Cue(*cue));
                }
            }
            hands_free::goes_on(model, turn.now);
        }
        Beat::Between { .. } => {}
        Beat::LeadIn { .. } | Beat::Lifting { .. } => lift::passes(model, turn),
    }
}

/// The signs of a rest in order: when, what is noted, what is given.
fn signs(rest: RestView) -> Vec<(Millis, Cued, Cue)> {
    let (opens, closes) = (rest.window.opens.millis(), rest.window.closes.millis());
    let mut signs = vec![(opens, Cued::Opened, Cue::Opens)];
    if closes - opens >= WORTH_ANNOUNCING {
        signs.push((closes - SOON, Cued::ClosesSoon, Cue::ClosesSoon));
    }
    signs.push((closes, Cued::Closed, Cue::Closed));
    signs
}

/// When the model wants to be called again, key or no key: at the next whole second of what is
/// counted, or when a notice goes.
pub fn deadline(model: &Model, now: Now) -> Option<Boot> {
    let counted = model.floor().and_then(|floor| {
        let from = match floor.beat {
            Beat::LeadIn { until, .. } => Some(until),
            Beat::Lifting { since, .. } => Some(since),
            Beat::Between { .. } => None,
            Beat::Resting => floor.rest(now).map(|_| floor.last_end(now)),
        };
        from.map(|from| next_second(from, now.boot))
    });
    let notice = model.notice.as_ref().map(|notice| notice.until);
    let minute = Some(now.boot.plus(60_000));
    [counted, notice, minute].into_iter().flatten().min()
}

/// The first instant after `now` that is a whole number of seconds away from `from`.
fn next_second(from: Boot, now: Boot) -> Boot {
    let past = now.since(from).rem_euclid(1000);
    now.plus(1000 - past)
}

/// The signs of the present rest whose time is past: they need not be given any more.
pub(super) fn already(floor: &Floor, now: Now) -> Cued {
    let Some(rest) = floor.rest(now) else {
        return Cued::Nothing;
    };
    let due = signs(rest);
    let last = due.iter().rfind(|(at, _, _)| *at <= rest.elapsed);
    last.map(|(_, cued, _)| *cued).unwrap_or_default()
}
