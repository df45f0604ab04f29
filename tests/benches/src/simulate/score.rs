//! What came of the suggestions.

use rackside::domain::advice::standalone::Answer;
use std::collections::BTreeMap;
use std::time::Duration;

/// A set as it went: what was stated of it, reps to failure that were there, reps done, and the
/// least that made it.
pub struct SetSeen {
    pub stated: Option<Answer>,
    pub there: u32,
    pub done: u32,
    pub least: u32,
    /// The share of sets that this lifter tells the reserve of.
    pub tells: f64,
}

/// The session from which the load's ratio to the oracle's is counted, from 0.
const SETTLING: usize = 5;
/// The sessions, from 0, from which on errors are told apart.
const SPANS: [usize; 6] = [0, 1, 2, 4, 8, 16];

#[derive(Default)]
pub struct Score {
    sets: f64,
    sessions: f64,
    productive: f64,
    missed: f64,
    error: Mean,
    /// By share of sets that carry a report, and by session.
    errors: BTreeMap<(u32, usize), (Mean, Mean)>,
    later_error: Mean,
    low: Mean,
    ratio: Mean,
    bins: [(f64, f64, f64); 10],
    early: Mean,
    brier: Mean,
    settled: [Mean; 2],
    first: Mean,
    later: Mean,
}

#[derive(Default, Clone, Copy)]
struct Mean {
    sum: f64,
    n: f64,
}

impl Mean {
    fn add(&mut self, value: f64) {
        self.sum += value;
        self.n += 1.0;
    }

    fn get(self) -> f64 {
        self.sum / self.n
    }

    /// The mean as text; a dash of nothing.
    fn text(self) -> String {
        if self.n > 0.0 {
            format!("{:.3}", self.get())
        } else {
            "-".to_owned()
        }
    }
}

/// When a lifter came to the right load.
pub struct Settled {
    guessed: bool,
    run: u32,
    at: Option<usize>,
    sessions: usize,
}

impl Settled {
    /// The right load: within a step or a tenth of the best, for two sessions.
    pub fn session(&mut self, load: f64, best: f64, loads: &[f64], session: usize) {
        self.sessions = session + 1;
        let place = |load: f64| loads.iter().position(|l| (l - load).abs() < 1e-6);
        let near = match (place(load), place(best)) {
            (Some(a), Some(b)) => a.abs_diff(b) <= 1,
            _ => false,
        };
        let near = near || (load / best - 1.0).abs() <= 0.10;
        self.run = if near { self.run + 1 } else { 0 };
        if self.at.is_none() && self.run == 2 {
            self.at = Some(session);
        }
    }
}

impl Score {
    /// Two lines above the rows: shares of sets, misses a session, load against the oracle's,
    /// errors of reps to failure, odds, sessions to the right load, milliseconds a suggestion.
    pub const HEAD: &str = "                          \
        product-   missed    load/  reps off      from     bias  calibra- surplus   Brier   \
        settled  settled  ms first ms later\n                          \
             ive       of   oracle      all   sixth               tion  first 5         no guess    \
        guess";

    pub fn lifter(&self, guessed: bool) -> Settled {
        Settled {
            guessed,
            run: 0,
            at: None,
            sessions: 0,
        }
    }

    pub fn end(&mut self, settled: &Settled) {
        let at = settled.at.unwrap_or(settled.sessions) as f64;
        self.settled[usize::from(settled.guessed)].add(at);
    }

    pub fn took(&mut self, session: usize, time: Duration) {
        let of = if session == 0 {
            &mut self.first
        } else {
            &mut self.later
        };
        of.add(time.as_secs_f64() * 1000.0);
    }

    pub fn load(&mut self, load: f64, best: f64, session: usize) {
        if session >= SETTLING {
            self.ratio.add(load / best);
        }
    }

    pub fn session(&mut self, sets: &[SetSeen], session: usize) {
        self.sessions += 1.0;
        let made = |set: &SetSeen| set.done >= set.least;
        for (place, set) in sets.iter().enumerate() {
            self.sets += 1.0;
            let left = set.there - set.done.min(set.there);
            self.productive += f64::from(u8::from(made(set) && left <= 4));
            self.missed += f64::from(u8::from(!made(set)));
            if let Some(stated) = &set.stated {
                let error = stated.reps - f64::from(set.there);
                self.error.add(error.abs());
                self.low.add(error);
                let span = SPANS.iter().rev().find(|from| **from <= session);
                let told = (set.tells * 10.0) as u32;
                let of = self.errors.entry((told, *span.unwrap_or(&0)));
                let of = of.or_default();
                of.0.add(error.abs());
                of.1.add(error);
                if session >= SETTLING {
                    self.later_error.add(error.abs());
                }
                let happened = f64::from(u8::from(sets[place..].iter().all(made)));
                self.odds(stated.success, happened, session);
            }
        }
    }

    fn odds(&mut self, p: f64, happened: f64, session: usize) {
        self.brier.add((p - happened).powi(2));
        let bin = &mut self.bins[((p * 10.0) as usize).min(9)];
        *bin = (bin.0 + p, bin.1 + happened, bin.2 + 1.0);
        if session < SETTLING {
            self.early.add(p - happened);
        }
    }

    pub fn row(&self, name: &str) -> String {
        let all: f64 = self.bins.iter().map(|bin| bin.2).sum();
        let ece = self
            .bins
            .iter()
            .map(|bin| (bin.0 - bin.1).abs())
            .sum::<f64>()
            / all;
        let ece = if all > 0.0 {
            format!("{ece:.3}")
        } else {
            "-".to_owned()
        };
        let of = |value: f64, n: f64| format!("{:.3}", value / n);
        let cells = [
            of(self.productive, self.sets),
            of(self.missed, self.sessions),
            self.ratio.text(),
            self.error.text(),
            self.later_error.text(),
            self.low.text(),
            ece,
            self.early.text(),
            self.brier.text(),
            self.settled[0].text(),
            self.settled[1].text(),
            self.first.text(),
            self.later.text(),
        ];
        let row = cells
            .iter()
            .map(|cell| format!("{cell:>9}"))
            .collect::<String>();
        format!("{name:26}{row}")
    }

    /// Stated against happened, a line a bin.
    pub fn bins(&self) -> String {
        let lines = self
            .bins
            .iter()
            .filter(|bin| bin.2 > 0.0)
            .map(|(p, happened, n)| {
                format!(
                    "    stated {:.2}, happened {:.2}, {n} times",
                    p / n,
                    happened / n
                )
            });
        lines.collect::<Vec<_>>().join("\n")
    }

    /// Errors of reps to failure, a line for each share of sets with a report: from which session
    /// on, how large, which way, how many.
    pub fn errors(&self) -> String {
        let line = |told: u32| {
            let of = self.errors.iter().filter(|((t, _), _)| *t == told);
            let cells = of.map(|((_, from), (size, way))| {
                format!("  {from}: {} {} ({})", size.text(), way.text(), size.n)
            });
            format!("    {told}0 % told{}", cells.collect::<String>())
        };
        let mut told: Vec<u32> = self.errors.keys().map(|(told, _)| *told).collect();
        told.dedup();
        told.into_iter().map(line).collect::<Vec<_>>().join("\n")
    }
}
