//! A belief followed through the sessions of one exercise.

use super::noise::Noise;
use super::others::Others;
use super::today::{SetSeen, Today};
use super::{Belief, Learning, Start};

/// A belief as the last session left it.
#[derive(Clone, PartialEq, Debug)]
pub struct Track {
    belief: Belief,
    day: i64,
    /// As it was before the last session.
    earlier: Option<(Box<Belief>, i64)>,
}

impl Track {
    /// The belief before the first session.
    pub fn new(start: Start) -> Self {
        Self {
            belief: Belief::new(start),
            day: 0,
            earlier: None,
        }
    }

    /// Takes in a session: on which day, counted from any, and its sets.
    pub fn take(&mut self, day: i64, sets: &[SetSeen], noise: &mut Noise) {
        let before =
            (self.belief.sessions() > 0).then(|| (Box::new(self.belief.clone()), self.day));
        let mut today = passed(&self.belief, day - self.day).begin(noise);
        for set in sets {
            let chances = today.observe(set);
            noise.learn_set(set, chances);
        }
        self.belief.pass((day - self.day).max(0) as f64);
        self.belief.end(&today, noise);
        self.day = day;
        self.earlier = before;
    }

    /// All that this is, as numbers; [`Track::of_numbers`] makes the same of them.
    pub fn numbers(&self) -> Vec<f64> {
        let mut numbers = Vec::new();
        let earlier = self.earlier.as_ref();
        let earlier = earlier.map(|(belief, day)| (belief.as_ref(), *day));
        for (belief, day) in [Some((&self.belief, self.day)), earlier]
            .into_iter()
            .flatten()
        {
            numbers.push(day as f64);
            belief.put_numbers(&mut numbers);
        }
        numbers
    }

    /// The track of these numbers; `None` where no track has them.
    pub fn of_numbers(numbers: &[f64], learning: Learning) -> Option<Self> {
        let one = |numbers: &[f64]| {
            let (day, belief) = numbers.split_first()?;
            Some((Belief::of_numbers(belief, learning)?, *day as i64))
        };
        let (now, rest) = numbers.split_at_checked(1 + Belief::NUMBERS)?;
        let (belief, day) = one(now)?;
        let earlier = match rest {
            [] => None,
            rest => Some(one(rest).map(|(belief, day)| (Box::new(belief), day))?),
        };
        Some(Self {
            belief,
            day,
            earlier,
        })
    }

    /// Begins a session on a day, in the light of the lifter's other exercises.
    pub fn begin(&self, day: i64, noise: &Noise, others: &Others) -> Today {
        let mut belief = passed(&self.belief, day - self.day);
        others.tell(&mut belief);
        belief.begin(&others.noise(noise))
    }

    /// The session of a day as it would begin had the last one not been; none before the third.
    pub fn begin_without_last(&self, day: i64, noise: &Noise, others: &Others) -> Option<Today> {
        let (belief, last) = self.earlier.as_ref()?;
        let mut belief = passed(belief, day - last);
        others.tell(&mut belief);
        Some(belief.begin(&others.noise(noise)))
    }

    /// Sessions taken in.
    pub const fn sessions(&self) -> u32 {
        self.belief.sessions()
    }

    /// The belief as the last session left it.
    pub const fn belief(&self) -> &Belief {
        &self.belief
    }
}

fn passed(belief: &Belief, days: i64) -> Belief {
    let mut belief = belief.clone();
    belief.pass(days.max(0) as f64);
    belief
}
