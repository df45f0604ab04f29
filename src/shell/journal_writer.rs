//! The thread that appends to the journal: a set is recorded once its line is synced, not before.

use super::journal_queue::{Pending, Queue, Shared};
use super::{Home, Storage};
use crate::domain::session::{EventId, Stamped};
use crate::domain::units::Civil;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// How long to wait before a line that was refused is written again.
const AGAIN: Duration = Duration::from_secs(1);

/// A wait that a person notices.
const NOTICED: Duration = Duration::from_millis(300);

/// What became of events.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Report {
    /// They are on the disk, synced.
    Recorded(Vec<EventId>),
    /// They are not; they will be tried again.
    NotSaved {
        /// Which.
        ids: Vec<EventId>,
        /// Why.
        why: String,
    },
}

/// What is left when the program ends.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Left {
    /// Nothing: all is in the journal.
    Nothing,
    /// So many events went to a file beside the journal.
    Rescued {
        /// How many.
        events: usize,
        /// Where.
        path: PathBuf,
    },
    /// These lines could not be written anywhere.
    Lost {
        /// The lines, to be shown.
        lines: Vec<String>,
    },
}

enum Order {
    Write,
    Finish(Sender<Left>),
}

/// The thread that appends.
#[derive(Debug)]
pub struct JournalWriter {
    orders: Sender<Order>,
    queue: Shared,
    thread: Option<JoinHandle<()>>,
}

impl JournalWriter {
    /// Starts it. The files are those of `device`; what becomes of events goes to `report`.
    pub fn start(
        home: &Home,
        device: &str,
        storage: Arc<dyn Storage>,
        report: impl Fn(Report) + Send + 'static,
    ) -> Self {
        let (orders, inbox) = channel();
        let queue = Shared::new(Queue::of(home.journal(), device));
        let worker = Worker {
            rescue: home.rescue(),
            storage,
            queue: queue.clone(),
            written: Vec::new(),
        };
        let thread = std::thread::Builder::new().name("journal".to_owned());
        let thread = thread.spawn(move || worker.work(&inbox, &report)).ok();
        Self {
            orders,
            queue,
            thread,
        }
    }

    /// Tells of a session that an earlier run opened: its events stay together in the file of the
    /// year that it was opened in.
    pub fn resume(&self, session: &EventId, opened: Civil) {
        self.queue.with(|queue| queue.resume(session, opened));
    }

    /// Has events appended, in order.
    pub fn append(&self, events: Vec<Stamped>) {
        self.queue
            .with(|queue| events.into_iter().for_each(|event| queue.take(event)));
        // A dead thread reports nothing as recorded, and what it leaves is shown at the end.
        let _ = self.orders.send(Order::Write);
    }

    /// Waits until all is written, or rescued; where that takes long enough to be noticed, `slow`
    /// hears how many events are on their way. Where the time is up before, what is not known to be
    /// on the disk is given back to be shown.
    pub fn finish(mut self, within: Duration, slow: impl FnOnce(usize)) -> Left {
        let (answer, outcome) = channel();
        let asked = self.orders.send(Order::Finish(answer));
        let wait = |asked: Result<(), _>| {
            asked.ok()?;
            let soon = NOTICED.min(within);
            outcome.recv_timeout(soon).ok().or_else(|| {
                slow(self.queue.with(|queue| queue.ids().len()));
                outcome.recv_timeout(within.saturating_sub(soon)).ok()
            })
        };
        if let Some(left) = wait(asked) {
            if let Some(thread) = self.thread.take() {
                let _ = thread.join();
            }
            return left;
        }
        let lines = self.queue.with(|queue| queue.lines());
        match lines.is_empty() {
            true => Left::Nothing,
            false => Left::Lost { lines },
        }
    }
}

struct Worker {
    rescue: PathBuf,
    storage: Arc<dyn Storage>,
    queue: Shared,
    /// What this run wrote, file by file, so that it can be written again where a file is taken
    /// away or cut while the program runs.
    written: Vec<Written>,
}

/// What this run wrote into a file.
struct Written {
    path: PathBuf,
    lines: Vec<Pending>,
    /// How long the file was afterwards.
    length: u64,
}

impl Worker {
    fn work(mut self, inbox: &Receiver<Order>, report: &dyn Fn(Report)) {
        let mut again: Option<Instant> = None;
        loop {
            let order = match again {
                None => inbox.recv().map_err(|_| RecvTimeoutError::Disconnected),
                Some(at) => inbox.recv_timeout(at.saturating_duration_since(Instant::now())),
            };
            match order {
                Ok(Order::Write) | Err(RecvTimeoutError::Timeout) => {}
                Ok(Order::Finish(answer)) => {
                    self.recover(report);
                    self.write(report);
                    let _ = answer.send(self.rescue());
                    return;
                }
                Err(RecvTimeoutError::Disconnected) => return,
            }
            self.write(report);
            let waiting = self.queue.with(|queue| queue.first().is_some());
            again = waiting.then(|| Instant::now() + AGAIN);
        }
    }

    /// Writes what is pending, in order, up to the first that is refused.
    fn write(&mut self, report: &dyn Fn(Report)) {
        if let Some((ids, why)) = self.queue.with(Queue::refusals) {
            report(Report::NotSaved { ids, why });
        }
        while self.queue.with(|queue| queue.first().is_some()) {
            // Before each line: a file may go away between two that are written in one go.
            self.recover(report);
            let Some(next) = self.queue.with(|queue| queue.first()) else {
                return;
            };
            if let Err(error) = self.storage.append(&next.path, next.line.as_bytes()) {
                let (ids, why) = (self.queue.with(|queue| queue.ids()), error.to_string());
                report(Report::NotSaved { ids, why });
                return;
            }
            let id = next.id.clone();
            self.keep(next);
            self.queue.with(Queue::done);
            report(Report::Recorded(vec![id]));
        }
    }

    /// Remembers a line that was written, and how long its file is at least: where it turns out
    /// shorter, it was taken away in the very act.
    fn keep(&mut self, line: Pending) {
        let found = self.storage.length(&line.path).unwrap_or(0);
        let added = line.line.len() as u64;
        match self.written.iter_mut().find(|file| file.path == line.path) {
            Some(file) => {
                file.length = found.max(file.length + added);
                file.lines.push(line);
            }
            None => self.written.push(Written {
                path: line.path.clone(),
                lines: vec![line],
                length: found.max(added),
            }),
        }
    }

    /// Puts back in line what is no longer in a file that went away or became shorter. A line that
    /// somebody edited is still there by its id, and stays as they left it.
    fn recover(&mut self, report: &dyn Fn(Report)) {
        for file in &mut self.written {
            let shorter = |length| length < file.length;
            if !self.storage.length(&file.path).is_ok_and(shorter) {
                continue;
            }
            let held = self.storage.read(&file.path).unwrap_or_default();
            let held = String::from_utf8_lossy(&held);
            let lines = std::mem::take(&mut file.lines);
            let (there, gone): (Vec<Pending>, Vec<Pending>) = lines
                .into_iter()
                .partition(|line| held.contains(&format!("id:\"{}\"", line.id)));
            file.lines = there;
            file.length = held.len() as u64;
            if gone.is_empty() {
                continue;
            }
            let ids = gone.iter().map(|line| line.id.clone()).collect();
            let why = format!(
                "{} was cut or removed: they are being written again",
                file.path.display()
            );
            self.queue.with(|queue| queue.put_back(gone));
            report(Report::NotSaved { ids, why });
        }
    }

    /// What the journal refused goes to a file beside it.
    fn rescue(&mut self) -> Left {
        let pending = self.queue.with(|queue| queue.pending());
        let mut lines = self.queue.with(|queue| queue.unwritable());
        let Some(first) = pending.first() else {
            return match lines.is_empty() {
                true => Left::Nothing,
                false => Left::Lost { lines },
            };
        };
        let path = self.rescue.join(format!("{}.ron", first.id));
        let text: String = pending
            .iter()
            .map(|pending| pending.line.as_str())
            .collect();
        let kept = self.storage.create(&path, text.as_bytes()).is_ok();
        if kept && lines.is_empty() {
            let events = pending.len();
            return Left::Rescued { events, path };
        }
        if kept {
            lines.push(format!("// the rest is kept in {}", path.display()));
        } else {
            lines.extend(pending.iter().map(|p| p.line.trim_end().to_owned()));
        }
        Left::Lost { lines }
    }
}
