//! One lifter in one exercise or three, for months, under one policy.

use crate::chance::Chance;
use crate::policy::{Coach, Policy};
use crate::score::{Score, SetSeen, Settled};
use crate::truth::{Lifter, World};
use rackside::domain::advice::standalone::{Beginning, PastSession, PastSet, Question, SetPlan};
use rackside::domain::exercise::GivesWay;
use std::time::Instant;

/// Which exercises a lifter does, and what is told of them.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Scope {
    /// One exercise.
    One,
    /// Three, each told alone.
    Apart,
    /// Three, each told with the others' sets.
    Together,
}

/// An exercise of a lifter, and what came of it.
struct Exercise {
    lifter: Lifter,
    history: Vec<PastSession>,
    settled: Settled,
}

/// A session of one exercise.
struct Session {
    day: i64,
    gap: i64,
    exercise: usize,
    journal: Vec<(String, Vec<PastSession>)>,
}

/// Plays a lifter; with `trace`, every session is printed.
pub fn play(
    seed: u64,
    (world, scope, policy): (World, Scope, Policy),
    score: &mut Score,
    trace: bool,
) {
    let chance = &mut Chance::new(seed);
    let mut lifters = vec![Lifter::new(chance, world)];
    if scope != Scope::One {
        let others = [(); 2].map(|()| lifters[0].in_another_exercise(chance, world));
        lifters.extend(others);
    }
    let mut coach = Coach::new(policy);
    let of = |lifter: Lifter| Exercise {
        settled: score.lifter(lifter.guess.is_some()),
        lifter,
        history: Vec::new(),
    };
    let mut all: Vec<Exercise> = lifters.into_iter().map(of).collect();
    let (mut day, mut gap) = (0, 0);
    let end = i64::from(all[0].lifter.weeks) * 7;
    while day < end {
        if !all[0].history.is_empty() {
            gap = all[0].lifter.gap(chance);
        }
        day += gap;
        for exercise in 0..all.len() {
            let told = |(k, e): (usize, &Exercise)| (k.to_string(), e.history.clone());
            let shared = scope == Scope::Together;
            let journal = all.iter().enumerate().filter(|_| shared).map(told);
            let session = Session {
                day,
                gap,
                exercise,
                journal: journal.collect(),
            };
            let text = all[exercise].train(&session, (&mut coach, chance), score);
            if trace {
                println!("{text}");
            }
        }
    }
    all.iter().for_each(|exercise| score.end(&exercise.settled));
}

impl Exercise {
    /// Does a session, and says how it went.
    fn train(
        &mut self,
        session: &Session,
        (coach, chance): (&mut Coach, &mut Chance),
        score: &mut Score,
    ) -> String {
        self.lifter.begin(chance, session.gap);
        let best = self.lifter.best();
        let mut sets: Vec<PastSet> = Vec::new();
        let mut seen: Vec<SetSeen> = Vec::new();
        for set in 0..self.lifter.sets {
            let question = self.question(session, &sets);
            let began = Instant::now();
            let ask = coach.ask(&question, &self.lifter);
            score.took(self.history.len(), began.elapsed());
            if set == 0 {
                let place = self.history.len();
                self.settled
                    .session(ask.load, best, &self.lifter.loads, place);
                score.load(ask.load, best, place);
            }
            let rest = f64::from(self.lifter.rest) * f64::from(u8::from(set > 0));
            let lifted = self.lifter.lift(chance, ask.load, ask.target, rest);
            seen.push(SetSeen {
                stated: ask.stated,
                there: lifted.there,
                done: lifted.done,
                least: self.lifter.least,
                tells: self.lifter.tells,
            });
            sets.push(PastSet {
                load: ask.load,
                reps: lifted.done,
                target: ask.target,
                spare: lifted.told,
                rest: (set > 0).then_some(rest),
                open: false,
                deload: false,
            });
        }
        score.session(&seen, self.history.len());
        let text = told(&self.lifter, session.day, best, &sets, &seen);
        let day = session.day;
        self.history.push(PastSession { day, sets });
        text
    }

    fn question(&self, session: &Session, sets: &[PastSet]) -> Question {
        let lifter = &self.lifter;
        Question {
            lifter: 1,
            exercise: session.exercise.to_string(),
            gives_way: GivesWay::PutDown,
            day: session.day,
            plan: SetPlan {
                sets: lifter.sets,
                least: lifter.least,
                most: lifter.most,
                rest: lifter.rest,
                spare: lifter.spare,
            },
            loads: lifter.loads.clone(),
            beginning: Beginning {
                class_max: lifter.class_max,
                guess: lifter.guess,
                learning: lifter.learning,
            },
            history: self.history.clone(),
            session: sets.to_vec(),
            journal: session.journal.clone(),
        }
    }
}

fn told(lifter: &Lifter, day: i64, best: f64, sets: &[PastSet], seen: &[SetSeen]) -> String {
    let mut text = format!(
        "day {day:3} {}-{} best {best:5.1}:",
        lifter.least, lifter.most
    );
    for (set, seen) in sets.iter().zip(seen) {
        let spare = set.spare.map_or(String::new(), |spare| format!(".{spare}"));
        let (there, load) = (seen.there, set.load);
        text += &format!(" {load:.1}x{}/{}{spare}({there})", set.reps, set.target);
    }
    if let Some(first) = seen.first().and_then(|seen| seen.stated.as_ref()) {
        text += &format!(
            " p {:.2} reps {:.1} {}",
            first.success, first.reps, first.why
        );
    }
    text
}
