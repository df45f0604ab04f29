//! The rest window as a gauge with both ends marked.

use crate::app::floor::{RestView, Stage};
use crate::domain::units::{Millis, Seconds};

/// Milliseconds as minutes and seconds. A time still to come is rounded up, so that it reaches
/// 0:00 when it is over; a time past is rounded down.
pub fn clock(millis: Millis, to_come: bool) -> String {
    let rounded = if to_come {
        (millis + 999).div_euclid(1000)
    } else {
        millis.div_euclid(1000)
    };
    Seconds::clamped(u32::try_from(rounded.max(0)).unwrap_or(u32::MAX)).to_string()
}

/// What the rest is at, in words and numbers.
pub fn told(rest: RestView) -> String {
    let counts = rest.counts();
    match rest.stage {
        Stage::Recover => format!("RECOVER, opens in {}", clock(counts, true)),
        Stage::Open => format!("OPEN, closes in {}", clock(counts, true)),
        Stage::Late => format!("LATE by {}", clock(counts, false)),
    }
}

/// The gauge: time runs to the right, a sixth beyond the close; the window stands in brackets. What
/// has passed is drawn thin before the window, solid inside it, in arrowheads beyond it.
pub fn bar(rest: RestView, width: usize) -> String {
    let (opens, closes) = (rest.window.opens.millis(), rest.window.closes.millis());
    let whole = (closes + closes / 6).max(1);
    let cells = width.saturating_sub(2);
    let place = |at: Millis| {
        let cell = at.clamp(0, whole) * i64::try_from(cells).unwrap_or(0) / whole;
        usize::try_from(cell).unwrap_or(0)
    };
    let (open, close, past) = (place(opens), place(closes), place(rest.elapsed));
    let mut bar = String::from("├");
    for cell in 0..cells {
        bar.push(match cell {
            _ if cell == open => '[',
            _ if cell == close => ']',
            _ if cell < past && (open..close).contains(&cell) => '█',
            _ if cell < past && cell > close => '»',
            _ if cell < past => '━',
            _ if (open..close).contains(&cell) => '·',
            _ => '─',
        });
    }
    bar.push('┤');
    bar
}
