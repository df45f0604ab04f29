//! What can take an exercise's place where it cannot be done, or where something hurts.

use super::first::factor;
use super::plan::own;
use super::{Context, Felt, Frame, Unplannable};
use crate::domain::exercise::{Effort, Exercise};
use crate::domain::program::{Ask, Slot};
use crate::domain::session::{PlannedItem, Session, SetKind, Whereabouts};
use crate::domain::units::{Reps, Seconds};

/// Reps asked of a stand-in that counts reps, where a hold was asked.
const REPS_FOR_HOLD: (u32, u32) = (8, 12);
/// Seconds asked of a stand-in that is held, where reps were asked.
const HOLD_FOR_REPS: (u32, u32) = (20, 40);

/// Whole plans for what can take an item's place, best first. What loads a painful joint or muscle
/// is left out; where the chest, the head, the breath or numbness is concerned, nothing stands in.
/// What was done of the item in the session so far tells of the others.
pub fn stand_ins(
    ctx: &Context<'_>,
    item: &PlannedItem,
    avoid: Option<Whereabouts>,
    session: &Session,
) -> Vec<PlannedItem> {
    let Some(exercise) = ctx.catalogue.get(&item.exercise) else {
        return Vec::new();
    };
    let slot = slot_of(item);
    candidates(ctx, exercise, avoid)
        .filter_map(|other| {
            let felt = felt(ctx, exercise, other, session);
            let frame = Frame {
                felt,
                ..Frame::default()
            };
            plan_as(ctx, other, &slot, frame).ok()
        })
        .collect()
}

/// What the last set of an exercise in a session comes to with another.
fn felt(
    ctx: &Context<'_>,
    exercise: &Exercise,
    other: &Exercise,
    session: &Session,
) -> Option<Felt> {
    let sets = session.sets.iter().filter(|set| !set.damaged);
    let mut work = sets
        .map(|set| &set.record)
        .filter(|record| record.exercise == exercise.id && record.kind == SetKind::Working);
    let last = work.next_back().filter(|last| !last.done.is_hold())?;
    Some(Felt {
        kg: ctx.ladder(exercise).moved(last.load)? * factor(exercise, other)?,
        reps: last.done.deciding(),
    })
}

/// The best stand-in of a slot, with the reason why it stands there.
pub fn stand_in(
    ctx: &Context<'_>,
    slot: &Slot,
    frame: Frame,
    why: &Unplannable,
) -> Option<PlannedItem> {
    let exercise = ctx.catalogue.get(&slot.exercise)?;
    let hurts = ctx.history.pains.iter().rev().map(|pain| pain.whereabouts);
    let avoid = match why {
        Unplannable::Withdrawn { .. } => hurts.into_iter().find(|w| w.is_loaded_by(exercise)),
        Unplannable::Unknown { .. } | Unplannable::Lacking { .. } => None,
    };
    let cause = match why {
        Unplannable::Unknown { .. } => return None,
        Unplannable::Lacking { lacks, .. } => format!("{lacks} here"),
        Unplannable::Withdrawn { why, .. } => why.clone(),
    };
    let frame = Frame {
        guess: None,
        ..frame
    };
    let mut found = candidates(ctx, exercise, avoid);
    let mut item = found.find_map(|other| plan_as(ctx, other, slot, frame).ok())?;
    item.reason = format!("in place of {}: {cause}; {}", exercise.name, item.reason);
    Some(item)
}

fn candidates<'a>(
    ctx: &Context<'a>,
    exercise: &'a Exercise,
    avoid: Option<Whereabouts>,
) -> impl Iterator<Item = &'a Exercise> {
    let catalogue = ctx.catalogue;
    let listed = exercise.stand_ins.iter().map(|stand_in| &stand_in.exercise);
    let easier = exercise.easier.iter();
    let easier = easier.filter(|id| exercise.stand_ins.iter().all(|s| s.exercise != **id));
    let found = listed.chain(easier).filter_map(|id| catalogue.get(id));
    found.filter(move |other| avoid.is_none_or(|whereabouts| !whereabouts.is_loaded_by(other)))
}

fn plan_as(
    ctx: &Context<'_>,
    other: &Exercise,
    slot: &Slot,
    frame: Frame,
) -> Result<PlannedItem, Unplannable> {
    let slot = Slot {
        exercise: other.id.clone(),
        ask: ask_as(slot.ask, other.effort),
        ..slot.clone()
    };
    own(ctx, other, &slot, frame)
}

/// What is asked of another exercise: reps of one that counts reps, seconds of one that is held.
fn ask_as(ask: Ask, effort: Effort) -> Ask {
    match (ask, effort) {
        (Ask::Reps { .. }, Effort::Reps) | (Ask::Hold { .. }, Effort::Hold) => ask,
        (Ask::Hold { .. }, Effort::Reps) => Ask::Reps {
            min: Reps::clamped(REPS_FOR_HOLD.0),
            max: Reps::clamped(REPS_FOR_HOLD.1),
        },
        (Ask::Reps { .. }, Effort::Hold) => Ask::Hold {
            min: Seconds::clamped(HOLD_FOR_REPS.0),
            max: Seconds::clamped(HOLD_FOR_REPS.1),
        },
    }
}

/// The slot that an item was planned from.
pub fn slot_of(item: &PlannedItem) -> Slot {
    let working = item
        .sets
        .iter()
        .filter(|set| set.kind == SetKind::Working && !set.feeler);
    Slot {
        id: item.slot.clone(),
        exercise: item.exercise.clone(),
        sets: u8::try_from(working.count()).unwrap_or(u8::MAX).max(1),
        ask: item.ask,
        rest: item.rest,
        spare: item.spare,
        tempo: item.tempo,
        policy: item.policy,
        group: item.group,
        wave: Vec::new(),
        details: item.details.clone(),
    }
}
