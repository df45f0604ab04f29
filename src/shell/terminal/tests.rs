//! What the terminal is sent at the end undoes what it was sent at the start.

use super::{greet, part};
use std::io;
use std::num::NonZero;

/// A terminal that was sent these bytes, as vt100 understands them.
fn after(bytes: &[u8]) -> vt100::Parser {
    let side = |length| NonZero::new(length).unwrap_or(NonZero::<u16>::MIN);
    let mut terminal = vt100::Parser::new(side(24), side(80), 0);
    terminal.process(bytes);
    terminal
}

#[test]
fn parting_undoes_greeting_and_drawing() -> io::Result<()> {
    let mut bytes = b"before".to_vec();
    greet(&mut bytes)?;
    let greeted = after(&bytes);
    assert!(greeted.screen().alternate_screen() && greeted.screen().bracketed_paste());
    // Ended in the middle of a frame: cursor hidden, bold and reversed.
    bytes.extend_from_slice(b"\x1b[?25l\x1b[1;7mhalf a fra");
    part(&mut bytes)?;
    bytes.extend_from_slice(b" after");
    let left = after(&bytes);
    let screen = left.screen();
    assert!(!screen.alternate_screen() && !screen.bracketed_paste() && !screen.hide_cursor());
    assert_eq!(screen.contents(), "before after");
    assert!(!screen.bold() && !screen.inverse());
    Ok(())
}

#[test]
fn the_parting_is_these_bytes() -> io::Result<()> {
    let mut bytes = Vec::new();
    part(&mut bytes)?;
    let wanted = "\x1b[0m\x1b[?1004l\x1b[?2004l\x1b[?1049l\x1b[23;0t\x1b[?25h";
    assert_eq!(String::from_utf8_lossy(&bytes), wanted);
    Ok(())
}
