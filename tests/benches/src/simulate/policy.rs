//! Who says what to lift: the suggestions, the published rules, and an oracle that knows all.

use crate::truth::Lifter;
use rackside::domain::advice::standalone::{Answer, Answers, PastSession, PastSet, Question};

/// Who says what to lift.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Policy {
    /// rackside's suggestions.
    Engine,
    /// A step once every set reached the top of the range; else a rep more.
    DoubleProgression,
    /// A step once the last set went two reps over the goal in two sessions running.
    TwoForTwo,
    /// Knows today's strength and fatigue, but not the luck of sets.
    Oracle,
}

/// What is to be lifted.
pub struct Ask {
    pub load: f64,
    pub target: u32,
    /// Odds and expected reps, where the policy states any.
    pub stated: Option<Answer>,
}

/// A policy at work with one lifter.
pub struct Coach {
    policy: Policy,
    answers: Answers,
}

impl Coach {
    pub fn new(policy: Policy) -> Self {
        Self {
            policy,
            answers: Answers::default(),
        }
    }

    pub fn ask(&mut self, question: &Question, lifter: &Lifter) -> Ask {
        match self.policy {
            Policy::Engine => {
                let answer = self.answers.answer(question).expect("a load can be made");
                Ask {
                    load: answer.load,
                    target: answer.target,
                    stated: Some(answer),
                }
            }
            Policy::DoubleProgression => double_progression(question),
            Policy::TwoForTwo => two_for_two(question),
            Policy::Oracle => oracle(question, lifter),
        }
    }
}

fn plain(load: f64, target: u32) -> Ask {
    Ask {
        load,
        target,
        stated: None,
    }
}

/// The makeable load next to `from`, or `from` at the end of the gear.
fn step(loads: &[f64], from: f64, by: isize) -> f64 {
    let at = loads.partition_point(|load| *load < from - 1e-6);
    let to = at.saturating_add_signed(by).min(loads.len() - 1);
    loads[to]
}

/// A first load: the lifter's own guess, or a modest share of the class's one-rep max.
fn first(question: &Question) -> f64 {
    let beginning = question.beginning;
    let wished = beginning.guess.unwrap_or(0.45 * beginning.class_max);
    let under = question
        .loads
        .iter()
        .rev()
        .find(|load| **load <= wished + 1e-6);
    under.copied().unwrap_or(question.loads[0])
}

fn made(session: &PastSession, reps: u32) -> bool {
    session.sets.iter().all(|set| set.reps >= reps)
}

/// Load of today, once a set is done: the load does not change within a session.
fn within(question: &Question) -> Option<&PastSet> {
    question.session.last()
}

/// After two sessions below the minimum, a step down.
fn fell(question: &Question) -> bool {
    let last = question.history.iter().rev().take(2);
    let load = |session: &PastSession| session.sets[0].load;
    let same = question
        .history
        .iter()
        .rev()
        .take(2)
        .map(load)
        .collect::<Vec<_>>();
    last.filter(|s| !made(s, question.plan.least)).count() == 2 && same[0] == same[1]
}

fn double_progression(question: &Question) -> Ask {
    let plan = question.plan;
    if let Some(set) = within(question) {
        return plain(set.load, set.target);
    }
    let Some(last) = question.history.last() else {
        return plain(first(question), plan.least);
    };
    let load = last.sets[0].load;
    let lowest = last.sets.iter().map(|set| set.reps).min().unwrap_or(0);
    if fell(question) {
        plain(step(&question.loads, load, -1), plan.least)
    } else if made(last, plan.most) {
        plain(step(&question.loads, load, 1), plan.least)
    } else {
        plain(load, (lowest + 1).clamp(plan.least, plan.most))
    }
}

fn two_for_two(question: &Question) -> Ask {
    let plan = question.plan;
    let is_last = question.session.len() + 1 == plan.sets as usize;
    let goal = plan.least + if is_last { 2 } else { 0 };
    if let Some(set) = within(question) {
        return plain(set.load, goal);
    }
    let Some(last) = question.history.last() else {
        return plain(first(question), goal);
    };
    let load = last.sets[0].load;
    let over = |session: &&PastSession| {
        session.sets[0].load == load
            && session
                .sets
                .last()
                .is_some_and(|set| set.reps >= plan.least + 2)
    };
    if fell(question) {
        plain(step(&question.loads, load, -1), goal)
    } else if question.history.iter().rev().take(2).filter(over).count() == 2 {
        plain(step(&question.loads, load, 1), goal)
    } else {
        plain(load, goal)
    }
}

fn oracle(question: &Question, lifter: &Lifter) -> Ask {
    let left = question.plan.sets - question.session.len() as u32;
    let load = lifter.best_of(left);
    let there = lifter.expected(load);
    let target = (there - 1.0).max(0.0) as u32;
    plain(load, target.clamp(question.plan.least, question.plan.most))
}
