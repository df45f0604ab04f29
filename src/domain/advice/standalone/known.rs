//! What is known of one lifter's exercise, set after set.

use super::super::beliefs::first_look;
use super::super::evidence::USUAL_REST;
use super::{Beginning, PastSession, PastSet, Question};
use crate::domain::strength::belief::{
    Ending, Learning, Noise, Others, SetSeen, Start, Today, Track, USUAL_SPREAD,
};

/// What was worked out for one lifter and exercise.
pub struct Known {
    basis: Basis,
    history: Vec<PastSession>,
    pub track: Track,
    pub noise: Noise,
    pub today: Option<Day>,
    pub last_asked: u64,
}

/// What a belief hangs on beside the sets.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Basis {
    beginning: Beginning,
    rest: u32,
    least: u32,
}

/// A day in the middle of its sets.
pub struct Day {
    day: i64,
    sets: Vec<PastSet>,
    others: Others,
    pub noise: Noise,
    pub today: Today,
}

impl Known {
    /// Nothing yet.
    pub fn new(basis: Basis) -> Self {
        let Beginning {
            class_max,
            guess,
            learning,
        } = basis.beginning;
        Self {
            basis,
            history: Vec::new(),
            track: Track::new(Start {
                expected: class_max,
                spread: USUAL_SPREAD,
                guess: guess.map(|load| (load, f64::from(basis.least))),
                learning,
            }),
            noise: Noise::default(),
            today: None,
            last_asked: 0,
        }
    }

    /// Whether this was learned from a beginning of such a history.
    pub fn leads_to(&self, basis: Basis, history: &[PastSession]) -> bool {
        self.basis == basis && history.starts_with(&self.history)
    }

    /// Takes in what is new in a history.
    pub fn learn(&mut self, history: &[PastSession]) {
        let new = history.get(self.history.len()..).unwrap_or_default();
        if !new.is_empty() {
            self.today = None;
        }
        for session in new {
            let sets = session.sets.iter().map(|set| self.basis.seen(set));
            let sets: Vec<SetSeen> = sets.collect();
            self.track.take(session.day, &sets, &mut self.noise);
            self.history.push(session.clone());
        }
    }

    /// Takes in the sets of the question's day.
    pub fn go_on(&mut self, question: &Question, others: Others) {
        let fits = |today: &Day| {
            let same = today.day == question.day && today.others == others;
            same && question.session.starts_with(&today.sets)
        };
        let mut today = self.today.take().filter(fits).unwrap_or_else(|| Day {
            day: question.day,
            sets: Vec::new(),
            noise: others.noise(&self.noise),
            today: self.track.begin(question.day, &self.noise, &others),
            others,
        });
        for set in question.session.get(today.sets.len()..).unwrap_or_default() {
            let seen = self.basis.seen(set);
            let chances = today.today.observe(&seen);
            today.noise.learn_set(&seen, chances);
            today.sets.push(*set);
        }
        self.today = Some(today);
    }

    /// The day as it would have begun had the last session not been.
    pub fn without_last(&self, day: &Day) -> Option<Today> {
        self.track
            .begin_without_last(day.day, &self.noise, &day.others)
    }
}

impl Basis {
    /// That of the exercise that is asked about.
    pub const fn of(question: &Question) -> Self {
        Self {
            beginning: question.beginning,
            rest: question.plan.rest,
            least: question.plan.least,
        }
    }

    /// That of another exercise of the lifter, from its sets alone; none where there are none.
    pub fn of_other(history: &[PastSession], learning: Learning) -> Option<Self> {
        let first = history.first()?.sets.first()?;
        Some(Self {
            beginning: Beginning {
                class_max: first_look(first.load, first.target),
                guess: None,
                learning,
            },
            rest: USUAL_REST,
            least: u32::MAX,
        })
    }

    fn seen(&self, set: &PastSet) -> SetSeen {
        let stopped = set.reps >= set.target || set.spare.is_some_and(|spare| spare >= 1.0);
        let ending = if set.open && set.spare.is_none_or(|spare| spare < 1.0) || !stopped {
            Ending::Failed
        } else {
            Ending::Stopped { spare: set.spare }
        };
        SetSeen {
            load: set.load,
            reps: set.reps,
            asked: set.target,
            least: self.least.min(set.target),
            ending,
            rest: set.rest.unwrap_or_else(|| f64::from(self.rest)),
            measured: set.rest.is_some(),
            evidence: !set.deload && set.load > 0.0,
        }
    }
}
