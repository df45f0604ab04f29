//! The four questions, and the caution, once.

use super::{Page, footer};
use crate::app::model::{FirstRun, FirstStep, Model};
use crate::domain::words::caution;
use crate::ui::theme::Role;
use crate::ui::widgets::{put, wrap, wrap_to};
use ratatui::Frame;

/// Paints a question of the first run.
pub fn draw(page: &mut Page<'_>, first: &FirstRun, frame: &mut Frame<'_>) {
    let (area, theme) = (page.area, page.theme);
    let step = FirstStep::ALL
        .iter()
        .position(|step| *step == first.step)
        .unwrap_or(0)
        + 1;
    let buf = frame.buffer_mut();
    put(buf, area, (1, 0), ("rackside", theme, Role::Strong));
    let text = format!(
        "question {step} of {}: Enter takes what is marked",
        FirstStep::ALL.len()
    );
    put(buf, area, (1, 1), (&text, theme, Role::Quiet));
    // Every line counts on a small screen: the caution is to be read whole.
    let gap = u16::from(area.height >= 24);
    let top = 2 + gap;
    put(
        buf,
        area,
        (1, top),
        (question(first.step), theme, Role::Strong),
    );
    let mut y = top + 1;
    let mut cursor = (3, y);
    for (k, answer) in answers(page.model, first).iter().enumerate() {
        let marked = k == first.list.marked;
        if marked {
            cursor.1 = y;
        }
        y = one_answer(page, (k, answer, marked), (frame, y));
    }
    let buf = frame.buffer_mut();
    if first.step == FirstStep::BodyWeight {
        let text = format!("> {}", first.list.digits);
        let end = put(buf, area, (3, y), (&text, theme, Role::Strong));
        put(
            buf,
            area,
            (end + 1, y),
            (first.lifter.unit.symbol(), theme, Role::Quiet),
        );
        cursor = (end, y);
        y += 1;
    }
    caution(page, y + gap, frame);
    frame.set_cursor_position((area.x + cursor.0, area.y + cursor.1));
    footer(page, frame, "Enter next   digits or ↑↓ choose   q leave");
}

/// An answer from a row on; says where the next one begins. What is marked is told whole, the
/// others in a line.
fn one_answer(
    page: &Page<'_>,
    (k, answer, marked): (usize, &str, bool),
    (frame, mut y): (&mut Frame<'_>, u16),
) -> u16 {
    let (rows, role) = if marked {
        (4, Role::Marked)
    } else {
        (1, Role::Text)
    };
    let mut number = (k + 1).to_string();
    for line in wrap_to(answer, usize::from(page.area.width) - 10, rows, " …") {
        let text = format!(" {number} {line} ");
        let ink = (text.as_str(), page.theme, role);
        put(frame.buffer_mut(), page.area, (3, y), ink);
        number = " ".repeat(number.len());
        y += 1;
    }
    y
}

/// The caution, below the question.
fn caution(page: &Page<'_>, mut y: u16, frame: &mut Frame<'_>) {
    let (area, theme) = (page.area, page.theme);
    let buf = frame.buffer_mut();
    // It was read whole with the first question: no part of it is shown cut.
    for paragraph in caution::CAUTION {
        let lines = wrap(paragraph, usize::from(area.width) - 2);
        let end = y + u16::try_from(lines.len()).unwrap_or(0);
        if end + 1 >= area.height {
            return;
        }
        for (line, y) in lines.iter().zip(y..) {
            put(buf, area, (1, y), (line, theme, Role::Text));
        }
        y = end;
    }
}

/// What is asked.
pub const fn question(step: FirstStep) -> &'static str {
    match step {
        FirstStep::Units => "Kilograms or pounds?",
        FirstStep::BodyWeight => "Body weight? A number, or Enter alone to leave it out.",
        FirstStep::Place => "Where do you train?",
        FirstStep::Program => "Which program?",
    }
}

/// What can be answered, number 1 first; empty where a number of one's own is asked for.
pub fn answers(model: &Model, first: &FirstRun) -> Vec<String> {
    let desk = &model.desk;
    match first.step {
        FirstStep::Units => vec!["kilograms".to_owned(), "pounds".to_owned()],
        FirstStep::BodyWeight => Vec::new(),
        FirstStep::Place => desk.places.iter().map(|place| place.name.clone()).collect(),
        FirstStep::Program => {
            let line = |p: &crate::domain::program::Program| match p.note.as_str() {
                "" => p.name.clone(),
                note => format!("{}: {note}", p.name),
            };
            desk.programs.iter().map(line).collect()
        }
    }
}
