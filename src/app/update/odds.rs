//! The odds of the coming set: asked for whenever another set, load or count comes.

use super::super::effect::{Effect, Foretelling};
use super::super::model::{Model, Screen};
use super::{Turn, record};
use crate::domain::advice::{Ahead, Foretold};

/// Asks for them anew where they would be others.
pub(super) fn settle(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let wanted = floor.ahead().map(|ahead| (floor.events.len(), ahead));
    if wanted == floor.foretold_for {
        return;
    }
    floor.foretold_for = wanted;
    floor.foretold = None;
    let Some((_, ahead)) = wanted else {
        return;
    };
    let foretelling = Foretelling {
        session: floor.session.clone(),
        after: floor.events.len(),
        ahead,
    };
    turn.push(Effect::Foretell(Box::new(foretelling)));
}

/// Takes them in, unless something else has come meanwhile.
pub(super) fn told(model: &mut Model, asked: (usize, Ahead), foretold: Option<Foretold>) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    if floor.foretold_for == Some(asked) {
        floor.foretold = foretold;
    }
}

impl super::super::model::Floor {
    /// The coming set as its odds are asked for: a working set with its load known.
    pub fn ahead(&self) -> Option<Ahead> {
        let coming = self.coming_set()?;
        if !record::is_work(coming.kind) {
            return None;
        }
        let item = self.session.items.get(coming.item)?;
        let alike = item.to_come().filter(|set| set.kind == coming.kind);
        Some(Ahead {
            item: coming.item,
            load: coming.load,
            asked: coming.asked,
            sets: u32::try_from(alike.count()).unwrap_or(u32::MAX),
            window: self.window(coming.item),
        })
    }
}
