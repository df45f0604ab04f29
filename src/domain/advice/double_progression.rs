//! Double progression: reps rise to the top of the range in every set, then the load rises.

use super::ladder::is_above;
use super::levers::lever;
use super::limits::Limits;
use super::past::Exposure;
use super::proposal::Proposal;
use super::reach::is_big;
use super::situation::Situation;
use crate::domain::units::Load;

/// The least that a rise is worth where steps are finer (ACSM 2009: 2 to 10 %, the low end).
const WORTH: f64 = 1.02;
/// Seconds that a hold grows by in a session.
const HOLD_STEP: u32 = 5;

/// What double progression proposes after `anchor`.
pub fn propose(at: &Situation<'_>, limits: &Limits, anchor: &Exposure) -> Proposal {
    let plain = |load, asked, why| plain(at, load, asked, why);
    if let Some(other) = elsewhere(at, anchor) {
        return other;
    }
    if let Some(total) = at.slot.details.total {
        return by_total(at, limits, anchor, total.get());
    }
    let (load, lowest) = (anchor.load, anchor.lowest());
    let told = anchor.told();
    if anchor.missed {
        let why = format!("{told} last time, below {}: the same again", anchor.minimum);
        return plain(load, at.least(), why);
    }
    if lowest < at.least()
        && let Some(lighter) = at.load_for_reps(anchor, at.least())
    {
        let why = format!(
            "more reps than last time ({told}): {lighter} for {}",
            at.least()
        );
        return plain(lighter, at.least(), why);
    }
    let top = if at.is_far(load) {
        at.cap(load)
    } else {
        at.most()
    };
    if lowest < top || !all_sets(at, anchor) {
        let (asked, why) = more(at, anchor, top);
        return plain(load, asked, why);
    }
    rise(at, limits, anchor)
}

/// Sets that share a total: the load stays until the total is there, then it rises.
fn by_total(at: &Situation<'_>, limits: &Limits, anchor: &Exposure, total: u32) -> Proposal {
    let reached = |outing: &Exposure| outing.counts.iter().sum::<u32>() >= total;
    let done: u32 = anchor.counts.iter().sum();
    let stay = |why| plain(at, anchor.load, at.most(), why);
    if done < total {
        let missing = total - done;
        return stay(format!(
            "{done} of {total} last time, {missing} missing: the same load again"
        ));
    }
    let heavier = at
        .ladder
        .beyond(anchor.load, WORTH)
        .or(at.ladder.up(anchor.load));
    let Some(next) = heavier.filter(|load| is_above(*load, anchor.load)) else {
        return stay(exhausted(at, &format!("all {total}")));
    };
    if let Some(why) = &limits.reach.held {
        return stay(why.clone());
    }
    let twice = at
        .before_anchor()
        .is_some_and(|e| e.load == anchor.load && reached(e));
    if is_big(at, anchor.load, next) && !twice {
        return stay(format!(
            "{next} is a big step: all {total} once more before it"
        ));
    }
    let to = super::reach::lighter_of(next, limits.reach.to);
    if !is_above(to, anchor.load) {
        return stay(format!(
            "all {total} last time; the load has risen enough for this week"
        ));
    }
    plain(
        at,
        to,
        at.most(),
        format!("all {total} at {} last time: up to {to}", anchor.load),
    )
}

/// Proposed sets with nothing special about them.
pub fn plain(at: &Situation<'_>, load: Load, asked: u32, why: String) -> Proposal {
    Proposal {
        load,
        asked,
        sets: at.slot.sets,
        first: None,
        feelers: 0,
        spare: None,
        deload: false,
        why,
    }
}

/// Whether as many sets were done at the load as are asked now.
fn all_sets(at: &Situation<'_>, anchor: &Exposure) -> bool {
    anchor.counts.len() >= usize::from(at.slot.sets) && !anchor.cut
}

/// Where the load of last time cannot be made here: the next lighter, with reps to match.
pub fn elsewhere(at: &Situation<'_>, anchor: &Exposure) -> Option<Proposal> {
    if at.ladder.has(anchor.load) {
        return None;
    }
    let load = at.ladder.at_most(anchor.load).or(at.ladder.lightest())?;
    let reps = at.reps_at(anchor.lowest(), anchor.load, load);
    let reps = reps.map_or(at.least(), |reps| libm::floor(reps.max(0.0)) as u32);
    let asked = reps.clamp(at.least(), at.cap(load));
    let why = format!("{} cannot be made here: {load}, {asked} each", anchor.load);
    Some(plain(at, load, asked, why))
}

/// The same load, and more reps or seconds where the last sets leave room.
fn more(at: &Situation<'_>, anchor: &Exposure, top: u32) -> (u32, String) {
    let (load, lowest, told) = (anchor.load, anchor.lowest(), anchor.told());
    let by = if at.holds() { HOLD_STEP } else { 1 };
    let unit = if at.holds() { " s" } else { "" };
    if lowest >= top {
        let why = format!(
            "{told} last time: {top}{unit} in all {} sets first",
            at.slot.sets
        );
        return (top, why);
    }
    let asked = ((lowest + by) / by * by).clamp(at.least(), top);
    let why = match at.ladder.up(load) {
        None if lowest >= at.most() => exhausted(at, &told),
        Some(next) if lowest >= at.most() => {
            let far = at
                .jump_up(load)
                .map_or(0.0, |jump| libm::round(jump * 100.0));
            if far > 0.0 {
                format!("{next} is {far} % more: {asked} in every set before that step")
            } else {
                format!("{next} is far: {asked} in every set before that step")
            }
        }
        Some(_) | None => format!("{told} last time: now {asked}{unit} in every set"),
    };
    (asked, why)
}

/// The load rises, if nothing holds it.
fn rise(at: &Situation<'_>, limits: &Limits, anchor: &Exposure) -> Proposal {
    let (load, told) = (anchor.load, anchor.told());
    let top = anchor.lowest().min(at.cap(load)).max(at.most());
    let stay = |why| plain(at, load, top, why);
    let Some(next) = at
        .ladder
        .beyond(load, WORTH)
        .or(at.ladder.up(load))
        .filter(|l| is_above(*l, load))
    else {
        return stay(exhausted(at, &told));
    };
    let aim = limits.spare.unwrap_or(0);
    if let Some(spare) = anchor.spare.filter(|spare| *spare < aim) {
        return stay(format!(
            "{told} last time, but {spare} spare of {aim}: the same again"
        ));
    }
    if let Some(why) = &limits.reach.held {
        return stay(why.clone());
    }
    if is_big(at, load, next) && !(at.before_anchor().is_some_and(|e| tops(at, e, load))) {
        return stay(format!("{next} is a big step: {told} once more before it"));
    }
    if is_big(at, load, next)
        && let Some(short) = too_far(at, anchor, next)
    {
        return stay(short);
    }
    let to = super::reach::lighter_of(next, limits.reach.to);
    if !is_above(to, load) {
        return stay(format!(
            "{told} last time; the load has risen enough for this week"
        ));
    }
    let unit = if at.holds() { " s" } else { "" };
    let why = format!(
        "{told} at {load} last time: up to {to} for {}{unit}",
        at.least()
    );
    plain(at, to, at.least(), why)
}

/// Whether an outing with `load` reached the top in all sets.
fn tops(at: &Situation<'_>, outing: &Exposure, load: Load) -> bool {
    !is_above(load, outing.load) && outing.lowest() >= at.cap(load) && all_sets(at, outing)
}

/// Where even the most reps that may be asked leave the next load out of reach: another lever.
fn too_far(at: &Situation<'_>, anchor: &Exposure, next: Load) -> Option<String> {
    let reps = anchor.lowest() + anchor.spare.unwrap_or(0);
    let left = at.reps_at(reps, anchor.load, next)?;
    if libm::round(left) >= f64::from(at.least()) {
        return None;
    }
    let left = libm::round(left).max(1.0);
    let other = lever(at).map_or(String::new(), |lever| format!(", or {lever}"));
    Some(format!(
        "{next} would leave about {left} reps: take it on the first set only{other}"
    ))
}

/// Nothing heavier: a harder variant, or the most that can be asked.
fn exhausted(at: &Situation<'_>, told: &str) -> String {
    match &at.exercise.harder {
        Some(harder) => {
            let name = at.catalogue.name(harder);
            format!("{told} last time, and nothing heavier here: {name} is the harder variant")
        }
        None => match lever(at) {
            Some(lever) => format!("{told} last time, and nothing heavier here: {lever}"),
            None => format!("{told} last time, and nothing heavier here: the same again"),
        },
    }
}
