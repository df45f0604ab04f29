//! What the coming sets should be, after what was really done.

use super::between::{Between, FAR_ABOVE, RISE, between};
use super::evidence::Done;
use super::first::{FEELER_SPARE, feeler_rise, next_feeler};
use super::holding::Held;
use super::ladder::{Ladder, is_above};
use super::limits::Limits;
use super::odds::Choice;
use super::past::{least, misses};
use super::proposal::asked_of;
use super::reach::lighter_of;
use super::situation::Situation;
use super::stand_in::slot_of;
use super::{Context, Frame, Revision};
use crate::domain::exercise::Exercise;
use crate::domain::program::Policy;
use crate::domain::session::{Ended, Item, Performed, PlannedSet, Session, SetKind, SetRecord};
use crate::domain::units::{Load, Odds, Spare};

/// Sets that may feel for an unknown load in all, working sets among them.
const MOST_FEELERS: usize = 4;
/// The reserve that is aimed for where the slot names none.
const USUAL_SPARE: u32 = 2;
/// A step down bigger than this is not taken for a single rep missed.
const COARSE: f64 = 0.15;

/// What the coming set of an item should be now, where that is not what was planned.
pub fn revise(ctx: &Context<'_>, session: &Session, item: usize) -> Option<Revision> {
    let performed: Vec<&Performed> = session.records(item).filter(|set| !set.damaged).collect();
    let mut records = performed.iter().map(|set| &set.record);
    let item = session.items.get(item)?;
    let exercise = ctx.catalogue.get(&item.planned.exercise)?;
    let coming = item.to_come().next()?;
    match coming.kind {
        SetKind::Ramp => return None,
        SetKind::BackOff => return back_off(ctx, exercise, item, (coming, records.next_back()?)),
        SetKind::Working => {}
    }
    let work = |set: &&SetRecord| set.kind == SetKind::Working && set.exercise == exercise.id;
    let done: Vec<&SetRecord> = records.filter(work).collect();
    let today = Today {
        ctx,
        exercise,
        item,
        coming,
        ladder: ctx.ladder(exercise),
        last: done.last()?,
        done: &done,
    };
    let by_odds = match item.planned.policy {
        Policy::ByOdds => today.by_odds(&performed),
        Policy::DoubleProgression | Policy::TwoForTwo => None,
    };
    let (load, asked, say, reps_say) = by_odds.unwrap_or_else(|| {
        let (load, say) = today.load();
        let (asked, reps_say) = today.asked(load);
        (load, asked, say, reps_say)
    });
    let asked = asked_of(item.planned.ask, asked);
    let as_planned = load == coming.load && asked == coming.asked;
    (!as_planned).then_some(Revision {
        load,
        asked,
        say: say.or(reps_say).unwrap_or_default(),
    })
}

/// A back-off set follows the load that the top sets came to; after a back-off set, the last one's,
/// a step lighter where that was missed.
fn back_off(
    ctx: &Context<'_>,
    exercise: &Exercise,
    item: &Item,
    (coming, last): (&PlannedSet, &SetRecord),
) -> Option<Revision> {
    let back_off = item.planned.details.back_off?;
    let ladder = ctx.ladder(exercise);
    let (load, say) = match last.kind {
        SetKind::Ramp => return None,
        SetKind::Working => {
            let share = f64::from(back_off.percent) / 100.0;
            let load = ladder.within(last.load, share).or(ladder.lightest())?;
            (
                load,
                format!("{} % of {}: {load}", back_off.percent, last.load),
            )
        }
        SetKind::BackOff if misses(last, Some(least(back_off.ask))) => {
            let load = ladder.down(last.load).unwrap_or(last.load);
            (load, format!("{}: {load} next", last.done.deciding()))
        }
        SetKind::BackOff => (last.load, String::new()),
    };
    (load != coming.load).then_some(Revision {
        load,
        asked: coming.asked,
        say,
    })
}

/// Load, count, and why each of them changes.
type ByOdds = (Load, u32, Option<String>, Option<String>);

/// An exercise in the middle of its sets.
struct Today<'a> {
    ctx: &'a Context<'a>,
    exercise: &'a Exercise,
    item: &'a Item,
    coming: &'a PlannedSet,
    ladder: Ladder,
    last: &'a SetRecord,
    done: &'a [&'a SetRecord],
}

impl Today<'_> {
    fn least(&self) -> u32 {
        least(self.item.planned.ask)
    }

    /// The load of the coming set, and why it changes.
    fn load(&self) -> (Load, Option<String>) {
        let last = self.last;
        if misses(last, Some(self.least())) {
            return self.down();
        }
        let cut = matches!(last.ended, Ended::OnPurpose | Ended::Interrupted);
        if cut && last.spare.is_none() {
            return (last.load, None);
        }
        if self.feels() {
            return self.feel();
        }
        let aim = self.item.planned.spare.map_or(USUAL_SPARE, Spare::get);
        match last.spare.map(Spare::get) {
            Some(spare) if spare >= aim + FAR_ABOVE => self.up(spare),
            Some(_) | None => (last.load, None),
        }
    }

    /// After a miss: one step down, unless one rep is missing and the step is a coarse one.
    fn down(&self) -> (Load, Option<String>) {
        let (load, count) = (self.last.load, self.last.done.deciding());
        let needed = self.least().min(self.last.asked.count());
        let told = format!("{count} of {needed}");
        let Some(lighter) = self.ladder.down(load) else {
            return (
                load,
                Some(format!(
                    "{told}, and nothing lighter here: take the full rest"
                )),
            );
        };
        let coarse = self
            .ladder
            .jump(lighter, load)
            .is_some_and(|jump| jump > COARSE);
        if coarse && count + 1 >= needed {
            return (load, Some(format!("{told}: take the full rest, same load")));
        }
        (lighter, Some(format!("{told}: {lighter} next")))
    }

    /// The same by odds; none while the load is felt for, in deload work, and where nothing is
    /// believed.
    fn by_odds(&self, performed: &[&Performed]) -> Option<ByOdds> {
        let planned = &self.item.planned;
        let total = planned.details.total.is_some();
        if self.feels() || planned.deload || total || planned.sets.iter().any(|set| set.feeler) {
            return None;
        }
        let own = performed.iter().copied();
        let own: Vec<&Performed> = own
            .filter(|set| set.record.exercise == self.exercise.id)
            .collect();
        let done = Done {
            sets: &own,
            ask: Some(planned.ask),
            rest: Some(planned.rest),
            deload: false,
        };
        let slot = slot_of(planned);
        let at = Situation::new(self.ctx, self.exercise, &slot, Frame::default());
        let to_come = self.item.to_come();
        let sets = to_come.filter(|set| set.kind == SetKind::Working).count();
        let sets = u32::try_from(sets).unwrap_or(u32::MAX);
        if at.holds() {
            return self.by_held(&at, &done, sets);
        }
        let day = self.ctx.day(self.exercise, &done)?;
        let mind = day.mind();
        let limits = Limits::of(&at, at.anchor()?);
        let choice = Choice {
            at: &at,
            mind: &mind,
            sets,
            spare: planned.spare.map(Spare::get),
            above_range: limits.instead.is_none(),
        };
        let (load, say) = between(&choice, &self.between(&limits)?);
        if load != self.coming.load {
            return Some((load, choice.reps(load), say, None));
        }
        let (wanted, asked) = (self.coming.asked.count(), choice.reps(load));
        let (_, _, odds) = choice.stated(load, wanted)?;
        let odds = Odds::nearest(odds);
        let fewer = (asked < wanted).then(|| format!("{odds} for {wanted} by now: {asked} next"));
        Some((load, asked.min(wanted), say, fewer))
    }

    /// The same of holds: shorter where the last one came to its end, else as planned.
    fn by_held(&self, at: &Situation<'_>, done: &Done<'_>, sets: u32) -> Option<ByOdds> {
        let day = &self.ctx.held_day(self.exercise, done)?;
        let held = Held { at, day, sets };
        let (last, wanted) = (self.last, self.coming.asked.count());
        let told = format!("{} of {} s", last.done.deciding(), last.asked.count());
        let told = (last.ended == Ended::Short).then_some(told.as_str());
        let (load, seconds, say) = held.next(self.coming.load, wanted, told);
        Some((load, seconds, say, None))
    }

    /// What the last set showed, and how far the load may go.
    fn between(&self, limits: &Limits) -> Option<Between> {
        let last = self.last;
        let first = self.done.first()?;
        // Where the first set tried a load that is too far, the others go on as planned.
        let mut planned = self.item.planned.sets.iter();
        let tried = planned
            .find(|set| set.kind == SetKind::Working)
            .is_some_and(|set| is_above(set.load, self.coming.load) && set.load == last.load);
        let load = if tried { self.coming.load } else { last.load };
        Some(Between {
            load: self.ladder.at_most(load).or(self.ladder.lightest())?,
            reps: last.done.deciding(),
            least: self.least().min(last.asked.count()),
            spare: last.spare.map(Spare::get),
            missed: !tried && misses(last, Some(self.least())),
            risen: self.done.iter().any(|set| is_above(set.load, first.load)),
            feels: false,
            most: Some(limits.most()),
        })
    }

    /// Whether the load is still being felt for: no set has come near the work yet.
    fn feels(&self) -> bool {
        let planned = self.item.planned.sets.iter().any(|set| set.feeler);
        let near = |set: &&SetRecord| set.spare.is_some_and(|s| s.get() <= FEELER_SPARE);
        let found = self
            .done
            .split_last()
            .is_some_and(|(_, before)| before.iter().any(near));
        planned && !found && self.done.len() <= MOST_FEELERS
    }

    fn feel(&self) -> (Load, Option<String>) {
        let load = self.last.load;
        let Some(spare) = self.last.spare.map(Spare::get) else {
            return (
                load,
                Some("say how many were spare (.3), or it stays here".to_owned()),
            );
        };
        let to_come = self.done.len() < MOST_FEELERS;
        let rise = feeler_rise(spare).filter(|_| to_come);
        match rise.and_then(|ratio| next_feeler(&self.ladder, load, ratio)) {
            Some(next) => (next, Some(format!("{spare} spare: {next} next"))),
            None if spare <= 1 => {
                let lighter = self.ladder.down(load).unwrap_or(load);
                (
                    lighter,
                    Some(format!("{spare} spare: {lighter} for the work")),
                )
            }
            None => (load, Some(format!("{spare} spare: {load} it is"))),
        }
    }

    /// After a report far above the target: one step, or a tenth where steps are finer; once, and
    /// never beyond what a session may rise from the last.
    fn up(&self, spare: u32) -> (Load, Option<String>) {
        let load = self.last.load;
        let stay = (load, None);
        let risen = self
            .done
            .iter()
            .any(|set| set.load != load && is_above(load, set.load));
        if risen || self.item.planned.deload {
            return stay;
        }
        let slot = slot_of(&self.item.planned);
        let at = Situation::new(self.ctx, self.exercise, &slot, Frame::default());
        let Some(anchor) = at.anchor() else {
            return stay;
        };
        let limits = Limits::of(&at, anchor);
        let next = next_feeler(&self.ladder, load, RISE);
        match next.map(|next| lighter_of(next, limits.reach.to)) {
            Some(next) if is_above(next, load) && limits.instead.is_none() => {
                (next, Some(format!("{spare} spare: {next} next")))
            }
            Some(_) | None => stay,
        }
    }

    /// What is asked of the coming set with `load`, and why it changes.
    fn asked(&self, load: Load) -> (u32, Option<String>) {
        let planned = self.coming.asked.count();
        if self.coming.feeler {
            return (planned, None);
        }
        if load != self.coming.load {
            return (self.least(), None);
        }
        let (count, asked) = (self.last.done.deciding(), self.last.asked.count());
        let short = count < asked && self.last.ended == Ended::Short;
        if !short || count >= planned || self.last.load != load {
            return (planned, None);
        }
        let asked = count.max(self.least()).min(planned);
        (asked, Some(format!("{count} last set: {asked} next")))
    }
}
