//! How far back sessions are told: a view of months need not read the years before them.

use super::CacheStore;
use crate::domain::history::History;
use crate::domain::session::{Event, EventId, Stamped};
use crate::formats::cache::{Cache, Milestone, is_clean};
use crate::formats::journal::{Read, Reader, union};
use crate::shell::{Error, JournalFiles, Past, read_journal};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// How far back.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Back {
    /// To the sessions of this day, at least.
    Day(NaiveDate),
    /// So many sessions, at least.
    Sessions(usize),
    /// To the first one.
    Ever,
}

/// What the journal tells as far back as that was asked for.
#[derive(Clone, PartialEq, Debug)]
pub struct Reached {
    /// What it tells: all of it, but for sessions before those that were asked for.
    pub history: History,
    /// The events of these sessions, and those of none that stand among them; in order.
    pub events: Vec<Stamped>,
    /// Which of them are sets read from damaged lines.
    pub damaged: BTreeSet<EventId>,
    /// The first day on which a set was done before them.
    pub begun: Option<NaiveDate>,
    /// How many places in the files could not be used as they are.
    pub faults: usize,
}

impl CacheStore<'_> {
    /// What the journal tells, the session that is on among it, as far back as that.
    ///
    /// # Errors
    ///
    /// A folder or a file cannot be read. What a file holds is never an error.
    pub fn reach(&self, back: Back) -> Result<Reached, Error> {
        if back != Back::Ever {
            let past = self.past()?;
            let files = JournalFiles::of(self.home, self.storage)?;
            let kept = self.kept(&files).map(|found| found.base);
            if let Some(reached) = kept.and_then(|kept| self.tail(&files, (&kept, past), back)) {
                return Ok(reached);
            }
        }
        let record = read_journal(self.home, self.storage)?;
        Ok(Reached {
            faults: record.faults(),
            history: History::with_damaged(record.events.clone(), &record.damaged),
            events: record.events,
            damaged: record.damaged,
            begun: None,
        })
    }

    /// The same by reading the end of the files alone; `None` where that does not suffice.
    fn tail(
        &self,
        files: &JournalFiles,
        (kept, past): (&Cache, Past),
        back: Back,
    ) -> Option<Reached> {
        let from = nearest(kept, back)?;
        let mut reads: Vec<Read> = Vec::new();
        for path in &files.paths {
            let name = path.to_string_lossy();
            let mut reader = Reader::new(&name);
            let mut take = |bytes: &[u8]| reader.feed(bytes);
            self.storage
                .scan_from(path, from.before(&name), &mut take)
                .ok()?;
            reads.push(reader.finish());
        }
        if !reads.iter().all(is_clean) {
            return None;
        }
        let record = union(reads);
        if !record.problems.is_empty() {
            return None;
        }
        let mut events = record.events;
        let opened: BTreeSet<EventId> = events
            .iter()
            .filter(|event| matches!(event.event, Event::Opened(_)))
            .map(|event| event.id.clone())
            .collect();
        let ours = |event: &Stamped| event.session.as_ref().is_none_or(|id| opened.contains(id));
        events.retain(ours);
        let faults = past.faults;
        let whole = past.whole();
        let told = History::of(events.clone());
        Some(Reached {
            history: whole.reaching(told.sessions),
            events,
            damaged: BTreeSet::new(),
            begun: kept.begun,
            faults,
        })
    }
}

/// The last milestone that lies far enough back.
fn nearest(kept: &Cache, back: Back) -> Option<&Milestone> {
    let far = |milestone: &&Milestone| match back {
        Back::Day(day) => milestone.day < day,
        Back::Sessions(count) => kept.opened.saturating_sub(milestone.opened) >= count,
        Back::Ever => false,
    };
    kept.milestones.iter().rev().find(far)
}
