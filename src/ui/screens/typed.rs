//! What is being typed on the floor, or the set that is looked at.

use super::{Page, blank, told};
use crate::app::model::{Edit, Floor};
use crate::domain::session::{Asked, Typed};
use crate::ui::theme::Role;
use crate::ui::widgets::put;
use ratatui::Frame;

/// What is being typed, with the cursor behind it; or the set that is looked at.
pub fn draw(page: &Page<'_>, floor: &Floor, frame: &mut Frame<'_>) {
    let Some(text) = text(floor) else {
        return;
    };
    // A small screen has one row for what is told and for what is typed.
    let y = page.area.height - if page.area.height < 24 { 2 } else { 3 };
    blank(page, frame, y);
    let end = put(
        frame.buffer_mut(),
        page.area,
        (1, y),
        (&text, page.theme, Role::Strong),
    );
    let x = end.min(page.area.width - 1);
    frame.set_cursor_position((page.area.x + x, page.area.y + y));
}

/// What is being typed, or the set that is looked at.
pub fn text(floor: &Floor) -> Option<String> {
    Some(match (&floor.typed, &floor.edit) {
        (Typed::Nothing, None) => return None,
        (Typed::Count { digits, spare }, _) => {
            let spare = match spare {
                None => String::new(),
                Some(None) => " done, spare ".to_owned(),
                Some(Some(spare)) => format!(" done, {spare} spare"),
            };
            format!("> {digits}{spare}")
        }
        (Typed::SpareOfLast, _) => "> spare of the set just done: ".to_owned(),
        (Typed::OtherSide { first, digits, .. }, _) => {
            let set = floor.coming_set();
            let hold = set.is_some_and(|set| matches!(set.asked, Asked::Hold(_)));
            let unit = if hold { " s" } else { "" };
            format!("> {first}{unit} on the first side; other side? (Enter: the same) {digits}")
        }
        (Typed::Load(text), _) => format!("> load: {text}"),
        (Typed::Nothing, Some(edit)) => edited(floor, edit),
    })
}

fn edited(floor: &Floor, edit: &Edit) -> String {
    let Some(set) = floor.session.sets.get(edit.set) else {
        return String::new();
    };
    let record = &set.record;
    let load = edit.change.load.unwrap_or(record.load);
    let spare = record
        .spare
        .map(|spare| format!(", {spare} spare"))
        .unwrap_or_default();
    let what = format!("{load}: {}{spare}", told::done(record.done));
    format!(
        "set {} was {what}. Digits, arrows, then Enter",
        record.number
    )
}
