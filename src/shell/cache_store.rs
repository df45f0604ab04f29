//! What is kept beside a journal, so that a start need not read all of it: taken where every sign
//! says that the files still begin with what was told, and told anew from them where one does not.

mod reach;

pub use reach::{Back, Reached};

use super::journal_store::read_these;
use super::past::Past;
use super::{Error, Home, JournalFiles, Storage};
use crate::app::msg::Msg;
use crate::domain::history::{History, come_after, latest_import, settled, stand_alone};
use crate::domain::session::EventId;
use crate::formats::cache::{self, Cache, End, Settled, Stamp, Sum, is_clean, milestones, sound};
use crate::formats::journal::{Read, Reader, Record, Seal, union};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Where fewer bytes are settled, the journal is read as fast without a cache.
const WORTH: u64 = 1 << 18;
/// A few more milliseconds in every start.
const LATER: usize = 1 << 17;
/// A few months of training.
const NEAREST: usize = 64;

/// The past of a home, by way of its cache.
pub struct CacheStore<'s> {
    home: &'s Home,
    storage: &'s dyn Storage,
    engine: String,
    /// The least settled bytes that are kept.
    worth: u64,
    /// The bytes behind them that are read in every start before some of them settle.
    later: usize,
    /// How many sessions back the first place to read on from lies.
    nearest: usize,
}

/// What holds what is kept of the journal against all of its bytes, on a thread of its own, and
/// says where they differ.
pub fn verification(
    home: &Home,
    storage: Arc<dyn Storage>,
    tell: impl Fn(Msg) + Send + 'static,
) -> Box<dyn FnOnce()> {
    let home = home.clone();
    Box::new(move || {
        let thread = std::thread::Builder::new().name("verify".to_owned());
        // Without the thread the next start goes by the same signs as this one.
        let _ = thread.spawn(move || {
            if !CacheStore::of(&home, storage.as_ref()).verify() {
                tell(Msg::Failed(CHANGED.to_owned()));
            }
        });
    })
}

/// What is said where the journal is not what it was taken for.
const CHANGED: &str = "the journal changed unseen: leave and start again to have it read anew";

/// What was read of the files, and on what it stands.
struct Found {
    base: Cache,
    stamps: Vec<Stamp>,
    reads: Vec<Read>,
    /// What lies among the files and is none of them.
    others: usize,
}

impl<'s> CacheStore<'s> {
    /// Of a home.
    pub fn of(home: &'s Home, storage: &'s dyn Storage) -> Self {
        Self {
            home,
            storage,
            engine: super::engine(),
            worth: WORTH,
            later: LATER,
            nearest: NEAREST,
        }
    }

    /// The same, which keeps what small journals tell as well, and has them settle at once.
    #[must_use]
    pub fn of_any_size(self) -> Self {
        Self {
            worth: 0,
            later: 0,
            nearest: 1,
            ..self
        }
    }

    /// Where it is kept.
    fn path(&self) -> PathBuf {
        self.home.cache.join("past")
    }

    /// What the journal tells.
    ///
    /// # Errors
    ///
    /// A folder or a file cannot be read. What a file holds is never an error.
    pub fn past(&self) -> Result<Past, Error> {
        let files = JournalFiles::of(self.home, self.storage)?;
        if let Some(past) = self.kept(&files).and_then(|found| self.onward(found)) {
            return Ok(past);
        }
        self.anew(&files)
    }

    /// Whether the files begin, byte for byte, with what is kept of them. Takes as long as reading
    /// them; where they do not, nothing is kept any more.
    pub fn verify(&self) -> bool {
        let Some(kept) = self.load() else {
            return true;
        };
        let same = kept.files.iter().all(|file| {
            let nothing = Settled::nothing_of(&file.path);
            self.sum(&nothing, file.bytes) == Some(file.sum)
        });
        if !same {
            // Where it cannot be taken away, the next start finds out as this one did.
            let _ = self.storage.remove(&self.path());
        }
        same
    }

    fn load(&self) -> Option<Cache> {
        let path = self.path();
        let plain = self.storage.is_plain(&path);
        let bytes = plain.then(|| self.storage.read(&path).ok())??;
        cache::read(&bytes, &self.engine)
    }

    /// What is kept, and what the files hold behind it; `None` where they do not begin with it.
    fn kept(&self, files: &JournalFiles) -> Option<Found> {
        let mut base = self.load()?;
        let (mut known, mut stamps, mut reads) = (Vec::new(), Vec::new(), Vec::new());
        for path in &files.paths {
            let name = path.to_string_lossy();
            let at = base.files.iter().position(|file| file.path == name);
            let stamp = self.storage.stamp(path).ok()?;
            let file = match at {
                Some(at) => base.files.swap_remove(at),
                None => Settled::nothing_of(&name),
            };
            reads.push(self.behind(path, &file, &stamp)?);
            stamps.push(stamp);
            known.push(file);
        }
        // A file that is gone took with it what it told.
        let gone = std::mem::replace(&mut base.files, known);
        gone.is_empty().then_some(Found {
            base,
            stamps,
            reads,
            others: files.others.len(),
        })
    }

    /// Reads what stands behind the settled bytes; `None` where those changed. Where the file does
    /// not look as it did, they are read to find out.
    fn behind(&self, path: &Path, file: &Settled, stamp: &Stamp) -> Option<Read> {
        let mut reader = Reader::new(&file.path);
        if *stamp != file.stamp {
            let mut sum = Sum::onward(&Settled::nothing_of(&file.path), file.bytes)?;
            let mut take = |bytes: &[u8]| reader.feed(sum.take(bytes));
            self.storage.scan(path, &mut take).ok()?;
            if sum.finish()? != file.sum {
                return None;
            }
        } else if stamp.size > file.bytes {
            let mut take = |bytes: &[u8]| reader.feed(bytes);
            self.storage.scan_from(path, file.bytes, &mut take).ok()?;
        }
        Some(reader.finish())
    }

    /// The past where what came behind the settled part stands alone.
    fn onward(&self, found: Found) -> Option<Past> {
        let whole = found.reads.iter().all(is_clean);
        let ends = found.ends();
        let bytes: usize = found.reads.iter().map(|read| read.length).sum();
        let Found {
            base,
            stamps,
            reads,
            others,
        } = found;
        let record = union(reads);
        let events = &record.events;
        let last = base.upto.as_ref().map(|(n, id)| (*n, id));
        let first = events.first().map(|first| (first.n, &first.id));
        let alone = whole
            && record.problems.is_empty()
            && first.is_none_or(|first| Some(first) > last)
            && stand_alone(events, &|_| true)
            && come_after(events, base.imported);
        if !alone {
            return None;
        }
        let told = Told {
            base,
            ends,
            stamps,
            others,
            record,
            doubtful: BTreeSet::new(),
        };
        let past = if bytes > self.later {
            self.settle(told)
        } else {
            told.past()
        };
        past.has_open_session_whole().then_some(past)
    }

    /// Reads the files from their first byte.
    fn anew(&self, files: &JournalFiles) -> Result<Past, Error> {
        let stamp = |path: &PathBuf| self.storage.stamp(path).unwrap_or_default();
        let stamps: Vec<Stamp> = files.paths.iter().map(stamp).collect();
        let (reads, others) = read_these(files, self.storage)?;
        let base = Cache {
            files: reads
                .iter()
                .map(|read| Settled::nothing_of(&read.path))
                .collect(),
            ..Cache::default()
        };
        let entries = reads.iter().flat_map(|read| &read.entries);
        let doubtful = entries.filter(|entry| entry.seal != Seal::Right);
        let doubtful = doubtful.map(|entry| entry.stamped.id.clone()).collect();
        let ends = reads.iter().map(|read| End::of(read, 0)).collect();
        let milestones = milestones(&reads, self.nearest);
        let record = union(reads);
        let milestones = if record.damaged.is_empty() {
            sound(milestones, &record.events)
        } else {
            Vec::new()
        };
        Ok(self.settle(Told {
            base: Cache { milestones, ..base },
            ends,
            stamps,
            others: others.len(),
            record,
            doubtful,
        }))
    }

    /// Settles as much as can be, and keeps it.
    fn settle(&self, mut told: Told) -> Past {
        let doubtful = std::mem::take(&mut told.doubtful);
        let events = &mut told.record.events;
        let at = settled(events, &|id| !doubtful.contains(id));
        let later = events.split_off(at);
        let now = std::mem::replace(events, later);
        let Some(last) = now.last() else {
            return told.past();
        };
        let upto = Some((last.n, last.id.clone()));
        told.base.pass(&now, self.nearest);
        let imported = told.base.imported.max(latest_import(&now));
        // The events of a session that is still on must not settle.
        let needed = told.is_without_session().then(|| now.clone());
        let base = (*told.base.history).clone();
        let mut history = base.after(now, &told.record.damaged);
        if let Some(events) = needed.filter(|_| history.open_session().is_some()) {
            told.record.events.splice(..0, events);
            return told.past();
        }
        let worked = history.sessions.iter().filter(|session| {
            let mut sets = session.sets.iter();
            sets.any(|set| !set.damaged)
        });
        let begun = worked.map(|session| session.opened.date()).min();
        told.base.begun = told.base.begun.into_iter().chain(begun).min();
        history.forget();
        told.base.history = Arc::new(history);
        told.base.upto = upto;
        told.base.imported = imported;
        self.keep(&mut told);
        told.past()
    }

    /// Keeps what is settled, where the files can be cut so and did not change meanwhile. It is a
    /// convenience: where it cannot be kept, the next start takes longer.
    fn keep(&self, told: &mut Told) -> Option<()> {
        let upto = told.base.upto.as_ref()?;
        let ends = told.ends.iter().zip(&told.stamps);
        let mut files = Vec::with_capacity(told.ends.len());
        for (file, (end, stamp)) in told.base.files.iter().zip(ends) {
            let bytes = end.settled(upto)?;
            let sum = self.sum(file, bytes)?;
            let unchanged = self.storage.stamp(Path::new(&file.path)).ok()? == *stamp;
            files.push(unchanged.then(|| Settled {
                path: file.path.clone(),
                stamp: *stamp,
                bytes,
                sum,
            })?);
        }
        let bytes: u64 = files.iter().map(|file| file.bytes).sum();
        let cache = Cache {
            files,
            highest_n: told.base.highest_n.max(told.record.highest_n),
            faults: told.base.faults + told.record.faults(),
            problems: told.base.problems + told.record.problems.len(),
            ..told.base.clone()
        };
        let worth = bytes >= self.worth;
        let bytes = worth.then(|| cache::write(&cache, &self.engine))?;
        self.storage.replace_derived(&self.path(), &bytes).ok()
    }

    /// The checksum of a file's first bytes, which must be whole lines. What is known of a
    /// beginning of them is used.
    fn sum(&self, known: &Settled, upto: u64) -> Option<u32> {
        let mut sum = Sum::onward(known, upto)?;
        if upto > known.bytes {
            let mut take = |bytes: &[u8]| {
                sum.take(bytes);
            };
            let path = Path::new(&known.path);
            let scanned = self.storage.scan_from(path, known.bytes, &mut take);
            scanned.ok()?;
        }
        sum.finish()
    }
}

impl Found {
    fn ends(&self) -> Vec<End> {
        let files = self.reads.iter().zip(&self.base.files);
        files
            .map(|(read, file)| End::of(read, file.bytes))
            .collect()
    }
}

/// What the files told behind what is settled.
struct Told {
    base: Cache,
    ends: Vec<End>,
    stamps: Vec<Stamp>,
    others: usize,
    record: Record,
    /// Events whose lines were not read as they were written.
    doubtful: BTreeSet<EventId>,
}

impl Told {
    /// Whether none of the later events opened a session here.
    fn is_without_session(&self) -> bool {
        let events = self.record.events.clone();
        !History::with_damaged(events, &self.record.damaged).has_own()
    }

    fn past(self) -> Past {
        let Self {
            base,
            others,
            record,
            ..
        } = self;
        Past {
            faults: base.faults + record.faults() + others,
            problems: base.problems + record.problems.len() + others,
            highest_n: base.highest_n.max(record.highest_n),
            settled: base.history,
            later: record.events,
            damaged: record.damaged,
        }
    }
}
