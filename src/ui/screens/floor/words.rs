//! What the floor says, as texts: for the screen and for the line mode alike.

use super::told;
use crate::app::floor::ComingSet;
use crate::app::model::{Desk, Floor};
use crate::domain::exercise::Sides;
use crate::domain::gear::Build;
use crate::domain::session::{Asked, Session, SetKind};
use crate::domain::units::{Load, Now};
use unicode_width::UnicodeWidthStr;

/// An exercise done fewer times than this has its cues shown unasked.
const NEW: usize = 3;

/// What is asked of a person whose load is felt for.
pub const FEELER: &str = "after it say how many more would have gone: . and a digit";

/// The name of an item's exercise.
pub fn name(floor: &Floor, item: usize, desk: &Desk) -> String {
    let exercise = floor.exercise(item, desk);
    exercise
        .map_or("?", |exercise| exercise.name.as_str())
        .to_owned()
}

/// Which of its exercise's sets comes: "set 3 of 4, each side".
pub fn which(floor: &Floor, coming: ComingSet, desk: &Desk) -> String {
    let kind = match (coming.kind, coming.feeler) {
        (SetKind::Ramp, _) => "ramp set",
        (SetKind::Working, true) => "feeler set",
        (SetKind::Working, false) if coming.open => "open set",
        (SetKind::Working, false) => "set",
        (SetKind::BackOff, _) => "back-off set",
    };
    let sides = match floor.sides_of(coming.item, desk) {
        Some(Sides::Each) => ", each side",
        Some(Sides::Alternating) => ", sides in turn",
        Some(Sides::Both) | None => "",
    };
    let item = floor.session.items.get(coming.item);
    let tempo = item.and_then(|item| item.planned.tempo);
    let tempo = tempo.map_or(String::new(), |tempo| format!(", tempo {tempo}"));
    format!("{kind} {} of {}{sides}{tempo}", coming.number, coming.of)
}

/// The exercise, and which of its sets comes.
pub fn heading(floor: &Floor, coming: ComingSet, desk: &Desk) -> String {
    format!(
        "{}, {}",
        name(floor, coming.item, desk),
        which(floor, coming, desk)
    )
}

/// "24 × 8", and the unit of what is not said in it.
pub fn load_by_count(coming: ComingSet) -> (String, String) {
    let (count, holds) = match coming.asked {
        Asked::Reps(reps) => (reps.to_string(), ""),
        Asked::Hold(seconds) => (seconds.get().to_string(), " × s"),
    };
    if let (Load::Body(weight), Asked::Hold(_)) = (coming.load, coming.asked)
        && weight.mass.ng() == 0
    {
        return (count, "seconds".to_owned());
    }
    let (load, unit) = match coming.load {
        Load::Mass(weight) => (weight.number(), weight.unit.symbol()),
        Load::Body(weight) if weight.mass.ng() == 0 => (String::new(), "body alone"),
        Load::Body(weight) if weight.mass.ng() > 0 => {
            (format!("+{}", weight.number()), weight.unit.symbol())
        }
        Load::Body(weight) => (weight.number(), weight.unit.symbol()),
        Load::Band(step) => (step.0.to_string(), "band"),
    };
    let more = if coming.open { "+" } else { "" };
    let text = format!("{load} × {count}{more}");
    (text.trim_start().to_owned(), format!("{unit}{holds}"))
}

/// What was done of the coming exercise the last time, in a line or two.
pub fn last_time(floor: &Floor, coming: ComingSet) -> Vec<String> {
    let briefed = floor.briefing.items.get(coming.item);
    let last = if is_swapped(floor, coming) {
        let item = floor.session.items.get(coming.item);
        item.and_then(|item| floor.past.outings(&item.planned.exercise).last())
    } else {
        briefed.and_then(|briefed| briefed.last.as_ref())
    };
    match last {
        Some(last) => {
            let day = told::day(last);
            let sets = told::sets(last.sets.iter());
            vec![format!("last time, {day}"), format!(" {sets}")]
        }
        None => vec!["not done before".to_owned()],
    }
}

/// Whether another exercise has taken the planned one's place.
fn is_swapped(floor: &Floor, coming: ComingSet) -> bool {
    let planned = floor.briefing.plan.items.get(coming.item);
    let now = floor.session.items.get(coming.item);
    now.map(|item| &item.planned.exercise) != planned.map(|item| &item.exercise)
}

/// What was done of it today.
pub fn today(floor: &Floor, coming: ComingSet) -> Option<String> {
    let today = told::sets(floor.session.records(coming.item));
    (!today.is_empty()).then(|| format!("today {today}"))
}

/// What to fetch, and which plates move from what is on now.
pub fn gear(floor: &Floor, coming: ComingSet) -> Vec<String> {
    if let Some(set) = floor.plates.as_ref().filter(|set| !set.stack.0.is_empty()) {
        return vec![format!("plates {} each end", set.stack), set.change.clone()];
    }
    let build = floor.build(coming.item, coming.load);
    let fetch = build.filter(|build| **build != Build::Body);
    let fetch = fetch.map(|build| format!("fetch {build}"));
    let moved = floor.plates.as_ref().filter(|set| set.moves > 0);
    fetch
        .into_iter()
        .chain(moved.map(|set| set.change.clone()))
        .collect()
}

/// The odds of the coming set, started now, and how long to rest for it, in so many cells where it
/// can be said in them.
pub fn odds(floor: &Floor, coming: ComingSet, (now, width): (Now, usize)) -> Option<String> {
    let foretold = floor.foretold.as_ref()?;
    let stated = floor.odds_now(now)?;
    let asked = coming.asked;
    let Some(rest) = floor.rest(now) else {
        let all = foretold.exercise;
        return Some(format!("{stated} for {asked}, {all} for all sets to come"));
    };
    let more = match (foretold.enough, foretold.lighter) {
        (Some(enough), _) if enough > rest.window.opens && rest.elapsed < enough.millis() => {
            format!(", likely enough from {enough}")
        }
        (Some(_), _) => String::new(),
        (None, Some((lighter, odds))) => format!(", {lighter}: {odds} at the close"),
        (None, None) => ", hard even at the close".to_owned(),
    };
    let whole = format!("{stated} for {asked} if you start now{more}");
    Some(if whole.width() <= width {
        whole
    } else {
        format!("{stated} for {asked} now{more}")
    })
}

/// What was learned in this session, where something was.
pub fn learned(floor: &Floor, coming: ComingSet) -> Option<&str> {
    let way = floor.ways.get(&(coming.item, coming.kind))?;
    (!way.say.is_empty()).then_some(way.say.as_str())
}

/// Why the coming set is as planned.
pub fn reason(floor: &Floor, coming: ComingSet) -> Option<&str> {
    let item = floor.session.items.get(coming.item)?;
    Some(item.planned.reason.as_str())
}

/// Which load would save plate moves, and what it costs, until a working set is done.
pub fn saving(floor: &Floor, coming: ComingSet) -> Option<String> {
    let mut done = floor.session.records(coming.item);
    let begun = done.any(|set| set.record.kind != SetKind::Ramp);
    let other = floor.ways.contains_key(&(coming.item, SetKind::Working));
    let saving = floor
        .briefing
        .saving(coming.item)
        .filter(|_| !begun && !other);
    saving.map(ToString::to_string)
}

/// Whether the coming exercise is one to be shown.
pub fn is_new(floor: &Floor, coming: ComingSet) -> bool {
    let item = floor.session.items.get(coming.item);
    item.map_or(0, |item| floor.past.outings(&item.planned.exercise).len()) < NEW
}

/// The exercise after the coming one, once its last set is the coming one.
pub fn next_exercise(session: &Session, item: usize) -> Option<usize> {
    if session.items.get(item)?.to_come().count() > 1 {
        return None;
    }
    let open = |other: &usize| {
        *other != item
            && session
                .items
                .get(*other)
                .is_some_and(|i| i.coming().is_some())
    };
    session.order.iter().copied().find(open)
}
