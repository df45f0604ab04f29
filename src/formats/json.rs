//! What commands print for scripts: JSON with stable keys.
//!
//! A load is an object: `text` as people read it, and `kg` (of one dumbbell, or of the whole bar),
//! `added_kg` (to the body, negative for assistance) or `band` (its step).

use crate::domain::diagnostic::{Diagnostic, Severity, is_unsafe};
use crate::domain::exercise::Catalogue;
use crate::domain::gear::{Implement, Place};
use crate::domain::history::Outing;
use crate::domain::schedule::{BriefedItem, Briefing, Ease};
use crate::domain::session::{Asked, Done, Performed, PlannedItem, PlannedSet, SetKind, SetRecord};
use crate::domain::units::{Load, Odds, Predicted};
use serde::Serialize;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// The version of what `brief --json` prints.
const BRIEF: u32 = 1;

/// The value on one line. What could steer a terminal stands only in texts, and is escaped there:
/// whoever reads the JSON gets it as it is.
pub fn line(value: &impl Serialize) -> String {
    let text = serde_json::to_string(value).unwrap_or_default();
    let mut line = String::with_capacity(text.len());
    for c in text.chars() {
        if is_unsafe(c) {
            line += &format!("\\u{:04x}", u32::from(c));
        } else {
            line.push(c);
        }
    }
    line
}

/// A load.
pub fn load(load: Load) -> Value {
    let text = load.to_string();
    match load {
        Load::Mass(weight) => json!({ "text": text, "kg": weight.mass.kg() }),
        Load::Body(weight) => json!({ "text": text, "added_kg": weight.mass.kg() }),
        Load::Band(step) => json!({ "text": text, "band": step.0 }),
    }
}

/// The name of a kind of set.
pub const fn kind(kind: SetKind) -> &'static str {
    match kind {
        SetKind::Ramp => "ramp",
        SetKind::Working => "working",
        SetKind::BackOff => "back_off",
    }
}

/// Something that a check found: `check`, `path`, `line` (null where it is about the whole file),
/// `message`, `advice`.
pub fn finding(check: &str, found: &Diagnostic) -> Value {
    json!({
        "check": check,
        "path": found.path,
        "line": found.span.map(|span| span.line),
        "message": found.message,
        "advice": found.advice,
    })
}

/// A recorded set: one line of `journal list --json`.
///
/// `id`, `at`, `exercise`, `set` (number within its exercise and kind), `kind`, `load`, `reps` or
/// `hold_s` (the lower side's where they differ), `left` and `right` where sides differ, `asked`,
/// `spare` (null where nothing was said), `rest_s` (null where it is not known) with
/// `rest_measured`, `ended`, and `damaged` where the line's checksum is wrong.
pub fn set(performed: &Performed) -> Value {
    let mut line = recorded(&performed.record);
    line.insert("id".into(), json!(performed.id.to_string()));
    line.insert("at".into(), json!(performed.at.to_string()));
    if performed.damaged {
        line.insert("damaged".into(), json!(true));
    }
    Value::Object(line)
}

/// What was done in a set: the same without `id`, `at` and `damaged`.
pub fn recorded(record: &SetRecord) -> Map<String, Value> {
    let mut line = Map::new();
    line.insert("exercise".into(), json!(record.exercise.as_str()));
    line.insert("set".into(), json!(record.number));
    line.insert("kind".into(), json!(kind(record.kind)));
    line.insert("load".into(), load(record.load));
    insert_done(&mut line, record.done);
    line.insert("asked".into(), json!(record.asked.count()));
    line.insert("spare".into(), json!(record.spare.map(|spare| spare.get())));
    line.insert(
        "rest_s".into(),
        json!(record.rest.map(|rest| rest.seconds.get())),
    );
    if let Some(rest) = record.rest {
        let measured = rest.known == crate::domain::session::RestKnown::Measured;
        line.insert("rest_measured".into(), json!(measured));
    }
    line.insert("ended".into(), json!(ended(record.ended)));
    line
}

/// How a set ended, in a word.
pub const fn ended(ended: crate::domain::session::Ended) -> &'static str {
    use crate::domain::session::Ended;
    match ended {
        Ended::AsAsked => "as_asked",
        Ended::Short => "short",
        Ended::OnPurpose => "on_purpose",
        Ended::Interrupted => "interrupted",
    }
}

fn insert_done(line: &mut Map<String, Value>, done: Done) {
    let key = if done.is_hold() { "hold_s" } else { "reps" };
    line.insert(key.into(), json!(done.deciding()));
    let (left, right) = done.by_side();
    if left != right {
        line.insert("left".into(), json!(left));
        line.insert("right".into(), json!(right));
    }
}

/// A problem in a file: one line of `program check --json`.
///
/// `v`, `path`, `line` and `column` (from 1, null where it is about the file as a whole), `length`
/// (characters), `severity` ("error" or "warning"), `message` and `advice`.
pub fn diagnostic(problem: &Diagnostic) -> Value {
    let severity = match problem.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    };
    json!({
        "v": 1,
        "path": problem.path,
        "line": problem.span.map(|span| span.line),
        "column": problem.span.map(|span| span.column),
        "length": problem.span.map(|span| span.length),
        "severity": severity,
        "message": problem.message,
        "advice": problem.advice,
    })
}

/// Today's session: what `brief --json` prints.
///
/// `v`, where in the program it is, `why`, `takes_s`, and `slots`: each with `exercise` (its id),
/// `name`, `sets` (working sets), `reps` or `hold_s` asked of the first of them, `rest_s` (the
/// window's opening and close), `load`, `odds`, `a_step_down` and `a_step_up` (null, or the `load`
/// beside it with the `odds` of as much), `reason`, `fetch`, `planned` (every set, ramp sets
/// among them, each with the reps or seconds to failure `predicted` of it), and `last` (null, or
/// `at`, `session` and `sets` as in `journal list --json`); and `lighter_week`: null, or what it is
/// `suggested` for, or the day it was `taken_until`.
pub fn brief(briefing: &Briefing, catalogue: &Catalogue) -> Value {
    let plan = &briefing.plan;
    let slots = plan.items.iter().zip(&briefing.items);
    let slots: Vec<Value> = slots
        .map(|(item, briefed)| slot(item, briefed, catalogue))
        .collect();
    json!({
        "v": BRIEF,
        "program": plan.program.as_str(),
        "phase": plan.phase,
        "phase_name": plan.phase_name,
        "week": plan.week,
        "day": plan.day,
        "day_name": plan.day_name,
        "place": plan.place.as_str(),
        "why": briefing.today.why,
        "takes_s": briefing.takes.get(),
        "slots": slots,
        "remarks": briefing.remarks,
        "lighter_week": ease(&briefing.ease),
    })
}

fn ease(ease: &Ease) -> Value {
    match ease {
        Ease::No => Value::Null,
        Ease::Suggested(why) => json!({ "suggested": why }),
        Ease::Taken(until) => json!({ "taken_until": until.to_string() }),
    }
}

fn slot(item: &PlannedItem, briefed: &BriefedItem, catalogue: &Catalogue) -> Value {
    let working: Vec<&PlannedSet> = item
        .sets
        .iter()
        .filter(|set| set.kind != SetKind::Ramp)
        .collect();
    let first = working.first();
    let mut slot = Map::new();
    slot.insert("slot".into(), json!(item.slot.to_string()));
    slot.insert("exercise".into(), json!(item.exercise.as_str()));
    slot.insert("name".into(), json!(catalogue.name(&item.exercise)));
    slot.insert("sets".into(), json!(working.len()));
    if let Some(first) = first {
        let (key, count) = asked(first.asked);
        slot.insert(key.into(), json!(count));
    }
    slot.insert(
        "rest_s".into(),
        json!([item.rest.opens.get(), item.rest.closes.get()]),
    );
    slot.insert(
        "load".into(),
        first.map_or(Value::Null, |first| load(first.load)),
    );
    slot.insert("odds".into(), json!(item.odds.map(|odds| odds.chance())));
    let beside = |step: Option<(Load, Odds)>| {
        step.map(|(to, odds)| json!({ "load": load(to), "odds": odds.chance() }))
    };
    slot.insert("a_step_down".into(), json!(beside(briefed.beside.down)));
    slot.insert("a_step_up".into(), json!(beside(briefed.beside.up)));
    slot.insert("reason".into(), json!(item.reason));
    slot.insert("fetch".into(), json!(briefed.fetch));
    slot.insert("planned".into(), item.sets.iter().map(planned).collect());
    slot.insert(
        "last".into(),
        briefed.last.as_ref().map_or(Value::Null, outing),
    );
    Value::Object(slot)
}

const fn asked(asked: Asked) -> (&'static str, u32) {
    match asked {
        Asked::Reps(reps) => ("reps", reps.get()),
        Asked::Hold(seconds) => ("hold_s", seconds.get()),
    }
}

fn planned(set: &PlannedSet) -> Value {
    let (key, count) = asked(set.asked);
    json!({
        "kind": kind(set.kind),
        "load": load(set.load),
        key: count,
        "feeler": set.feeler,
        "open": set.open,
        "predicted": set.predicted.map(Predicted::count),
    })
}

fn outing(outing: &Outing) -> Value {
    let sets: Vec<Value> = outing.sets.iter().map(set).collect();
    json!({ "at": outing.at.to_string(), "session": outing.session.to_string(), "sets": sets })
}

/// A place with its loads by implement: one line of `gear --json`.
///
/// `place`, `name`, `has` (what stands there, in words), `safeties` (whether the rack catches a
/// bar), `bands` (their names, from the lightest), and `loads`: by implement, from light to heavy,
/// each with `load` and what to `fetch`. Of loads from plates of both units the lightest 24,576 are
/// all there; above, one for every 0.2 kg.
pub fn place(place: &Place, implements: &[(&str, Implement)]) -> Value {
    let loads = implements.iter().map(|(name, implement)| {
        let made = place.makeable(*implement);
        let made: Vec<Value> = made
            .iter()
            .map(|made| json!({ "load": load(made.load), "fetch": made.build.to_string() }))
            .collect();
        ((*name).to_owned(), Value::from(made))
    });
    let loads: Map<String, Value> = loads.collect();
    let has: Vec<String> = place.fixtures.iter().map(ToString::to_string).collect();
    json!({
        "place": place.id.as_str(),
        "name": place.name,
        "has": has,
        "safeties": place.safeties,
        "bands": place.bands,
        "loads": loads,
    })
}

/// The plates of today's session: what `gear plan --json` prints.
///
/// `v`, `place`, `total_moves` (plates taken off plus put on, over all ends of all handles and
/// bars, ramp sets among the sets), `exact` (whether no other stacks have fewer), and `slots`: each
/// with `exercise`, its `moves`, and `sets`, each with `turn` (its number in the order of doing, in
/// which all changes are meant), `load`, `moves` and, where plates go on, `stack` (one end, inner
/// to outer, in words) and `change`; and `savings`: loads beside the suggested ones, the moves that
/// they would save, and what they cost in `percent` of all that is moved and in `harder_reps`, or
/// null where that cannot be said.
pub fn gear_plan(briefing: &Briefing, catalogue: &Catalogue) -> Value {
    let turns = briefing.plan.turns().into_iter().zip(1_u32..);
    let turns: BTreeMap<(usize, usize), u32> = turns.collect();
    let slots = briefing
        .plan
        .items
        .iter()
        .zip(&briefing.stacks.sets)
        .enumerate();
    let slots = slots.map(|(k, (item, stacks))| {
        let sets = item.sets.iter().zip(stacks).enumerate();
        let sets = sets.map(|(n, (set, stack))| {
            let turn = turns.get(&(k, n));
            match stack {
                None => json!({ "turn": turn, "load": load(set.load), "moves": 0 }),
                Some(stack) => json!({
                    "turn": turn,
                    "load": load(set.load),
                    "stack": stack.stack.0.iter().map(ToString::to_string).collect::<Vec<_>>(),
                    "change": stack.change,
                    "moves": stack.moves,
                }),
            }
        });
        let moves: u32 = stacks.iter().flatten().map(|stack| stack.moves).sum();
        json!({
            "exercise": item.exercise.as_str(),
            "name": catalogue.name(&item.exercise),
            "moves": moves,
            "sets": sets.collect::<Vec<_>>(),
        })
    });
    let savings = briefing.savings.iter().map(|saving| {
        let exercise = briefing
            .plan
            .items
            .get(saving.item)
            .map(|item| item.exercise.as_str());
        json!({
            "exercise": exercise,
            "instead": load(saving.instead),
            "moves": saving.moves,
            "percent": saving.percent,
            "harder_reps": saving.harder,
        })
    });
    json!({
        "v": 1,
        "place": briefing.plan.place.as_str(),
        "total_moves": briefing.stacks.moves(),
        "exact": briefing.stacks.exact,
        "slots": slots.collect::<Vec<_>>(),
        "savings": savings.collect::<Vec<_>>(),
    })
}
