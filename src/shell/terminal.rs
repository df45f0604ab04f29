//! The terminal: taken once, given back once, whatever ends the program.

use crate::app::keymap::Key;
use crate::domain::diagnostic::neutral;
use crate::ui::Progress;
use crossterm::event::{
    self, DisableBracketedPaste, DisableFocusChange, EnableBracketedPaste, EnableFocusChange,
    Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers,
};
use crossterm::style::{Attribute, Print, SetAttribute};
use crossterm::terminal::{
    EnterAlternateScreen, LeaveAlternateScreen, SetTitle, disable_raw_mode, enable_raw_mode,
};
use crossterm::{cursor, execute};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use rustix::event::{PollFd, PollFlags, poll};
use rustix::io::Errno;
use std::io::{self, BufRead, Read, Stdout, Write};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

#[cfg(test)]
mod tests;

/// Whether the terminal is ours, so that it is given back once.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// Panics of other threads, to be told at the end.
static MISHAPS: Mutex<Vec<String>> = Mutex::new(Vec::new());

/// The screen that is drawn on.
pub type Screen = Terminal<CrosstermBackend<Stdout>>;

/// What comes from the terminal.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Input {
    /// A key.
    Key(Key),
    /// A line, where lines are read.
    Line(String),
    /// The terminal is in front of the person now, or another window is.
    Focus(bool),
    /// It is gone.
    Gone,
}

/// The terminal while it is ours. Dropping it gives it back.
pub struct Guard;

impl Drop for Guard {
    fn drop(&mut self) {
        give_back();
    }
}

/// Takes the terminal over, for the thread that calls.
///
/// # Errors
///
/// It is none, or refuses.
pub fn take() -> io::Result<(Screen, Guard)> {
    let hook = std::panic::take_hook();
    let owner = std::thread::current().id();
    std::panic::set_hook(Box::new(move |panic| {
        if std::thread::current().id() == owner {
            give_back();
            hook(panic);
        } else if let Ok(mut mishaps) = MISHAPS.lock() {
            // The screen is still drawn on: it is told when the terminal is given back.
            mishaps.push(panic.to_string());
        }
    }));
    // Whether there are colours is settled elsewhere, for all environments and options alike.
    crossterm::style::force_color_output(true);
    enter()?;
    let screen = Terminal::new(CrosstermBackend::new(io::stdout()))?;
    Ok((screen, Guard))
}

/// What went wrong in other threads while the terminal was taken.
pub fn mishaps() -> Vec<String> {
    MISHAPS
        .lock()
        .map(|mut found| std::mem::take(&mut *found))
        .unwrap_or_default()
}

/// Tells the person something once the terminal is theirs again. Where it is gone, nobody hears.
pub fn say(text: &str) {
    let _ = writeln!(io::stderr(), "rackside: {}", neutral(text));
}

/// Enters raw mode and the other screen, at the start and after a stop.
///
/// # Errors
///
/// The terminal refuses.
pub fn enter() -> io::Result<()> {
    enable_raw_mode()?;
    TAKEN.store(true, Ordering::SeqCst);
    greet(&mut io::stdout())
}

/// Gives the terminal back as it was. Errors are of no use here: the terminal may be gone.
pub fn give_back() {
    if TAKEN.swap(false, Ordering::SeqCst) {
        let _ = part(&mut io::stdout());
        cook();
    }
}

/// Leaves raw mode and nothing else: this never waits for a terminal that takes no more bytes.
pub fn cook() {
    let _ = disable_raw_mode();
}

/// Keeps the title and goes to the other screen.
fn greet(out: &mut impl Write) -> io::Result<()> {
    execute!(
        out,
        Print("\x1b[22;0t"),
        EnterAlternateScreen,
        EnableBracketedPaste,
        EnableFocusChange,
        SetTitle("rackside")
    )
}

/// Undoes all that greeting and drawing did.
fn part(out: &mut impl Write) -> io::Result<()> {
    execute!(
        out,
        SetAttribute(Attribute::Reset),
        DisableFocusChange,
        DisableBracketedPaste,
        LeaveAlternateScreen,
        Print("\x1b[23;0t"),
        cursor::Show
    )
}

/// Names the window, for as long as the terminal is ours.
///
/// # Errors
///
/// The terminal is gone.
pub fn entitle(title: &str) -> io::Result<()> {
    execute!(io::stdout(), SetTitle(title))
}

/// Tells the terminal how far what is counted has come: OSC 9;4, as several terminals document it
/// (0 takes it away, 1 is usual, 4 stands out).
///
/// # Errors
///
/// The terminal is gone.
pub fn progress(progress: Progress) -> io::Result<()> {
    let (state, share) = match progress {
        Progress::Nothing => (0, 0),
        Progress::OnTheWay(share) => (1, share),
        Progress::Open(share) => (4, share),
    };
    execute!(io::stdout(), Print(format!("\x1b]9;4;{state};{share}\x07")))
}

/// Whether this key is to bring on a panic: with a variable set that only tests set.
pub fn is_to_panic(key: Key) -> bool {
    key == Key::Char('!') && std::env::var_os("RACKSIDE_TEST_PANIC").is_some()
}

/// Rings the terminal's bell, so many times.
pub fn ring(times: usize) {
    let mut out = io::stdout();
    let _ = out.write_all("\x07".repeat(times).as_bytes());
    let _ = out.flush();
}

/// Reads keys on a thread of its own until the terminal is gone.
///
/// # Errors
///
/// No thread is to be had.
pub fn listen(tell: impl Fn(Input) -> bool + Send + 'static) -> io::Result<()> {
    let thread = std::thread::Builder::new().name("keys".to_owned());
    thread.spawn(move || {
        while wait_for_bytes() {
            while let Ok(true) = event::poll(ALREADY_THERE) {
                if let Some(input) = read_input()
                    && !tell(input)
                {
                    return;
                }
            }
        }
        tell(Input::Gone);
    })?;
    Ok(())
}

/// Reads lines on a thread of its own until there are no more.
///
/// # Errors
///
/// No thread is to be had.
pub fn listen_for_lines(tell: impl Fn(Input) -> bool + Send + 'static) -> io::Result<()> {
    let thread = std::thread::Builder::new().name("lines".to_owned());
    thread.spawn(move || {
        let mut bytes = Vec::new();
        loop {
            bytes.clear();
            let input = io::stdin().lock();
            let read = input.take(LONGEST_LINE).read_until(b'\n', &mut bytes);
            if !matches!(read, Ok(1..)) {
                tell(Input::Gone);
                return;
            }
            if !tell(Input::Line(String::from_utf8_lossy(&bytes).into_owned())) {
                return;
            }
        }
    })?;
    Ok(())
}

/// No line is longer: what comes behind is another.
const LONGEST_LINE: u64 = 4096;

/// How long bytes that have come may take to be read as keys.
const ALREADY_THERE: Duration = Duration::from_millis(20);

/// Waits until the terminal has something to read; not so when it is gone. crossterm, left to wait
/// by itself, would never come back from a terminal that is gone.
fn wait_for_bytes() -> bool {
    let input = io::stdin();
    loop {
        let mut watched = [PollFd::new(&input, PollFlags::IN)];
        match poll(&mut watched, None) {
            Ok(_) => {
                let gone = PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL;
                return !watched.iter().any(|end| end.revents().intersects(gone));
            }
            Err(Errno::INTR) => {}
            Err(_) => return false,
        }
    }
}

/// What came, where it is of use: pasted text is none, and a new size is a signal.
fn read_input() -> Option<Input> {
    match event::read() {
        Ok(Event::Key(key)) if key.kind == KeyEventKind::Press => Some(Input::Key(key_of(key))),
        Ok(Event::FocusGained) => Some(Input::Focus(true)),
        Ok(Event::FocusLost) => Some(Input::Focus(false)),
        Ok(_) | Err(_) => None,
    }
}

/// A key as this program knows it.
fn key_of(key: KeyEvent) -> Key {
    let control = key.modifiers.contains(KeyModifiers::CONTROL);
    match key.code {
        KeyCode::Char('c') if control => Key::CtrlC,
        KeyCode::Char('z') if control => Key::CtrlZ,
        KeyCode::Char('j' | 'm') if control => Key::Enter,
        KeyCode::Char('h') if control => Key::Backspace,
        KeyCode::Char(_) if control => Key::Other,
        KeyCode::Char(' ') => Key::Space,
        KeyCode::Char(c) => Key::Char(c),
        KeyCode::Enter => Key::Enter,
        KeyCode::Backspace => Key::Backspace,
        KeyCode::Esc => Key::Esc,
        KeyCode::Left => Key::Left,
        KeyCode::Right => Key::Right,
        KeyCode::Up => Key::Up,
        KeyCode::Down => Key::Down,
        KeyCode::F(1) => Key::F1,
        KeyCode::PageUp => Key::PageUp,
        KeyCode::PageDown => Key::PageDown,
        KeyCode::Home | KeyCode::End | KeyCode::Insert | KeyCode::Delete | KeyCode::KeypadBegin => {
            Key::KeypadOff
        }
        _ => Key::Other,
    }
}
