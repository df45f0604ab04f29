//! Where things stand on the floor, by the size of the screen alone: nothing moves while it runs.

use super::super::WIDE;
use crate::ui::widgets::big::Height;
use ratatui::layout::Rect;

/// Where the right-hand column begins on a screen of the usual width.
const SPLIT: u16 = 46;
/// Narrower than this there is one column.
const TWO_COLUMNS: u16 = 76;
/// From here on there are three, the last of them for how the exercise is done.
const THREE_COLUMNS: u16 = 160;
/// Cells of the first column on a wide screen; on one of three columns it has two fifths.
const FIRST: u16 = 64;
/// From so many rows on digits have seven.
const TALL: u16 = 30;
/// From so many rows on, where the screen is wide too, they have ten.
const TALLEST: u16 = 40;
/// From so many rows on lines stand apart.
const ROOMY: u16 = 24;
/// Rows for what was done before and what to fetch, where the plan stands below it.
const FACTS: u16 = 9;

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
    /// Why, and, where it has no room of its own, how.
    pub words: Rect,
    /// The session's plan and how the exercise is done, on a wide screen.
    pub wide: Option<Wide>,
}

/// What more a wide screen has room for.
#[derive(Clone, Copy)]
pub struct Wide {
    /// The session's plan.
    pub plan: Rect,
    /// How the exercise is done; below the plan where there is no third column.
    pub how: Option<Rect>,
}

impl Room {
    /// The room that a screen has.
    pub fn of(area: Rect) -> Self {
        let roomy = area.height >= ROOMY;
        let title = if roomy { 3 } else { 2 };
        let top = title + if roomy { 2 } else { 1 };
        let height = match area.height {
            TALLEST.. if area.width >= WIDE => Height::Ten,
            TALL.. => Height::Seven,
            _ => Height::Five,
        };
        let gauge = top + height.rows() + 1;
        let words = gauge + 2;
        // Below: what is typed and told (one row of a small screen), and the keys.
        let end = area.height.saturating_sub(if roomy { 3 } else { 2 });
        let right = area.width - 1;
        let rect = |x: u16, y: u16, to: (u16, u16)| Rect {
            x: area.x + x,
            y: area.y + y,
            width: to.0.saturating_sub(x),
            height: to.1.saturating_sub(y),
        };
        let three = area.width >= THREE_COLUMNS;
        let first = if three { area.width * 2 / 5 } else { FIRST };
        let second = first + 2;
        let second_to = if three {
            (second + right) / 2 - 1
        } else {
            right
        };
        let (left, beside, wide) = if area.width >= WIDE {
            let beside = rect(second, top, (second_to, top + FACTS));
            let plan = rect(second, top + FACTS, (second_to, end));
            let how = three.then(|| rect(second_to + 2, top, (right, end)));
            (first, Some(beside), Some(Wide { plan, how }))
        } else if area.width >= TWO_COLUMNS {
            let beside = rect(SPLIT, top, (right, gauge));
            (right, Some(beside), None)
        } else {
            (right, None, None)
        };
        let big_to = match (beside, wide) {
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
            wide,
        }
    }
}
