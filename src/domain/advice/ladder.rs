//! The loads that a place can make for one exercise, from light to heavy.

use crate::domain::exercise::{Counts, Exercise};
use crate::domain::strength::moved::{body_part, moved};
use crate::domain::units::{Load, Mass, Weight};
use std::cmp::Ordering;

/// Slack in comparing ratios of loads, so that kilograms and pounds decide alike.
const SLACK: f64 = 1e-9;

/// What an exercise can be loaded with here, lightest first, each load once.
#[derive(Clone, PartialEq, Debug)]
pub struct Ladder {
    rungs: Vec<Load>,
    /// The part of the load that the body itself is.
    body: Mass,
}

impl Ladder {
    /// The loads that can be made for `exercise`, by a person of `body_weight`.
    pub fn new(exercise: &Exercise, body_weight: Option<Weight>, loads: &[Load]) -> Self {
        let body = body_part(exercise.counts, body_weight);
        let mut rungs = loads.to_vec();
        rungs.retain(|load| belongs(exercise.counts, *load));
        rungs.retain(|load| matches!(load, Load::Band(_)) || moved(body, *load).is_some());
        rungs.sort_by(|a, b| a.heavier(*b).unwrap_or(Ordering::Equal));
        rungs.dedup_by(|a, b| a.heavier(*b) == Some(Ordering::Equal));
        Self { rungs, body }
    }

    /// Whether nothing can be made.
    pub fn is_empty(&self) -> bool {
        self.rungs.is_empty()
    }

    /// All loads, lightest first.
    pub fn loads(&self) -> &[Load] {
        &self.rungs
    }

    /// The lightest load.
    pub fn lightest(&self) -> Option<Load> {
        self.rungs.first().copied()
    }

    /// Whether `load` can be made.
    pub fn has(&self, load: Load) -> bool {
        self.rungs
            .iter()
            .any(|rung| rung.heavier(load) == Some(Ordering::Equal))
    }

    /// The next load above `from`, which need not be makeable itself.
    pub fn up(&self, from: Load) -> Option<Load> {
        self.rungs
            .iter()
            .copied()
            .find(|rung| rung.heavier(from) == Some(Ordering::Greater))
    }

    /// The next load below `from`.
    pub fn down(&self, from: Load) -> Option<Load> {
        self.rungs
            .iter()
            .copied()
            .rev()
            .find(|rung| rung.heavier(from) == Some(Ordering::Less))
    }

    /// The heaviest load that is not above `from`.
    pub fn at_most(&self, from: Load) -> Option<Load> {
        self.rungs
            .iter()
            .copied()
            .rev()
            .find(|rung| matches!(rung.heavier(from), Some(Ordering::Less | Ordering::Equal)))
    }

    /// What is moved in kilograms, the body's part included; `None` for a band, or where the
    /// body is helped by all that it weighs.
    pub fn moved(&self, load: Load) -> Option<f64> {
        moved(self.body, load).map(Mass::kg)
    }

    /// How much more `to` is than `from`, as a ratio: 0.1 is a tenth more.
    pub fn jump(&self, from: Load, to: Load) -> Option<f64> {
        Some(self.moved(to)? / self.moved(from)? - 1.0)
    }

    /// The heaviest load of at most `ratio` times `from`; `None` where there is none, and for
    /// bands, whose steps have no ratio.
    pub fn within(&self, from: Load, ratio: f64) -> Option<Load> {
        let most = self.moved(from)? * ratio * (1.0 + SLACK);
        self.rungs
            .iter()
            .copied()
            .rev()
            .find(|rung| self.moved(*rung).is_some_and(|kg| kg <= most))
    }

    /// The lightest load of at least `ratio` times `from`.
    pub fn beyond(&self, from: Load, ratio: f64) -> Option<Load> {
        let least = self.moved(from)? * ratio * (1.0 - SLACK);
        self.rungs
            .iter()
            .copied()
            .find(|rung| self.moved(*rung).is_some_and(|kg| kg >= least))
    }
}

/// The heavier of two loads of one kind.
pub fn heavier_of(a: Load, b: Load) -> Load {
    match b.heavier(a) {
        Some(Ordering::Greater) => b,
        Some(Ordering::Less | Ordering::Equal) | None => a,
    }
}

/// Whether `a` is heavier than `b`.
pub fn is_above(a: Load, b: Load) -> bool {
    a.heavier(b) == Some(Ordering::Greater)
}

fn belongs(counts: Counts, load: Load) -> bool {
    match counts {
        Counts::PerHand | Counts::OneDumbbell | Counts::BarTotal => matches!(load, Load::Mass(_)),
        Counts::Body { .. } | Counts::BodyPlus { .. } => matches!(load, Load::Body(_)),
        Counts::Band => matches!(load, Load::Band(_)),
    }
}
