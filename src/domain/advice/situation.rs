//! One exercise's slot as it stands today: gear, past, pain.

use super::ladder::{Ladder, is_above};
use super::past::{Exposure, Past, days_between, least, most};
use super::{Context, Frame};
use crate::domain::exercise::{Catalogue, Counts, Effort, Exercise, GivesWay, Pattern, Role};
use crate::domain::history::PainReport;
use crate::domain::program::Slot;
use crate::domain::units::{Civil, Load};

/// Days after which an exercise is unknown again: about six months.
const FORGOTTEN: i64 = 183;
/// Days within which an outing at this place decides over one elsewhere.
const SAME_PLACE: i64 = 21;
/// Reps in reserve at which a load is near the work.
const NEAR: u32 = 3;
/// Sessions in which a load may still be felt for.
const FELT: usize = 3;
/// Reps per unit of relative load: one over the rep slope of the strength model (0.036, between
/// Epley's 1/30 and the NSCA chart).
const PER_SLOPE: f64 = 1.0 / 0.036;
/// A step of the gear from which reps are added above the range first.
const TOO_FAR: f64 = 0.12;
/// Most reps of an exercise whose load is the body alone.
const MOST_BODY: u32 = 30;
/// Longest hold that is asked, in seconds: beyond it, a harder variant.
const MOST_HOLD: u32 = 60;
/// Days after which a pain counts no longer.
const PAIN_PASSES: i64 = 84;

/// One exercise's slot as it stands today.
pub struct Situation<'a> {
    /// All exercises.
    pub catalogue: &'a Catalogue,
    /// What is done.
    pub exercise: &'a Exercise,
    /// What is asked.
    pub slot: &'a Slot,
    /// Where it stands in program and session.
    pub frame: Frame,
    /// What can be made here.
    pub ladder: Ladder,
    /// What was done.
    pub past: Past,
    /// Pains that concern it, oldest first, one a session.
    pub pains: Vec<&'a PainReport>,
    /// When it is.
    pub now: Civil,
    /// Whether a failed rep pins the lifter: where it may, and no safeties catch the bar.
    pub pins: bool,
    /// Whether a step that is big waits for its odds to pass twice, rather than for two outings.
    pub by_odds: bool,
    anchor: Option<usize>,
}

impl<'a> Situation<'a> {
    /// The slot of `exercise` as it stands.
    pub fn new(ctx: &Context<'a>, exercise: &'a Exercise, slot: &'a Slot, frame: Frame) -> Self {
        let kin = ctx
            .catalogue
            .iter()
            .filter(|other| other.pattern == exercise.pattern);
        let mut past = Past::of(ctx.history, exercise, kin);
        let ladder = ctx.ladder(exercise);
        let alike = |e: &Exposure| {
            ladder
                .lightest()
                .is_none_or(|l| l.heavier(e.load).is_some())
        };
        past.exposures.retain(alike);
        past.easier.retain(alike);
        let anchor = anchor(ctx, &past);
        Self {
            catalogue: ctx.catalogue,
            exercise,
            slot,
            frame,
            ladder,
            past,
            pains: pains_of(ctx, exercise),
            now: ctx.now,
            pins: exercise.gives_way == GivesWay::Pins && !ctx.place.safeties,
            by_odds: false,
            anchor,
        }
    }

    /// A slot without a journal around it.
    pub fn alone(
        catalogue: &'a Catalogue,
        (exercise, slot): (&'a Exercise, &'a Slot),
        (ladder, past): (Ladder, Past),
        now: Civil,
    ) -> Self {
        Self {
            catalogue,
            exercise,
            slot,
            frame: Frame::default(),
            ladder,
            anchor: past.exposures.len().checked_sub(1),
            past,
            pains: Vec::new(),
            now,
            pins: exercise.gives_way == GivesWay::Pins,
            by_odds: true,
        }
    }

    /// The outing that decides: the last; or the last at this place, if it is recent and the last
    /// was lighter for being elsewhere. None where the exercise is unknown, or was forgotten.
    pub fn anchor(&self) -> Option<&Exposure> {
        let forgotten = self
            .past
            .days_off(self.now)
            .is_none_or(|days| days > FORGOTTEN);
        let anchor = self.past.exposures.get(self.anchor?)?;
        (!forgotten).then_some(anchor)
    }

    /// The outing before the one that decides.
    pub fn before_anchor(&self) -> Option<&Exposure> {
        self.past.exposures.get(self.anchor?.checked_sub(1)?)
    }

    /// The least that makes a set count as made.
    pub fn least(&self) -> u32 {
        least(self.slot.ask)
    }

    /// The top of the range; of a hold, a minute at most.
    pub fn most(&self) -> u32 {
        let most = most(self.slot.ask);
        let most = if self.holds() {
            most.min(MOST_HOLD)
        } else {
            most
        };
        most.max(self.least())
    }

    /// Whether the load is still being felt for: no session yet came near it, by the lifter's own
    /// reports, and there were few.
    pub fn feels(&self) -> bool {
        let far = |e: &Exposure| !e.missed && e.spare.is_none_or(|spare| spare > NEAR);
        let told = self.past.exposures.last().is_none_or(|e| e.reported);
        self.past.exposures.len() <= FELT && told && self.past.exposures.iter().all(far)
    }

    /// Seconds of rest that the slot means: the middle of its window.
    pub fn rest_seconds(&self) -> u32 {
        self.slot.rest.middle()
    }

    /// Whether seconds are asked.
    pub fn holds(&self) -> bool {
        self.exercise.effort == Effort::Hold
    }

    /// The most reps that may be asked with `load`: above the range only while the next load is
    /// too far, and never beyond what the kind of exercise bears.
    pub fn cap(&self, load: Load) -> u32 {
        let most = self.most();
        if self.holds() {
            return most;
        }
        let limit = match (self.exercise.counts, self.exercise.role) {
            (Counts::Body { .. }, _) => return most.max(MOST_BODY),
            (Counts::BarTotal, _) => return most,
            (_, Role::Isolation) if most >= 15 => 25,
            (_, Role::Isolation) => 20,
            (_, Role::Compound) if self.exercise.pattern == Pattern::Hinge => return most,
            (_, Role::Compound) => (most + 4).min(15),
        };
        let Some(jump) = self.jump_up(load) else {
            return limit.max(most);
        };
        if jump < TOO_FAR {
            return most;
        }
        let needed = f64::from(most) + jump * (PER_SLOPE + f64::from(most));
        (libm::ceil(needed) as u32).min(limit).max(most)
    }

    /// How far the next load is, as a ratio; none for bands and at the heaviest.
    pub fn jump_up(&self, load: Load) -> Option<f64> {
        self.ladder.jump(load, self.ladder.up(load)?)
    }

    /// Whether the next load is so far that reps are added first; a band's step always is.
    pub fn is_far(&self, load: Load) -> bool {
        self.jump_up(load).is_none_or(|jump| jump >= TOO_FAR)
    }

    /// The reps that `reps` with `from` come to with `to`, by the rep slope.
    pub fn reps_at(&self, reps: u32, from: Load, to: Load) -> Option<f64> {
        let ratio = self.ladder.moved(from)? / self.ladder.moved(to)?;
        let max = (f64::from(reps) - 1.0 + PER_SLOPE) * ratio;
        Some(max - PER_SLOPE + 1.0)
    }

    /// The load that is carried over to other reps: `None` for bands.
    pub fn load_for_reps(&self, from: &Exposure, reps: u32) -> Option<Load> {
        let had = f64::from(from.lowest()) - 1.0 + PER_SLOPE;
        let wanted = f64::from(reps) - 1.0 + PER_SLOPE;
        self.ladder.within(from.load, had / wanted)
    }

    /// A load as much lighter as `ratio` says; of bands the next lighter; the lightest where none
    /// is so light.
    pub fn lighter(&self, from: Load, ratio: f64) -> Load {
        let found = match from {
            Load::Mass(_) | Load::Body(_) => self.ladder.within(from, ratio),
            Load::Band(_) => self.ladder.down(from),
        };
        found.or(self.ladder.lightest()).unwrap_or(from)
    }
}

/// The place of the deciding outing among the exposures.
fn anchor(ctx: &Context<'_>, past: &Past) -> Option<usize> {
    let last = past.exposures.len().checked_sub(1)?;
    let newest = past.exposures.get(last)?;
    let here = |e: &Exposure| e.place.as_ref() == Some(&ctx.place.id);
    if newest.missed || here(newest) || newest.place.is_none() {
        return Some(last);
    }
    let recent = past
        .exposures
        .iter()
        .rposition(|e| here(e) && !e.missed && days_between(e.at, ctx.now) <= SAME_PLACE);
    let heavier = |k: &usize| {
        past.exposures
            .get(*k)
            .is_some_and(|e| is_above(e.load, newest.load))
    };
    Some(recent.filter(heavier).unwrap_or(last))
}

/// The pains that concern an exercise and still count, one a session.
fn pains_of<'a>(ctx: &Context<'a>, exercise: &Exercise) -> Vec<&'a PainReport> {
    let mut pains: Vec<&PainReport> = Vec::new();
    for pain in &ctx.history.pains {
        let counts = days_between(pain.at, ctx.now) <= PAIN_PASSES;
        let named = pain.exercise.as_ref() == Some(&exercise.id);
        if counts && (named || pain.whereabouts.is_loaded_by(exercise)) {
            pains.retain(|other| other.session != pain.session);
            pains.push(pain);
        }
    }
    pains
}
