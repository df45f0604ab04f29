//! Where things stand on the floor, by the size of the screen alone: nothing moves while it runs.

use super::super::WIDE;
use crate::ui::widgets::big::Height;
use ratatui::layout::Rect;

/// Where the right-hand column begins on a screen of the usual width.
const SPLIT: u16 = 46;
/// The same on a wide one, which has a column beside everything.
const WIDE_SPLIT: u16 = 64;
/// Narrower than this there is one column.
const TWO_COLUMNS: u16 = 76;
/// From so many rows on digits have seven.
const TALL: u16 = 30;
/// From so many rows on lines stand apart.
const ROOMY: u16 = 24;
/// Rows below: what is typed, what is told, the keys.
const BELOW: u16 = 3;

/// Where things stand.
pub struct Room {
    /// The exercise and which of its sets comes.
    pub title: u16,
    /// The one big thing.
    pub big: Rect,
    /// How tall its digits are.
    pub height: Height,
    /// What was done before, what to fetch; nowhere of its own on a narrow screen.
    pub beside: Option<Rect>,
    /// The rest window.
    pub gauge: Rect,
    /// The odds of the coming set.
    pub odds: Rect,
    /// Why, and how.
    pub words: Rect,
    /// The session's plan, on a wide screen.
    pub plan: Option<Rect>,
}

impl Room {
    /// The room that a screen has.
    pub fn of(area: Rect) -> Self {
        let roomy = area.height >= ROOMY;
        let title = if roomy { 3 } else { 2 };
        let top = title + if roomy { 2 } else { 1 };
        let height = if area.height >= TALL {
            Height::Seven
        } else {
            Height::Five
        };
        let gauge = top + height.rows() + 1;
        let words = gauge + 2;
        let end = area.height.saturating_sub(BELOW);
        let rect = |x: u16, y: u16, to: (u16, u16)| Rect {
            x: area.x + x,
            y: area.y + y,
            width: to.0.saturating_sub(x),
            height: to.1.saturating_sub(y),
        };
        let (left, beside, plan) = if area.width >= WIDE {
            let beside = rect(WIDE_SPLIT + 2, top, (area.width - 1, gauge));
            let plan = rect(WIDE_SPLIT + 2, gauge, (area.width - 1, end));
            (WIDE_SPLIT, Some(beside), Some(plan))
        } else if area.width >= TWO_COLUMNS {
            let beside = rect(SPLIT, top, (area.width - 1, gauge));
            (area.width - 1, Some(beside), None)
        } else {
            (area.width - 1, None, None)
        };
        let big_to = match (beside, plan) {
            (Some(_), None) => SPLIT - 1,
            (Some(_), Some(_)) | (None, _) => left,
        };
        Self {
            title,
            big: rect(1, top, (big_to, top + height.rows())),
            height,
            beside,
            gauge: rect(1, gauge, (left, gauge + 1)),
            odds: rect(1, gauge + 1, (left, gauge + 2)),
            words: rect(1, words, (left, end)),
            plan,
        }
    }
}
