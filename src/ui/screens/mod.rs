//! The screens, one file each.

pub mod briefing;
pub mod debrief;
pub mod first_run;
pub mod floor;
pub mod logbook;
pub mod overlay;
pub mod told;
pub mod typed;

use super::Page;
use super::theme::Role;
use super::widgets::{put, put_right, wrap};
use crate::domain::words::{self, caution};
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::widgets::Clear;
use unicode_width::UnicodeWidthStr;

/// From here on a screen is wide, and has a column beside what it is about.
const WIDE: u16 = 110;

/// The two columns of a wide screen; one, and none beside it, on any other.
fn columns(area: Rect) -> (Rect, Option<Rect>) {
    const LEFT: u16 = 68;
    if area.width < WIDE {
        return (area, None);
    }
    let left = Rect {
        width: LEFT,
        ..area
    };
    let right = Rect {
        x: area.x + LEFT + 2,
        width: area.width - LEFT - 3,
        ..area
    };
    (left, Some(right))
}

/// The last line: what can be done here. The one before it: a notice, or what is not saved.
fn footer(page: &Page<'_>, frame: &mut Frame<'_>, keys: &str) {
    let area = page.area;
    let buf = frame.buffer_mut();
    let last = area.height - 1;
    let keys = &fitting(keys, usize::from(area.width) - 2);
    put(buf, area, (1, last), (keys, page.theme, Role::Quiet));
    let model = page.model;
    if let Some(mark) = model.mark {
        put_right(buf, area, last - 1, (mark, page.theme, Role::Warning));
    }
    if let Some(notice) = &model.notice {
        put(
            buf,
            area,
            (1, last - 1),
            (&notice.text, page.theme, Role::Strong),
        );
    }
}

/// The words of an alarm, as long as it stands: over whatever else is on the screen.
pub fn alarm(page: &Page<'_>, frame: &mut Frame<'_>) {
    let area = page.area;
    let width = usize::from(area.width) - 2;
    let lines = wrap(caution::ALARM, width);
    for (line, y) in lines.iter().zip(1..) {
        let padded = format!(" {line:<width$} ");
        let row = Rect {
            y: area.y + y,
            height: 1,
            ..area
        };
        frame.render_widget(Clear, row);
        let ink = (padded.as_str(), page.theme, Role::Marked);
        put(frame.buffer_mut(), area, (0, y), ink);
    }
}

/// As many groups of words, two spaces apart, as there is room for.
fn fitting(keys: &str, room: usize) -> String {
    let mut line = String::new();
    for group in keys
        .split("  ")
        .map(str::trim)
        .filter(|group| !group.is_empty())
    {
        let gap = if line.is_empty() { 0 } else { 3 };
        if line.width() + gap + group.width() > room {
            break;
        }
        if gap > 0 {
            line.push_str("   ");
        }
        line.push_str(group);
    }
    line
}

/// What of this run is on the disk, in a word or two, at the right of a line.
fn saved(page: &Page<'_>, frame: &mut Frame<'_>, area: Rect, y: u16) {
    let ledger = &page.model.ledger;
    let buf = frame.buffer_mut();
    if page.model.access.looks_only() {
        put_right(buf, area, y, ("only looking", page.theme, Role::Warning));
    } else if !ledger.not_saved.is_empty() {
        let text = format!("NOT SAVED: {}", ledger.not_saved.len());
        put_right(buf, area, y, (&text, page.theme, Role::Warning));
    } else if !ledger.saving.is_empty() {
        put_right(buf, area, y, ("saving", page.theme, Role::Quiet));
    } else if ledger.given > 0 {
        put_right(buf, area, y, ("all recorded", page.theme, Role::Quiet));
    }
}

/// A duration in minutes as people say it.
fn minutes(seconds: u32) -> String {
    words::count(seconds.div_ceil(60) as usize, "minute")
}
