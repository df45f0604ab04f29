//! The floor read: the coming set, the rest and its window, what can be made.

use super::model::{Desk, Floor};
use crate::domain::exercise::{Exercise, Sides};
use crate::domain::gear::{self, Build};
use crate::domain::program::RestWindow;
use crate::domain::schedule::SetStack;
use crate::domain::session::{Asked, Beat, Rest, SetKind};
use crate::domain::units::{Boot, Load, Millis, Now, Odds, Predicted, Seconds};

/// The coming set as it should be done now.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct ComingSet {
    /// Its item.
    pub item: usize,
    /// Its place among the item's cells.
    pub cell: usize,
    /// Ramp, working or back-off.
    pub kind: SetKind,
    /// Number within its item and kind, from 1.
    pub number: u16,
    /// How many of that kind the item has.
    pub of: usize,
    /// With what.
    pub load: Load,
    /// How much.
    pub asked: Asked,
    /// Whether the load is being felt for.
    pub feeler: bool,
    /// Whether as many as go well are done, what is asked at the least.
    pub open: bool,
}

/// Where a rest stands.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Stage {
    /// Before the window opens.
    Recover,
    /// Inside the window.
    Open,
    /// After it closed.
    Late,
}

/// A rest as it stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RestView {
    /// Since the last set ended; never negative.
    pub elapsed: Millis,
    /// Its window.
    pub window: RestWindow,
    /// Where it stands.
    pub stage: Stage,
}

impl RestView {
    /// Milliseconds to the next end of the window; past the close, since then.
    pub fn counts(&self) -> Millis {
        match self.stage {
            Stage::Recover => self.window.opens.millis() - self.elapsed,
            Stage::Open => self.window.closes.millis() - self.elapsed,
            Stage::Late => self.elapsed - self.window.closes.millis(),
        }
    }
}

impl Floor {
    /// The set that comes next, as it should be done now.
    pub fn coming_set(&self) -> Option<ComingSet> {
        let coming = self.session.coming()?;
        let planned = self.session.planned(coming)?;
        let item = self.session.items.get(coming.item)?;
        let way = self.ways.get(&(coming.item, planned.kind));
        let of = item
            .cells
            .iter()
            .filter(|cell| self.kind_of(cell) == Some(planned.kind));
        Some(ComingSet {
            item: coming.item,
            cell: coming.cell,
            kind: planned.kind,
            number: self.session.number(coming, planned.kind),
            of: of.count(),
            load: way.and_then(|way| way.load).unwrap_or(planned.load),
            asked: self
                .session
                .share(coming)
                .or(way.and_then(|way| way.asked))
                .unwrap_or(planned.asked),
            open: planned.open && !self.is_told(coming.item),
            feeler: planned.feeler,
        })
    }

    /// Whether an item's reserve was told today, so that no set of it is open but by the program.
    fn is_told(&self, item: usize) -> bool {
        let by_program = self.session.items.get(item);
        let by_program = by_program.is_some_and(|item| item.planned.details.open_last);
        let mut sets = self.session.records(item);
        !by_program && sets.any(|set| set.record.spare.is_some())
    }

    fn kind_of(&self, cell: &crate::domain::session::Cell) -> Option<SetKind> {
        use crate::domain::session::Cell;
        match cell {
            Cell::ToCome(set) | Cell::Skipped(set) => Some(set.kind),
            Cell::Done(place) => self.session.sets.get(*place).map(|set| set.record.kind),
        }
    }

    /// When the last set ended; before the first, when the session was opened.
    pub fn last_end(&self, now: Now) -> Boot {
        match self.session.sets.last() {
            None => self.opened,
            Some(set) => match self.ends.get(&set.id) {
                Some(end) => *end,
                // Another run recorded it: its civil time is all there is.
                None => now.boot.plus(-now.civil.since(set.at).max(0)),
            },
        }
    }

    /// Since the last set ended; never negative.
    pub fn since_last(&self, now: Now) -> Millis {
        now.boot.since(self.last_end(now)).max(0)
    }

    /// The rest window before the coming set of an item. Between exercises the longer of the two
    /// windows holds, and the time that the plates take comes on top.
    pub fn window(&self, item: usize) -> RestWindow {
        let window = self.session.window(item);
        let plates = self.plates_take(item);
        let with = |seconds: Seconds| Seconds::clamped(seconds.get() + plates);
        RestWindow {
            opens: with(window.opens),
            closes: with(window.closes),
        }
    }

    /// Seconds to change the plates for the coming set, where it begins another exercise.
    fn plates_take(&self, item: usize) -> u32 {
        let last = self.session.sets.last();
        let other = last.is_some_and(|set| usize::from(set.record.item) != item);
        let takes = self.plates.as_ref().filter(|_| other).map(SetStack::takes);
        takes.map_or(0, Seconds::get)
    }

    /// The odds of the coming set, started now.
    pub fn odds_now(&self, now: Now) -> Option<Odds> {
        Some(self.foretold.as_ref()?.after(self.rested(now)))
    }

    /// The odds that were stated for the coming set when it was started, after that rest, and the
    /// reps to failure that were predicted.
    pub fn stated(&self, rest: Option<Rest>, now: Now) -> Option<(Odds, Predicted)> {
        let foretold = self.foretold.as_ref()?;
        let rested = rest.map_or_else(|| self.rested(now), |rest| rest.seconds.get());
        Some((foretold.after(rested), foretold.reaches(rested)))
    }

    /// Whole seconds since the last set ended.
    fn rested(&self, now: Now) -> u32 {
        u32::try_from(self.since_last(now) / 1000).unwrap_or(u32::MAX)
    }

    /// The rest as it stands, while there is one: after a set, before the next.
    pub fn rest(&self, now: Now) -> Option<RestView> {
        let coming = self.session.coming()?;
        if self.session.sets.is_empty() || self.beat != Beat::Resting {
            return None;
        }
        let window = self.window(coming.item);
        let elapsed = self.since_last(now);
        let stage = if elapsed < window.opens.millis() {
            Stage::Recover
        } else if elapsed < window.closes.millis() {
            Stage::Open
        } else {
            Stage::Late
        };
        Some(RestView {
            elapsed,
            window,
            stage,
        })
    }

    /// What is known of an item's exercise.
    pub fn exercise<'a>(&self, item: usize, desk: &'a Desk) -> Option<&'a Exercise> {
        desk.catalogue
            .get(&self.session.items.get(item)?.planned.exercise)
    }

    /// Which sides work in an item's set: as the program says, else as the exercise is done.
    pub fn sides_of(&self, item: usize, desk: &Desk) -> Option<Sides> {
        let planned = &self.session.items.get(item)?.planned;
        let usual = self.exercise(item, desk).map(|exercise| exercise.sides);
        planned.details.sides.or(usual)
    }

    /// How many sides an item's set is done with in turn.
    pub fn sides(&self, item: usize, desk: &Desk) -> u8 {
        match self.sides_of(item, desk) {
            Some(Sides::Each) => 2,
            Some(Sides::Both | Sides::Alternating) | None => 1,
        }
    }

    /// How long the coming set of an item usually takes this lifter.
    pub fn usual(&self, item: usize, desk: &Desk) -> Seconds {
        let Some(coming) = self.coming_set() else {
            return Seconds::default();
        };
        let tempo = self
            .session
            .items
            .get(item)
            .and_then(|item| item.planned.tempo);
        match self.exercise(item, desk) {
            Some(exercise) => self.pace.set_seconds(exercise, coming.asked, tempo),
            None => Seconds::default(),
        }
    }

    /// How long the side that is on works before the clock ends it: a hold as long as asked; reps
    /// only where the session runs by itself, at the usual pace.
    pub fn stretch(&self, desk: &Desk) -> Option<Seconds> {
        let coming = self.coming_set()?;
        match coming.asked {
            Asked::Hold(seconds) => Some(seconds),
            Asked::Reps(_) => {
                self.hands_free?;
                let sides = self.sides_of(coming.item, desk).unwrap_or(Sides::Both);
                let tempo = self.session.items.get(coming.item)?.planned.tempo;
                Some(self.pace.stretch(sides, coming.asked, tempo))
            }
        }
    }

    /// The next load that can be made for an item, lighter or heavier than this.
    pub fn step(&self, item: usize, from: Load, heavier: bool) -> Option<Load> {
        let makeable = self.makeable.get(item)?;
        let next = if heavier {
            gear::above(makeable, from)
        } else {
            gear::below(makeable, from)
        };
        next.map(|makeable| makeable.load)
    }

    /// What to fetch for a load of an item.
    pub fn build(&self, item: usize, load: Load) -> Option<&Build> {
        gear::at(self.makeable.get(item)?, load).map(|makeable| &makeable.build)
    }
}
