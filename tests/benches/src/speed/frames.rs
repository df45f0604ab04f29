//! One frame of the floor at three sizes, beside a frame of plain text of the same size.

use crate::table::Table;
use crate::timed::median;
use rackside::ui::{draw, theme::Look};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::widgets::Paragraph;

/// The rig that tests play sessions with.
#[path = "../../../suite/rig/script.rs"]
#[allow(dead_code, reason = "tests use all of it")]
mod script;

pub fn measure(table: &mut Table) {
    let played = script::Script::known()
        .keys("<enter>")
        .wait_s(60)
        .keys("<enter>")
        .wait_s(20);
    let text = played.screen();
    for (columns, rows) in [(60, 20), (80, 24), (200, 50)] {
        let name = format!("one frame, {columns}x{rows}");
        let new = || Terminal::new(TestBackend::new(columns, rows)).expect("a terminal in memory");
        let mut terminal = new();
        let ours = median("frame", || {
            terminal
                .draw(|frame| _ = draw(&played.model, Look::default(), played.now, frame))
                .map(|_| ())
        });
        let mut terminal = new();
        let plain = median("plain", || {
            terminal
                .draw(|frame| frame.render_widget(Paragraph::new(text.as_str()), frame.area()))
                .map(|_| ())
        });
        table.time(name, ours, ("plain text of that size", plain));
    }
}
