//! What the desktop is asked for: notices, and a screen that does not go dark. Each on a thread of
//! its own, for a bus or a service that is stuck never answers; without them all goes on.

#[cfg(target_os = "linux")]
mod awake;
#[cfg(target_os = "linux")]
mod notices;

use crate::app::effect::Told;
use crate::domain::history::Prefs;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};

/// So many notices may wait for a desktop that is slow; what comes on top is not shown.
const WAITING: usize = 2;

/// The threads that speak to the desktop.
pub struct Desktop {
    notices: SyncSender<Box<Told>>,
    awake: SyncSender<bool>,
    /// Whether the terminal is in front of the person, where it says so.
    focused: Option<bool>,
    /// Whether the screen is being kept awake.
    keeps: bool,
}

impl Desktop {
    /// Starts them. They ask for nothing before there is something to ask for.
    pub fn start() -> Self {
        let (notices, told) = sync_channel(WAITING);
        let (awake, wanted) = sync_channel(WAITING);
        #[cfg(target_os = "linux")]
        {
            spawn("notices", told, notices::show_all);
            spawn("awake", wanted, awake::follow);
        }
        #[cfg(not(target_os = "linux"))]
        drop((told, wanted));
        Self {
            notices,
            awake,
            focused: None,
            keeps: false,
        }
    }

    /// The terminal says whether it is in front of the person.
    pub fn focus(&mut self, focused: bool) {
        self.focused = Some(focused);
    }

    /// Shows a notice, in place of the former one, unless the person looks at the terminal.
    pub fn notify(&self, told: Box<Told>, prefs: Prefs) {
        if !prefs.no_notices && self.focused != Some(true) {
            let _ = self.notices.try_send(told);
        }
    }

    /// Keeps the screen awake while a session is on, and no longer.
    pub fn keep_awake(&mut self, trains: bool, prefs: Prefs) {
        let wanted = trains && !prefs.may_darken;
        // Where the thread is stuck, it is tried again with the next turn.
        if wanted != self.keeps && self.awake.try_send(wanted).is_ok() {
            self.keeps = wanted;
        }
    }
}

#[cfg(target_os = "linux")]
fn spawn<T: Send + 'static>(name: &str, inbox: Receiver<T>, work: fn(&Receiver<T>)) {
    let thread = std::thread::Builder::new().name(name.to_owned());
    // Without the thread nothing is asked for.
    let _ = thread.spawn(move || work(&inbox));
}

/// Whether a bus is one of this machine: only sockets in the file system are spoken to. Where no
/// variable names one, it is the one of this session, which is.
#[cfg(target_os = "linux")]
fn is_here(variable: &str) -> bool {
    let Some(addresses) = std::env::var_os(variable) else {
        return true;
    };
    let addresses = addresses.to_string_lossy();
    addresses
        .split(';')
        .all(|address| address.starts_with("unix:"))
}
