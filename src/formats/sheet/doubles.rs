//! Which rows are there already: in the journal, or earlier in the same file.

use super::row::Parsed;
use crate::domain::exercise::ExerciseId;
use crate::domain::history::History;
use crate::domain::session::Done;
use crate::domain::units::Load;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// What makes two sets of a day alike: exercise, load in nanograms (or the band's step), what was
/// done. Several alike on one day are the rule, so they are counted.
type Key = (NaiveDate, ExerciseId, i64, (u32, u32));

fn key(date: NaiveDate, exercise: &ExerciseId, load: Load, done: Done) -> Key {
    let load = match load {
        Load::Mass(weight) | Load::Body(weight) => weight.mass.ng(),
        Load::Band(step) => i64::from(step.0),
    };
    (date, exercise.clone(), load, done.by_side())
}

/// Sets that were seen and that no row has been held against yet.
#[derive(Debug, Default)]
pub(super) struct Doubles {
    journal: BTreeMap<Key, usize>,
    /// Of earlier stretches of the file: a day that comes up again may be there twice.
    earlier: BTreeMap<Key, Vec<u64>>,
    /// Of the stretch that is being read.
    stretch: Vec<(Key, u64)>,
    day: Option<NaiveDate>,
}

impl Doubles {
    /// Those of the journal.
    pub(super) fn of(history: &History) -> Self {
        let mut journal: BTreeMap<Key, usize> = BTreeMap::new();
        for session in &history.sessions {
            for set in session.sets.iter().filter(|set| !set.damaged) {
                let record = &set.record;
                let key = key(
                    session.opened.date(),
                    &record.exercise,
                    record.load,
                    record.done,
                );
                *journal.entry(key).or_default() += 1;
            }
        }
        Self {
            journal,
            ..Self::default()
        }
    }

    /// Where a set is already, if it is.
    pub(super) fn find(&mut self, line: u64, parsed: &Parsed<'_>) -> Option<String> {
        if self.day != Some(parsed.date) {
            self.day = Some(parsed.date);
            for (key, line) in self.stretch.drain(..) {
                self.earlier.entry(key).or_default().push(line);
            }
        }
        let key = key(parsed.date, &parsed.exercise.id, parsed.load, parsed.done);
        if let Some(count) = self.journal.get_mut(&key)
            && *count >= usize::from(parsed.sets)
        {
            *count -= usize::from(parsed.sets);
            self.stretch.push((key, line));
            return Some("the journal has it".to_owned());
        }
        if let Some(lines) = self.earlier.get_mut(&key)
            && !lines.is_empty()
        {
            let earlier = lines.remove(0);
            return Some(format!("line {earlier} has it"));
        }
        self.stretch.push((key, line));
        None
    }
}
