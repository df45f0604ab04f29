//! One exercise in one session, and what is kept of those that are forgotten.

use crate::domain::gear::PlaceId;
use crate::domain::program::{Ask, RestWindow};
use crate::domain::session::{Ended, EventId, Performed, Session, SetKind, SetRecord};
use crate::domain::units::{Civil, Load};
use std::fmt;
use std::sync::{Arc, OnceLock};

/// The most outings of an exercise that decide on the next one.
const COUNTED: usize = 150;
/// The first of them moves so many at once, so that an outing more mostly adds one.
const AT_ONCE: usize = 50;

/// From where on outings count, of so many: the boundary moves seldom.
pub(super) const fn boundary(outings: usize) -> usize {
    outings.saturating_sub(COUNTED).div_ceil(AT_ONCE) * AT_ONCE
}

/// One exercise in one session.
#[derive(Clone, PartialEq, Debug)]
pub struct Outing {
    /// The session.
    pub session: EventId,
    /// When the session was opened.
    pub at: Civil,
    /// Where, if that is known.
    pub place: Option<PlaceId>,
    /// Whether it was deload work: no evidence.
    pub deload: bool,
    /// What the slot asked of a working set, where it is known.
    pub ask: Option<Ask>,
    /// The rest that it asked for, where it is known.
    pub rest: Option<RestWindow>,
    /// The load that was planned for its working sets, where it was known beforehand.
    pub planned: Option<Load>,
    /// The undamaged sets done, ramp sets among them, in order; never empty.
    pub sets: Vec<Performed>,
}

impl Outing {
    /// An outing that begins with this set, which is not yet among its sets.
    pub(super) fn of(session: &Session, set: &Performed) -> Self {
        let planned = session.planned_for(&set.record);
        Self {
            session: session.id.clone(),
            at: session.opened,
            place: session.plan.as_ref().map(|plan| plan.place.clone()),
            deload: planned.is_some_and(|p| p.deload),
            ask: planned.map(|p| p.ask),
            rest: planned.map(|p| p.rest),
            planned: planned_load(session, set),
            sets: Vec::new(),
        }
    }

    /// Whether a working set of it stayed below the least, with nothing left.
    pub fn missed(&self) -> bool {
        let least = self.ask.map(Ask::least);
        let missed = |record: &SetRecord| {
            let least = least.unwrap_or_else(|| record.asked.count());
            let least = least.min(record.asked.count());
            record.kind == SetKind::Working
                && record.ended == Ended::Short
                && record.done.deciding() < least
                && record.spare.is_none_or(|spare| spare.get() == 0)
        };
        self.sets.iter().any(|set| missed(&set.record))
    }
}

/// The load that the plan asked for; none where it was to be felt for.
fn planned_load(session: &Session, set: &Performed) -> Option<Load> {
    let exercise = &set.record.exercise;
    let mut items = session.items.iter();
    let item = items.find(|item| item.planned.exercise == *exercise)?;
    let sets = &item.planned.sets;
    let working = sets.iter().find(|set| set.kind == SetKind::Working)?;
    let known = sets.iter().all(|set| !set.feeler);
    known.then_some(working.load)
}

/// What a set was as far as records go: so many reps, or seconds, with a load.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Mark {
    /// With which load.
    pub load: Load,
    /// Whether it was a hold.
    pub is_hold: bool,
    /// Reps of the side that decides, or seconds.
    pub count: u32,
}

/// More reps than this say too little of strength: at 15 the equations are 25 % apart, and
/// Reynolds, Gordon & Robergs 2006 advise no more than 10.
pub const MOST_REPS: u32 = 10;

impl Mark {
    /// Of a set; none of a ramp set, of nothing done, or of a damaged line.
    pub fn of(set: &Performed) -> Option<Self> {
        let count = set.record.done.deciding();
        let counts = set.record.kind != SetKind::Ramp && count > 0 && !set.damaged;
        counts.then_some(Self {
            load: set.record.load,
            is_hold: set.record.done.is_hold(),
            count,
        })
    }

    /// Whether another mark says all that this one does: the same load for more, unless this one
    /// tells an e1RM and that one does not.
    fn is_beaten_by(self, other: &Self) -> bool {
        self.load == other.load
            && self.is_hold == other.is_hold
            && other.count >= self.count
            && (other.count <= MOST_REPS || self.count > MOST_REPS)
    }
}

/// Reads what an earlier run told of an exercise.
pub type Recall = Arc<dyn Fn() -> Told + Send + Sync>;

/// The outings of one exercise. Those that an earlier run told are read when they are asked for:
/// a session looks at few of all exercises that were ever done.
#[derive(Clone, Default)]
pub struct Outings {
    /// Where those of an earlier run are found.
    earlier: Option<Recall>,
    /// Those that came behind them, as long as nobody asked.
    later: Vec<Outing>,
    /// All of them, once somebody asked.
    told: OnceLock<Told>,
}

/// What is told of one exercise.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Told {
    /// How many outings are forgotten.
    pub forgotten: usize,
    /// What was best in them.
    pub bests: Vec<Mark>,
    /// The others, oldest first.
    pub kept: Vec<Outing>,
}

impl Outings {
    /// Those that an earlier run told and forgot what it could of.
    pub fn recalled(earlier: Recall) -> Self {
        Self {
            earlier: Some(earlier),
            ..Self::default()
        }
    }

    /// All that is told.
    pub fn told(&self) -> &Told {
        self.told.get_or_init(|| {
            let mut told = self
                .earlier
                .as_ref()
                .map_or_else(Told::default, |tell| tell());
            told.kept.extend_from_slice(&self.later);
            told
        })
    }

    /// Takes in what came last.
    pub(super) fn push(&mut self, outing: Outing) {
        match self.told.get_mut() {
            Some(told) => told.kept.push(outing),
            None => self.later.push(outing),
        }
    }

    /// Forgets those that can never count again. Where nothing came since an earlier run did, there
    /// are none.
    pub(super) fn forget(&mut self) {
        if self.told.get().is_some() || !self.later.is_empty() {
            self.told();
            self.later.clear();
        }
        if let Some(told) = self.told.get_mut() {
            told.forget();
        }
    }
}

impl PartialEq for Outings {
    fn eq(&self, other: &Self) -> bool {
        self.told() == other.told()
    }
}

impl fmt::Debug for Outings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.told().fmt(f)
    }
}

impl Told {
    /// Forgets those that can never count again. One more may not count yet: that of a session
    /// that is still on.
    fn forget(&mut self) {
        let all = self.forgotten + self.kept.len();
        let first = boundary(all.saturating_sub(1));
        let gone = first.saturating_sub(self.forgotten);
        for outing in self.kept.drain(..gone.min(self.kept.len())) {
            self.forgotten += 1;
            for mark in outing.sets.iter().filter_map(Mark::of) {
                if !self.bests.iter().any(|best| mark.is_beaten_by(best)) {
                    self.bests.retain(|best| !best.is_beaten_by(&mark));
                    self.bests.push(mark);
                }
            }
        }
    }
}
