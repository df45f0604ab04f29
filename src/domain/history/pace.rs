//! How fast a lifter is: from what was measured, else from what is usual.

use super::History;
use crate::domain::exercise::{Exercise, Sides};
use crate::domain::program::Tempo;
use crate::domain::session::Asked;
use crate::domain::units::Seconds;

/// Seconds that a rep takes where nothing is known; common practice, no source.
const USUAL_REP: f64 = 3.0;
/// Seconds to change sides; common practice, no source.
const CHANGE_SIDES: u32 = 5;
/// Measured sets that weigh as much as what is usual.
const USUAL_WEIGHS: f64 = 5.0;

/// How fast a lifter is.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Pace {
    /// Seconds that a rep takes at no prescribed tempo.
    rep: f64,
    /// How much longer than the opening of their windows this lifter rests, as a share of the
    /// window: 0 at its opening, 1 at its close.
    rests_at: f64,
}

impl Default for Pace {
    fn default() -> Self {
        Self {
            rep: USUAL_REP,
            rests_at: 0.5,
        }
    }
}

impl Pace {
    /// The pace of this history: measured sets count, with what is usual weighing as five.
    pub fn of(history: &History) -> Self {
        let (mut reps, mut rests) = (Mean::new(USUAL_REP), Mean::new(0.5));
        let sets = history
            .sessions
            .iter()
            .rev()
            .take(RECENT)
            .flat_map(|session| session.sets.iter().map(move |set| (session, &set.record)));
        for (session, record) in sets {
            let item = session.items.get(usize::from(record.item));
            let (Some(item), Some(lifted)) = (item, record.lifted) else {
                continue;
            };
            let count = record.done.deciding();
            if item.planned.tempo.is_none() && !record.done.is_hold() && count > 0 {
                reps.add(f64::from(lifted.get()) / f64::from(count));
            }
            let window = item.planned.rest;
            let span = window.closes.get().saturating_sub(window.opens.get());
            if let (Some(rest), true) = (record.rest, span > 0) {
                let past = f64::from(rest.seconds.get()) - f64::from(window.opens.get());
                rests.add((past / f64::from(span)).clamp(0.0, 2.0));
            }
        }
        Self {
            rep: reps.value().clamp(1.0, 10.0),
            rests_at: rests.value(),
        }
    }

    /// How long a set of so much takes.
    pub fn set_seconds(self, exercise: &Exercise, asked: Asked, tempo: Option<Tempo>) -> Seconds {
        let stretch = self.stretch(exercise.sides, asked, tempo);
        match exercise.sides {
            Sides::Both | Sides::Alternating => stretch,
            Sides::Each => Seconds::clamped(2 * stretch.get() + CHANGE_SIDES),
        }
    }

    /// How long a set of so much goes on before it is over or the other side's turn comes.
    pub fn stretch(self, sides: Sides, asked: Asked, tempo: Option<Tempo>) -> Seconds {
        let rep = tempo.map_or(self.rep, |tempo| f64::from(tempo.rep_seconds()));
        let one_side = match asked {
            Asked::Reps(reps) => libm::round(f64::from(reps.get()) * rep) as u32,
            Asked::Hold(seconds) => seconds.get(),
        };
        Seconds::clamped(match sides {
            Sides::Both | Sides::Each => one_side,
            Sides::Alternating => 2 * one_side,
        })
    }

    /// How long this lifter rests in such a window.
    pub fn rest_seconds(self, window: crate::domain::program::RestWindow) -> Seconds {
        let (opens, closes) = (
            f64::from(window.opens.get()),
            f64::from(window.closes.get()),
        );
        let rest = opens + self.rests_at * (closes - opens);
        Seconds::clamped(libm::round(rest) as u32)
    }
}

/// Sessions that the pace is taken from.
const RECENT: usize = 30;

/// A mean that begins at what is usual.
struct Mean {
    sum: f64,
    weight: f64,
}

impl Mean {
    fn new(usual: f64) -> Self {
        Self {
            sum: usual * USUAL_WEIGHS,
            weight: USUAL_WEIGHS,
        }
    }

    fn add(&mut self, value: f64) {
        self.sum += value;
        self.weight += 1.0;
    }

    fn value(&self) -> f64 {
        self.sum / self.weight
    }
}
