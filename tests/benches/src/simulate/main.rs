//! Plays the suggestions against simulated lifters and prints the table of what came of them.
//!
//!     cargo run --release --bin simulate -- [LIFTERS] [SEED]

mod chance;
mod score;
mod truth;

use chance::Chance;
use rackside::domain::exercise::GivesWay;
use rackside::domain::strength::belief::Learning;
use rackside::domain::advice::standalone::{
    Answers, Beginning, PastSession, PastSet, Question, SetPlan,
};
use score::Score;
use std::time::Instant;
use truth::{Lifter, Noise};

fn main() {
    let mut args = std::env::args().skip(1);
    let lifters: u64 = args.next().and_then(|a| a.parse().ok()).unwrap_or(240);
    let seed: u64 = args.next().and_then(|a| a.parse().ok()).unwrap_or(1);
    println!("{}", Score::HEAD);
    for (name, noise) in [("usual noise", Noise::Usual), ("far noisier", Noise::Far)] {
        let mut score = Score::default();
        for number in 0..lifters {
            play(&mut Chance::new(seed * 1_000_003 + number), noise, number, &mut score);
        }
        println!("{}", score.row(name));
    }
}

/// One lifter in one exercise, for months.
fn play(chance: &mut Chance, noise: Noise, number: u64, score: &mut Score) {
    let mut lifter = Lifter::new(chance, noise);
    let mut answers = Answers::default();
    let mut history: Vec<PastSession> = Vec::new();
    let mut day = 0;
    let mut settled = score.lifter(lifter.guess.is_some());
    let end = i64::from(lifter.weeks) * 7;
    while day < end {
        let gap = if history.is_empty() { 0 } else { lifter.gap(chance) };
        day += gap;
        lifter.begin(chance, gap);
        let best = lifter.best();
        let mut sets: Vec<PastSet> = Vec::new();
        let mut stated: Vec<f64> = Vec::new();
        let mut made: Vec<bool> = Vec::new();
        let mut were: Vec<u32> = Vec::new();
        for set in 0..lifter.sets {
            let question = question(&lifter, number, day, &history, &sets);
            let began = Instant::now();
            let answer = answers.answer(&question).expect("a load can be made");
            score.took(history.len(), set, began.elapsed());
            if set == 0 {
                settled.session(answer.load, best, &lifter.loads, history.len());
                score.load(answer.load, best, history.len());
            }
            let rest = if set == 0 { 0.0 } else { f64::from(lifter.rest) };
            let (most, done, told) = lifter.lift(chance, answer.load, answer.target, rest);
            score.set(&answer, most, done, lifter.least, history.len());
            if done < lifter.least {
                let again = made.iter().any(|made| !made);
                let lapse = most >= lifter.least;
                let p = answer.success;
                score.note(format!("miss set {set} again {again} lapse {lapse}"), p);
                if lifter.is_ill() {
                    score.note("miss ill".to_owned(), p);
                }
            }
            were.push(most);
            stated.push(answer.success);
            made.push(done >= lifter.least);
            sets.push(PastSet {
                load: answer.load,
                reps: done,
                target: answer.target,
                spare: told,
                rest: (set > 0).then_some(rest),
                open: false,
                deload: false,
            });
        }
        score.session(&stated, &made, history.len());
        if std::env::var_os("SHOW").is_some() {
            let told: Vec<String> = sets
                .iter()
                .map(|s| format!("{}x{}/{}{}", s.load, s.reps, s.target, s.spare.map_or(String::new(), |s| format!(".{s}"))))
                .collect();
            let there: Vec<String> = were.iter().map(u32::to_string).collect();
            println!("{number} day {day} best {best:.1} guess {:?} {}-{}: {} (were {}) p {:.2}", lifter.guess, lifter.least, lifter.most, told.join(" "), there.join(" "), stated[0]);
        }
        history.push(PastSession { day, sets });
    }
    let kind = format!("{} tells {}", if lifter.guess.is_some() { "own" } else { "no " }, lifter.tells);
    score.end(settled, &kind);
}

fn question(
    lifter: &Lifter,
    number: u64,
    day: i64,
    history: &[PastSession],
    sets: &[PastSet],
) -> Question {
    Question {
        lifter: number,
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

/// Stands here so that the kinds of lifters are named once.
#[allow(dead_code)]
const KINDS: [Learning; 3] = [Learning::Novice, Learning::Returning, Learning::Trained];
