//! The session's plan beside the set, on a screen that is wide enough: an exercise a line.

use super::{Page, told};
use crate::app::model::Floor;
use crate::domain::session::{Item, SetKind};
use crate::ui::theme::Role;
use crate::ui::widgets::{put, tape};
use ratatui::Frame;
use ratatui::layout::Rect;

/// Cells for a name, and for the shapes of the sets behind it.
const NAME: u16 = 30;
const SETS: u16 = 8;

/// Paints the plan; says what of the area is left below it.
pub fn draw(page: &Page<'_>, floor: &Floor, (frame, area): (&mut Frame<'_>, Rect)) -> Rect {
    let buf = frame.buffer_mut();
    put(buf, area, (0, 0), ("the session", page.theme, Role::Quiet));
    let coming = floor.session.coming().map(|coming| coming.item);
    for (k, item) in floor.session.order.iter().enumerate() {
        let Some(of) = floor.session.items.get(*item) else {
            continue;
        };
        let y = u16::try_from(k + 1).unwrap_or(u16::MAX);
        let role = if coming == Some(*item) {
            Role::Strong
        } else if of.coming().is_some() {
            Role::Text
        } else {
            Role::Quiet
        };
        let name = page.model.desk.catalogue.name(&of.planned.exercise);
        let name: String = name.chars().take(usize::from(NAME) - 1).collect();
        put(buf, area, (0, y), (&name, page.theme, role));
        let shapes = tape::shapes(floor, *item);
        put(buf, area, (NAME, y), (&shapes, page.theme, role));
        let what = what(floor, *item, of);
        put(buf, area, (NAME + SETS, y), (&what, page.theme, role));
    }
    let rows = u16::try_from(floor.session.order.len() + 2).unwrap_or(u16::MAX);
    let rows = rows.min(area.height);
    Rect {
        y: area.y + rows,
        height: area.height - rows,
        ..area
    }
}

/// What was done of an item, or is planned.
fn what(floor: &Floor, index: usize, item: &Item) -> String {
    let done = told::sets(floor.session.records(index));
    if !done.is_empty() {
        return done;
    }
    let planned = item
        .planned
        .sets
        .iter()
        .rfind(|set| set.kind != SetKind::Ramp);
    planned
        .map(|set| told::work(set.load, set.asked))
        .unwrap_or_default()
}
