//! Sessions in lines: a list, and one set by set against its plan.

use super::{NARROW, Reading, cell, day_in_list, wrapped};
use crate::domain::diagnostic::neutral;
use crate::domain::exercise::{Catalogue, ExerciseId};
use crate::domain::logbook::SessionDigest;
use crate::domain::logbook::said::{day, minutes, volume};
use crate::domain::session::{
    Cell, Done, Item, Performed, PlannedSet, Session, SetKind, SetRecord,
};
use crate::domain::words;

/// Which sessions: what is not given lets all through. Texts are held against names without regard
/// to case.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Which {
    /// With this exercise.
    pub exercise: Option<ExerciseId>,
    /// At this place.
    pub place: Option<String>,
    /// Of this program.
    pub program: Option<String>,
    /// With these words in a note.
    pub words: Option<String>,
}

impl Which {
    /// Whether a session is one of them.
    pub fn lets(&self, session: &Session, digest: &SessionDigest) -> bool {
        let exercise = self.exercise.as_ref();
        let exercise =
            exercise.is_none_or(|id| digest.exercises.iter().any(|done| done.exercise == *id));
        let plan = session.plan.as_ref();
        let place = named(self.place.as_deref(), plan.map(|plan| plan.place.as_str()));
        let program = named(
            self.program.as_deref(),
            plan.map(|plan| plan.program.as_str()),
        );
        let holds = |words: &String| {
            let words = words.to_lowercase();
            session
                .notes
                .iter()
                .any(|(_, note)| note.to_lowercase().contains(&words))
        };
        exercise && place && program && self.words.as_ref().is_none_or(holds)
    }

    /// Whether a session holds a text anywhere: in the name of an exercise, the place, the program,
    /// its day, or a note.
    pub fn mentions(text: &str, session: &Session, catalogue: &Catalogue) -> bool {
        let text = text.to_lowercase();
        let holds = |name: &str| name.to_lowercase().contains(&text);
        let exercises = session.sets.iter().map(|set| &set.record.exercise);
        let plan = session.plan.iter();
        exercises
            .into_iter()
            .any(|id| holds(catalogue.name(id)) || holds(id.as_str()))
            || session.notes.iter().any(|(_, note)| holds(note))
            || session.source.as_deref().is_some_and(holds)
            || plan.into_iter().any(|plan| {
                holds(plan.place.as_str())
                    || holds(plan.program.as_str())
                    || holds(&plan.day_name)
                    || holds(&plan.phase_name)
            })
    }
}

fn named(wanted: Option<&str>, name: Option<&str>) -> bool {
    wanted.is_none_or(|wanted| name.is_some_and(|name| name.eq_ignore_ascii_case(wanted)))
}

/// The places of the sessions of the days that are wanted, the last first.
pub fn wanted(reading: &Reading<'_>, which: &Which) -> Vec<usize> {
    let sessions = reading.logbook.sessions.iter().rev();
    let within =
        |digest: &&SessionDigest| digest.day >= reading.days.0 && digest.day <= reading.days.1;
    let lets = |digest: &&SessionDigest| {
        let session = reading.history.sessions.get(digest.place);
        session.is_some_and(|session| which.lets(session, digest))
    };
    sessions
        .filter(within)
        .filter(lets)
        .map(|digest| digest.place)
        .collect()
}

/// A session in a line.
pub fn line(reading: &Reading<'_>, place: usize) -> String {
    let records = (
        reading.history.sessions.get(place),
        reading.logbook.sessions.get(place),
    );
    let (Some(session), Some(digest)) = records else {
        return String::new();
    };
    let sets = words::count(session.sets.len(), "set");
    let took = digest.minutes.map_or_else(String::new, minutes);
    let effort = digest
        .effort
        .map_or_else(String::new, |effort| format!("effort {effort}"));
    let (days, names) = if reading.width < NARROW {
        (11, 19)
    } else {
        (15, 20)
    };
    let day = day_in_list(reading, digest.day);
    let name = cell(&name(session), names);
    let line = format!("{day:>days$} {name} {sets:>8} {took:>7} {effort}");
    cell(&neutral(&line), reading.width).trim_end().to_owned()
}

/// What a session is called: its day and phase, or where it came from.
fn name(session: &Session) -> String {
    match (&session.plan, &session.source) {
        (Some(plan), _) => format!("{} · {}", plan.day_name, plan.phase_name),
        (None, Some(source)) => source.clone(),
        (None, None) => "opening lost".to_owned(),
    }
}

/// One session set by set, each beside what was planned; with each line goes the place of its set,
/// where it is of one.
pub fn one(reading: &Reading<'_>, place: usize) -> Vec<(String, Option<usize>)> {
    let records = (
        reading.history.sessions.get(place),
        reading.logbook.sessions.get(place),
    );
    let (Some(session), Some(digest)) = records else {
        return Vec::new();
    };
    let mut lines: Vec<(String, Option<usize>)> = Vec::new();
    let mut say = |text: &str| {
        let wrapped = wrapped(&neutral(text), reading.width);
        lines.extend(wrapped.into_iter().map(|line| (line, None)));
    };
    say(&head(reading, session, digest));
    for (_, note) in &session.notes {
        say(&format!("note: {note}"));
    }
    for (_, pain) in &session.pains {
        say(&format!("pain: {:?}", pain.whereabouts));
    }
    let mut told = vec![false; session.sets.len()];
    for item in session.order.iter().filter_map(|k| session.items.get(*k)) {
        lines.extend(of_item(reading, session, item, &mut told));
    }
    let mut last: Option<&ExerciseId> = None;
    for (k, set) in session.sets.iter().enumerate() {
        if told.get(k) == Some(&false) {
            let exercise = &set.record.exercise;
            if last != Some(exercise) {
                lines.push((neutral(reading.catalogue.name(exercise)), None));
            }
            last = Some(exercise);
            lines.push((format!("  {}", performed(set)), Some(k)));
        }
    }
    lines
}

fn head(reading: &Reading<'_>, session: &Session, digest: &SessionDigest) -> String {
    let mut parts = vec![format!("{} {}", day(digest.day), session.opened.clock())];
    parts.push(name(session));
    if let Some(plan) = &session.plan {
        parts.push(format!("{}, at {}", plan.program, plan.place));
    }
    parts.extend(digest.minutes.map(minutes));
    parts.extend(digest.effort.map(|effort| format!("effort {effort}")));
    parts.push(words::count(digest.hard() as usize, "hard set"));
    parts.push(volume(digest.volume(), reading.unit));
    parts.join(", ")
}

fn of_item(
    reading: &Reading<'_>,
    session: &Session,
    item: &Item,
    told: &mut [bool],
) -> Vec<(String, Option<usize>)> {
    let planned = &item.planned;
    let easier = if planned.deload { ", easier" } else { "" };
    let name = reading.catalogue.name(&planned.exercise);
    let mut lines = vec![(neutral(&format!("{name}{easier}")), None)];
    for cell in &item.cells {
        match cell {
            Cell::Done(place) => {
                let Some(set) = session.sets.get(*place) else {
                    continue;
                };
                if let Some(told) = told.get_mut(*place) {
                    *told = true;
                }
                let other = set.record.exercise != planned.exercise;
                let other = other.then(|| reading.catalogue.name(&set.record.exercise));
                let other = other.map_or_else(String::new, |name| format!("{name}: "));
                let against = session
                    .planned_at(*place)
                    .map(|planned| against(planned, set));
                let line = format!("  {other}{}{}", performed(set), against.unwrap_or_default());
                lines.push((
                    self::cell(&neutral(&line), reading.width)
                        .trim_end()
                        .to_owned(),
                    Some(*place),
                ));
            }
            Cell::Skipped(set) => lines.push((format!("  left out: {}", asked(set)), None)),
            Cell::ToCome(set) => lines.push((format!("  not done: {}", asked(set)), None)),
        }
    }
    lines
}

fn asked(set: &PlannedSet) -> String {
    format!("{} × {}", set.load, set.asked)
}

/// What was planned, where that is not what was done.
fn against(planned: &PlannedSet, set: &Performed) -> String {
    let record = &set.record;
    if planned.load == record.load && planned.asked.count() == record.done.deciding() {
        return String::new();
    }
    format!(", planned {}", asked(planned))
}

/// A set that was done, in a few words.
pub fn performed(set: &Performed) -> String {
    let damaged = if set.damaged { " [damaged line]" } else { "" };
    recorded(&set.record) + damaged
}

/// What was done in a set, in a few words.
pub fn recorded(record: &SetRecord) -> String {
    let done = match record.done {
        Done::Reps(reps) => reps.to_string(),
        Done::RepsBySide { left, right } => format!("{left} left and {right} right"),
        Done::Held(seconds) => format!("{} s", seconds.get()),
        Done::HeldBySide { left, right } => {
            format!("{} s left and {} s right", left.get(), right.get())
        }
    };
    let kind = match record.kind {
        SetKind::Ramp => "ramp ",
        SetKind::Working => "",
        SetKind::BackOff => "back-off ",
    };
    let spare = record
        .spare
        .map(|spare| format!(" ({spare} spare)"))
        .unwrap_or_default();
    format!("{kind}{} × {done}{spare}", record.load)
}
