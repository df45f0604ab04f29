//! Timed holds by their odds: seconds first, then load, then a harder variant.

use super::between::{DOUBT, GIVE_UP, GOES_ON};
use super::double_progression::plain;
use super::held::HeldDay;
use super::ladder::is_above;
use super::limits::Limits;
use super::odds::{AFTER_BREAK, MORE_REPS, bold};
use super::past::Exposure;
use super::proposal::Proposal;
use super::reach::lighter_of;
use super::situation::Situation;
use crate::domain::strength::belief::HoldsAhead;
use crate::domain::units::{Load, Odds};

/// Seconds that a hold grows by, from session to session and from one choice to the next.
const STEP: u32 = 5;
/// The load of last time is kept at a chance so much below.
const KEEPS: f64 = 0.15;
/// Days off after which the chance must be better.
const BREAK: i64 = 14;

/// Holds to come, and what is believed of them.
pub struct Held<'a> {
    /// The slot as it stands.
    pub at: &'a Situation<'a>,
    /// What is believed.
    pub day: &'a HeldDay,
    /// How many.
    pub sets: u32,
}

impl Held<'_> {
    /// These holds, after the usual rest.
    pub fn ahead(&self, load: Load, seconds: u32) -> Option<HoldsAhead> {
        Some(HoldsAhead {
            load: self.at.ladder.moved(load)?,
            seconds: f64::from(seconds),
            sets: self.sets,
            rest: f64::from(self.at.rest_seconds()),
        })
    }

    /// The chance that each of them lasts so long.
    pub fn chance(&self, load: Load, seconds: u32) -> f64 {
        let ahead = self.ahead(load, seconds);
        ahead.map_or(0.0, |ahead| self.day.today.makes(&ahead))
    }

    /// Seconds to failure of each of them.
    pub fn to_failure(&self, load: Load, seconds: u32) -> Option<Vec<f64>> {
        Some(self.day.today.to_failure(&self.ahead(load, seconds)?))
    }

    /// The chance that decides, by how bold the lifter is.
    pub fn bold(&self) -> f64 {
        bold(self.day.boldness)
    }

    /// The longest time up to `most` whose chance is at least `good`: the least, or whole fives.
    fn longest(&self, load: Load, most: u32, good: f64) -> Option<u32> {
        let least = self.at.least();
        let fives = (least / STEP + 1..=most / STEP).map(|k| k * STEP);
        let all = std::iter::once(least).chain(fives);
        all.take_while(|seconds| self.chance(load, *seconds) >= good)
            .last()
    }

    /// What the odds propose after `anchor`: a few seconds more; at the top, the next load.
    pub fn propose(&self, limits: &Limits, anchor: &Exposure) -> Option<Proposal> {
        let (at, most) = (self.at, limits.most());
        let days = at.past.days_off(at.now)?;
        let good = if days > BREAK {
            self.bold().max(AFTER_BREAK)
        } else {
            self.bold()
        };
        let here = at.ladder.at_most(anchor.load).or(at.ladder.lightest())?;
        let load = lighter_of(here, most);
        let told = format!("{} s last time", anchor.told());
        let (least, top) = (at.least(), at.most());
        let room = (anchor.lowest() / STEP + 1) * STEP;
        let room = if is_above(anchor.load, load) || anchor.missed {
            room.max(least)
        } else {
            room.clamp(least, top)
        };
        if self.chance(load, least) < good {
            return Some(self.down(load, good, &told));
        }
        let more = MORE_REPS.min(good);
        let seconds = self.longest(load, room.min(top), more).unwrap_or(least);
        if anchor.lowest() < top || seconds < top {
            let again = if seconds > anchor.lowest() {
                "now"
            } else {
                "again"
            };
            return Some(self.proposal(load, seconds, &format!("{told}: {again}")));
        }
        let next = at.ladder.up(load).filter(|next| !is_above(*next, most));
        let next = next.filter(|next| self.chance(*next, least) >= good);
        if let Some(next) = next {
            return Some(self.proposal(next, least, &format!("{told}: up to {next},")));
        }
        let harder = at.exercise.harder.as_ref().map(|id| at.catalogue.name(id));
        let then = match (at.ladder.up(load), harder) {
            (Some(next), _) => format!("{told}, and {next} must wait:"),
            (None, Some(harder)) => format!("{told}; {harder} is the harder variant:"),
            (None, None) => format!("{told}, and nothing heavier here:"),
        };
        Some(self.proposal(load, seconds, &then))
    }

    /// Where even the least is not likely enough: it stays for a while, or gets lighter.
    fn down(&self, load: Load, good: f64, told: &str) -> Proposal {
        let least = self.at.least();
        if self.chance(load, least) >= good - KEEPS {
            return self.proposal(load, least, &format!("{told}: again"));
        }
        let lighter = self.at.ladder.loads().iter().rev();
        let mut lighter = lighter.filter(|other| is_above(load, **other));
        match lighter.find(|other| self.chance(**other, least) >= good) {
            Some(other) => self.proposal(*other, least, &format!("{told}: down to {other},")),
            None => self.proposal(load, least, &format!("{told}: the least again,")),
        }
    }

    fn proposal(&self, load: Load, seconds: u32, lead: &str) -> Proposal {
        let odds = Odds::nearest(self.chance(load, seconds));
        let why = format!("{lead} {seconds} s, {odds} in every set");
        plain(self.at, load, seconds, why)
    }

    /// What the coming hold should be after the last: as planned while it is likely enough, else
    /// shorter, else lighter; and why. `told` is what the last one came to.
    pub fn next(&self, load: Load, wanted: u32, told: Option<&str>) -> (Load, u32, Option<String>) {
        let good = if told.is_some() { DOUBT } else { GIVE_UP };
        if self.chance(load, wanted) >= good {
            return (load, wanted, None);
        }
        let least = self.at.least();
        let lead = told.map_or_else(|| "tired by now".to_owned(), str::to_owned);
        if let Some(seconds) = self.longest(load, wanted, GOES_ON) {
            let say = (seconds < wanted).then(|| format!("{lead}: {seconds} s next"));
            return (load, seconds, say);
        }
        let lighter = self.at.ladder.down(load);
        match lighter.filter(|lighter| self.chance(*lighter, least) > self.chance(load, least)) {
            Some(lighter) => {
                let say = format!("{lead}: {lighter} for {least} s next");
                (lighter, least, Some(say))
            }
            None => {
                let say = format!("{lead}: {least} s next, and take the full rest");
                (load, least.min(wanted), Some(say))
            }
        }
    }
}
