//! A bare program on the library that draws rackside's screens: what the machine and the terminal
//! cost by themselves.
//!
//!     bare once     draws one screen and quits
//!     bare stay     draws one screen, and again after each key; q quits
//!     bare clock    draws a screen with a count on it every second; q quits

use ratatui::crossterm::event::{self, Event, KeyCode};
use ratatui::widgets::Paragraph;
use std::io;
use std::time::Duration;

/// A screen as full as the floor's.
fn text(count: u32) -> String {
    let line = " a line of words and numbers, 24 kg, 8 8 8 8, as wide as the floor is ";
    let lines: Vec<&str> = std::iter::repeat_n(line, 18).collect();
    format!("{}\n {count:04}\n {}", lines.join("\n"), "bare")
}

fn main() -> io::Result<()> {
    let way = std::env::args().nth(1).unwrap_or_default();
    let mut terminal = ratatui::init();
    let mut count = 0;
    loop {
        terminal.draw(|frame| frame.render_widget(Paragraph::new(text(count)), frame.area()))?;
        if way == "once" {
            break;
        }
        count += 1;
        let ticking = way == "clock";
        let patience = Duration::from_secs(if ticking { 1 } else { 3600 });
        if event::poll(patience)?
            && matches!(event::read()?, Event::Key(key) if key.code == KeyCode::Char('q'))
        {
            break;
        }
    }
    ratatui::restore();
    Ok(())
}
