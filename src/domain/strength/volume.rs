//! Volume load: mass moved times reps.

use crate::domain::exercise::{Catalogue, Counts, Sides};
use crate::domain::session::{Session, SetKind, SetRecord};
use crate::domain::units::{Load, Mass};

/// The volume load of a session's working sets. Masses that were handled count: both dumbbells of
/// a pair, both sides of one-sided work, what was added to the body; the body itself, bands and
/// holds do not.
pub fn of_session(session: &Session, catalogue: &Catalogue) -> Mass {
    let work = session
        .sets
        .iter()
        .filter(|set| set.record.kind != SetKind::Ramp && !set.damaged);
    work.map(|set| of_set(&set.record, catalogue)).sum()
}

/// The volume load of a set.
pub fn of_set(record: &SetRecord, catalogue: &Catalogue) -> Mass {
    if record.done.is_hold() {
        return Mass::ZERO;
    }
    let mass = match record.load {
        Load::Mass(weight) => weight.mass,
        Load::Body(weight) => weight.mass.max(Mass::ZERO),
        Load::Band(_) => Mass::ZERO,
    };
    let hands = match record.counts {
        Counts::PerHand => 2,
        Counts::OneDumbbell
        | Counts::BarTotal
        | Counts::Body { .. }
        | Counts::BodyPlus { .. }
        | Counts::Band => 1,
    };
    let sides = catalogue
        .get(&record.exercise)
        .map(|exercise| exercise.sides);
    let (left, right) = record.done.by_side();
    let reps = match sides {
        Some(Sides::Each | Sides::Alternating) => left + right,
        Some(Sides::Both) | None => left,
    };
    mass * hands * i64::from(reps)
}
