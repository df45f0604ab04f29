//! What the clock brings about: signs at the ends of the rest window, leads-in, the end of a
//! hold; and when the next of them is due.

use super::super::effect::{Cue, Effect, Told};
use super::super::floor::RestView;
use super::super::model::{Desk, Floor, Model, Screen};
use super::Turn;
use super::{hands_free, lift};
use crate::domain::diagnostic::neutral;
use crate::domain::session::{Asked, Beat, Cued};
use crate::domain::units::{Boot, Millis, Now};

/// So long before the close it is announced, where the open span is long enough.
const SOON: Millis = 10_000;
/// The shortest open span whose close is announced beforehand.
const WORTH_ANNOUNCING: Millis = 15_000;
/// So long before a sign the way to the ear is opened, so that a loudspeaker that sleeps is awake.
const AHEAD: Millis = 3_000;
/// How long the screen is reversed where there is no sound.
const FLASH: Millis = 250;
/// A sign that comes later than this (the machine slept) is of no use any more.
const STALE: Millis = 3_000;

/// Gives the signs that are due and lets a hold begin or end.
pub(super) fn give(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    if let Some((left, cue)) = to_the_next(floor, turn.now)
        && (AHEAD - 1_000 < left && left <= AHEAD)
    {
        turn.push(Effect::CueAhead(cue));
    }
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
                    let told = notice(floor, &model.desk, *cue).map(Box::new);
                    told.into_iter()
                        .for_each(|told| turn.push(Effect::Notify(told)));
                }
            }
            hands_free::goes_on(model, turn.now);
        }
        Beat::Between { .. } => {}
        Beat::LeadIn { .. } | Beat::Lifting { .. } => lift::passes(model, turn),
    }
}

/// What the desktop is told with a sign.
fn notice(floor: &Floor, desk: &Desk, cue: Cue) -> Option<Told> {
    let title = match cue {
        Cue::Opens => "The rest is long enough",
        Cue::Closed => "The rest is longer than planned",
        Cue::ClosesSoon
        | Cue::LeadIn
        | Cue::HoldBegins
        | Cue::HoldOver
        | Cue::Record
        | Cue::Mistake => return None,
    };
    let set = floor.coming_set()?;
    let name = floor
        .exercise(set.item, desk)
        .map(|known| known.name.as_str());
    let (name, load, asked) = (name.unwrap_or("next"), set.load, set.asked);
    Some(Told {
        title: title.to_owned(),
        body: neutral(&format!(
            "{name}, set {} of {}: {load} × {asked}",
            set.number, set.of
        )),
    })
}

/// How long it is to the next sign, and which, where one is on its way. A lead-in begins with one.
fn to_the_next(floor: &Floor, now: Now) -> Option<(Millis, Cue)> {
    match floor.beat {
        Beat::Resting => {
            let rest = floor.rest(now).filter(|_| floor.session.paused.is_none())?;
            let to_come = |(at, _, cue): (Millis, Cued, Cue)| (at - rest.elapsed, cue);
            let mut signs = signs(rest).into_iter().map(to_come);
            signs.find(|(left, _)| *left > 0)
        }
        Beat::LeadIn { .. } | Beat::Between { .. } => None,
        Beat::Lifting { since, .. } => match floor.coming_set()?.asked {
            Asked::Hold(seconds) => {
                let left = seconds.millis() - now.boot.since(since);
                Some((left, Cue::HoldOver))
            }
            Asked::Reps(_) => None,
        },
    }
}

/// What stands for a sign that could not be heard: the terminal's bell, and a flash of the screen.
/// Two rings before the window closes, one at each of its ends: the close is said once, and three
/// in a row are an alarm's. A mistake flashes not: keys come faster than eyes should be flashed at.
pub(super) fn show(model: &mut Model, cue: Cue, turn: &mut Turn) {
    let rings = match cue {
        Cue::Mistake => return,
        Cue::Opens | Cue::Closed | Cue::LeadIn | Cue::HoldBegins => 1,
        Cue::ClosesSoon | Cue::HoldOver | Cue::Record => 2,
    };
    model.flash = Some(turn.now.boot.plus(FLASH));
    turn.push(Effect::Ring(rings));
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
    let flash = model.flash.filter(|flash| *flash > now.boot);
    [counted, notice, flash, minute].into_iter().flatten().min()
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
