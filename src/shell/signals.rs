//! Signals, on a thread of their own.

use super::terminal;
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGTSTP, SIGWINCH, SIGXFSZ};
use signal_hook::iterator::Signals;
use std::io;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

/// What a signal asks for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Signal {
    /// Leave, ended by the signal of this number.
    Leave(u8),
    /// Stop for now.
    Stop,
    /// Go on.
    Continue,
    /// The terminal has another size.
    Resized,
}

/// After a signal to leave the process is gone within this, come what may.
const PATIENCE: Duration = Duration::from_secs(2);

/// Where a limit bounds the size of files, a write that finds no room is an error like any other,
/// and not the end of the process.
///
/// # Errors
///
/// The signal cannot be had.
pub fn outlive_limits() -> io::Result<()> {
    // Handled, and not ignored: the programs that we start would inherit that.
    signal_hook::flag::register(SIGXFSZ, Arc::new(AtomicBool::new(false))).map(drop)
}

/// Hands every signal to `tell`. Must be called before the terminal is changed.
///
/// # Errors
///
/// The signals cannot be had.
pub fn listen(tell: impl Fn(Signal) + Send + 'static) -> io::Result<()> {
    let leave = [SIGHUP, SIGINT, SIGTERM, SIGQUIT];
    let mut signals = Signals::new(leave.into_iter().chain([SIGTSTP, SIGCONT, SIGWINCH]))?;
    let thread = std::thread::Builder::new().name("signals".to_owned());
    thread.spawn(move || {
        for signal in signals.forever() {
            match signal {
                SIGTSTP => tell(Signal::Stop),
                SIGCONT => tell(Signal::Continue),
                SIGWINCH => tell(Signal::Resized),
                number => {
                    let number = u8::try_from(number).unwrap_or(0);
                    watch_over(number);
                    tell(Signal::Leave(number));
                }
            }
        }
    })?;
    Ok(())
}

/// Ends the process when leaving takes too long: a stuck disk or terminal must not hold it.
fn watch_over(number: u8) {
    let thread = std::thread::Builder::new().name("watchdog".to_owned());
    let _ = thread.spawn(move || {
        std::thread::sleep(PATIENCE);
        terminal::cook();
        std::process::exit(128 + i32::from(number));
    });
}

/// Whether anybody could make the process go on after a stop: a program that leads its session was
/// started by no shell, and would stand for ever.
pub fn can_stop() -> bool {
    let own = rustix::process::getpid();
    rustix::process::getsid(None).is_ok_and(|leader| leader != own)
}

/// Stops the process as if nobody handled the signal; returns when it goes on.
///
/// # Errors
///
/// The signal cannot be raised.
pub fn stop() -> io::Result<()> {
    signal_hook::low_level::emulate_default_handler(SIGTSTP)
}
