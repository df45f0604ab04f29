//! The policy that goes by odds: the heaviest load whose chance of being made is good enough.

use super::ladder::is_above;
use super::levers::lever;
use super::limits::Limits;
use super::past::Exposure;
use super::proposal::Proposal;
use super::reach::is_big;
use super::situation::Situation;
use crate::domain::session::Boldness;
use crate::domain::strength::belief::{Ahead, Asks, Forecast, Noise, Outlook, Today};
use crate::domain::units::{Load, Odds};
use std::cmp::Ordering;

/// The chance that decides, where more than the minimum is asked of no set. These three and those
/// of first sessions are tuned on simulated lifters (`tests/benches`, `simulate`).
const BOLD: f64 = 0.55;
const STEADY: f64 = 0.80;
const CAUTIOUS: f64 = 0.85;
/// The least of it where a failed rep pins the lifter, after a break.
const PINNED: f64 = 0.85;
pub(super) const AFTER_BREAK: f64 = 0.80;
/// So much less decides a first session without feelers, where a failed rep can be put down: what
/// is too light teaches next to nothing of what can be lifted, and the odds of first sessions come
/// true more often than they are stated.
const FIRST_LESS: f64 = 0.10;
/// The load of last time is kept at a chance so much below.
const KEEPS: f64 = 0.05;
/// The chance at which a rep more is asked, or more seconds.
pub(super) const MORE_REPS: f64 = 0.60;
/// The reserve that is left where reps are added above the range.
const ABOVE_RANGE_SPARE: f64 = 2.5;
/// A nominal share of sets that a lapse spoils: where the minimum is asked, and where more is.
const LAPSE: f64 = 0.025;
const LAPSE_MORE: f64 = 0.005;
/// Sessions before habits count.
const NEW: u32 = 2;

/// What is believed, ready for questions.
pub struct Mind<'a> {
    /// Today, by now.
    pub forecast: Forecast<'a>,
    /// Works out today as it would have been without the last session: few questions need it.
    pub earlier: Box<dyn Fn() -> Option<Today> + 'a>,
    /// The lifter's noise.
    pub noise: &'a Noise,
    /// Sessions of the exercise so far.
    pub sessions: u32,
    /// How bold the lifter is.
    pub boldness: Boldness,
}

/// Sets to come, and what their load is bounded by.
pub struct Choice<'a> {
    /// The slot as it stands.
    pub at: &'a Situation<'a>,
    /// What is believed.
    pub mind: &'a Mind<'a>,
    /// How many sets.
    pub sets: u32,
    /// Reserve to aim for, where one is named.
    pub spare: Option<u32>,
    /// Whether reps may go above the range.
    pub above_range: bool,
}

/// The chance that decides, by how bold the lifter is.
pub(super) const fn bold(boldness: Boldness) -> f64 {
    match boldness {
        Boldness::Bold => BOLD,
        Boldness::Steady => STEADY,
        Boldness::Cautious => CAUTIOUS,
    }
}

impl Choice<'_> {
    /// The chance that decides, by how bold the lifter is and what a failed rep does.
    pub(super) fn bold(&self) -> f64 {
        let bold = bold(self.mind.boldness);
        if self.at.pins { PINNED.max(bold) } else { bold }
    }

    /// The chance that decides today.
    pub(super) fn threshold(&self) -> f64 {
        let days = self.at.past.days_off(self.at.now);
        let back = days.is_some_and(|days| days > 14);
        match (self.mind.sessions, back) {
            (0, _) if !self.at.pins => (self.bold() - FIRST_LESS).max(BOLD),
            (_, true) => self.bold().max(AFTER_BREAK),
            (_, false) => self.bold(),
        }
    }

    /// These sets with `load`, asking so many reps.
    pub fn ahead(&self, load: Load, asked: u32, least: u32) -> Option<Ahead> {
        Some(Ahead {
            load: self.at.ladder.moved(load)?,
            asked: f64::from(asked),
            least: f64::from(least),
            sets: self.sets,
            rest: f64::from(self.at.rest_seconds()),
        })
    }

    /// A slip or a call says nothing of the load, so that no first load is lighter for it.
    fn lapses(&self, asked: u32) -> f64 {
        let first = self.mind.sessions == 0;
        let lapse = if asked == self.at.least() && !first {
            LAPSE
        } else {
            LAPSE_MORE
        };
        libm::pow(1.0 - lapse, f64::from(self.sets))
    }

    /// The chance that every set makes `reps` where no more is asked, by the nominal lapses.
    pub fn chance(&self, forecast: &Forecast<'_>, load: Load, reps: u32) -> f64 {
        let ahead = self.ahead(load, reps, reps);
        ahead.map_or(0.0, |ahead| forecast.makes(&ahead)) * self.lapses(reps)
    }

    pub(super) fn now(&self, load: Load, reps: u32) -> f64 {
        self.chance(&self.mind.forecast, load, reps)
    }

    /// Whether a load's odds of the minimum pass, and its reserve where one is named.
    fn passes(&self, load: Load, threshold: f64) -> bool {
        let least = self.at.least();
        self.now(load, least) >= threshold && self.leaves(load, least)
    }

    /// Whether the hardest set leaves the reserve that is named.
    fn leaves(&self, load: Load, asked: u32) -> bool {
        let Some(wanted) = self.spare else {
            return true;
        };
        let ahead = self.ahead(load, asked, asked);
        let hardest = ahead.map(|ahead| self.mind.forecast.hardest(&ahead));
        hardest.is_some_and(|hardest| hardest >= f64::from(wanted))
    }

    /// The heaviest load up to `most` whose odds are at least `threshold`: odds fall with load.
    pub fn heaviest(&self, most: Option<Load>, threshold: f64) -> Option<Load> {
        let loads = self.at.ladder.loads();
        let within = |load: &Load| most.is_none_or(|most| !is_above(*load, most));
        let end = loads.partition_point(within);
        let loads = loads.get(..end).unwrap_or_default();
        let passing = loads.partition_point(|load| self.passes(*load, threshold));
        loads.get(passing.checked_sub(1)?).copied()
    }

    /// Reps to ask with `load`: more while they are likely, above the range only where the next
    /// load is too far.
    pub fn reps(&self, load: Load) -> u32 {
        let (least, most) = (self.at.least(), self.at.most());
        let mut asked = least;
        while asked < most && self.now(load, asked + 1) >= MORE_REPS && self.leaves(load, asked + 1)
        {
            asked += 1;
        }
        if asked < most || !self.above_range || !self.at.is_far(load) {
            return asked;
        }
        let cap = self.at.cap(load);
        while asked < cap && self.now(load, asked + 1) >= MORE_REPS {
            let ahead = self.ahead(load, asked, asked);
            let hardest = ahead.map(|ahead| self.mind.forecast.hardest(&ahead));
            if hardest.is_none_or(|hardest| hardest <= ABOVE_RANGE_SPARE) {
                break;
            }
            asked += 1;
        }
        asked
    }

    /// What is stated of sets with `load` asking so many reps: the outlook, the odds that all make
    /// the minimum, and the odds that all make what is asked; lapses as this lifter's are known.
    pub fn stated(&self, load: Load, asked: u32) -> Option<(Outlook, f64, f64)> {
        let least = self.at.least();
        let outlook = self.mind.forecast.outlook(&self.ahead(load, asked, least)?);
        let asks = if asked > least {
            Asks::More
        } else {
            Asks::Minimum
        };
        let makes = outlook.least * self.mind.noise.spared(asks, self.sets);
        let reaches = outlook.asked * self.mind.noise.spared(Asks::Minimum, self.sets);
        Some((outlook, makes, reaches))
    }
}

/// The load and reps of a session, before the rails have their last word.
pub fn propose(
    choice: &Choice<'_>,
    limits: Option<&Limits>,
    anchor: Option<&Exposure>,
) -> Option<Proposal> {
    let at = choice.at;
    let threshold = choice.threshold();
    let most = limits.map(Limits::most);
    let wished = choice.heaviest(None, threshold).or(at.ladder.lightest())?;
    let mut load = wished;
    if let Some(anchor) = anchor {
        // Only the step that may be taken is weighed, not one beyond what the rails allow.
        load = within(at, load, most)?;
        load = keep(choice, anchor, load, threshold).unwrap_or(load);
        load = climb(choice, anchor, load, threshold);
    }
    load = within(at, load, most)?;
    let asked = choice.reps(load);
    let (_, _, odds) = choice.stated(load, asked)?;
    let odds = Odds::nearest(odds);
    let held = limits.and_then(|limits| limits.reach.held.as_deref());
    let found = Found {
        load,
        asked,
        wished,
        odds,
    };
    let mut proposal = Proposal {
        load,
        asked,
        first: None,
        sets: u8::try_from(choice.sets).unwrap_or(u8::MAX),
        feelers: 0,
        spare: choice.spare,
        deload: false,
        why: why(at, anchor, &found, held) + &too_heavy(at, &found),
    };
    if let (Some(anchor), Some(most)) = (anchor, most)
        && let Some((next, first)) = try_next(choice, anchor, &proposal, most)
    {
        proposal.why = format!(
            "{next} is too far for every set: it is tried in the first, {}",
            chance_of(first, at.least())
        );
        proposal.first = Some((next, at.least()));
    }
    Some(proposal)
}

fn chance_of(odds: Odds, reps: u32) -> String {
    format!("{odds} for {reps}")
}

/// Where reps have come to their cap in two sessions and the next load is still too far for all
/// sets: that load for the first set alone, with its odds.
fn try_next(
    choice: &Choice<'_>,
    anchor: &Exposure,
    proposal: &Proposal,
    most: Load,
) -> Option<(Load, Odds)> {
    let at = choice.at;
    let next = at.ladder.up(proposal.load)?;
    let cap = at.cap(proposal.load);
    let stuck = |e: &Exposure| e.load == proposal.load && e.lowest() >= cap && !e.missed;
    let both = stuck(anchor) && at.before_anchor().is_some_and(stuck);
    if !both || proposal.asked < cap || !at.is_far(proposal.load) || is_above(next, most) {
        return None;
    }
    let one = Choice { sets: 1, ..*choice };
    let odds = one.now(next, at.least());
    (odds >= TRIES).then(|| (next, Odds::nearest(odds)))
}

/// The chance at which a load that is too far is tried in the first set.
const TRIES: f64 = 0.40;

/// The load, or the heaviest makeable one that the rails allow.
fn within(at: &Situation<'_>, load: Load, most: Option<Load>) -> Option<Load> {
    match most.filter(|most| is_above(load, *most)) {
        Some(most) => at.ladder.at_most(most).or(at.ladder.lightest()),
        None => Some(load),
    }
}

/// What was found, and what would have been without the rails.
struct Found {
    load: Load,
    asked: u32,
    wished: Load,
    odds: Odds,
}

/// The one sentence that says what decided.
fn why(at: &Situation<'_>, anchor: Option<&Exposure>, found: &Found, held: Option<&str>) -> String {
    let Found {
        load,
        asked,
        wished,
        odds,
    } = found;
    let chance = format!("{} in every set", chance_of(*odds, *asked));
    let Some(anchor) = anchor else {
        return format!("first time: {load}, {chance}");
    };
    let told = format!("{} at {} last time", anchor.told(), anchor.load);
    let far = at.jump_up(*load).map(|jump| libm::round(jump * 100.0));
    match (load.heavier(anchor.load), at.ladder.up(*load), far) {
        (Some(Ordering::Greater), ..) => format!("{told}: up to {load}, {chance}"),
        (Some(Ordering::Less), ..) => format!("{told}: down to {load}, {chance}"),
        _ if is_above(*wished, *load) => match held {
            Some(held) => held.to_owned(),
            None => format!("{told}: {load} again, {chance}; more must wait"),
        },
        (_, Some(next), Some(far)) if *asked > at.least() && at.is_far(*load) => {
            let at_cap = anchor.load == *load && anchor.lowest() >= at.cap(*load);
            let lever = lever(at).filter(|_| at_cap);
            let lever = lever.map_or(String::new(), |lever| {
                format!("; to make it harder, {lever}")
            });
            format!("{next} is {far} % more than {load}: {chance} first{lever}")
        }
        _ => format!("{told}: {load} again, {chance}"),
    }
}

/// Where even the lightest load is unlikely, that it is the lightest, and what is easier.
fn too_heavy(at: &Situation<'_>, found: &Found) -> String {
    let load = found.load;
    if at.ladder.down(load).is_some() || found.odds.chance() >= UNLIKELY {
        return String::new();
    }
    let stand_in = at.exercise.stand_ins.first().map(|s| &s.exercise);
    let easier = at.exercise.easier.as_ref().or(stand_in);
    let easier = easier.map_or(String::new(), |id| {
        format!(": {} is easier", at.catalogue.name(id))
    });
    format!("; {load} is the lightest here{easier}")
}

/// The chance below which even the lightest load is called too much.
const UNLIKELY: f64 = 0.5;

/// The load of last time, where all its sets were made; or where it is still likely enough and two
/// sessions did not miss.
fn keep(choice: &Choice<'_>, anchor: &Exposure, load: Load, threshold: f64) -> Option<Load> {
    let at = choice.at;
    let fell = is_above(anchor.load, load) && at.ladder.has(anchor.load);
    if !fell || at.past.days_off(at.now)? > 14 {
        return None;
    }
    let keeps = choice.mind.sessions >= NEW && at.past.misses_in_a_row() < 2;
    let likely = || choice.now(anchor.load, at.least()) >= threshold - KEEPS;
    (made(choice, anchor) || keeps && likely()).then_some(anchor.load)
}

/// Whether what is asked now was all made last time: no coach takes load off then. Not where the
/// rest is shorter than it was.
fn made(choice: &Choice<'_>, anchor: &Exposure) -> bool {
    let rests = anchor
        .rest
        .is_none_or(|rest| choice.at.rest_seconds() >= rest);
    rests && anchor.is_clean(choice.sets, choice.at.least())
}

/// A big step waits until its odds have passed after two sessions running.
fn climb(choice: &Choice<'_>, anchor: &Exposure, load: Load, threshold: f64) -> Load {
    let at = choice.at;
    if !is_big(at, anchor.load, load) {
        return load;
    }
    let passed = (choice.mind.earlier)()
        .is_some_and(|earlier| choice.chance(&earlier.forecast(), load, at.least()) >= threshold);
    if passed {
        return load;
    }
    let below = at.ladder.within(anchor.load, 1.10);
    match below.map(|below| below.heavier(anchor.load)) {
        Some(Some(Ordering::Greater | Ordering::Equal)) => below.unwrap_or(anchor.load),
        Some(_) | None => at.ladder.at_most(anchor.load).unwrap_or(load),
    }
}
