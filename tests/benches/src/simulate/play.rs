//! One lifter in one exercise, for months, under one policy.

use crate::chance::Chance;
use crate::policy::{Coach, Policy};
use crate::score::{Score, SetSeen};
use crate::truth::{Lifter, World};
use rackside::domain::advice::standalone::{Beginning, PastSession, PastSet, Question, SetPlan};
use rackside::domain::exercise::GivesWay;
use std::time::Instant;

/// Plays a lifter; with `trace`, every session is printed.
pub fn play(seed: u64, world: World, policy: Policy, score: &mut Score, trace: bool) {
    let chance = &mut Chance::new(seed);
    let mut lifter = Lifter::new(chance, world);
    let mut coach = Coach::new(policy);
    let mut history: Vec<PastSession> = Vec::new();
    let mut settled = score.lifter(lifter.guess.is_some());
    let mut day = 0;
    let end = i64::from(lifter.weeks) * 7;
    while day < end {
        let gap = if history.is_empty() {
            0
        } else {
            lifter.gap(chance)
        };
        day += gap;
        lifter.begin(chance, gap);
        let best = lifter.best();
        let mut sets: Vec<PastSet> = Vec::new();
        let mut seen: Vec<SetSeen> = Vec::new();
        for set in 0..lifter.sets {
            let question = question(&lifter, day, &history, &sets);
            let began = Instant::now();
            let ask = coach.ask(&question, &lifter);
            score.took(history.len(), began.elapsed());
            if set == 0 {
                settled.session(ask.load, best, &lifter.loads, history.len());
                score.load(ask.load, best, history.len());
            }
            let rest = if set == 0 {
                0.0
            } else {
                f64::from(lifter.rest)
            };
            let lifted = lifter.lift(chance, ask.load, ask.target, rest);
            seen.push(SetSeen {
                stated: ask.stated,
                there: lifted.there,
                done: lifted.done,
                least: lifter.least,
                tells: lifter.tells,
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
        score.session(&seen, history.len());
        if trace {
            println!("{}", told(&lifter, day, best, &sets, &seen));
        }
        history.push(PastSession { day, sets });
    }
    score.end(&settled);
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

fn question(lifter: &Lifter, day: i64, history: &[PastSession], sets: &[PastSet]) -> Question {
    Question {
        lifter: 1,
        exercise: "e".to_owned(),
        gives_way: GivesWay::PutDown,
        day,
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
        history: history.to_vec(),
        session: sets.to_vec(),
    }
}
