//! What a place lacks for an exercise, in words.

use super::{Fixture, Implement, Place};
use std::fmt;

/// Something that an exercise asks for and a place does not have.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Lack {
    /// Something that would stand there.
    Fixture(Fixture),
    /// Anything to carry the load.
    Implement(Implement),
}

impl fmt::Display for Lack {
    /// "no bench", "no pair of dumbbells".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Fixture(fixture) => write!(f, "no {fixture}"),
            Self::Implement(implement) => write!(f, "no {implement}"),
        }
    }
}

impl Place {
    /// What is missing here for an exercise that needs these fixtures and this implement; nothing
    /// where it can be done.
    pub fn lacks(&self, needs: &[Fixture], implement: Implement) -> Vec<Lack> {
        let fixtures = needs.iter().filter(|fixture| !self.has(**fixture));
        let implement = (!self.carries(implement)).then_some(Lack::Implement(implement));
        fixtures
            .map(|fixture| Lack::Fixture(*fixture))
            .chain(implement)
            .collect()
    }

    /// Whether at least one load of this implement can be made here.
    fn carries(&self, implement: Implement) -> bool {
        let dumbbells = |wanted: u8| {
            self.dumbbells.iter().any(|d| d.count >= wanted)
                || self.handles.iter().any(|h| h.count >= wanted)
        };
        match implement {
            Implement::Pair => dumbbells(2),
            Implement::One => dumbbells(1),
            Implement::Bar => !self.bars.is_empty(),
            Implement::Added | Implement::Body => true,
            Implement::Band => !self.bands.is_empty(),
        }
    }
}
