//! The thread that keeps what is no journal: draft, preferences, the lifter's file. A disk that
//! does not answer holds it up, and never a key.

use super::log::{self, Entry};
use super::state_store::StateStore;
use super::{Error, Home, Storage};
use crate::app::msg::Msg;
use crate::domain::history::{Lifter, Preference};
use crate::domain::session::Draft;
use crate::formats::lifter_file;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

#[cfg(test)]
mod tests;

/// Something to keep.
pub enum Keep {
    /// This of the running session, or nothing, in place of what was kept before.
    Draft(Option<Box<Draft>>),
    /// What the person prefers.
    Preference(Preference),
    /// Who trains: a file of the person's, written once.
    Lifter(Box<Lifter>),
    /// A line for the log.
    Log(Entry),
}

/// The thread that keeps things.
pub struct Keeper {
    orders: Sender<Keep>,
    /// Closes when the thread is through.
    through: Receiver<()>,
}

impl Keeper {
    /// Starts it. What became of the lifter's file goes to `tell`.
    pub fn start(
        home: &Home,
        storage: Arc<dyn Storage>,
        tell: impl Fn(Msg) + Send + 'static,
    ) -> Self {
        let (orders, inbox) = channel();
        let (ending, through) = channel();
        let worker = Worker {
            lifter: home.lifter(),
            log: home.log(),
            state: StateStore::of(home, storage.clone()),
            storage,
        };
        let thread = std::thread::Builder::new().name("keeper".to_owned());
        // Without the thread nothing is kept, and what was recorded is in the journal all the same.
        let _ = thread.spawn(move || {
            worker.work(&inbox, &tell);
            drop::<Sender<()>>(ending);
        });
        Self { orders, through }
    }

    /// Has something kept.
    pub fn keep(&self, thing: Keep) {
        let _ = self.orders.send(thing);
    }

    /// Waits until all is kept or the time is up.
    pub fn finish(self, within: Duration) {
        drop(self.orders);
        let _ = self.through.recv_timeout(within);
    }
}

struct Worker {
    lifter: PathBuf,
    log: PathBuf,
    storage: Arc<dyn Storage>,
    state: StateStore,
}

impl Worker {
    fn work(&self, inbox: &Receiver<Keep>, tell: &dyn Fn(Msg)) {
        while let Ok(first) = inbox.recv() {
            // Of what came in the meantime only the newest draft matters.
            let (mut draft, mut preferences) = (None, Vec::new());
            for thing in std::iter::once(first).chain(inbox.try_iter()) {
                match thing {
                    Keep::Draft(newer) => draft = Some(newer),
                    Keep::Preference(one) => preferences.push(one),
                    Keep::Lifter(lifter) => tell(self.write(lifter)),
                    Keep::Log(entry) => {
                        let entry = (entry, super::now().civil);
                        let _ = log::add(self.storage.as_ref(), &self.log, entry);
                    }
                }
            }
            // Both are conveniences: where they cannot be kept, nothing that was done is lost.
            if let Some(draft) = draft {
                let _ = self.state.keep_draft(draft.as_deref());
            }
            if !preferences.is_empty() {
                let _ = self.state.keep_preferences(&preferences);
            }
        }
    }

    fn write(&self, lifter: Box<Lifter>) -> Msg {
        let text = lifter_file::text(&lifter);
        match self.storage.create(&self.lifter, text.as_bytes()) {
            Ok(()) => Msg::LifterWritten(lifter),
            Err(why) => Msg::LifterNotWritten(Error::file("write", &self.lifter)(why).to_string()),
        }
    }
}
