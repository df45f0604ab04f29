//! How long a session, or what is left of it, takes.

use crate::domain::exercise::Catalogue;
use crate::domain::history::Pace;
use crate::domain::session::Session;
use crate::domain::units::Seconds;

/// How long what is left of a session takes this lifter: sets, rests, getting set.
pub fn remaining(session: &Session, catalogue: &Catalogue, pace: Pace) -> Seconds {
    let mut total = 0;
    for item in &session.items {
        let planned = &item.planned;
        let Some(exercise) = catalogue.get(&planned.exercise) else {
            continue;
        };
        let begun = item.done().next().is_some();
        let mut sets = 0;
        for set in item.to_come() {
            total += pace.set_seconds(exercise, set.asked, planned.tempo).get();
            total += pace.rest_seconds(planned.rest).get();
            sets += 1;
        }
        if sets > 0 && !begun {
            total += exercise.setup.get();
        }
    }
    Seconds::clamped(total)
}
