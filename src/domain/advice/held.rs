//! What is believed today of an exercise that is held.

use super::Context;
use super::beliefs::{Beginning, Learned, Lesson};
use super::evidence::{Done, Work, day_of};
use super::ladder::Ladder;
use crate::domain::exercise::Exercise;
use crate::domain::history::Outing;
use crate::domain::session::Boldness;
use crate::domain::strength::belief::{HoldDay, HoldSeen};
use std::hash::{DefaultHasher, Hash, Hasher};

impl Context<'_> {
    /// What is believed now of an exercise that is held, after these holds of today; none where
    /// nothing is kept of beliefs, it was never done, or its load has no mass.
    pub(super) fn held_day(&self, exercise: &Exercise, done: &Done<'_>) -> Option<HeldDay> {
        let beliefs = self.beliefs?;
        let ladder = Ladder::new(exercise, self.lifter.body_weight, &[]);
        let before: Vec<&Outing> = self.history.recent(&exercise.id).collect();
        let of = |outing: &&Outing| {
            let sets = Work::of(outing).held(exercise, &ladder)?;
            let day = day_of(outing.at);
            Some(SessionHeld { day, sets })
        };
        let sessions: Vec<SessionHeld> = before.iter().filter_map(of).collect();
        let today = done.work(self.now).held(exercise, &ladder)?;
        let first = before.iter().flat_map(|outing| &outing.sets);
        let first = first.chain(done.sets.iter().copied());
        let first = first
            .map(|set| &set.record)
            .find(|set| set.done.is_hold())?;
        let first = Beginning::Hold(ladder.moved(first.load)?, f64::from(first.asked.count()));
        let folded = beliefs.folded(&exercise.id, &sessions, first)?;
        let Learned::Holds { holds: belief, .. } = &folded.learned else {
            return None;
        };
        let mut now = belief.begin(day_of(self.now));
        today.iter().for_each(|set| now.observe(set));
        Some(HeldDay {
            today: now,
            sessions: belief.sessions(),
            boldness: self.lifter.boldness,
        })
    }
}

/// The holds of a session.
struct SessionHeld {
    day: i64,
    sets: Vec<HoldSeen>,
}

impl Lesson for SessionHeld {
    fn sign_after(&self, before: u64) -> u64 {
        let mut sign = DefaultHasher::new();
        (before, self.day, self.sets.len()).hash(&mut sign);
        for set in &self.sets {
            let numbers = [set.load, set.seconds, set.rest].map(f64::to_bits);
            (numbers, set.failed, set.evidence).hash(&mut sign);
        }
        sign.finish()
    }

    fn teach(&self, learned: &mut Learned) {
        if let Learned::Holds { holds, .. } = learned {
            holds.take(self.day, &self.sets);
        }
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
