//! The past as the journal tells it: a settled part, told once, and the events behind it.

use crate::app::update::is_over;
use crate::domain::history::History;
use crate::domain::session::{EventId, Session, Stamped};
use crate::domain::units::Now;
use std::collections::BTreeSet;
use std::sync::Arc;

/// What a journal tells, as far as the next session hangs on it.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Past {
    /// What the settled events tell.
    pub settled: Arc<History>,
    /// The events behind them, in order.
    pub later: Vec<Stamped>,
    /// Which of those are sets read from damaged lines.
    pub damaged: BTreeSet<EventId>,
    /// The highest `n` seen; the next event gets one more.
    pub highest_n: u64,
    /// How many places in the files could not be used as they are.
    pub faults: usize,
    /// How many were not as they should be, harmless ones among them.
    pub problems: usize,
}

impl Past {
    /// The events behind the settled ones, without those of a session that is still on, which is
    /// no past. One that was left for too long is over.
    pub fn events(&self, now: Now) -> Vec<Stamped> {
        let on = self.open().filter(|session| !is_over(session, now));
        let on = on.map(|session| session.id);
        let past = |event: &&Stamped| on.is_none() || event.session != on;
        self.later.iter().filter(past).cloned().collect()
    }

    /// All of it, without a session that is still on.
    pub fn history(&self, now: Now) -> History {
        self.clone().into_history(now)
    }

    /// The same where nothing else is asked of it.
    pub fn into_history(self, now: Now) -> History {
        let events = self.events(now);
        Arc::unwrap_or_clone(self.settled).after(events, &self.damaged)
    }

    /// All of it, a session that is still on among it.
    pub fn whole(self) -> History {
        Arc::unwrap_or_clone(self.settled).after(self.later, &self.damaged)
    }

    /// The session that was left open, if the last one was.
    pub fn open(&self) -> Option<Session> {
        let later = History::with_damaged(self.later.clone(), &self.damaged);
        let told = if later.has_own() {
            &later
        } else {
            &self.settled
        };
        told.open_session().cloned()
    }

    /// Whether the events of an open session, if there is one, are all behind the settled part.
    pub(super) fn has_open_session_whole(&self) -> bool {
        let later = History::with_damaged(self.later.clone(), &self.damaged);
        later.has_own() || self.settled.open_session().is_none()
    }
}
