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
use unicode_width::UnicodeWidthStr;

/// Paints the debrief; says how far down it goes.
pub fn draw(page: &Page<'_>, debrief: &Debrief, frame: &mut Frame<'_>) -> usize {
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
    let reach = match columns(area) {
        (left, Some(right)) => {
            let next = next(page.model, debrief, width(right));
            print(page, debrief, &next, (frame, right));
            let done = done(page.model, debrief, width(left));
            print(page, debrief, &done, (frame, left))
        }
        (all, None) => {
            let lines = lines(page.model, debrief, width(all));
            print(page, debrief, &lines, (frame, all))
        }
    };
    ask_effort(page, debrief, frame);
    let keys = if debrief.closed {
        "Enter leave   ↑↓ look"
    } else {
        "0-10 and Enter close   u take back   a add a set   . digit spare   n note   h keys"
    };
    footer(page, frame, keys);
    reach
}

/// Rows that are not for lines: head, question, notice, keys, and what stands between.
const BESIDE_LINES: usize = 7;

type Lines = Vec<(String, Role)>;

/// Writes lines below the head, as many as there is room for, from the one on that is looked at;
/// says which can be the first.
fn print(
    page: &Page<'_>,
    debrief: &Debrief,
    lines: &Lines,
    (frame, area): (&mut Frame<'_>, Rect),
) -> usize {
    let room = usize::from(area.height).saturating_sub(BESIDE_LINES);
    let reach = lines.len().saturating_sub(room);
    let from = debrief.scroll.min(reach);
    let buf = frame.buffer_mut();
    for ((text, role), y) in lines.iter().skip(from).take(room).zip(2..) {
        put(buf, area, (1, y), (text, page.theme, *role));
    }
    if reach > from {
        let (text, y) = (format!("↓ {} more", reach - from), area.height - 5);
        put(buf, area, (2, y), (&text, page.theme, Role::Quiet));
    }
    reach
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

/// What was better than ever and what was done, in lines of so many cells; once the session is
/// closed, before them what comes next: nobody looks for it below.
pub fn lines(model: &Model, debrief: &Debrief, width: usize) -> Lines {
    let mut lines = next(model, debrief, width);
    if !lines.is_empty() {
        lines.push((String::new(), Role::Text));
    }
    lines.extend(done(model, debrief, width));
    lines
}

/// What was better than ever, and what was done.
fn done(model: &Model, debrief: &Debrief, width: usize) -> Lines {
    let session = &debrief.floor.session;
    let catalogue = &model.desk.catalogue;
    let mut lines = Lines::new();
    for best in &debrief.records {
        let text = record(catalogue.name(&best.exercise), best);
        let wrapped = wrap(&text, width).into_iter();
        lines.extend(wrapped.map(|line| (line, Role::Strong)));
    }
    let names = session.items.iter();
    let names = names.map(|item| catalogue.name(&item.planned.exercise).width());
    let indent = names.max().unwrap_or(0) + 2;
    for (k, item) in session.items.iter().enumerate() {
        let name = catalogue.name(&item.planned.exercise);
        let parts = [told::sets(session.records(k)), left_out(item)];
        let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
        let told = wrap(&parts.join(", "), width.saturating_sub(indent));
        for (k, line) in told.iter().enumerate() {
            let name = if k == 0 { name } else { "" };
            lines.push((format!("{name:<indent$}{line}"), Role::Text));
        }
    }
    let unit = model.lifter.as_ref().map(|l| l.unit).unwrap_or_default();
    let total = volume::of_session(session, catalogue).text(unit);
    let whole = total.split('.').next().unwrap_or(&total).to_owned();
    lines.push((format!("volume load {whole} {unit}"), Role::Text));
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
        format!("{} not done", words::count(left, "set"))
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
