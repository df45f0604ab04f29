//! The two-for-two rule: two reps over the goal in the last set, two workouts running, then the
//! load rises (Baechle & Earle, *Essentials of Strength Training and Conditioning*).

use super::double_progression::{elsewhere, plain};
use super::ladder::is_above;
use super::limits::Limits;
use super::past::Exposure;
use super::proposal::Proposal;
use super::reach::lighter_of;
use super::situation::Situation;

/// Reps over the goal that the last set must show.
const OVER: u32 = 2;
/// The least that a rise is worth where steps are finer (the rule's 2.5 to 10 %).
const WORTH: f64 = 1.025;

/// What the two-for-two rule proposes after `anchor`.
pub fn propose(at: &Situation<'_>, limits: &Limits, anchor: &Exposure) -> Proposal {
    if let Some(other) = elsewhere(at, anchor) {
        return other;
    }
    let goal = goal(at, anchor);
    let stay = |why| plain(at, anchor.load, goal, why);
    let told = anchor.told();
    if anchor.missed {
        return stay(format!(
            "{told} last time, below {}: the same again",
            anchor.minimum
        ));
    }
    let now = over(at, anchor);
    let then = at
        .before_anchor()
        .is_some_and(|e| !is_above(anchor.load, e.load) && over(at, e));
    if !now {
        return stay(format!(
            "{told} last time: {goal} in every set, and more in the last if there are more"
        ));
    }
    if !then {
        return stay(format!(
            "{told} last time, two over in the last set: once more like that"
        ));
    }
    if let Some(why) = &limits.reach.held {
        return stay(why.clone());
    }
    let next = at
        .ladder
        .beyond(anchor.load, WORTH)
        .or(at.ladder.up(anchor.load));
    let to = next.map(|next| lighter_of(next, limits.reach.to));
    match to.filter(|to| is_above(*to, anchor.load)) {
        Some(to) => {
            let why = format!("two over in the last set, twice running: up to {to}");
            plain(at, to, at.least(), why)
        }
        None => stay(format!(
            "{told} last time, and no step up that may be taken yet"
        )),
    }
}

/// The reps that each set is held to: those that all sets made last time, within the range.
fn goal(at: &Situation<'_>, anchor: &Exposure) -> u32 {
    if anchor.missed {
        return at.least();
    }
    anchor.lowest().clamp(at.least(), at.most())
}

/// Whether the last set of an outing went two over the top of the range.
fn over(at: &Situation<'_>, outing: &Exposure) -> bool {
    let reached = outing
        .counts
        .last()
        .is_some_and(|last| *last >= at.most() + OVER);
    reached && !outing.missed
}
