//! How strong the invented lifter is at one exercise, and what they take on.

use super::chance::Chance;
use super::{bounds, kilograms};
use crate::domain::gear::Makeable;
use crate::domain::program::Ask;
use crate::domain::session::Asked;
use crate::domain::units::Load;

/// With so many to spare in its last set an exercise was easy.
const EASY: u32 = 3;

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

/// What today is like.
#[derive(Clone, Copy, Debug)]
pub struct Day {
    /// In an easier week.
    pub easier: bool,
    /// The first after a lay-off.
    pub back: bool,
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
        (today, chance): (Day, &mut Chance),
    ) -> Option<Work> {
        let (min, max, said) = bounds(ask);
        // Gains come quickly at first and slowly later (Steele et al. 2022: with the log of time).
        self.sessions += 1;
        self.max *= 1.0 + 0.011 / (1.0 + f64::from(self.sessions) / 20.0);
        let last = makeable.len().checked_sub(1)?;
        let share = |place: usize| kilograms(makeable[place].load).map(|kg| kg / self.max);
        let begin = || {
            (0..=last)
                .rfind(|place| share(*place).is_none_or(|s| s < 0.72))
                .unwrap_or(0)
        };
        let step = self.step.map_or_else(begin, |step| step.min(last));
        // At the heaviest load there is, the most reps stand.
        let raised = self.count > max && step < last;
        let step = if raised { step + 1 } else { step };
        self.step = Some(step);
        if raised || today.back || self.count < min {
            self.count = min;
        }
        let place = if today.easier || today.back {
            step.saturating_sub(1)
        } else {
            step
        };
        let load = makeable[place].load;
        let rusty = if today.back { 0.96 } else { 1.0 };
        let day = rusty * (1.0 + 0.03 * chance.normal());
        let fresh = match kilograms(load) {
            Some(kg) => 1.0 + (self.max * day / kg - 1.0) / 0.036,
            None => f64::from(max) * 1.1 * day * (1.0 + 0.002 * f64::from(self.sessions.min(200))),
        };
        let asked = said(if today.easier {
            min
        } else {
            self.count.clamp(min, max)
        });
        Some(Work { load, asked, fresh })
    }

    /// What came of it: more next time where every set was made, twice as much where it was easy.
    /// `able` is what could have been done in the worst of the sets.
    pub fn learn(&mut self, ask: Ask, able: u32, easier: bool) {
        let (min, _, _) = bounds(ask);
        if easier {
            return;
        }
        let step = if min >= 15 { 2 } else { 1 };
        if able >= self.count + EASY {
            self.count += 2 * step;
        } else if able >= self.count {
            self.count += step;
        } else if able < min {
            self.step = self.step.map(|step| step.saturating_sub(1));
            self.count = min;
        }
    }
}

impl Work {
    /// How much could be done in a set, so many sets into the exercise.
    pub fn able(&self, before: usize, chance: &mut Chance) -> u32 {
        let tired = 1.0 - 0.07 * before as f64;
        let able = self.fresh * tired + 0.8 * chance.normal();
        libm::round(able.clamp(0.0, 200.0)) as u32
    }
}
