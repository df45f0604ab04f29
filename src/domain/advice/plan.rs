//! From a program's slot to the sets of today.

use super::holding::Held;
use super::limits::{Limits, too_heavy_to_return};
use super::odds::{self, Choice};
use super::past::Exposure;
use super::proposal::{Proposal, asked_of};
use super::situation::Situation;
use super::stand_in::{slot_of, stand_in};
use super::stated::Believed;
use super::{Context, Frame, Unplannable, double_progression, first, ramp, two_for_two};
use crate::domain::exercise::{Exercise, GivesWay, Pattern, Role};
use crate::domain::program::{Ask, Details, Policy, Slot};
use crate::domain::session::{Asked, PlannedItem, PlannedSet, SetKind};
use crate::domain::units::{Load, Predicted, Reps, Spare};

/// The sets of a slot today, with the reason; where it cannot be done here, or hurt twice, those
/// of its best stand-in.
pub fn plan_item(ctx: &Context<'_>, slot: &Slot, frame: Frame) -> Result<PlannedItem, Unplannable> {
    let exercise = ctx
        .catalogue
        .get(&slot.exercise)
        .ok_or(Unplannable::Unknown {
            exercise: slot.exercise.to_string(),
        })?;
    match own(ctx, exercise, slot, frame) {
        Ok(item) => Ok(item),
        Err(why) => stand_in(ctx, slot, frame, &why).ok_or(why),
    }
}

/// The sets of a day's slots, in order: the first heavy exercise of each movement pattern gets
/// ramp sets, whatever `frame.cold` says.
pub fn plan_slots(
    ctx: &Context<'_>,
    slots: &[Slot],
    frame: Frame,
) -> Vec<Result<PlannedItem, Unplannable>> {
    let mut warm: Vec<Pattern> = Vec::new();
    let mut items = Vec::new();
    for slot in slots {
        let pattern = ctx.catalogue.get(&slot.exercise).map(|e| e.pattern);
        let cold = pattern.is_some_and(|pattern| !warm.contains(&pattern));
        let item = plan_item(ctx, slot, Frame { cold, ..frame });
        let done = item
            .as_ref()
            .ok()
            .and_then(|item| ctx.catalogue.get(&item.exercise));
        if let Some(done) = done
            && done.role == Role::Compound
            && done.counts.is_loaded()
        {
            warm.push(done.pattern);
        }
        items.push(item);
    }
    items
}

/// The sets of this very exercise, or why it cannot be done.
pub fn own(
    ctx: &Context<'_>,
    exercise: &Exercise,
    slot: &Slot,
    frame: Frame,
) -> Result<PlannedItem, Unplannable> {
    let lacks = ctx.place.lacks(&exercise.needs, exercise.implement());
    let at = Situation::new(ctx, exercise, slot, frame);
    if !lacks.is_empty() || at.ladder.is_empty() {
        let words: Vec<String> = lacks.iter().map(ToString::to_string).collect();
        return Err(Unplannable::Lacking {
            exercise: exercise.name.clone(),
            lacks: if words.is_empty() {
                "no load for it".to_owned()
            } else {
                words.join(" and ")
            },
        });
    }
    if let Some(why) = withdrawn(&at) {
        return Err(Unplannable::Withdrawn {
            exercise: exercise.name.clone(),
            why,
        });
    }
    let believed = Believed::of(ctx, &at);
    let proposal = propose(ctx, &at, &believed).ok_or(Unplannable::Lacking {
        exercise: exercise.name.clone(),
        lacks: "no load for it".to_owned(),
    })?;
    let mut item = assemble(&at, proposal);
    state(&at, &mut item, &believed);
    Ok(item)
}

/// States the odds of an exercise as it is planned, that every working set reaches what is asked,
/// and the reps to failure of each. Not where its load is still felt for, its sets differ, or the
/// belief says nothing of such work.
fn state(at: &Situation<'_>, item: &mut PlannedItem, believed: &Believed) {
    let is_work = |set: &&PlannedSet| set.kind == SetKind::Working;
    let work: Vec<&PlannedSet> = item.sets.iter().filter(is_work).collect();
    let Some((first, others)) = work.split_first() else {
        return;
    };
    let alike = |set: &&PlannedSet| set.load == first.load && set.asked == first.asked;
    if first.feeler || !others.iter().all(alike) {
        return;
    }
    let sets = u32::try_from(work.len()).unwrap_or(u32::MAX);
    let Some(stated) = believed.stated(at, sets, (first.load, first.asked.count())) else {
        return;
    };
    item.odds = Some(stated.odds);
    let is_work = |set: &&mut PlannedSet| set.kind == SetKind::Working;
    let work = item.sets.iter_mut().filter(is_work);
    for (set, count) in work.zip(stated.to_failure) {
        set.predicted = Some(Predicted::nearest(count));
    }
}

fn withdrawn(at: &Situation<'_>) -> Option<String> {
    if at.pains.len() >= 2 {
        return Some("since it hurt twice: see a physiotherapist or doctor first".to_owned());
    }
    too_heavy_to_return(at).then(|| {
        "since it hurt last time and nothing here is light enough to come back with".to_owned()
    })
}

fn propose(ctx: &Context<'_>, at: &Situation<'_>, believed: &Believed) -> Option<Proposal> {
    let Some(anchor) = at.anchor() else {
        return first::propose(ctx, at);
    };
    let limits = Limits::of(at, anchor);
    let proposal = match &limits.instead {
        Some(instead) => {
            double_progression::plain(at, instead.load, at.least(), instead.why.clone())
        }
        None => match at.slot.policy {
            Policy::ByOdds => by_odds(at, &limits, believed)
                .unwrap_or_else(|| double_progression::propose(at, &limits, anchor)),
            Policy::DoubleProgression => double_progression::propose(at, &limits, anchor),
            Policy::TwoForTwo => two_for_two::propose(at, &limits, anchor),
        },
    };
    Some(limits.hold(proposal))
}

/// What the odds propose; none of bands and of totals, and where nothing is believed.
fn by_odds(at: &Situation<'_>, limits: &Limits, believed: &Believed) -> Option<Proposal> {
    if at.slot.details.total.is_some() {
        return None;
    }
    let sets = u32::from(at.slot.sets.min(limits.sets));
    let day = match believed {
        Believed::Nothing => return None,
        Believed::Holds(day) => {
            let held = Held { at, day, sets };
            return held.propose(limits, at.anchor()?);
        }
        Believed::Reps(day) => day,
    };
    let mind = day.mind();
    let choice = Choice {
        at,
        mind: &mind,
        sets,
        spare: limits.spare,
        above_range: true,
    };
    odds::propose(&choice, Some(limits), at.anchor())
}

fn assemble(at: &Situation<'_>, proposal: Proposal) -> PlannedItem {
    let slot = at.slot;
    let mut sets = Vec::new();
    if at.frame.cold && proposal.feelers == 0 {
        sets.extend(ramp::ramp(at.exercise, slot, &at.ladder, proposal.load));
    }
    let feeler = PlannedSet {
        kind: SetKind::Working,
        load: proposal.load,
        asked: Asked::Reps(Reps::clamped(at.least().clamp(5, 8))),
        feeler: true,
        open: false,
        predicted: None,
    };
    sets.extend(std::iter::repeat_n(feeler, usize::from(proposal.feelers)));
    sets.extend(working_sets(at, &proposal));
    sets.extend(back_off_sets(at, &proposal));
    let mut why = proposal.why;
    if !slot.details.open_last && sets.iter().any(|set| set.open) {
        let cap = Some(at.cap(proposal.load)).filter(|cap| *cap > proposal.asked);
        let cap = cap.map_or(String::new(), |cap| format!(" up to {cap}"));
        let open = format!("last set open, as many clean reps as there are{cap}");
        why = format!("{why}; {open}: none spare was told lately");
    }
    PlannedItem {
        slot: slot.id.clone(),
        exercise: at.exercise.id.clone(),
        sets,
        ask: slot.ask,
        rest: slot.rest,
        spare: proposal.spare.map(Spare::clamped),
        tempo: slot.tempo,
        policy: slot.policy,
        group: slot.group,
        details: slot.details.clone(),
        deload: proposal.deload,
        odds: None,
        reason: with_note(why, &slot.details.note),
    }
}

/// The heaviest load that the rails leave room for in an item's working sets; none where nothing
/// is known of the exercise, or it is deload work.
pub fn heaviest(ctx: &Context<'_>, item: &PlannedItem) -> Option<Load> {
    let exercise = ctx.catalogue.get(&item.exercise)?;
    let slot = slot_of(item);
    let at = Situation::new(ctx, exercise, &slot, Frame::default());
    let anchor = at.anchor().filter(|_| !item.deload)?;
    Some(Limits::of(&at, anchor).most())
}

/// Why, and behind it what the program's author has to say.
fn with_note(why: String, note: &str) -> String {
    if note.is_empty() {
        return why;
    }
    format!("{why}; {note}")
}

/// The working sets. The last is open where the slot says so, and none where there is nothing to
/// prove.
fn working_sets(at: &Situation<'_>, proposal: &Proposal) -> Vec<PlannedSet> {
    let slot = at.slot;
    let asked = match slot.details.total {
        Some(total) => Ask::share(total, slot.sets).most(),
        None => proposal.asked,
    };
    let working = PlannedSet {
        kind: SetKind::Working,
        load: proposal.load,
        asked: asked_of(slot.ask, asked),
        feeler: false,
        open: false,
        predicted: None,
    };
    let mut sets = vec![working; usize::from(proposal.sets)];
    if let (Some((load, asked)), Some(first)) = (proposal.first, sets.first_mut()) {
        first.load = load;
        first.asked = asked_of(slot.ask, asked);
    }
    if let Some(last) = sets.last_mut().filter(|_| opens(at, proposal)) {
        last.open = true;
    }
    sets
}

/// Sessions of an exercise before a set of it is open unasked.
const KNOWN: usize = 3;
/// The most reps in reserve to aim for beside which a set may go as far as it does.
const NEAR: u32 = 2;

/// Whether the last set is open: where the slot says so; or where the odds decide, a failed rep can
/// be put down, and none of the last three outings told what was spare, nor was open. Never where
/// there is nothing to prove.
fn opens(at: &Situation<'_>, proposal: &Proposal) -> bool {
    let slot = at.slot;
    let light = proposal.deload || proposal.sets < slot.sets || proposal.feelers > 0;
    if light || slot.details.open_last {
        return slot.details.open_last && !light;
    }
    let plain = slot.policy == Policy::ByOdds && slot.details == Details::default();
    let near = proposal.spare.is_none_or(|spare| spare <= NEAR) && proposal.first.is_none();
    let safe = at.exercise.gives_way == GivesWay::PutDown && at.pains.is_empty() && !at.holds();
    let back = at.past.exposures.iter().rev().take(KNOWN);
    let untold = |e: &Exposure| !e.reported && !e.open && !e.missed;
    plain && near && safe && back.len() == KNOWN && back.clone().all(untold)
}

/// Lighter sets behind them; half of them where the working sets are fewer than the slot asks for
/// or deload work.
fn back_off_sets(at: &Situation<'_>, proposal: &Proposal) -> Vec<PlannedSet> {
    let Some(back_off) = at.slot.details.back_off else {
        return Vec::new();
    };
    let light = proposal.deload || proposal.sets < at.slot.sets || at.frame.easier_week;
    let count = if light {
        back_off.sets / 2
    } else {
        back_off.sets
    };
    let set = PlannedSet {
        kind: SetKind::BackOff,
        load: at.lighter(proposal.load, f64::from(back_off.percent) / 100.0),
        asked: asked_of(back_off.ask, back_off.ask.least()),
        feeler: false,
        open: false,
        predicted: None,
    };
    vec![set; usize::from(count)]
}
