//! What the model looks like. Pure: the model and an instant in, cells out.

pub mod lines;
mod progress;
mod screens;
pub mod theme;
mod title;
mod widgets;

pub use progress::{Progress, progress};
pub use title::title;

use crate::app::model::{Model, Screen};
use crate::domain::units::Now;
use crate::domain::words::{Letters, stand_in};
use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use theme::{Look, Theme};

/// The least that the screens can do with.
const SMALLEST: (u16, u16) = (60, 20);

/// Paints the model as it is at an instant; says how far down what is to be read can go: the first
/// line shown then.
pub fn draw(model: &Model, look: Look, now: Now, frame: &mut Frame<'_>) -> usize {
    let theme = Theme::new(model.ground, look.depth);
    let area = frame.area();
    let mut reach = 0;
    if let Some(ground) = theme.ground() {
        frame.buffer_mut().set_style(area, Style::new().bg(ground));
    }
    if area.width < SMALLEST.0 || area.height < SMALLEST.1 {
        widgets::too_small(area, SMALLEST, (theme, frame));
    } else {
        let area = if model.alarm {
            screens::alarm(area, theme, frame)
        } else {
            area
        };
        let mut page = Page {
            area,
            theme,
            now,
            model,
        };
        reach = screen(&mut page, frame);
        reach = screens::overlay::draw(&page, frame).unwrap_or(reach);
    }
    if model.flash.is_some_and(|until| now.boot < until) {
        let reversed = Style::new().add_modifier(Modifier::REVERSED);
        frame.buffer_mut().set_style(area, reversed);
    }
    if look.letters == Letters::Ascii {
        spell(frame.buffer_mut());
    }
    reach
}

fn screen(page: &mut Page<'_>, frame: &mut Frame<'_>) -> usize {
    match &page.model.screen {
        Screen::FirstRun(first) => screens::first_run::draw(page, first, frame),
        Screen::Waiting(outline) => screens::briefing::outline(page, outline, frame),
        Screen::Briefing(screen) => screens::briefing::draw(page, screen, frame),
        Screen::Floor(floor) => screens::floor::draw(page, floor, frame),
        Screen::Debrief(debrief) => return screens::debrief::draw(page, debrief, frame),
        Screen::Logbook(screen) => return screens::logbook::draw(page, screen, frame),
    }
    0
}

/// Puts a stand-in in place of every character that is not ASCII, cell by cell, so that whatever
/// is drawn has an ASCII form.
fn spell(buffer: &mut Buffer) {
    for cell in &mut buffer.content {
        if !cell.symbol().is_ascii() {
            let first = cell.symbol().chars().next().unwrap_or(' ');
            cell.set_char(stand_in(first));
        }
    }
}

/// What every screen is drawn from.
#[derive(Clone, Copy)]
struct Page<'m> {
    area: Rect,
    theme: Theme,
    now: Now,
    model: &'m Model,
}
