//! Places in the files of a journal behind which everything stands that tells of the later
//! sessions, so that who asks for those need not read the others.

use super::end::Key;
use crate::domain::history::latest_import;
use crate::domain::session::{Event, EventId, Stamped};
use crate::formats::journal::{Entry, Read};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// Such a place. Sessions that were opened behind it are told by what stands behind it alone.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Milestone {
    /// How many sessions were opened before it.
    pub opened: usize,
    /// The latest day on which one of those was.
    pub day: NaiveDate,
    /// By file, how many of its bytes stand before it; of a file that is not named, none.
    pub before: Vec<(String, u64)>,
}

impl Milestone {
    /// How many bytes of a file stand before it.
    pub fn before(&self, path: &str) -> u64 {
        let file = self.before.iter().find(|(file, _)| file == path);
        file.map_or(0, |(_, bytes)| *bytes)
    }
}

/// Those that are worth keeping of so many sessions: the further back, the fewer, so that there is
/// always one not much further back than what is asked for, if that is `nearest` sessions or more.
pub fn thinned(all: Vec<Milestone>, opened: usize, nearest: usize) -> Vec<Milestone> {
    let mut kept: Vec<Milestone> = Vec::new();
    for milestone in all.into_iter().rev() {
        let back = opened.saturating_sub(milestone.opened);
        let least = kept.last().map_or(0, |last| {
            let last = opened.saturating_sub(last.opened);
            last + (last / 4).max(nearest)
        });
        if back >= least {
            kept.push(milestone);
        }
    }
    kept.reverse();
    kept
}

/// An opening of a session in one of the files.
struct Opening {
    key: Key,
    day: NaiveDate,
}

/// The milestones of files that were read from their first byte, and how many sessions were opened
/// in all; none where an event of theirs stands before an earlier one.
pub fn milestones(reads: &[Read], nearest: usize) -> (Vec<Milestone>, usize) {
    let in_order = |read: &Read| {
        let key = |k: usize| read.entries.get(k).map(|e| (e.stamped.n, &e.stamped.id));
        (1..read.entries.len()).all(|k| key(k - 1) <= key(k))
    };
    if !reads.iter().all(in_order) {
        return (Vec::new(), 0);
    }
    let openings = openings(reads);
    let mut latest = NaiveDate::MIN;
    let mut all = Vec::new();
    let mut next = 0;
    for (opened, opening) in openings.iter().enumerate() {
        let left = openings.len() - opened;
        if opened == next {
            next = opened + (left / 8).max(1);
            if opened > 0 && left >= nearest {
                all.push(Milestone {
                    opened,
                    day: latest,
                    before: before(reads, &opening.key),
                });
            }
        }
        latest = latest.max(opening.day);
    }
    (thinned(all, openings.len(), nearest), openings.len())
}

/// All openings, in order, each once.
fn openings(reads: &[Read]) -> Vec<Opening> {
    let entries = reads.iter().flat_map(|read| &read.entries);
    let opens = entries.filter(|entry| matches!(entry.stamped.event, Event::Opened(_)));
    let mut openings: Vec<Opening> = opens
        .map(|entry| Opening {
            key: (entry.stamped.n, entry.stamped.id.clone()),
            day: entry.stamped.at.date(),
        })
        .collect();
    openings.sort_by(|a, b| a.key.cmp(&b.key));
    openings.dedup_by(|a, b| a.key == b.key);
    openings
}

/// How many bytes of each file stand before an event.
fn before(reads: &[Read], key: &Key) -> Vec<(String, u64)> {
    let bytes = |read: &Read| {
        let earlier = |e: &Entry| (e.stamped.n, &e.stamped.id) < (key.0, &key.1);
        let behind = read.entries.partition_point(earlier);
        let bytes = read.entries.get(behind).map_or(read.length, |e| e.offset);
        u64::try_from(bytes)
            .ok()
            .map(|bytes| (read.path.clone(), bytes))
    };
    reads
        .iter()
        .filter_map(bytes)
        .filter(|(_, b)| *b > 0)
        .collect()
}

/// Those behind which sessions are told whole, where these are all events, in order: none where an
/// event comes before the session that it belongs to, and none before days from elsewhere, which go
/// among the sessions by their dates.
pub fn sound(
    (milestones, opened_in_all): (Vec<Milestone>, usize),
    events: &[Stamped],
) -> Vec<Milestone> {
    let is_import =
        |event: &Stamped| matches!(event.event, Event::Imported(_) | Event::ImportEnded(_));
    let openings = |events: &[Stamped]| -> Vec<NaiveDate> {
        let opens = |event: &&Stamped| matches!(event.event, Event::Opened(_));
        events.iter().filter(opens).map(|e| e.at.date()).collect()
    };
    let days = openings(events);
    if !is_in_order(events) || days.len() != opened_in_all {
        return Vec::new();
    }
    let imported = latest_import(events);
    let last_import = events.iter().rposition(is_import).map_or(0, |k| k + 1);
    let first = days.len() - openings(events.get(last_import..).unwrap_or_default()).len();
    let sound = |milestone: &Milestone| {
        let behind = days.get(milestone.opened..).unwrap_or_default();
        milestone.opened >= first
            && imported.is_none_or(|imported| behind.iter().all(|day| imported < *day))
    };
    milestones.into_iter().filter(sound).collect()
}

/// Whether every event comes behind the opening of the session that it belongs to.
fn is_in_order(events: &[Stamped]) -> bool {
    let mut opened: BTreeSet<&EventId> = BTreeSet::new();
    events
        .iter()
        .all(|event| match (&event.event, &event.session) {
            (Event::Opened(_), Some(session)) => *session == event.id && opened.insert(session),
            (Event::Opened(_), None) => false,
            (_, Some(session)) => opened.contains(session),
            (_, None) => true,
        })
}
