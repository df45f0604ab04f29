//! Pieces that several screens are made of.

pub mod big;
pub mod gauge;
pub mod tape;

use super::theme::{Role, Theme};
use crate::domain::diagnostic::{is_unsafe, neutral};
use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::borrow::Cow;
use unicode_width::UnicodeWidthStr;

/// A text, and how it looks.
pub type Ink<'t> = (&'t str, Theme, Role);

/// Writes a text from a cell on, cut at the right end of the area; says where it ended.
pub fn put(buf: &mut Buffer, area: Rect, at: (u16, u16), ink: Ink<'_>) -> u16 {
    let (text, theme, role) = ink;
    if at.1 >= area.height || at.0 >= area.width {
        return at.0;
    }
    let room = usize::from(area.width - at.0);
    let text = &legible(text);
    let (x, y) = (area.x + at.0, area.y + at.1);
    let (end, _) = buf.set_stringn(x, y, text, room, theme.style(role));
    end - area.x
}

/// The text itself, or, where something in it could reorder or hide what stands beside it, a text
/// that shows so.
fn legible(text: &str) -> Cow<'_, str> {
    if text.chars().any(is_unsafe) {
        Cow::Owned(neutral(text))
    } else {
        Cow::Borrowed(text)
    }
}

/// Writes a text that ends at the right end of the area.
pub fn put_right(buf: &mut Buffer, area: Rect, y: u16, ink: Ink<'_>) {
    let width = u16::try_from(ink.0.width()).unwrap_or(u16::MAX);
    let x = area.width.saturating_sub(width.saturating_add(1));
    put(buf, area, (x, y), ink);
}

/// The text cut into lines of at most so many cells, at spaces.
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        if !line.is_empty() && line.width() + 1 + word.width() > width {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// The text cut into at most so many lines; where it goes on, the last of them ends with `more`.
pub fn wrap_to(text: &str, width: usize, rows: usize, more: &str) -> Vec<String> {
    let mut lines = wrap(text, width);
    if lines.len() > rows {
        lines.truncate(rows);
        if let Some(last) = lines.last_mut() {
            let room = width.saturating_sub(more.width());
            while last.width() > room {
                let end = last.rfind(' ').unwrap_or(0);
                last.truncate(end);
            }
            last.push_str(more);
        }
    }
    lines
}

/// The text in one line of at most so many cells, cut at a space and marked so where it is longer.
pub fn cut(text: &str, width: usize) -> String {
    if text.width() <= width {
        return text.to_owned();
    }
    wrap_to(text, width, 1, "…").pop().unwrap_or_default()
}

/// What is shown where the screens cannot be.
pub fn too_small(area: Rect, least: (u16, u16), (theme, frame): (Theme, &mut Frame<'_>)) {
    let text = format!(
        "needs {}x{}, has {}x{}",
        least.0, least.1, area.width, area.height
    );
    let width = u16::try_from(text.width()).unwrap_or(u16::MAX);
    let x = area.width.saturating_sub(width) / 2;
    let y = area.height / 2;
    put(frame.buffer_mut(), area, (x, y), (&text, theme, Role::Text));
    if area.height > 0 && area.width > 0 {
        frame.set_cursor_position((area.x + x, area.y + y));
    }
}
