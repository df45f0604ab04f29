//! One exercise's history without a journal around it: what a script asks and is answered.

mod as_records;
mod known;

use super::between::{Between, between};
use super::ladder::Ladder;
use super::limits::Limits;
use super::odds::{self, Choice, Mind};
use super::situation::Situation;
use crate::domain::exercise::{Catalogue, GivesWay};
use crate::domain::session::Boldness;
use crate::domain::strength::belief::{Learning, Others};
use crate::domain::units::Load;
use as_records::{civil, exercise_of, load_of, past_of, slot_of};
use known::{Basis, Known};
use std::collections::BTreeMap;

/// A set that was done.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PastSet {
    /// Kilograms.
    pub load: f64,
    /// Reps done.
    pub reps: u32,
    /// Reps asked.
    pub target: u32,
    /// Reps in reserve, where the lifter said.
    pub spare: Option<f64>,
    /// Seconds of rest before it, where they are known.
    pub rest: Option<f64>,
    /// Whether as many as there were was asked.
    pub open: bool,
    /// Whether it was deload work.
    pub deload: bool,
}

/// An earlier session.
#[derive(Clone, PartialEq, Debug)]
pub struct PastSession {
    /// On which day, counted from any.
    pub day: i64,
    /// Its sets.
    pub sets: Vec<PastSet>,
}

/// What is asked of the sets.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct SetPlan {
    /// How many.
    pub sets: u32,
    /// The least reps that make one.
    pub least: u32,
    /// Reps where the load rises instead.
    pub most: u32,
    /// Seconds of rest.
    pub rest: u32,
    /// Reserve to aim for.
    pub spare: Option<u32>,
}

/// Where a belief begins, in kilograms.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Beginning {
    /// A one-rep max usual for the lifter's class.
    pub class_max: f64,
    /// The lifter's own guess of a load that suits the plan.
    pub guess: Option<f64>,
    /// How fast strength comes at first.
    pub learning: Learning,
}

/// A question.
#[derive(Clone, PartialEq, Debug)]
pub struct Question {
    /// Who.
    pub lifter: u64,
    /// What.
    pub exercise: String,
    /// What a failed rep does.
    pub gives_way: GivesWay,
    /// On which day.
    pub day: i64,
    /// What is asked of the sets.
    pub plan: SetPlan,
    /// Kilograms that the gear can make.
    pub loads: Vec<f64>,
    /// Where the belief begins.
    pub beginning: Beginning,
    /// What was done before today, oldest first.
    pub history: Vec<PastSession>,
    /// What was done today.
    pub session: Vec<PastSet>,
    /// What was done before of the lifter's exercises, by name, for what they share; this one's may
    /// be among them.
    pub journal: Vec<(String, Vec<PastSession>)>,
}

/// An answer.
#[derive(Clone, PartialEq, Debug)]
pub struct Answer {
    /// Kilograms.
    pub load: f64,
    /// Reps asked.
    pub target: u32,
    /// Chance that all sets to come reach the least.
    pub success: f64,
    /// Chance that they all reach what is asked.
    pub asked: f64,
    /// Reps to failure to expect of the next set.
    pub reps: f64,
    /// Chance of each set alone.
    pub each: Vec<f64>,
    /// Chance of the least at the next lighter load, where as many reps are asked.
    pub down: Option<f64>,
    /// Chance of the least at the next heavier load, where as many reps are asked.
    pub up: Option<f64>,
    /// Why.
    pub why: String,
}

/// Beliefs as far as they were worked out, by lifter and exercise: a run of questions with growing
/// histories costs one set each.
#[derive(Default)]
pub struct Answers {
    known: Kept,
    /// The same of exercises that others of the lifter are asked about.
    others: Kept,
    asked: u64,
}

/// A lifter and an exercise.
type Key = (u64, String);
type Kept = BTreeMap<Key, Known>;

/// The most lifters' exercises that are kept.
const MOST_KNOWN: usize = 1024;

impl Answers {
    /// The answer; `None` where no load can be made.
    pub fn answer(&mut self, question: &Question) -> Option<Answer> {
        self.asked += 1;
        let others = self.heard(question);
        let key = (question.lifter, question.exercise.clone());
        let basis = Basis::of(question);
        let mut known = taken(&mut self.known, &key, basis, &question.history);
        known.learn(&question.history);
        known.go_on(question, others);
        let answer = decide(question, &known);
        known.last_asked = self.asked;
        keep(&mut self.known, key, known);
        answer
    }

    /// What the lifter's other exercises say.
    fn heard(&mut self, question: &Question) -> Others {
        let mut heard = Others::default();
        for (exercise, history) in &question.journal {
            let own = *exercise == question.exercise;
            let basis = Basis::of_other(history, question.beginning.learning);
            let Some(basis) = basis.filter(|_| !own) else {
                continue;
            };
            let key = (question.lifter, exercise.clone());
            let mut known = taken(&mut self.others, &key, basis, history);
            known.learn(history);
            heard.hear(known.track.belief(), &known.noise);
            known.last_asked = self.asked;
            keep(&mut self.others, key, known);
        }
        heard
    }
}

/// What is kept of a beginning of this history, or nothing yet.
fn taken(kept: &mut Kept, key: &Key, basis: Basis, history: &[PastSession]) -> Known {
    let known = kept.remove(key);
    known
        .filter(|known| known.leads_to(basis, history))
        .unwrap_or_else(|| Known::new(basis))
}

/// Keeps it, in place of what was not asked for the longest time where there is too much.
fn keep(kept: &mut Kept, key: Key, known: Known) {
    if kept.len() >= MOST_KNOWN {
        let oldest = kept.iter().min_by_key(|(_, known)| known.last_asked);
        if let Some(oldest) = oldest.map(|(key, _)| key.clone()) {
            kept.remove(&oldest);
        }
    }
    kept.insert(key, known);
}

/// The answer from what is known.
fn decide(question: &Question, known: &Known) -> Option<Answer> {
    let day = known.today.as_ref()?;
    let (exercise, slot) = (exercise_of(question)?, slot_of(question)?);
    let loads: Vec<Load> = question
        .loads
        .iter()
        .filter_map(|kg| load_of(*kg))
        .collect();
    let ladder = Ladder::new(&exercise, None, &loads);
    let catalogue = Catalogue::default();
    let known_of = (ladder, past_of(question));
    let now = civil(question.day)?;
    let at = Situation::alone(&catalogue, (&exercise, &slot), known_of, now);
    let mind = Mind {
        forecast: day.today.forecast(),
        earlier: Box::new(|| known.without_last(day)),
        noise: &day.noise,
        sessions: known.track.sessions(),
        boldness: Boldness::Steady,
    };
    let done = u32::try_from(question.session.len()).unwrap_or(u32::MAX);
    let anchor = at.anchor();
    let limits = anchor.map(|anchor| Limits::of(&at, anchor));
    let choice = Choice {
        at: &at,
        mind: &mind,
        sets: question.plan.sets.saturating_sub(done).max(1),
        spare: question.plan.spare,
        above_range: limits
            .as_ref()
            .is_none_or(|limits| limits.instead.is_none()),
    };
    let (load, asked, why) = chosen(question, &at, &choice, (limits.as_ref(), anchor))?;
    let (outlook, success, reaches) = choice.stated(load, asked)?;
    // The same reps are asked of its neighbours, so that odds fall with load alone.
    let beside = |load: Option<Load>| Some(choice.stated(load?, asked)?.1);
    Some(Answer {
        load: at.ladder.moved(load)?,
        target: asked,
        success,
        asked: reaches,
        reps: outlook.reps.max(0.0),
        each: outlook.each,
        down: beside(at.ladder.down(load)).map(|odds| odds.max(success)),
        up: beside(at.ladder.up(load)).map(|odds| odds.min(success)),
        why,
    })
}

/// Load, count and reason: the session's, or the next set's once sets are done.
fn chosen(
    question: &Question,
    at: &Situation<'_>,
    choice: &Choice<'_>,
    (limits, anchor): (Option<&Limits>, Option<&super::past::Exposure>),
) -> Option<(Load, u32, String)> {
    Some(match question.session.last() {
        None => {
            let proposal = odds::propose(choice, limits, anchor)?;
            let (load, asked) = proposal.first.unwrap_or((proposal.load, proposal.asked));
            (load, asked, proposal.why)
        }
        Some(last) => {
            let mut now = between_of(question, at, limits, last)?;
            let back = anchor.map(|a| a.load).filter(|_| tried_first(question, at));
            let goes_on = || choice.now(now.load, at.least()) >= choice.threshold();
            if let Some(settled) = back.filter(|_| !goes_on()) {
                (now.load, now.missed) = (settled, false);
            }
            let (load, say) = between(choice, &now);
            (load, choice.reps(load), say.unwrap_or_default())
        }
    })
}

/// Whether the first set of today tried a load that is too far for the others: far above that of
/// last time, after sets at the cap.
fn tried_first(question: &Question, at: &Situation<'_>) -> bool {
    let (Some(anchor), [first]) = (at.anchor(), question.session.as_slice()) else {
        return false;
    };
    let far = at
        .ladder
        .moved(anchor.load)
        .is_some_and(|kg| first.load >= kg * 1.12 - 1e-9);
    far && anchor.lowest() >= at.cap(anchor.load)
}

fn between_of(
    question: &Question,
    at: &Situation<'_>,
    limits: Option<&Limits>,
    last: &PastSet,
) -> Option<Between> {
    let load = at
        .ladder
        .at_most(load_of(last.load)?)
        .or(at.ladder.lightest())?;
    let first = question.session.first()?.load;
    let least = question.plan.least.min(last.target);
    let near = |set: &PastSet| set.spare.is_some_and(|s| s < 4.0) || set.reps < least;
    let feels = at.feels() && !question.session.iter().any(near);
    Some(Between {
        load,
        reps: last.reps,
        least,
        spare: last
            .spare
            .map(|spare| libm::floor(spare.clamp(0.0, 9.0)) as u32),
        missed: last.reps < least && last.spare.is_none_or(|spare| spare < 1.0),
        risen: question.session.iter().any(|set| set.load > first),
        feels,
        most: limits.map(Limits::most).filter(|_| !feels),
    })
}
