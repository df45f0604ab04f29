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
use super::theme::{Role, Theme};
use super::widgets::{put, put_right, wrap, wrap_to};
use crate::app::model::Model;
use crate::domain::words::{self, caution};
use ratatui::Frame;
use ratatui::layout::Rect;
use std::borrow::Cow;
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
    if let Some(mark) = page.model.mark {
        put_right(buf, area, last - 1, (mark, page.theme, Role::Warning));
    }
    if let Some(told) = told_now(page.model) {
        let lines = wrap_to(&told, beside_mark(page), 2, " …");
        let rows = u16::try_from(lines.len()).unwrap_or(0);
        for (line, y) in lines.iter().zip(last - rows..) {
            blank(page, frame, y);
            let ink = (line.as_str(), page.theme, Role::Strong);
            put(frame.buffer_mut(), area, (1, y), ink);
        }
    }
}

/// What is told now: a notice, else why something is not on the disk, and what becomes of it.
fn told_now(model: &Model) -> Option<Cow<'_, str>> {
    let ledger = &model.ledger;
    let refused = (!ledger.not_saved.is_empty()).then(|| {
        let why = &ledger.why;
        format!("not saved: {why}. It is tried again by itself; go on training")
    });
    let notice = model.notice.as_ref().map(|notice| notice.text.as_str());
    notice.map(Cow::Borrowed).or(refused.map(Cow::Owned))
}

/// Cells of a line that stands beside the mark of records that are no person's.
fn beside_mark(page: &Page<'_>) -> usize {
    let mark = page.model.mark.map_or(0, |mark| mark.width() + 2);
    usize::from(page.area.width).saturating_sub(2 + mark)
}

/// Takes away what stands in a row, but for the mark at its end.
fn blank(page: &Page<'_>, frame: &mut Frame<'_>, y: u16) {
    let blank = " ".repeat(beside_mark(page) + 1);
    let ink = (blank.as_str(), page.theme, Role::Text);
    put(frame.buffer_mut(), page.area, (0, y), ink);
}

/// The words of an alarm, as long as it stands, above whatever else is on the screen; says what of
/// the area is left for that.
pub fn alarm(area: Rect, theme: Theme, frame: &mut Frame<'_>) -> Rect {
    let width = usize::from(area.width) - 2;
    let lines = wrap(caution::ALARM, width);
    for (line, y) in lines.iter().zip(0..) {
        let padded = format!(" {line:<width$} ");
        let ink = (padded.as_str(), theme, Role::Marked);
        put(frame.buffer_mut(), area, (0, y), ink);
    }
    let rows = u16::try_from(lines.len()).unwrap_or(0);
    Rect {
        y: area.y + rows,
        height: area.height - rows,
        ..area
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
