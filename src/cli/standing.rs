//! What commands stand on: the journal as it reads, a person's files, and who trains.

use super::{Failure, warn};
use crate::domain::advice::{Beliefs, Context};
use crate::domain::exercise::Exercise;
use crate::domain::history::{History, Lifter};
use crate::domain::strength::belief::Believed;
use crate::domain::words;
use crate::shell::{Back, BeliefStore, CacheStore, Disk, Home, Loaded, Reached, now, read_both};
use chrono::NaiveDate;
use std::sync::Arc;

/// What the journal tells, with a warning where not all of it could be used.
///
/// # Errors
///
/// The journal cannot be read.
pub fn history() -> Result<History, Failure> {
    Ok(reached(&Home::here()?, Back::Ever)?.history)
}

fn reached(home: &Home, back: Back) -> Result<Reached, Failure> {
    let reached = CacheStore::of(home, &Disk).reach(back)?;
    if reached.faults > 0 {
        let places = words::count(reached.faults, "place");
        warn(&format!(
            "{places} in the journal could not be used as written: 'rackside journal check' tells"
        ));
    }
    Ok(reached)
}

/// A person's files and their past, the session that is on apart.
pub struct Standing {
    /// Exercises, places, programs.
    pub loaded: Loaded,
    /// What was done before.
    pub history: History,
    /// The first day on which a set was done, where the history does not reach back to it.
    pub begun: Option<NaiveDate>,
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
        Self::back(Back::Ever)
    }

    /// The same as far back as that.
    ///
    /// # Errors
    ///
    /// Files have problems, or cannot be read.
    pub fn back(back: Back) -> Result<Self, Failure> {
        let home = Home::here()?;
        let reached = reached(&home, back)?;
        let standing = Self::with(reached.history, Loaded::from(&home, &Disk)?, &home);
        Ok(Self {
            begun: reached.begun,
            ..standing
        })
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
            begun: None,
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
