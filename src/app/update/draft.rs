//! What is kept of a running session beside its events, so that it can go on after anything.

use super::super::effect::Effect;

use super::super::model::{Floor, Model, Screen, Way};
use super::{Turn, aside};
use crate::domain::session::{Beat, Draft, Typed};
use crate::domain::units::Now;

/// Has the draft kept when it is another than the one kept last.
pub(super) fn keep(model: &mut Model, turn: &mut Turn) {
    let draft = match &model.screen {
        Screen::Floor(floor) => Some(Box::new(draft(floor, turn.now))),
        Screen::FirstRun(_)
        | Screen::Waiting(_)
        | Screen::Briefing(_)
        | Screen::Debrief(_)
        | Screen::Logbook(_) => None,
    };
    let same = match (&draft, &model.kept) {
        (Some(new), Some(old)) => {
            Draft {
                at: old.at,
                ..(**new).clone()
            } == **old
        }
        (None, None) => true,
        (Some(_), None) | (None, Some(_)) => false,
    };
    if !same {
        model.kept.clone_from(&draft);
        turn.push(Effect::KeepDraft(draft));
    }
}

fn draft(floor: &Floor, now: Now) -> Draft {
    let last = floor.session.sets.last();
    let chosen = floor.ways.iter().filter(|(_, way)| way.chosen);
    Draft {
        session: floor.session.id.clone(),
        end: last.map(|set| (set.id.clone(), floor.last_end(now))),
        at: (now.boot, now.civil),
        // Nobody may be there any more when it is started again: nothing then runs by itself.
        beat: match floor.hands_free {
            Some(_) => Beat::Resting,
            None => floor.beat,
        },
        // What was typed of an earlier set is not for the coming one.
        typed: match floor.edit {
            Some(_) => Typed::Nothing,
            None => floor.typed.clone(),
        },
        loads: chosen
            .filter_map(|((item, kind), w)| Some((*item, *kind, w.load?)))
            .collect(),
        asides: floor.asides.clone(),
        cued: floor.cued,
    }
}

/// Takes a draft of this very session back into the floor.
pub(super) fn restore(floor: &mut Floor, draft: &Draft, now: Now) {
    if draft.session != floor.session.id {
        return;
    }
    let last = floor.session.sets.last().map(|set| set.id.clone());
    for (item, kind, load) in &draft.loads {
        floor.ways.insert((*item, *kind), Way::chosen(*load));
    }
    aside::restore(floor, &draft.asides, now);
    match (&draft.end, last) {
        (Some((id, end)), Some(last)) if *id == last => _ = floor.ends.insert(last, *end),
        (None, None) => {}
        // A set reached the disk and the draft did not: what was typed belonged to it.
        (Some(_) | None, _) => return,
    }
    floor.beat = draft.beat;
    floor.typed.clone_from(&draft.typed);
    floor.cued = draft.cued;
}
