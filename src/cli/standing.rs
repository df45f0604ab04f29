//! What commands stand on: the journal as it reads, a person's files, and who trains.

use super::{Failure, warn};
use crate::domain::advice::{Beliefs, Context};
use crate::domain::exercise::Exercise;
use crate::domain::history::{History, Lifter};
use crate::domain::strength::belief::Believed;
use crate::domain::words;
use crate::shell::{BeliefStore, Disk, Home, Loaded, now, read_both, read_journal};
use std::sync::Arc;

/// What the journal tells, with a warning where not all of it could be used.
///
/// # Errors
///
/// The journal cannot be read.
pub fn history() -> Result<History, Failure> {
    let record = read_journal(&Home::here()?, &Disk)?;
    if record.faults() > 0 {
        let places = words::count(record.faults(), "place");
        warn(&format!(
            "{places} in the journal could not be used as written: 'rackside journal check' tells"
        ));
    }
    Ok(History::with_damaged(record.events, &record.damaged))
}

/// A person's files and their past, the session that is on apart.
pub struct Standing {
    /// Exercises, places, programs.
    pub loaded: Loaded,
    /// What was done before.
    pub history: History,
    /// Who trains, after all that they chose.
    pub lifter: Lifter,
    /// What is believed, as far as earlier runs left it.
    pub beliefs: Beliefs,
    /// Where that is kept.
    pub kept: BeliefStore,
}

impl Standing {
    /// As the home of this process has it; an empty one gives the defaults, with a warning.
    ///
    /// # Errors
    ///
    /// Files have problems, or cannot be read.
    pub fn here() -> Result<Self, Failure> {
        let home = Home::here()?;
        let (loaded, past) = read_both(&home, &Disk);
        Ok(Self::with(past?.into_history(now()), loaded?, &home))
    }

    /// The same with all that was recorded, the session that is on among it.
    ///
    /// # Errors
    ///
    /// Files have problems, or cannot be read.
    pub fn whole() -> Result<Self, Failure> {
        let home = Home::here()?;
        let history = history()?;
        Ok(Self::with(history, Loaded::from(&home, &Disk)?, &home))
    }

    fn with(history: History, loaded: Loaded, home: &Home) -> Self {
        let lifter = match &loaded.lifter {
            Some(lifter) => lifter.clone(),
            None => {
                warn("no answers of a first run yet: these are the defaults (run rackside once)");
                loaded.default_lifter()
            }
        };
        let lifter = lifter.after(&history.choices, now().civil.date());
        let kept = BeliefStore::of(home, Arc::new(Disk));
        Self {
            loaded,
            history,
            lifter,
            beliefs: kept.beliefs(),
            kept,
        }
    }

    /// What was believed after each session of an exercise.
    pub fn believed(&self, exercise: &Exercise) -> Vec<Believed> {
        let desk = &self.loaded.desk;
        let place = desk.place(&self.lifter.place);
        let place = place.or_else(|| desk.places.first());
        let beliefs = Beliefs::default();
        place.map_or_else(Vec::new, |place| {
            Context {
                catalogue: &desk.catalogue,
                place,
                history: &self.history,
                lifter: &self.lifter,
                now: now().civil,
                beliefs: Some(&beliefs),
            }
            .believed(exercise)
        })
    }
}
