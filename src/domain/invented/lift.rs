//! How strong the invented lifter is at one exercise, and what they take on.

use super::chance::Chance;
use super::{bounds, kilograms};
use crate::domain::gear::Makeable;
use crate::domain::program::Ask;
use crate::domain::session::Asked;
use crate::domain::units::Load;

/// Strength at one exercise.
#[derive(Clone, Debug)]
pub struct Lift {
    /// What can be lifted once, in kilograms.
    max: f64,
    /// Sessions so far.
    sessions: u32,
    /// Place of the load among those that can be made.
    step: Option<usize>,
    /// What is asked.
    count: u32,
}

/// What is done at one exercise today.
#[derive(Clone, Debug)]
pub struct Work {
    /// With what.
    pub load: Load,
    /// How much of it.
    pub asked: Asked,
    /// How much could be done in a first set.
    fresh: f64,
}

impl Lift {
    pub const fn new(max: f64) -> Self {
        Self {
            max,
            sessions: 0,
            step: None,
            count: 0,
        }
    }

    /// What is taken on today; `None` where nothing can be made.
    pub fn today(
        &mut self,
        ask: Ask,
        makeable: &[Makeable],
        (easier, chance): (bool, &mut Chance),
    ) -> Option<Work> {
        let (min, max, said) = bounds(ask);
        // Gains come quickly at first and slowly later (Steele et al. 2022: with the log of time).
        self.sessions += 1;
        self.max *= 1.0 + 0.006 / (1.0 + f64::from(self.sessions) / 20.0);
        let last = makeable.len().checked_sub(1)?;
        let share = |place: usize| kilograms(makeable[place].load).map(|kg| kg / self.max);
        let begin = || {
            (0..=last)
                .rfind(|place| share(*place).is_none_or(|s| s < 0.72))
                .unwrap_or(0)
        };
        let step = self.step.map_or_else(begin, |step| step.min(last));
        let raised = self.count > max;
        let step = if raised && step < last {
            step + 1
        } else {
            step
        };
        self.step = Some(step);
        if raised || self.count < min {
            self.count = min;
        }
        let place = if easier { step.saturating_sub(1) } else { step };
        let load = makeable[place].load;
        let day = 1.0 + 0.035 * chance.normal();
        let fresh = match kilograms(load) {
            Some(kg) => 1.0 + (self.max * day / kg - 1.0) / 0.036,
            None => f64::from(max) * 1.1 * day * (1.0 + 0.002 * f64::from(self.sessions.min(200))),
        };
        let asked = said(if easier {
            min
        } else {
            self.count.clamp(min, max)
        });
        Some(Work { load, asked, fresh })
    }

    /// What came of it: more next time where every set was made.
    pub fn learn(&mut self, ask: Ask, fewest: u32, easier: bool) {
        let (min, _, _) = bounds(ask);
        if easier {
            return;
        }
        if fewest >= self.count {
            self.count += if min >= 15 { 2 } else { 1 };
        } else if fewest < min {
            self.step = self.step.map(|step| step.saturating_sub(1));
            self.count = min;
        }
    }
}

impl Work {
    /// How much could be done in a set, so many sets into the exercise.
    pub fn able(&self, before: usize, chance: &mut Chance) -> u32 {
        let tired = 1.0 - 0.06 * before as f64;
        let able = self.fresh * tired + 0.8 * chance.normal();
        libm::round(able.clamp(0.0, 200.0)) as u32
    }
}
