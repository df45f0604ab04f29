//! A program before it is done, for people and for scripts.

use super::json;
use crate::domain::diagnostic::neutral;
use crate::domain::exercise::{Catalogue, Muscle, Sides};
use crate::domain::program::{Ask, Phase, Program, Rhythm, Slot};
use crate::domain::schedule::{Preview, PreviewItem, PreviewSession, PreviewWeek};
use crate::domain::words;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Hard sets that a cell of a bar stands for.
const PER_CELL: f64 = 1.0;
/// The longest bar.
const LONGEST: usize = 30;

/// The preview in lines. Weeks that are alike stand there once.
pub fn text(program: &Program, preview: &Preview, catalogue: &Catalogue) -> String {
    let mut lines = head(program);
    let mut weeks = preview.weeks.as_slice();
    while let Some(first) = weeks.first() {
        let alike = weeks.iter().take_while(|week| is_like(week, first)).count();
        let Some(phase) = program.phases.get(usize::from(first.phase) - 1) else {
            break;
        };
        lines.push(String::new());
        lines.extend(title(phase, first, alike));
        for (k, session) in first.sessions.iter().enumerate() {
            if first.sessions.iter().take(k).any(|other| other == session) {
                lines.push(format!("{} again", session.name));
            } else {
                lines.extend(session_lines(session, catalogue));
            }
        }
        lines.extend(bars(&first.muscles));
        weeks = weeks.get(alike..).unwrap_or_default();
    }
    lines
        .iter()
        .map(|line| neutral(line.trim_end()) + "\n")
        .collect()
}

fn is_like(one: &PreviewWeek, other: &PreviewWeek) -> bool {
    one.phase == other.phase && one.easier == other.easier && one.sessions == other.sessions
}

fn head(program: &Program) -> Vec<String> {
    let weeks: usize = program.phases.iter().map(|p| usize::from(p.weeks)).sum();
    let rhythm = match &program.rhythm {
        Rhythm::Rotation { per_week } => {
            format!(
                "{} a week in turn",
                words::count((*per_week).into(), "session")
            )
        }
        Rhythm::Weekdays(days) => {
            let days: Vec<String> = days.iter().map(ToString::to_string).collect();
            days.join(" ")
        }
        Rhythm::Every { days } => {
            format!("a session every {}", words::count((*days).into(), "day"))
        }
    };
    let mut lines = vec![format!(
        "{} ({}): {}, {rhythm}",
        program.name,
        program.id,
        words::count(weeks, "week")
    )];
    lines.extend((!program.note.is_empty()).then(|| program.note.clone()));
    lines
}

fn title(phase: &Phase, first: &PreviewWeek, alike: usize) -> Vec<String> {
    let last = usize::from(first.week) + alike - 1;
    let which = match alike {
        1 => format!("week {}", first.week),
        _ => format!("weeks {} to {last}", first.week),
    };
    let easier = if first.easier { ", easier" } else { "" };
    let mut lines = vec![format!(
        "== {} · {which} of {}{easier} ==",
        phase.name, phase.weeks
    )];
    let note = first.week == 1 && !phase.note.is_empty();
    lines.extend(note.then(|| phase.note.clone()));
    lines
}

fn session_lines(session: &PreviewSession, catalogue: &Catalogue) -> Vec<String> {
    let minutes = session.takes.get().div_ceil(60);
    let mut lines = vec![format!("{}, about {minutes} minutes", session.name)];
    lines.extend(session.items.iter().map(|item| item_line(item, catalogue)));
    lines
}

fn item_line(item: &PreviewItem, catalogue: &Catalogue) -> String {
    let slot = &item.slot;
    let group = slot
        .group
        .map_or(String::new(), |group| format!("[{group}] "));
    let name = format!("{group}{}", catalogue.name(&slot.exercise));
    let load = item
        .load
        .map_or(String::new(), |load| format!("{load} today"));
    let here = match &item.here {
        None => "not here".to_owned(),
        Some(other) if *other != slot.exercise => {
            format!("here {}", catalogue.name(other))
        }
        Some(_) => String::new(),
    };
    let rest = format!("rest {}-{}", slot.rest.opens, slot.rest.closes);
    let asks = asks(slot, catalogue);
    format!("  {name:<32} {asks:<24} {rest:<16} {load} {here}")
}

/// "3 × 8-12 each side, the last open".
fn asks(slot: &Slot, catalogue: &Catalogue) -> String {
    let details = &slot.details;
    let mut text = match details.total {
        Some(total) => format!("{total} over {} sets", slot.sets),
        None => format!("{} × {}", slot.sets, slot.ask),
    };
    let usual = catalogue.get(&slot.exercise).map(|exercise| exercise.sides);
    match details.sides.or(usual) {
        Some(Sides::Each) => text += " each side",
        Some(Sides::Alternating) => text += " alternating",
        Some(Sides::Both) | None => {}
    }
    if details.open_last {
        text += ", last open";
    }
    if let Some(back_off) = details.back_off.filter(|back_off| back_off.sets > 0) {
        text += &format!(
            ", then {} × {} at {} %",
            back_off.sets, back_off.ask, back_off.percent
        );
    }
    text
}

/// A bar for each muscle's hard sets in the week.
fn bars(muscles: &BTreeMap<Muscle, f64>) -> Vec<String> {
    let mut lines = vec!["hard sets of the week".to_owned()];
    lines.extend(muscles.iter().map(|(muscle, sets)| {
        let cells = (sets / PER_CELL).round() as usize;
        let bar = "█".repeat(cells.min(LONGEST));
        format!("  {:<16} {sets:>5.1} {bar}", muscle.to_string())
    }));
    lines
}

/// The preview for scripts: `v`, `program`, `name`, and `weeks`: each with `phase`, `phase_name`,
/// `week`, `easier`, `hard_sets` (by muscle) and `sessions`: each with `day`, `name`, `takes_s` and
/// `slots`: each with `slot`, `exercise`, `sets`, `reps` or `hold_s` (least and most), `total`,
/// `open_last`, `back_off`, `rest_s` (opening and close), `group`, `here` (what is done instead
/// at the lifter's place, null where nothing can be) and `load` (as it would be today, null where
/// the journal does not know).
pub fn json(program: &Program, preview: &Preview) -> Value {
    let weeks: Vec<Value> = preview
        .weeks
        .iter()
        .map(|week| {
            let phase = program.phases.get(usize::from(week.phase) - 1);
            let muscles = week.muscles.iter();
            let muscles = muscles.map(|(muscle, sets)| (muscle.to_string(), json!(sets)));
            json!({
                "phase": week.phase,
                "phase_name": phase.map(|phase| phase.name.as_str()),
                "week": week.week,
                "easier": week.easier,
                "hard_sets": muscles.collect::<serde_json::Map<_, _>>(),
                "sessions": week.sessions.iter().map(session).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({
        "v": 1,
        "program": program.id.as_str(),
        "name": program.name,
        "weeks": weeks,
    })
}

fn session(session: &PreviewSession) -> Value {
    json!({
        "day": session.day,
        "name": session.name,
        "takes_s": session.takes.get(),
        "slots": session.items.iter().map(item).collect::<Vec<_>>(),
    })
}

fn item(item: &PreviewItem) -> Value {
    let slot = &item.slot;
    let key = match slot.ask {
        Ask::Reps { .. } => "reps",
        Ask::Hold { .. } => "hold_s",
    };
    let back_off = slot.details.back_off.map(|back_off| {
        let ask = [back_off.ask.least(), back_off.ask.most()];
        json!({ "sets": back_off.sets, "percent": back_off.percent, key: ask })
    });
    json!({
        "slot": slot.id.to_string(),
        "exercise": slot.exercise.as_str(),
        "sets": slot.sets,
        key: [slot.ask.least(), slot.ask.most()],
        "total": slot.details.total.map(|total| total.get()),
        "open_last": slot.details.open_last,
        "back_off": back_off,
        "rest_s": [slot.rest.opens.get(), slot.rest.closes.get()],
        "group": slot.group,
        "here": item.here.as_ref().map(|here| here.as_str()),
        "load": item.load.map(json::load),
    })
}
