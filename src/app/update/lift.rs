//! Lifting now: the exact start of a set, leads-in, holds.

use super::super::effect::{Cue, Effect};
use super::super::keymap::Key;
use super::super::model::{Model, Screen};
use super::Turn;
use super::record::{Report, record};
use super::signs::held_long_enough;
use crate::domain::session::{Asked, Beat, done_by_side, done_of};
use crate::domain::units::{Boot, Now, Seconds};

/// Seconds to get into a hold, and to change sides.
const LEAD_IN: u8 = 5;

/// Space: the set begins now; a hold begins after a lead-in.
pub(super) fn begin(model: &mut Model, now: Now) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    match (floor.beat, coming.asked) {
        (Beat::Resting, Asked::Reps(_)) => {
            floor.beat = Beat::Lifting {
                since: now.boot,
                began: now.boot,
                first: None,
            };
        }
        (Beat::Resting, Asked::Hold(_)) => {
            floor.beat = lead_in(None, None, now);
        }
        (Beat::LeadIn { .. } | Beat::Lifting { .. }, _) => {
            model.tell(
                "lifting already: Enter when the set is done, Esc if it is not",
                now,
            );
        }
    }
}

fn lead_in(first: Option<Seconds>, began: Option<Boot>, now: Now) -> Beat {
    let until = now.boot.plus(Seconds::clamped(u32::from(LEAD_IN)).millis());
    Beat::LeadIn {
        until,
        first,
        began: began.unwrap_or(until),
        told: LEAD_IN + 1,
    }
}

/// Esc while lifting: the set has not begun after all.
pub(super) fn cancel(model: &mut Model) -> bool {
    let Screen::Floor(floor) = &mut model.screen else {
        return false;
    };
    let lifting = floor.beat != Beat::Resting;
    floor.beat = Beat::Resting;
    lifting
}

/// Whether a hold is on.
pub fn is_holding(model: &Model) -> bool {
    let Screen::Floor(floor) = &model.screen else {
        return false;
    };
    let set = floor.coming_set();
    matches!(floor.beat, Beat::Lifting { .. })
        && set.is_some_and(|set| matches!(set.asked, Asked::Hold(_)))
}

/// Whether the key ended a hold early. While a hold is on every key does.
pub(super) fn ends_hold(model: &mut Model, key: Key, turn: &mut Turn) -> bool {
    if !is_holding(model) || key == Key::Char('p') {
        return false;
    }
    let Some(Beat::Lifting { since, .. }) = model.floor().map(|floor| floor.beat) else {
        return false;
    };
    let held = turn.now.boot.since(since).max(0) / 1000;
    end_side(
        model,
        Seconds::clamped(u32::try_from(held).unwrap_or(0)),
        turn,
    );
    true
}

/// One side of a hold is over: the other's turn, or the set is done.
fn end_side(model: &mut Model, held: Seconds, turn: &mut Turn) {
    turn.push(Effect::Cue(Cue::HoldOver));
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    let Beat::Lifting { began, first, .. } = floor.beat else {
        return;
    };
    let sides = floor.sides(coming.item, &model.desk);
    let done = match first {
        None if sides == 2 => {
            floor.beat = lead_in(Some(held), Some(began), turn.now);
            return;
        }
        None => done_of(coming.asked, held.get()),
        Some(first) => done_by_side(coming.asked, first.get(), held.get()),
    };
    record(
        model,
        Report {
            done: Some(done),
            ..Report::AS_ASKED
        },
        turn,
    );
}

/// What passing time brings: ticks of a lead-in, the begin and the end of a hold.
pub(super) fn passes(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    match floor.beat {
        Beat::Resting => {}
        Beat::LeadIn {
            until,
            first,
            began,
            told,
        } => {
            let left = (until.since(turn.now.boot) + 999).div_euclid(1000);
            if left <= 0 {
                floor.beat = Beat::Lifting {
                    since: until,
                    began,
                    first,
                };
                turn.push(Effect::Cue(Cue::HoldBegins));
            } else if left < i64::from(told) {
                let told = u8::try_from(left).unwrap_or(0);
                floor.beat = Beat::LeadIn {
                    until,
                    first,
                    began,
                    told,
                };
                turn.push(Effect::Cue(Cue::LeadIn));
            }
        }
        Beat::Lifting { since, .. } => {
            if held_long_enough(coming.asked, since, turn.now) {
                end_side(model, Seconds::clamped(coming.asked.count()), turn);
            }
        }
    }
}
