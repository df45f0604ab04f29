//! What one set says: whether it was hard, what it moved, which one-rep max it speaks of.

use crate::domain::session::{SetKind, SetRecord};
use crate::domain::strength::equations::{Equation, MOST_REPS};
use crate::domain::strength::moved::{body_part, moved};
use crate::domain::units::{Unit, Weight};

/// The most reps in reserve that a hard set leaves.
pub const MOST_SPARE: u32 = 4;

/// What one set says.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct SetDigest {
    /// Its place in the session's sets.
    pub place: usize,
    /// Whether it was a working or back-off set with at least one rep, or second.
    pub work: bool,
    /// Whether it was a hard set: work, no deload, and no more than four reps said to be spare.
    pub hard: bool,
    /// Reps, or seconds, of the lower side.
    pub done: u32,
    /// Whether seconds are counted.
    pub held: bool,
    /// What was moved, the body's part included, in the unit of the load; none with a band.
    pub moved: Option<Weight>,
    /// Reps that would have gone in all: those done, and those said to be spare. None of a hold, of
    /// a ramp set, or where more than four were said to be spare, which only says "at least".
    pub to_failure: Option<u32>,
}

impl SetDigest {
    /// Of a set at this place of its session.
    pub fn of(place: usize, record: &SetRecord, deload: bool, body: Option<Weight>) -> Self {
        let done = record.done.deciding();
        let work = record.kind != SetKind::Ramp && done > 0;
        let spare = record.spare.map_or(0, |spare| spare.get());
        let held = record.done.is_hold();
        let unit = record.load.entered().map_or(Unit::Kg, |weight| weight.unit);
        let mass = moved(body_part(record.counts, body), record.load);
        Self {
            place,
            work,
            hard: work && !deload && spare <= MOST_SPARE,
            done,
            held,
            moved: mass.map(|mass| Weight::new(mass, unit)),
            to_failure: (work && !held && spare <= MOST_SPARE).then_some(done + spare),
        }
    }

    /// The one-rep max that the set speaks of by a published equation, in the unit of the load:
    /// from the reps to failure, ten at most.
    pub fn one_rep_max(&self, equation: Equation) -> Option<f64> {
        self.max_from(equation, self.to_failure?)
    }

    /// The same from the reps that were done alone: what records go by.
    pub fn shown_max(&self, equation: Equation) -> Option<f64> {
        let counts = self.work && !self.held;
        counts.then(|| self.max_from(equation, self.done))?
    }

    fn max_from(&self, equation: Equation, reps: u32) -> Option<f64> {
        let moved = self.moved.filter(|_| reps <= MOST_REPS)?;
        equation.one_rep_max(moved.mass.amount(moved.unit), reps)
    }
}
