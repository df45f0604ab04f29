//! The guard rails: what stands above every policy.

use super::ladder::is_above;
use super::past::{Exposure, days_between};
use super::proposal::Proposal;
use super::reach::{Reach, lighter_of, reach};
use super::situation::Situation;
use crate::domain::units::Load;

/// Days off from which a return is made lighter.
const LAY_OFF: i64 = 14;
/// Days off from which it takes two sessions.
const LONG_LAY_OFF: i64 = 28;
/// Days off from which the program is better begun again: eight weeks.
const VERY_LONG: i64 = 56;
/// Days after a lay-off in which no deload is due.
const NO_DELOAD: i64 = 21;

/// Bounds of what may be proposed for an exercise that is known.
#[derive(Clone, PartialEq, Debug)]
pub struct Limits {
    /// How far it may rise.
    pub reach: Reach,
    /// A load that takes the policy's place, and why: coming back, deload work, after pain.
    pub instead: Option<Instead>,
    /// The most sets.
    pub sets: u8,
    /// The least reps in reserve to aim for.
    pub spare: Option<u32>,
    /// What to add to the reason, where fewer sets are asked for another cause than `instead`.
    pub fewer: Option<String>,
}

/// What takes a policy's place.
#[derive(Clone, PartialEq, Debug)]
pub struct Instead {
    /// The heaviest load.
    pub load: Load,
    /// Whether it is deload work.
    pub deload: bool,
    /// Why.
    pub why: String,
}

impl Limits {
    /// The bounds for an exercise that `anchor` makes known.
    pub fn of(at: &Situation<'_>, anchor: &Exposure) -> Self {
        let week = at.frame.first_week.then_some(3);
        let mut limits = Self {
            reach: reach(at, anchor),
            instead: None,
            sets: at.slot.sets,
            spare: at.slot.spare.map(|spare| spare.get()).max(week),
            fewer: None,
        };
        limits.after_pain(at);
        if !limits.lay_off(at, anchor) {
            limits.second_back(at);
            limits.easier_week(at, anchor);
            limits.misses(at, anchor);
        }
        limits
    }

    /// Puts this in the policy's place, unless something lighter stands there already.
    fn take(&mut self, instead: Instead) {
        let lighter = |had: &Instead| is_above(had.load, instead.load);
        if self.instead.as_ref().is_none_or(lighter) {
            self.instead = Some(instead);
        }
    }

    /// The heaviest load.
    pub fn most(&self) -> Load {
        match &self.instead {
            Some(instead) => lighter_of(instead.load, self.reach.to),
            None => self.reach.to,
        }
    }

    /// The proposal within the bounds.
    pub fn hold(&self, mut proposal: Proposal) -> Proposal {
        let most = self.most();
        proposal.first = proposal.first.filter(|(load, _)| !is_above(*load, most));
        if is_above(proposal.load, most) {
            proposal.load = most;
            if let Some(why) = &self.reach.held {
                proposal.why.clone_from(why);
            }
        }
        proposal.sets = proposal.sets.min(self.sets).max(1);
        proposal.spare = proposal.spare.max(self.spare);
        if let Some(instead) = &self.instead {
            proposal.first = None;
            proposal.deload = instead.deload;
            proposal.why.clone_from(&instead.why);
        }
        if let Some(fewer) = &self.fewer {
            proposal.why = format!("{}; {fewer}", proposal.why);
        }
        proposal
    }

    fn lay_off(&mut self, at: &Situation<'_>, anchor: &Exposure) -> bool {
        let days = at.past.days_off(at.now).unwrap_or(0);
        if days <= LAY_OFF {
            return false;
        }
        let (ratio, off) = if days <= LONG_LAY_OFF {
            (0.90, "10 %")
        } else if days <= VERY_LONG {
            (0.80, "20 %")
        } else {
            (0.75, "a quarter")
        };
        self.sets = if days > LONG_LAY_OFF {
            half(self.sets)
        } else {
            two_thirds(self.sets)
        };
        self.spare = self.spare.max(Some(3));
        let load = at.lighter(anchor.load, ratio);
        let sets = sets_of(self.sets);
        let lighter = if is_above(anchor.load, load) {
            format!("at least {off} lighter than {}", anchor.load)
        } else {
            "the same load".to_owned()
        };
        let mut why = format!("{days} days off: {lighter}, {sets}, 3 spare");
        if days > VERY_LONG {
            why.push_str("; better begin the program again");
        }
        self.take(Instead {
            load,
            deload: false,
            why,
        });
        true
    }

    /// The second session after a long lay-off still has half the sets.
    fn second_back(&mut self, at: &Situation<'_>) {
        let days = at.past.break_before_last().unwrap_or(0);
        if days > LONG_LAY_OFF {
            self.sets = half(self.sets);
            self.spare = self.spare.max(Some(3));
            self.fewer = Some(format!("second time back after {days} days: half the sets"));
        }
    }

    fn easier_week(&mut self, at: &Situation<'_>, anchor: &Exposure) {
        if !at.frame.easier_week || after_lay_off(at) {
            return;
        }
        self.sets = self.sets.min(easier_sets(at.slot.sets));
        self.spare = self.spare.max(Some(4));
        let load = at.lighter(anchor.load, 0.90);
        let why = format!(
            "easier week: {} instead of {}, 4 spare, nothing to prove",
            sets_of(self.sets),
            at.slot.sets
        );
        self.take(Instead {
            load,
            deload: true,
            why,
        });
    }

    /// Two misses in a row: 5 to 10 % down; where the gear has none, a set fewer; from the third
    /// on, the next lighter load whatever it is.
    fn misses(&mut self, at: &Situation<'_>, anchor: &Exposure) {
        let misses = at.past.misses_in_a_row();
        if misses < 2 || self.instead.is_some() {
            return;
        }
        let told = format!("{misses} times in a row below {}", anchor.minimum);
        let gentle = |load: &Load| {
            let jump = at.ladder.jump(anchor.load, *load);
            jump.is_some_and(|jump| jump >= -0.10 - 1e-9)
        };
        let small = at.ladder.within(anchor.load, 0.95).filter(gentle);
        let next = at.ladder.down(anchor.load).filter(|_| misses > 2);
        if let Some(load) = small.or(next) {
            self.take(Instead {
                load,
                deload: false,
                why: format!("{told}: down to {load}"),
            });
        } else {
            self.sets = self.sets.saturating_sub(1).max(1);
            let fewer = format!("{told} and no step of 5 to 10 % down here: a set fewer");
            self.fewer = Some(fewer);
        }
    }

    /// After a pain: back at 50 to 70 % of the load, half the sets, four spare; then climbing.
    fn after_pain(&mut self, at: &Situation<'_>) {
        let Some(back) = Return::after_pain(at) else {
            return;
        };
        self.spare = self.spare.max(Some(4));
        if back.is_light(at) {
            self.sets = half(self.sets);
        }
        let load = back.load(at, &self.reach);
        let whence = match back.since {
            None => "it hurt last time: back",
            Some(_) => "after the pain: climbing",
        };
        self.take(Instead {
            load,
            deload: false,
            why: format!(
                "{whence} at {load} toward {}, {}, 4 spare; stop if it hurts",
                back.before,
                sets_of(self.sets)
            ),
        });
    }
}

/// Coming back to an exercise after it, or another that loads the same, hurt.
struct Return {
    /// The load before it hurt.
    before: Load,
    /// The load of the last outing since.
    since: Option<Load>,
    /// Outings since.
    outings: usize,
}

impl Return {
    fn after_pain(at: &Situation<'_>) -> Option<Self> {
        let pain = at.pains.last()?;
        let then = |e: &Exposure| e.session == pain.session || e.at <= pain.at;
        let all = at.past.exposures.iter().chain(&at.past.easier);
        let before = all.filter(|e| then(e)).max_by_key(|e| e.at)?.load;
        let outings = at
            .past
            .exposures
            .iter()
            .rev()
            .take_while(|e| !then(e))
            .count();
        let back = Self {
            before,
            since: at
                .past
                .exposures
                .last()
                .filter(|_| outings > 0)
                .map(|e| e.load),
            outings,
        };
        (!back.is_over(at)).then_some(back)
    }

    /// Whether the old load has been reached again; where the gear has no lighter one, after two
    /// outings.
    fn is_over(&self, at: &Situation<'_>) -> bool {
        if at.ladder.down(self.before).is_none() {
            return self.outings >= 2;
        }
        self.since
            .is_some_and(|since| match at.ladder.jump(self.before, since) {
                Some(jump) => jump >= -0.05,
                None => !is_above(self.before, since),
            })
    }

    /// Whether the load is still well below what it was.
    fn is_light(&self, at: &Situation<'_>) -> bool {
        let jump = |since| at.ladder.jump(self.before, since);
        self.since.and_then(jump).is_none_or(|jump| jump < -0.15)
    }

    fn load(&self, at: &Situation<'_>, reach: &Reach) -> Load {
        match self.since {
            None => at.lighter(self.before, 0.70),
            Some(_) => lighter_of(reach.to, self.before),
        }
    }
}

/// Whether the lightest load here is too heavy to come back to after a pain.
pub fn too_heavy_to_return(at: &Situation<'_>) -> bool {
    let Some(back) = Return::after_pain(at) else {
        return false;
    };
    match back.before {
        Load::Mass(_) => back.since.is_none() && at.ladder.within(back.before, 0.70).is_none(),
        // Fewer sets of the body, or of the lightest band, are the lighter work there is.
        Load::Body(_) | Load::Band(_) => false,
    }
}

fn after_lay_off(at: &Situation<'_>) -> bool {
    at.past.trained.windows(2).rev().any(|pair| match pair {
        [before, last] => {
            days_between(*before, *last) > LAY_OFF && days_between(*last, at.now) <= NO_DELOAD
        }
        _ => false,
    })
}

/// Working sets of an easier week in place of so many.
pub fn easier_sets(sets: u8) -> u8 {
    fewer(sets, 0.6)
}

fn two_thirds(sets: u8) -> u8 {
    fewer(sets, 2.0 / 3.0)
}

fn half(sets: u8) -> u8 {
    fewer(sets, 0.5)
}

fn fewer(sets: u8, share: f64) -> u8 {
    (libm::round(f64::from(sets) * share) as u8).clamp(1, sets.max(1))
}

fn sets_of(sets: u8) -> String {
    match sets {
        1 => "1 set".to_owned(),
        more => format!("{more} sets"),
    }
}
