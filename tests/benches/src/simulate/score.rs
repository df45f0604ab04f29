//! What came of the suggestions.

use rackside::domain::advice::standalone::Answer;
use std::time::Duration;

#[derive(Default)]
pub struct Score {
    sets: f64,
    productive: f64,
    missed: f64,
    sessions: f64,
    error: f64,
    low: f64,
    ratio: f64,
    ratios: f64,
    bins: [(f64, f64, f64); 10],
    first_bins: [(f64, f64, f64); 10],
    early: (f64, f64, f64),
    brier: f64,
    stated: f64,
    settled: [(f64, f64); 2],
    by: std::collections::BTreeMap<String, (f64, f64)>,
    slow: Duration,
    first_time: (Duration, u32),
    other_time: (Duration, u32),
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
    pub const HEAD: &str = "                productive missed/session MAE    bias  ECE    ECE(first5) \
        Brier load/best settle(no/own guess) first ms  later ms  max ms";

    pub fn lifter(&self, guessed: bool) -> Settled {
        Settled {
            guessed,
            run: 0,
            at: None,
            sessions: 0,
        }
    }

    pub fn note(&mut self, what: String, value: f64) {
        let of = self.by.entry(what).or_default();
        *of = (of.0 + value, of.1 + 1.0);
    }

    pub fn end(&mut self, settled: Settled, kind: &str) {
        let at = settled.at.unwrap_or(settled.sessions) as f64;
        self.note(format!("settle {kind}"), at);
        let of = &mut self.settled[usize::from(settled.guessed)];
        *of = (of.0 + at, of.1 + 1.0);
    }

    pub fn took(&mut self, session: usize, set: u32, time: Duration) {
        self.slow = self.slow.max(time);
        let _ = set;
        let of = if session == 0 { &mut self.first_time } else { &mut self.other_time };
        *of = (of.0 + time, of.1 + 1);
    }

    pub fn load(&mut self, load: f64, best: f64, session: usize) {
        if session >= 5 {
            self.ratio += load / best;
            self.ratios += 1.0;
        }
    }

    pub fn set(&mut self, answer: &Answer, most: u32, done: u32, least: u32, session: usize) {
        let when = if session < 5 { "early" } else { "later" };
        self.note(format!("mae {when}"), (answer.reps - f64::from(most)).abs());
        self.note(format!("mae there {:02}", (most / 5 * 5).min(40)), (answer.reps - f64::from(most)).abs());
        let p = f64::from(u8::from(done >= least && most - done <= 4));
        self.note(format!("productive {when}"), p);
        self.sets += 1.0;
        let left = most - done.min(most);
        self.productive += f64::from(u8::from(done >= least && left <= 4));
        self.missed += f64::from(u8::from(done < least));
        self.error += (answer.reps - f64::from(most)).abs();
        self.low += answer.reps - f64::from(most);
    }

    pub fn session(&mut self, stated: &[f64], made: &[bool], session: usize) {
        self.sessions += 1.0;
        for (set, p) in stated.iter().enumerate() {
            let happened = f64::from(u8::from(made[set..].iter().all(|made| *made)));
            self.brier += (p - happened).powi(2);
            self.stated += 1.0;
            let bin = ((p * 10.0) as usize).min(9);
            let bins = if set == 0 { &mut self.first_bins } else { &mut self.bins };
            bins[bin].0 += p;
            bins[bin].1 += happened;
            bins[bin].2 += 1.0;
            if session < 5 {
                self.early = (self.early.0 + p, self.early.1 + happened, self.early.2 + 1.0);
            }
        }
    }

    fn calibration(bins: &[(f64, f64, f64)]) -> f64 {
        let all: f64 = bins.iter().map(|b| b.2).sum();
        bins.iter().map(|b| (b.0 - b.1).abs()).sum::<f64>() / all
    }

    pub fn row(&self, name: &str) -> String {
        let mut both = self.bins;
        for (a, b) in both.iter_mut().zip(self.first_bins) {
            *a = (a.0 + b.0, a.1 + b.1, a.2 + b.2);
        }
        let settle = |k: usize| self.settled[k].0 / self.settled[k].1;
        let ms = |t: (Duration, u32)| t.0.as_secs_f64() * 1000.0 / f64::from(t.1);
        let mut text = format!(
            "{name:15} {:.3}      {:.3}          {:.2}  {:+.2}  {:.4} {:.3}       {:.4} {:.3}     {:.1} / {:.1}   \
             {:.2} {:.2} {:.2}",
            self.productive / self.sets,
            self.missed / self.sessions,
            self.error / self.sets,
            self.low / self.sets,
            Self::calibration(&both),
            (self.early.0 - self.early.1) / self.early.2,
            self.brier / self.stated,
            self.ratio / self.ratios,
            settle(0),
            settle(1),
            ms(self.first_time),
            ms(self.other_time),
            self.slow.as_secs_f64() * 1000.0,
        );
        for (what, (sum, n)) in &self.by {
            text += &format!("\n    {what}: {:.3} of {n}", sum / n);
        }
        for (p, happened, n) in both {
            if n > 0.0 {
                text += &format!("\n    {:.2} {:.2} {n}", p / n, happened / n);
            }
        }
        text
    }
}
