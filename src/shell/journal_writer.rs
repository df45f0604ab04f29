//! The thread that appends to the journal: a set is recorded once its line is synced, not before.

use super::{Home, Storage};
use crate::domain::session::{EventId, Stamped};
use crate::formats::journal::{file_name, write_line};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// How long to wait before a line that was refused is written again.
const AGAIN: Duration = Duration::from_secs(3);

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
    Append(Vec<Stamped>),
    Finish(Sender<Left>),
}

/// The thread that appends.
#[derive(Debug)]
pub struct JournalWriter {
    orders: Sender<Order>,
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
        let worker = Worker {
            journal: home.journal(),
            rescue: home.rescue(),
            device: device.to_owned(),
            storage,
            pending: Vec::new(),
        };
        let thread = std::thread::Builder::new().name("journal".to_owned());
        let thread = thread.spawn(move || worker.work(&inbox, &report)).ok();
        Self { orders, thread }
    }

    /// Has events appended, in order.
    pub fn append(&self, events: Vec<Stamped>) {
        // A dead thread reports nothing as recorded, so nothing is claimed.
        let _ = self.orders.send(Order::Append(events));
    }

    /// Waits until all is written, or rescued, or the time is up.
    pub fn finish(mut self, within: Duration) -> Option<Left> {
        let (answer, outcome) = channel();
        self.orders.send(Order::Finish(answer)).ok()?;
        let left = outcome.recv_timeout(within).ok()?;
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
        Some(left)
    }
}

/// An event on its way to the disk.
struct Pending {
    id: EventId,
    path: PathBuf,
    line: String,
}

struct Worker {
    journal: PathBuf,
    rescue: PathBuf,
    device: String,
    storage: Arc<dyn Storage>,
    pending: Vec<Pending>,
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
                Ok(Order::Append(events)) => self.take(events, report),
                Ok(Order::Finish(answer)) => {
                    self.write(report);
                    let _ = answer.send(self.rescue());
                    return;
                }
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => return,
            }
            self.write(report);
            again = (!self.pending.is_empty()).then(|| Instant::now() + AGAIN);
        }
    }

    fn take(&mut self, events: Vec<Stamped>, report: &dyn Fn(Report)) {
        for event in events {
            match write_line(&event) {
                Ok(line) => {
                    let path = self.journal.join(file_name(event.at.year(), &self.device));
                    let line = format!("{}\n", line.trim_end());
                    self.pending.push(Pending {
                        id: event.id,
                        path,
                        line,
                    });
                }
                Err(why) => {
                    report(Report::NotSaved {
                        ids: vec![event.id],
                        why: why.to_string(),
                    });
                }
            }
        }
    }

    /// Writes what is pending, in order, up to the first that is refused.
    fn write(&mut self, report: &dyn Fn(Report)) {
        while let Some(next) = self.pending.first() {
            match self.storage.append(&next.path, next.line.as_bytes()) {
                Ok(()) => {
                    report(Report::Recorded(vec![next.id.clone()]));
                    self.pending.remove(0);
                }
                Err(error) => {
                    let ids = self
                        .pending
                        .iter()
                        .map(|pending| pending.id.clone())
                        .collect();
                    report(Report::NotSaved {
                        ids,
                        why: error.to_string(),
                    });
                    return;
                }
            }
        }
    }

    /// What the journal refused goes to a file beside it.
    fn rescue(&mut self) -> Left {
        let (Some(first), Some(_)) = (self.pending.first(), self.pending.last()) else {
            return Left::Nothing;
        };
        let path = self.rescue.join(format!("{}.ron", first.id));
        let lines: String = self
            .pending
            .iter()
            .map(|pending| pending.line.as_str())
            .collect();
        match self.storage.create(&path, lines.as_bytes()) {
            Ok(()) => Left::Rescued {
                events: self.pending.len(),
                path,
            },
            Err(_) => Left::Lost {
                lines: self
                    .pending
                    .iter()
                    .map(|p| p.line.trim_end().to_owned())
                    .collect(),
            },
        }
    }
}
