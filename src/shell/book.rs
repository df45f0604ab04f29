//! The logbook, read as far back as it is looked at.

use super::advisor::Knowledge;
use super::{Back, CacheStore, Error, Home, Past, Reached, Storage, now};
use crate::app::logbook::{Book, Depth};
use crate::app::msg::Msg;
use crate::domain::history::{History, stand_alone};
use crate::domain::logbook::Logbook;
use crate::domain::logbook::backing_off::BackingOff;
use crate::domain::logbook::told::Reading;
use crate::domain::logbook::week::Week;
use crate::domain::session::{EventId, Stamped};
use crate::domain::strength::calibration::Calibration;
use crate::domain::units::Civil;
use crate::formats::calibration;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Reads the journal so far back, without the session that is on.
pub type ReadBack = Box<dyn Fn(Back) -> Result<Reached, Error> + Send>;

/// Reads a home so.
pub fn read_back(home: &Home, storage: Arc<dyn Storage>) -> ReadBack {
    let home = home.clone();
    Box::new(move |back| {
        let reached = CacheStore::of(&home, storage.as_ref()).reach(back)?;
        let past = Past {
            later: reached.events,
            damaged: reached.damaged,
            ..Past::default()
        };
        Ok(Reached {
            events: past.events(now()),
            damaged: past.damaged,
            ..reached
        })
    })
}

/// How far back a logbook must be read.
fn back(depth: Depth, now: Civil) -> Back {
    match depth {
        Depth::Months => {
            let (since, _) = Reading::usual_days(now.date());
            Back::Day(Week::of(since).back(1).monday())
        }
        Depth::Sessions(count) => Back::Sessions(count),
        Depth::All => Back::Ever,
    }
}

/// What was read, and what happened in this run: some of it may be on the disk already.
fn with(mut reached: Reached, new: &[Stamped]) -> Reached {
    let known: BTreeSet<&EventId> = new.iter().map(|event| &event.id).collect();
    reached.events.retain(|event| !known.contains(&event.id));
    reached.events.extend_from_slice(new);
    reached
}

impl Knowledge {
    /// Takes in what happened in this run, which from now on is past, and tells of what was
    /// recorded: as far back as that, or all of it.
    pub(super) fn book(&mut self, new: &[Stamped], depth: Depth, now: Civil) -> Msg {
        let fresh = new.get(self.taken..).unwrap_or_default();
        self.events.extend_from_slice(fresh);
        self.taken = new.len();
        match self.read_book(new, depth, now) {
            Ok(book) => Msg::Book(Arc::new(book)),
            Err(why) => Msg::Failed(why.to_string()),
        }
    }

    fn read_book(&mut self, new: &[Stamped], depth: Depth, now: Civil) -> Result<Book, Error> {
        let Some(read) = self.read.take() else {
            return Ok(self.whole_book(now));
        };
        let book = self.read_as_far(&read, (new, depth), now);
        if !matches!(&book, Ok(book) if book.earlier == 0) {
            self.read = Some(read);
        }
        book
    }

    fn read_as_far(
        &mut self,
        read: &ReadBack,
        (new, depth): (&[Stamped], Depth),
        now: Civil,
    ) -> Result<Book, Error> {
        // Where an earlier session was changed in this run, all hangs on all.
        let alone = stand_alone(&self.events, &|_| true);
        let mut reached = read(if alone { back(depth, now) } else { Back::Ever })?;
        if reached.history.forgotten > 0 {
            let book = self.book_of(with(reached, new), now);
            let records = (&*book.history, &book.logbook);
            let stands = BackingOff::of(records, &self.desk.catalogue, now.date());
            if stands.rest.is_some() {
                return Ok(book);
            }
            // Nobody rested in these sessions: before them they did, or never.
            reached = read(Back::Ever)?;
        }
        let reached = with(reached, new);
        self.events = reached.events;
        self.damaged = reached.damaged;
        self.settled = Arc::default();
        Ok(self.whole_book(now))
    }

    /// The book of all that was recorded, which is in memory.
    fn whole_book(&mut self, now: Civil) -> Book {
        let history = History::with_damaged(self.events.clone(), &self.damaged);
        self.history = Arc::new(history);
        let odds = calibration::lines(&Calibration::of(&self.history));
        Book {
            odds: odds.lines().map(str::to_owned).collect(),
            ..self.digested(self.history.clone(), self.events.clone(), now)
        }
    }

    /// The book of the last sessions.
    fn book_of(&mut self, reached: Reached, now: Civil) -> Book {
        let settled = History::clone(&self.settled);
        self.history = Arc::new(settled.after(self.events.clone(), &self.damaged));
        let told = History::with_damaged(reached.events.clone(), &reached.damaged);
        let history = History::clone(&self.history).reaching(told.sessions);
        let book = self.digested(Arc::new(history), reached.events, now);
        Book {
            logbook: book.logbook.begun_on(reached.begun),
            ..book
        }
    }

    fn digested(&self, history: Arc<History>, events: Vec<Stamped>, now: Civil) -> Book {
        let lifter = self.lifter.clone().after(&history.choices, now.date());
        let logbook = Logbook::of(&history, &self.desk.catalogue, lifter.body_weight);
        Book {
            events,
            taken: self.taken,
            logbook,
            odds: Vec::new(),
            earlier: history.forgotten,
            history,
        }
    }
}
