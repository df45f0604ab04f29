//! Lifting now: the exact start of a set, leads-in, holds.

use super::super::effect::{Cue, Effect};
use super::super::keymap::Key;
use super::super::model::{Floor, Model, Screen};
use super::Turn;
use super::record::{Report, record};
use crate::domain::session::{Asked, Beat, Typed, done_by_side, done_of};
use crate::domain::units::{Boot, Millis, Now, Seconds};

/// Seconds that are counted to get into a hold, and to change sides.
pub const LEAD_IN: u8 = 5;
/// So long after a hold begins no key ends it: it is the one that began it, pressed twice.
const JUST_BEGUN: Millis = 1_000;
/// An end that comes so much later than it was due was seen by nobody: the machine slept.
pub(super) const UNSEEN: Millis = 10_000;

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
            floor.beat = lead_in(LEAD_IN, now);
        }
        (Beat::Between { first, began }, _) => {
            floor.typed = Typed::Nothing;
            floor.beat = other_side(first, began, now);
        }
        (Beat::LeadIn { .. } | Beat::Lifting { .. }, _) => {
            model.tell(
                "lifting already: Enter when the set is done, Esc if it is not",
                now,
            );
        }
    }
}

/// The set begins after so many seconds.
pub(super) fn lead_in(seconds: u8, now: Now) -> Beat {
    let until = now.boot.plus(Seconds::clamped(seconds.into()).millis());
    Beat::LeadIn {
        until,
        first: None,
        began: until,
        told: LEAD_IN + 1,
    }
}

fn other_side(first: Seconds, began: Boot, now: Now) -> Beat {
    let until = now.boot.plus(Seconds::clamped(LEAD_IN.into()).millis());
    Beat::LeadIn {
        until,
        first: Some(first),
        began,
        told: LEAD_IN + 1,
    }
}

/// Esc while lifting: the set has not begun after all. A side that was held stands, until a second
/// Esc.
pub(super) fn cancel(model: &mut Model) -> bool {
    let Screen::Floor(floor) = &mut model.screen else {
        return false;
    };
    let lifting = floor.beat != Beat::Resting;
    let hold = is_hold(floor);
    floor.beat = match floor.beat {
        Beat::LeadIn {
            first: Some(first),
            began,
            ..
        } if hold => {
            floor.typed = Typed::OtherSide {
                first: first.get(),
                spare: None,
                digits: String::new(),
            };
            Beat::Between { first, began }
        }
        Beat::LeadIn { .. } | Beat::Between { .. } | Beat::Lifting { .. } | Beat::Resting => {
            Beat::Resting
        }
    };
    lifting
}

/// A hold that is on stops where it is, as if what was held so far had been typed.
pub(super) fn freeze(floor: &mut Floor, now: Now) {
    let Beat::Lifting {
        since,
        first,
        began,
    } = floor.beat
    else {
        return;
    };
    if !is_hold(floor) {
        return;
    }
    let held = now.boot.since(since).max(0) / 1000;
    let digits = held.to_string();
    (floor.typed, floor.beat) = match first {
        Some(first) => (
            Typed::OtherSide {
                first: first.get(),
                spare: None,
                digits,
            },
            Beat::Between { first, began },
        ),
        None => (
            Typed::Count {
                digits,
                spare: None,
            },
            Beat::Resting,
        ),
    };
}

/// Whether any key ends what is on: a hold, or a session that runs by itself.
pub fn any_key_ends(model: &Model) -> bool {
    let Screen::Floor(floor) = &model.screen else {
        return false;
    };
    floor.hands_free.is_some() || is_holding(floor)
}

fn is_holding(floor: &Floor) -> bool {
    matches!(floor.beat, Beat::Lifting { .. }) && is_hold(floor)
}

/// Whether the coming set is a hold.
pub(super) fn is_hold(floor: &Floor) -> bool {
    let set = floor.coming_set();
    set.is_some_and(|set| matches!(set.asked, Asked::Hold(_)))
}

/// Whether the key ended a hold early. While a hold is on every key does.
pub(super) fn ends_hold(model: &mut Model, key: Key, turn: &mut Turn) -> bool {
    let Screen::Floor(floor) = &model.screen else {
        return false;
    };
    let Beat::Lifting { since, .. } = floor.beat else {
        return false;
    };
    if !is_holding(floor) || key == Key::Char('p') {
        return false;
    }
    let held = turn.now.boot.since(since).max(0);
    if held < JUST_BEGUN {
        model.tell("the hold has just begun: any key ends it", turn.now);
        return true;
    }
    let held = Seconds::clamped(u32::try_from(held / 1000).unwrap_or(0));
    end_side(model, held, turn);
    true
}

/// One side is over: the other's turn, or the set is done.
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
            floor.beat = other_side(held, began, turn.now);
            return;
        }
        None => done_of(coming.asked, held.get()),
        Some(first) => done_by_side(coming.asked, first.get(), held.get()),
    };
    // Reps that the clock counted through are taken as asked, until the person says otherwise.
    let hold = matches!(coming.asked, Asked::Hold(_));
    let report = Report {
        done: hold.then_some(done),
        ..Report::AS_ASKED
    };
    record(model, report, turn);
}

/// What passing time brings: ticks of a lead-in, the begin and the end of what the clock ends.
pub(super) fn passes(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let now = turn.now.boot;
    match floor.beat {
        Beat::Resting | Beat::Between { .. } => {}
        Beat::LeadIn {
            until,
            first,
            began,
            told,
        } => {
            let left = (until.since(now) + 999).div_euclid(1000);
            if left <= 0 {
                floor.beat = Beat::Lifting {
                    since: until,
                    began,
                    first,
                };
                turn.push(Effect::Cue(Cue::HoldBegins));
                ends_unseen(model, turn);
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
            if ends_unseen(model, turn) {
                return;
            }
            let stretch = model.floor().and_then(|floor| floor.stretch(&model.desk));
            if let Some(stretch) = stretch.map(Seconds::millis)
                && now.since(since) >= stretch
            {
                let worked = u32::try_from(stretch / 1000).unwrap_or(u32::MAX);
                end_side(model, Seconds::clamped(worked), turn);
            }
        }
    }
}

/// Whether what the clock was to end ended while nobody was there to see it. Then nothing is
/// recorded of it: the person says what was done.
fn ends_unseen(model: &mut Model, turn: &mut Turn) -> bool {
    let Screen::Floor(floor) = &mut model.screen else {
        return false;
    };
    let Beat::Lifting { since, .. } = floor.beat else {
        return false;
    };
    let since = turn.now.boot.since(since);
    let stretch = floor.stretch(&model.desk);
    let unseen = stretch.is_some_and(|stretch| since - stretch.millis() > UNSEEN);
    if unseen {
        floor.beat = Beat::Resting;
        floor.hands_free = None;
        let words = "nobody saw the end of that set: Enter if it was done as asked, digits if not";
        model.tell(words, turn.now);
    }
    unseen
}
