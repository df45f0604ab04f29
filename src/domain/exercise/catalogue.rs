//! All exercises that are known, by id.

use super::{Exercise, ExerciseId};
use std::collections::BTreeMap;

/// All exercises that are known: those that ship and a person's own.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Catalogue {
    by_id: BTreeMap<ExerciseId, Exercise>,
}

impl Catalogue {
    /// A catalogue of these exercises; a later one of the same id takes an earlier one's place.
    pub fn new(exercises: impl IntoIterator<Item = Exercise>) -> Self {
        Self {
            by_id: exercises.into_iter().map(|e| (e.id.clone(), e)).collect(),
        }
    }

    /// The exercise of that id.
    pub fn get(&self, id: &ExerciseId) -> Option<&Exercise> {
        self.by_id.get(id)
    }

    /// Its name for people; the id itself when it is no longer known.
    pub fn name<'a>(&'a self, id: &'a ExerciseId) -> &'a str {
        self.get(id).map_or(id.as_str(), |e| e.name.as_str())
    }

    /// All of them, in order of id.
    pub fn iter(&self) -> impl Iterator<Item = &Exercise> {
        self.by_id.values()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.by_id.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.by_id.is_empty()
    }
}
