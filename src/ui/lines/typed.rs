//! A line that was typed, as the keys that the screen would have got for it.

use crate::app::keymap::{Key, Mode, menu_entries};
use crate::app::model::{Model, Overlay, Screen};
use crate::app::update::{below, mode};
use crate::ui::screens::{first_run, logbook};

/// What a line asks for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Entered {
    /// To press these keys.
    Keys(Vec<Key>),
    /// To be told where things stand.
    Standing,
    /// Nothing that is known here; the words say what to do.
    Unknown(String),
}

/// What a line asks for, by what is before the person.
pub fn entered(model: &Model, line: &str) -> Entered {
    let line = line.trim();
    let mode = mode(model);
    if mode == Mode::Writing && line != "esc" {
        return Entered::Keys(with_enter(line));
    }
    if let Some(key) = named(line) {
        return Entered::Keys(vec![key]);
    }
    if line == "now" {
        return Entered::Standing;
    }
    let mut letters = line.chars();
    match (letters.next(), letters.as_str()) {
        (Some('.' | ','), digit) if is_digit(digit) => Entered::Keys(keys(line).collect()),
        (Some('w'), load) if is_number(load.trim()) && mode == Mode::Floor => {
            let load = with_enter(load.trim());
            Entered::Keys(std::iter::once(Key::Char('w')).chain(load).collect())
        }
        (Some(first), _) if first.is_ascii_digit() && is_number(line) => number(model, mode, line),
        (Some(letter), "") if letter != '.' && letter != ',' => {
            Entered::Keys(vec![Key::Char(letter)])
        }
        _ => unknown(line),
    }
}

fn unknown(line: &str) -> Entered {
    let line: String = line.chars().take(20).collect();
    Entered::Unknown(format!(
        "\"{line}\" means nothing here: h and Enter lists the keys"
    ))
}

/// A number picks from a list, or says reps or effort.
fn number(model: &Model, mode: Mode, line: &str) -> Entered {
    match list(model) {
        Some((entries, marked)) => {
            let wanted = line.parse().ok().filter(|n| (1..=entries).contains(n));
            let Some(wanted) = wanted else {
                return Entered::Unknown(format!("the numbers go from 1 to {entries}"));
            };
            let up = std::iter::repeat_n(Key::Up, marked);
            let down = std::iter::repeat_n(Key::Down, wanted - 1);
            Entered::Keys(up.chain(down).chain([Key::Enter]).collect())
        }
        None => match mode {
            Mode::FirstRun | Mode::Floor | Mode::Debrief | Mode::Logbook => {
                Entered::Keys(with_enter(line))
            }
            Mode::Briefing | Mode::Menu | Mode::Question | Mode::Writing | Mode::Help => {
                unknown(line)
            }
        },
    }
}

/// How many entries the list has that a number picks from, and which is marked, from 0.
fn list(model: &Model) -> Option<(usize, usize)> {
    match (&model.overlay, &model.screen) {
        (Overlay::Ask(ask), _) => Some((ask.answers.len(), ask.list.marked)),
        (Overlay::Menu(list), screen) => Some((menu_entries(below(screen)).count(), list.marked)),
        (Overlay::None, Screen::FirstRun(first)) => {
            let entries = first_run::answers(model, first).len();
            (entries > 0).then_some((entries, first.list.marked))
        }
        (Overlay::None, Screen::Logbook(screen)) => {
            let entries = logbook::numbered(model, screen);
            (entries > 0).then_some((entries, screen.marked))
        }
        (
            Overlay::None
            | Overlay::Writing(_)
            | Overlay::Help { .. }
            | Overlay::Coaching { .. }
            | Overlay::Page { .. },
            _,
        ) => None,
    }
}

fn with_enter(text: &str) -> Vec<Key> {
    keys(text).chain([Key::Enter]).collect()
}

fn keys(text: &str) -> impl Iterator<Item = Key> {
    text.chars().map(|c| match c {
        ' ' => Key::Space,
        other => Key::Char(other),
    })
}

fn is_digit(text: &str) -> bool {
    text.len() == 1 && text.bytes().all(|b| b.is_ascii_digit())
}

fn is_number(text: &str) -> bool {
    let digits = text.bytes().any(|b| b.is_ascii_digit());
    digits
        && text
            .bytes()
            .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b','))
}

/// Keys that have no character, by name; Enter is a line without anything.
fn named(line: &str) -> Option<Key> {
    Some(match line.to_ascii_lowercase().as_str() {
        "" | "enter" => Key::Enter,
        "esc" => Key::Esc,
        "space" => Key::Space,
        "up" => Key::Up,
        "down" => Key::Down,
        "left" => Key::Left,
        "right" => Key::Right,
        _ => return None,
    })
}
