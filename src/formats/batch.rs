//! Questions and answers of `rackside suggest --batch`: one JSON object a line.

use super::json;
use crate::domain::advice::standalone::{
    Answer, Answers, Beginning, PastSession, PastSet, Question, SetPlan,
};
use crate::domain::exercise::GivesWay;
use crate::domain::strength::belief::Learning;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The heaviest load that is taken, in kilograms.
const HEAVIEST: f64 = 2_000.0;
/// The most reps, sets and loads.
const MOST_REPS: u32 = 999;
const MOST_SETS: u32 = 50;
const MOST_LOADS: usize = 10_000;
/// The longest rest, in seconds.
const LONGEST_REST: f64 = 86_400.0;
/// Days are counted from any, but not from further away.
const FARTHEST_DAY: i64 = 1_000_000;

/// What a line must be.
const SHAPE: &str = "write one JSON object a line with v, kind, lifter, experience, exercise, day, \
                     plan, loads and start, and history and session where there are any";

#[derive(Deserialize)]
struct Request {
    v: u32,
    kind: String,
    lifter: u64,
    experience: Experience,
    exercise: String,
    day: i64,
    plan: Plan,
    loads: Vec<f64>,
    #[serde(default)]
    gives_way: Yields,
    start: Start,
    #[serde(default)]
    history: Vec<Session>,
    #[serde(default)]
    session: Vec<Set>,
    #[serde(default)]
    journal: BTreeMap<String, Vec<Session>>,
}

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
enum Experience {
    Novice,
    Intermediate,
    Returning,
}

#[derive(Deserialize, Default)]
#[serde(rename_all = "snake_case")]
enum Yields {
    #[default]
    PutDown,
    Pins,
}

#[derive(Deserialize)]
struct Plan {
    sets: u32,
    reps_min: u32,
    reps_max: u32,
    rest_s: f64,
    #[serde(default)]
    target_rir: Option<f64>,
}

#[derive(Deserialize)]
struct Start {
    class_1rm: f64,
    #[serde(default)]
    own_guess: Option<f64>,
}

#[derive(Deserialize)]
struct Session {
    day: i64,
    sets: Vec<Set>,
}

#[derive(Deserialize)]
struct Set {
    load: f64,
    reps: u32,
    target: u32,
    #[serde(default)]
    rir: Option<f64>,
    #[serde(default)]
    rest_s: Option<f64>,
    #[serde(default)]
    amrap: bool,
    #[serde(default)]
    deload: bool,
}

#[derive(Serialize)]
struct Reply<'a> {
    load: f64,
    target_reps: u32,
    p_success: f64,
    p_asked: f64,
    predicted_reps: Vec<f64>,
    p_set: &'a [f64],
    why: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    p_down: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    p_up: Option<f64>,
}

#[derive(Serialize)]
struct Complaint<'a> {
    error: &'a str,
    line: u64,
}

/// The answer to one line, itself a line without its end. `number` counts lines from 1.
pub fn answer(answers: &mut Answers, line: &str, number: u64) -> String {
    let found = serde_json::from_str::<Request>(line)
        .map_err(|error| format!("not a request: {error}; {SHAPE}"))
        .and_then(question)
        .and_then(|question| {
            let answer = answers.answer(&question);
            answer.ok_or_else(|| "no load can be made: give loads above 0".to_owned())
        });
    match &found {
        Ok(answer) => json::line(&reply(answer)),
        Err(error) => json::line(&Complaint {
            error,
            line: number,
        }),
    }
}

fn reply(answer: &Answer) -> Reply<'_> {
    Reply {
        load: answer.load,
        target_reps: answer.target,
        p_success: answer.success,
        p_asked: answer.asked,
        predicted_reps: vec![answer.reps],
        p_set: &answer.each,
        why: &answer.why,
        p_down: answer.down,
        p_up: answer.up,
    }
}

fn question(request: Request) -> Result<Question, String> {
    if request.v != 1 || request.kind != "suggest" {
        let got = format!("v {}, kind {:?}", request.v, request.kind);
        return Err(format!("{got} is not known: write v 1, kind \"suggest\""));
    }
    let loads = request.loads.iter().copied();
    let loads: Result<Vec<f64>, String> = loads.map(|kg| mass(kg, "loads")).collect();
    let loads = loads?;
    if loads.is_empty() || loads.len() > MOST_LOADS {
        return Err(format!("loads: give 1 to {MOST_LOADS} of them"));
    }
    let class_max = mass(request.start.class_1rm, "start.class_1rm")?;
    let guess = request
        .start
        .own_guess
        .map(|kg| mass(kg, "start.own_guess"));
    Ok(Question {
        lifter: request.lifter,
        exercise: request.exercise,
        gives_way: match request.gives_way {
            Yields::PutDown => GivesWay::PutDown,
            Yields::Pins => GivesWay::Pins,
        },
        day: day(request.day)?,
        plan: plan(&request.plan)?,
        loads,
        beginning: Beginning {
            class_max,
            guess: guess.transpose()?,
            learning: match request.experience {
                Experience::Novice => Learning::Novice,
                Experience::Intermediate => Learning::Trained,
                Experience::Returning => Learning::Returning,
            },
        },
        history: request
            .history
            .into_iter()
            .map(session)
            .collect::<Result<_, _>>()?,
        session: request.session.iter().map(set).collect::<Result<_, _>>()?,
        journal: request
            .journal
            .into_iter()
            .map(|(exercise, history)| {
                let history = history.into_iter().map(session);
                let history = history.collect::<Result<_, _>>();
                let named = |error| format!("journal: {exercise:?}: {error}");
                Ok((exercise.clone(), history.map_err(named)?))
            })
            .collect::<Result<_, String>>()?,
    })
}

fn plan(plan: &Plan) -> Result<SetPlan, String> {
    let Plan {
        sets,
        reps_min,
        reps_max,
        ..
    } = *plan;
    if !(1..=MOST_SETS).contains(&sets) {
        return Err(format!("plan.sets: write 1 to {MOST_SETS}"));
    }
    if reps_min < 1 || reps_max < reps_min || reps_max > MOST_REPS {
        return Err(format!(
            "plan: reps_min {reps_min} to reps_max {reps_max} is no range; write 1 to {MOST_REPS}, \
             the smaller first"
        ));
    }
    let spare = plan
        .target_rir
        .map(|rir| bounded(rir, 9.0, "plan.target_rir"));
    Ok(SetPlan {
        sets,
        least: reps_min,
        most: reps_max,
        rest: bounded(plan.rest_s, LONGEST_REST, "plan.rest_s")? as u32,
        spare: spare.transpose()?.map(|spare| spare as u32),
    })
}

fn session(session: Session) -> Result<PastSession, String> {
    Ok(PastSession {
        day: day(session.day)?,
        sets: session.sets.iter().map(set).collect::<Result<_, _>>()?,
    })
}

fn set(set: &Set) -> Result<PastSet, String> {
    if set.reps > MOST_REPS || set.target > MOST_REPS {
        return Err(format!(
            "a set: {} reps of {}; write at most {MOST_REPS} of each",
            set.reps, set.target
        ));
    }
    let rest = set.rest_s.map(|rest| bounded(rest, LONGEST_REST, "rest_s"));
    let spare = set.rir.map(|rir| bounded(rir, f64::from(MOST_REPS), "rir"));
    Ok(PastSet {
        load: mass(set.load, "load")?,
        reps: set.reps,
        target: set.target,
        spare: spare.transpose()?,
        rest: rest.transpose()?,
        open: set.amrap,
        deload: set.deload,
    })
}

fn mass(kg: f64, what: &str) -> Result<f64, String> {
    if kg > 0.0 && kg <= HEAVIEST {
        return Ok(kg);
    }
    Err(format!(
        "{what}: {kg} is no load; write kilograms above 0 and up to {HEAVIEST}"
    ))
}

fn bounded(value: f64, most: f64, what: &str) -> Result<f64, String> {
    if (0.0..=most).contains(&value) {
        return Ok(value);
    }
    Err(format!("{what}: write 0 to {most}, not {value}"))
}

fn day(day: i64) -> Result<i64, String> {
    if day.abs() <= FARTHEST_DAY {
        return Ok(day);
    }
    Err(format!(
        "day: {day} is too far; write -{FARTHEST_DAY} to {FARTHEST_DAY}"
    ))
}
