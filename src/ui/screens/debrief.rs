//! The debrief: what was done against the plan, records, how hard it was, what comes next.

use super::{Page, columns, footer, minutes, saved, told};
use crate::app::model::{Debrief, Model};
use crate::domain::session::{Cell, Item, SetKind};
use crate::domain::strength::records::{Best, BestWhat};
use crate::domain::strength::volume;
use crate::domain::words;
use crate::ui::theme::Role;
use crate::ui::widgets::{put, wrap};
use ratatui::Frame;
use ratatui::layout::Rect;

/// Paints the debrief.
pub fn draw(page: &Page<'_>, debrief: &Debrief, frame: &mut Frame<'_>) {
    let (area, theme) = (page.area, page.theme);
    let session = &debrief.floor.session;
    let title = title(debrief);
    frame.set_cursor_position((area.x + 1, area.y));
    let end = put(
        frame.buffer_mut(),
        area,
        (1, 0),
        (title, theme, Role::Strong),
    );
    let span = session.last_at().since(session.opened).max(0) / 1000;
    let time = minutes(u32::try_from(span).unwrap_or(0));
    put(
        frame.buffer_mut(),
        area,
        (end, 0),
        (&format!(" · {time}"), theme, Role::Text),
    );
    saved(page, frame, area, 0);
    let width = |area: Rect| usize::from(area.width) - 2;
    match columns(area) {
        (left, Some(right)) => {
            print(page, &done(page.model, debrief), (frame, left));
            print(
                page,
                &next(page.model, debrief, width(right)),
                (frame, right),
            );
        }
        (all, None) => {
            let mut lines = lines(page.model, debrief, width(all));
            let room = usize::from(all.height).saturating_sub(BESIDE_LINES);
            let from = debrief.scroll.min(lines.len().saturating_sub(room));
            let shown = lines.split_off(from);
            print(page, &shown, (frame, all));
            let more = shown.len().saturating_sub(room);
            if more > 0 {
                let (text, y) = (format!("↓ {more} more"), all.height.saturating_sub(5));
                put(frame.buffer_mut(), all, (2, y), (&text, theme, Role::Quiet));
            }
        }
    }
    ask_effort(page, debrief, frame);
    let keys = if debrief.closed {
        "Enter leave   ↑↓ look"
    } else {
        "0-10 and Enter close   u take back   a add a set   . digit spare   n note   h keys"
    };
    footer(page, frame, keys);
}

/// Rows that are not for lines: head, question, notice, keys, and what stands between.
const BESIDE_LINES: usize = 7;

type Lines = Vec<(String, Role)>;

/// Writes lines below the head, as many as there is room for.
fn print(page: &Page<'_>, lines: &Lines, (frame, area): (&mut Frame<'_>, Rect)) {
    let room = usize::from(area.height).saturating_sub(BESIDE_LINES);
    for ((text, role), y) in lines.iter().take(room).zip(2..) {
        put(frame.buffer_mut(), area, (1, y), (text, page.theme, *role));
    }
}

fn ask_effort(page: &Page<'_>, debrief: &Debrief, frame: &mut Frame<'_>) {
    let (area, theme) = (page.area, page.theme);
    let y = area.height - 4;
    let text = match (debrief.closed, debrief.spare) {
        (true, _) => return,
        (false, true) => "> spare of the last set: ".to_owned(),
        (false, false) => {
            let question = "how hard was it, 0 to 10? (Enter alone: no word)";
            format!("{question} {}", debrief.digits)
        }
    };
    let end = put(
        frame.buffer_mut(),
        area,
        (1, y),
        (&text, theme, Role::Strong),
    );
    frame.set_cursor_position((area.x + end.min(area.width - 1), area.y + y));
}

/// Whether the session is closed yet.
pub const fn title(debrief: &Debrief) -> &'static str {
    if debrief.closed {
        "session closed"
    } else {
        "session done"
    }
}

/// What was done, what was better than ever, what comes next, in lines of so many cells.
pub fn lines(model: &Model, debrief: &Debrief, width: usize) -> Lines {
    let mut lines = done(model, debrief);
    let next = next(model, debrief, width);
    if !next.is_empty() {
        lines.push((String::new(), Role::Text));
    }
    lines.extend(next);
    lines
}

/// What was done, and what was better than ever.
fn done(model: &Model, debrief: &Debrief) -> Lines {
    let session = &debrief.floor.session;
    let catalogue = &model.desk.catalogue;
    let mut lines = Vec::new();
    for (k, item) in session.items.iter().enumerate() {
        let name = catalogue.name(&item.planned.exercise);
        let done = told::sets(session.records(k));
        let done = if done.is_empty() {
            "nothing".to_owned()
        } else {
            done
        };
        lines.push((format!("{name}{}", left_out(item)), Role::Strong));
        lines.push((format!("  {done}"), Role::Text));
    }
    lines.push((String::new(), Role::Text));
    let unit = model.lifter.as_ref().map(|l| l.unit).unwrap_or_default();
    let total = volume::of_session(session, catalogue).text(unit);
    let whole = total.split('.').next().unwrap_or(&total).to_owned();
    lines.push((format!("volume load {whole} {unit}"), Role::Text));
    for best in &debrief.records {
        lines.push((record(catalogue.name(&best.exercise), best), Role::Strong));
    }
    lines
}

/// What comes next, in lines of so many cells.
fn next(model: &Model, debrief: &Debrief, width: usize) -> Lines {
    let catalogue = &model.desk.catalogue;
    let mut lines = Lines::new();
    if let Some(next) = &debrief.next {
        lines.push((format!("next: {}", next.plan.day_name), Role::Strong));
        for item in &next.plan.items {
            let sets = item.sets.iter().rfind(|set| set.kind != SetKind::Ramp);
            let work = sets
                .map(|set| told::work(set.load, set.asked))
                .unwrap_or_default();
            let name = catalogue.name(&item.exercise);
            let text = format!("{name}: {work}. {}", words::capital(&item.reason));
            lines.extend(
                wrap(&text, width)
                    .into_iter()
                    .map(|line| (line, Role::Text)),
            );
        }
    }
    lines
}

/// What of the plan was not done.
fn left_out(item: &Item) -> String {
    let left = item
        .cells
        .iter()
        .filter(|cell| !matches!(cell, Cell::Done(_)))
        .count();
    if left == 0 {
        String::new()
    } else {
        format!(", {} not done", words::count(left, "set"))
    }
}

fn record(name: &str, best: &Best) -> String {
    match best.what {
        BestWhat::E1rm(mass, unit) => {
            let text = format!("{:.1}", mass.amount(unit));
            format!("record: {name}, estimated one-rep max {text} {unit}")
        }
        BestWhat::LoadAtReps(load, reps) => format!("record: {name}, {load} for {reps}"),
        BestWhat::MostAtLoad(load, reps) => format!("record: {name}, {reps} with {load}"),
    }
}
