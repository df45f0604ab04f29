//! What the model looks like. Pure: the model and an instant in, cells out.

mod screens;
pub mod theme;
mod widgets;

use crate::app::model::{Model, Screen};
use crate::domain::units::Now;
use ratatui::Frame;
use ratatui::layout::Rect;
use theme::Theme;

/// The least that the screens can do with.
const SMALLEST: (u16, u16) = (60, 20);

/// Paints the model as it is at an instant.
pub fn draw(model: &Model, theme: Theme, now: Now, frame: &mut Frame<'_>) {
    let area = frame.area();
    if area.width < SMALLEST.0 || area.height < SMALLEST.1 {
        widgets::too_small(area, SMALLEST, frame);
        return;
    }
    let mut page = Page {
        area,
        theme,
        now,
        model,
    };
    match &model.screen {
        Screen::FirstRun(first) => screens::first_run::draw(&mut page, first, frame),
        Screen::Waiting => screens::waiting(&page, frame),
        Screen::Briefing(screen) => screens::briefing::draw(&page, screen, frame),
        Screen::Floor(floor) => screens::floor::draw(&page, floor, frame),
        Screen::Debrief(debrief) => screens::debrief::draw(&page, debrief, frame),
    }
    screens::overlay::draw(&page, frame);
}

/// What every screen is drawn from.
struct Page<'m> {
    area: Rect,
    theme: Theme,
    now: Now,
    model: &'m Model,
}
