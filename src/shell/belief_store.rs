//! What was believed of each exercise in earlier runs, kept so that it need not be folded again.

use super::{Home, Storage};
use crate::domain::advice::{Beliefs, Folded};
use crate::domain::exercise::ExerciseId;
use crate::formats::cache;
use std::path::PathBuf;
use std::sync::Arc;

/// The files of beliefs of a home, one an exercise.
#[derive(Clone)]
pub struct BeliefStore {
    folder: PathBuf,
    journal: PathBuf,
    storage: Arc<dyn Storage>,
    engine: String,
}

impl BeliefStore {
    /// Of a home.
    pub fn of(home: &Home, storage: Arc<dyn Storage>) -> Self {
        Self {
            folder: home.cache.join("beliefs"),
            journal: home.journal(),
            storage,
            engine: super::engine(),
        }
    }

    fn path(&self, id: &ExerciseId) -> PathBuf {
        self.folder.join(id.as_str())
    }

    fn load(&self, id: &ExerciseId) -> Option<Folded> {
        let path = self.path(id);
        let plain = self.storage.is_plain(&path);
        let bytes = plain.then(|| self.storage.read(&path).ok())??;
        cache::read(&bytes, &self.engine)
    }

    /// Beliefs that begin with what is kept.
    pub fn beliefs(&self) -> Beliefs {
        let store = self.clone();
        Beliefs::recalled(move |id| store.load(id))
    }

    /// Keeps those that are new. Where one cannot be kept, it is folded again. Where the record is
    /// gone, as a demonstration's is at its end, nothing is left of it either.
    pub fn keep(&self, beliefs: &Beliefs) {
        for (id, folded) in beliefs.news() {
            let recorded = self.storage.list(&self.journal);
            if recorded.is_ok_and(|names| names.is_empty()) {
                return;
            }
            let bytes = cache::write(&*folded, &self.engine);
            let _ = self.storage.replace_derived(&self.path(&id), &bytes);
        }
    }
}
