//! The plates of the coming set, from what is on the handles and bars now.

use super::super::model::{Model, Screen};
use crate::domain::schedule::Plates;

/// Works them out anew where another set comes, another load, or something else has happened.
pub(super) fn settle(model: &mut Model) {
    let desk = model.desk.clone();
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let wanted = floor
        .coming_set()
        .map(|coming| (floor.events.len(), coming));
    if wanted == floor.plates_for {
        return;
    }
    floor.plates_for = wanted;
    let plan = floor.session.plan.as_ref();
    let place = plan.and_then(|plan| desk.place(&plan.place));
    floor.plates = wanted.zip(place).and_then(|((_, coming), place)| {
        let plates = Plates::on_the_floor(place, &desk.catalogue, &floor.session);
        plates.coming(&floor.session, &floor.briefing.stacks, coming.load)
    });
}
