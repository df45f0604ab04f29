//! Between the sets of a session: what the last one showed, and what that makes of the load.

use super::ladder::is_above;
use super::odds::Choice;
use super::reach::lighter_of;
use crate::domain::units::Load;

/// The middle of a session: what the last set showed.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Between {
    /// With what it was done.
    pub load: Load,
    /// Reps done.
    pub reps: u32,
    /// The least that made it.
    pub least: u32,
    /// Reps in reserve, where the lifter said.
    pub spare: Option<u32>,
    /// Whether it was a miss.
    pub missed: bool,
    /// Whether the load has risen today already.
    pub risen: bool,
    /// Whether the load is still being felt for.
    pub feels: bool,
    /// The heaviest load that may be gone to.
    pub most: Option<Load>,
}

/// The load of the coming sets, and why it changes.
pub fn between(choice: &Choice<'_>, now: &Between) -> (Load, Option<String>) {
    let chance = choice.now(now.load, choice.at.least());
    let first = choice.mind.sessions == 0 && !now.missed;
    let give_up = if first { FIRST_GIVE_UP } else { GIVE_UP };
    if chance < give_up || (now.missed && chance < DOUBT) {
        let lighter = choice.heaviest(Some(now.load), GOES_ON);
        let load = lighter.or(choice.at.ladder.lightest()).unwrap_or(now.load);
        return lower(choice, now, lighter_of(load, now.load));
    }
    let sure = chance >= SHAKEN && choice.mind.sessions > 0;
    if now.missed && now.reps + 2 <= now.least && !sure {
        return lower(choice, now, now.load);
    }
    (rise(choice, now).unwrap_or(now.load), None)
}

/// Odds below which a load is given up, and after a miss.
pub(super) const GIVE_UP: f64 = 0.60;
pub(super) const DOUBT: f64 = 0.75;
/// The same in a first session after a set that was made: little is known yet, and that speaks for
/// the load.
const FIRST_GIVE_UP: f64 = 0.35;
/// Odds of the load that takes its place.
pub(super) const GOES_ON: f64 = 0.70;
/// Two reps or more below the minimum cost a step, unless the odds are still above this.
const SHAKEN: f64 = 0.90;
/// A report so far above the reserve that is aimed for calls for more load.
pub(super) const FAR_ABOVE: u32 = 3;
/// The reserve that is aimed for where none is named; the published rules leave one more.
const USUAL_SPARE: u32 = 1;
/// The most that the load rises within a session, and while it is felt for.
pub(super) const RISE: f64 = 1.10;

fn lower(choice: &Choice<'_>, now: &Between, load: Load) -> (Load, Option<String>) {
    let down = choice.at.ladder.down(now.load);
    let shaken = now.missed && now.reps + 2 <= now.least;
    let load = if load == now.load && shaken {
        down.unwrap_or(load)
    } else {
        load
    };
    let say = (load != now.load).then(|| format!("{} of {}: {load} next", now.reps, now.least));
    (load, say)
}

fn rise(choice: &Choice<'_>, now: &Between) -> Option<Load> {
    let spare = now.spare?;
    let aim = choice.spare.unwrap_or(USUAL_SPARE);
    let ratio = if now.feels {
        super::first::feeler_rise(spare)?
    } else if spare >= aim + FAR_ABOVE && !now.risen {
        RISE
    } else {
        return None;
    };
    let to = super::first::next_feeler(&choice.at.ladder, now.load, ratio)?;
    let to = now.most.map_or(to, |most| lighter_of(to, most));
    let threshold = if now.feels {
        choice.bold()
    } else {
        choice.threshold()
    };
    (is_above(to, now.load) && choice.now(to, choice.at.least()) >= threshold).then_some(to)
}
