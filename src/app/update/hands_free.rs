//! Hands-free: circuits and timed work run by themselves until a key is pressed. The clock counts
//! in, counts the work, records it, counts the rest, and counts in again.

use super::super::floor::{ComingSet, Stage};
use super::super::model::{Floor, HandsFree, Model, Screen};
use super::lift::{self, LEAD_IN, UNSEEN};
use super::{Turn, floor};
use crate::domain::session::{Asked, Beat, Typed};
use crate::domain::units::Now;

/// Seconds to get from the keys, or from another exercise, to where the set is done.
const GET_THERE: u8 = 10;

/// The key: from here on the clock begins and ends sets.
pub(super) fn begin(model: &mut Model, turn: &mut Turn) {
    let now = turn.now;
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    if let Some(why) = by_hand(floor, coming) {
        return model.tell(why, now);
    }
    let rests = floor
        .rest(now)
        .is_some_and(|rest| rest.stage == Stage::Recover);
    let by_key = match floor.beat {
        Beat::Lifting { .. } => {
            return model.tell("say first what became of the set that is on", now);
        }
        Beat::Resting if rests => false,
        Beat::Resting => {
            floor.beat = lift::lead_in(GET_THERE, now);
            true
        }
        Beat::LeadIn { .. } => true,
        Beat::Between { .. } => {
            lift::begin(model, now);
            true
        }
    };
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    floor.hands_free = Some(HandsFree { by_key });
    floor.typed = Typed::Nothing;
    floor.edit = None;
    if floor.session.paused.is_some() {
        floor::pause(model, turn);
    }
    model.tell("it runs by itself: any key stops it", now);
}

/// Why a coming set is not done by the clock, where it is not.
fn by_hand(floor: &Floor, coming: ComingSet) -> Option<&'static str> {
    let item = floor.session.items.get(coming.item)?;
    let timed = matches!(coming.asked, Asked::Hold(_));
    if coming.feeler || coming.open {
        Some("this set is yours to count: say what you did")
    } else if timed || item.planned.group.is_some() {
        None
    } else {
        Some("this set is yours to count: circuits and holds run by themselves")
    }
}

/// A key: it stops, and the set that was on is the person's to tell of. What the key does beside
/// that, it does: it ends a hold, says that it hurts, leaves.
pub(super) fn stop(model: &mut Model, does_more: bool, now: Now) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    floor.hands_free = None;
    if does_more {
        return;
    }
    let words = match floor.beat {
        Beat::Resting | Beat::Between { .. } => "stopped: r runs it again",
        Beat::LeadIn { .. } => "stopped before the set: r runs it again",
        Beat::Lifting { .. } => "stopped: Enter if the set is done, digits if it was otherwise",
    };
    lift::cancel(model);
    model.tell(words, now);
}

/// The rest is over: the next set is counted in, where the clock can do it.
pub(super) fn goes_on(model: &mut Model, now: Now) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let (Some(_), Some(coming), Some(rest)) =
        (floor.hands_free, floor.coming_set(), floor.rest(now))
    else {
        return;
    };
    let late = rest.elapsed - rest.window.opens.millis();
    let why = match by_hand(floor, coming) {
        Some(why) => Some(why),
        None if late > UNSEEN => Some("stopped, since the machine slept: r runs it again"),
        None => None,
    };
    if let Some(why) = why {
        floor.hands_free = None;
        model.tell(why, now);
    } else if late >= 0 {
        let last = floor.session.sets.last().map(|set| set.record.item);
        let other = last.is_some_and(|item| usize::from(item) != coming.item);
        let rested = rest.window.opens.get() >= u32::from(GET_THERE);
        let seconds = if other && !rested { GET_THERE } else { LEAD_IN };
        floor.beat = lift::lead_in(seconds, now);
    }
}
