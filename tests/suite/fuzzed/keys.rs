//! Any keys, sizes and times at the interactive program: it goes on, every event that it gives
//! can be written, and the session on the screen is the one that the events tell.

use crate::rig::script::Script;
use rackside::app::keymap::Key;
use rackside::app::model::Screen;
use rackside::app::msg::Msg;
use rackside::domain::session::{EventId, Stamped};
use rackside::formats::journal::write_line;
use std::collections::BTreeSet;

/// The longest input that is played to its end.
const MOST: usize = 300;

thread_local! {
    /// Where a play can begin: nothing known, loads known, loads of plates known, lifting.
    static BEGINNINGS: [Script; 4] = [
        Script::new(),
        Script::known(),
        Script::at_home(),
        Script::known().keys("<enter>").wait_s(150),
    ];
}

/// The first byte says where it begins; each other is a key or something that happens.
pub fn run(input: &[u8]) {
    let Some((which, acts)) = input.split_first() else {
        return;
    };
    let mut script = BEGINNINGS.with(|all| all[usize::from(which % 4)].clone());
    let mut ids: BTreeSet<EventId> = script.journal.iter().map(|e| e.id.clone()).collect();
    for act in acts.iter().take(MOST) {
        let before = script.journal.len();
        script = played(script, *act);
        for event in &script.journal[before..] {
            assert!(ids.insert(event.id.clone()), "given twice: {}", event.id);
            assert!(write_line(event).is_ok(), "{event:?}");
        }
        if script.quit {
            script = script.again();
        }
    }
    let _ = script.screen();
    in_order(&script.journal);
    told_by_its_events(script);
}

fn in_order(events: &[Stamped]) {
    for pair in events.windows(2) {
        assert!(pair[0].n < pair[1].n, "{pair:?}");
    }
}

/// Asks that a session that is on is found again as it was, where the disk took all of it.
fn told_by_its_events(script: Script) {
    let Screen::Floor(floor) = &script.model.screen else {
        return;
    };
    if !script.model.ledger.not_saved.is_empty() {
        return;
    }
    let on = floor.session.clone();
    let script = script.again();
    if let Some(floor) = script.model.floor() {
        assert_eq!(floor.session, on);
    }
}

fn played(mut script: Script, act: u8) -> Script {
    const DAY: i64 = 86_400_000;
    let size = i64::from(act & 0x0f);
    match act {
        0x00..=0x7f | 0xd0..=0xdf => {
            script.send(Msg::Key(key(act)));
            script
        }
        0x80..=0x8f => script.wait_s(size),
        0x90..=0x9f => script.wait_s(size * 20),
        0xa0..=0xaf => script.sleep_s(1 << (2 * size)),
        // The wall's clock alone is set, back or forward.
        0xb0..=0xb7 => set_clock(script, DAY << size),
        0xb8..=0xbf => set_clock(script, -1_000 << (2 * size)),
        0xc0..=0xcf => {
            const SIZES: [(u16, u16); 16] = [
                (80, 24),
                (1, 1),
                (59, 19),
                (60, 20),
                (61, 20),
                (80, 20),
                (200, 60),
                (300, 5),
                (5, 200),
                (79, 23),
                (100, 24),
                (80, 40),
                (120, 30),
                (2, 2),
                (30, 8),
                (60, 100),
            ];
            let (width, height) = SIZES[usize::from(act & 0x0f)];
            let _ = script.screen_of(width, height);
            script
        }
        0xe0..=0xe7 => {
            script.disk = act & 1 == 0;
            script
        }
        0xe8..=0xef => script.again(),
        0xf0..=0xf7 => {
            script.send(Msg::Tick);
            script
        }
        0xf8..=0xff => {
            script.send(Msg::Continued);
            script
        }
    }
}

fn set_clock(mut script: Script, by: i64) -> Script {
    script.now.civil = script.now.civil.plus(by);
    script
}

fn key(act: u8) -> Key {
    match act {
        b' ' => Key::Space,
        0x21..=0x7e => Key::Char(char::from(act)),
        0x7f | 0x08 => Key::Backspace,
        b'\n' | b'\r' => Key::Enter,
        0x1b => Key::Esc,
        0x01 => Key::Left,
        0x02 => Key::Right,
        0x03 => Key::CtrlC,
        0x04 => Key::Up,
        0x05 => Key::Down,
        0x06 => Key::F1,
        0x07 => Key::PageUp,
        0x0b => Key::PageDown,
        0x1a => Key::CtrlZ,
        0xd0 => Key::KeypadOff,
        0xd1 => Key::Char('é'),
        0xd2 => Key::Char('\u{202e}'),
        0xd3 => Key::Char('\u{1f3cb}'),
        0xd4 => Key::Char('\u{301}'),
        0xd5 => Key::Char('６'),
        0xd6 => Key::Char('٣'),
        _ => Key::Other,
    }
}
