//! How far back the logbook is read.

use super::super::logbook::Depth;
use super::super::model::{Model, Screen};
use super::Turn;
use super::logbook::{read, with_reading};

/// Has more read where what is on the screen looks further back. What hangs on all sessions is not
/// shown of some.
pub(super) fn deepen(model: &mut Model, turn: &mut Turn) {
    let wants = with_reading(model, |screen, reading| screen.wants(reading));
    let Screen::Logbook(screen) = &mut model.screen else {
        return;
    };
    let more = screen.book.as_ref().is_some_and(|book| book.earlier > 0);
    if let Some(wants) = wants.filter(|wants| more && *wants > screen.depth) {
        screen.depth = wants;
        if wants == Depth::All {
            screen.book = None;
        }
        read(model, turn);
    }
}
