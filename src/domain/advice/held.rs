//! What is believed today of an exercise that is held.

use super::Context;
use super::evidence::{Done, Work, day_of};
use super::ladder::Ladder;
use crate::domain::exercise::Exercise;
use crate::domain::history::Outing;
use crate::domain::session::Boldness;
use crate::domain::strength::belief::{HoldDay, HoldSeen, Holds};

impl Context<'_> {
    /// What is believed now of an exercise that is held, after these holds of today; none where
    /// nothing is kept of beliefs, it was never done, or its load has no mass.
    pub(super) fn held_day(&self, exercise: &Exercise, done: &Done<'_>) -> Option<HeldDay> {
        self.beliefs?;
        let ladder = Ladder::new(exercise, self.lifter.body_weight, &[]);
        let before: Vec<&Outing> = self.history.recent(&exercise.id).collect();
        let of = |outing: &&Outing| {
            let sets = Work::of(outing).held(exercise, &ladder)?;
            Some((day_of(outing.at), sets))
        };
        let sessions: Vec<(i64, Vec<HoldSeen>)> = before.iter().filter_map(of).collect();
        let today = done.work(self.now).held(exercise, &ladder)?;
        let first = before.iter().flat_map(|outing| &outing.sets);
        let first = first.chain(done.sets.iter().copied());
        let first = first
            .map(|set| &set.record)
            .find(|set| set.done.is_hold())?;
        let mut belief = Holds::new(ladder.moved(first.load)?, f64::from(first.asked.count()));
        for (day, sets) in &sessions {
            belief.take(*day, sets);
        }
        let mut now = belief.begin(day_of(self.now));
        today.iter().for_each(|set| now.observe(set));
        Some(HeldDay {
            today: now,
            sessions: belief.sessions(),
            boldness: self.lifter.boldness,
        })
    }
}

/// What is believed of one exercise that is held on a day, after the holds done so far.
#[derive(Clone, Debug)]
pub struct HeldDay {
    /// Today, by now.
    pub today: HoldDay,
    /// Sessions of the exercise so far.
    pub sessions: u32,
    /// How bold the lifter is.
    pub boldness: Boldness,
}
