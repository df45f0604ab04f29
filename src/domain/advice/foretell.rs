//! The odds of what comes next on the floor: of the next set at any second of the rest, of all
//! sets still to come, and how long to rest.

use super::evidence::Done;
use super::held::HeldDay;
use super::holding::Held;
use super::odds::{Choice, Mind};
use super::situation::Situation;
use super::stand_in::slot_of;
use super::{Context, Frame};
use crate::domain::program::RestWindow;
use crate::domain::session::{Asked, Performed, Session, SetKind};
use crate::domain::strength::belief::{Ahead as Sets, Asks, HoldsAhead};
use crate::domain::units::{Load, Odds, Predicted, Seconds};

/// Seconds between two odds of the table.
const STEP: u32 = 5;
/// Seconds after the window's close that the table goes on for.
const BEYOND: u32 = 120;
/// The longest rest in the table.
const LONGEST: u32 = 1200;

/// A set that is to come.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Ahead {
    /// Which item of the session.
    pub item: usize,
    /// With what.
    pub load: Load,
    /// How much.
    pub asked: Asked,
    /// How many working sets of the item are still to come, it among them.
    pub sets: u32,
    /// The rest before it, since the last set of the session.
    pub window: RestWindow,
}

/// What the odds are.
#[derive(Clone, PartialEq, Debug)]
pub struct Foretold {
    /// Odds of the next set, started after so many steps of five seconds of rest.
    next: Vec<Odds>,
    /// Reps to failure to expect of it then.
    reaches: Vec<Predicted>,
    /// Odds of the exercise: every working set still to come reaches what is asked of this one,
    /// with the usual rests.
    pub exercise: Odds,
    /// The shortest rest inside the window after which the next set is likely enough; none where
    /// none is.
    pub enough: Option<Seconds>,
    /// Where none is: the next lighter load, and its odds at the window's close.
    pub lighter: Option<(Load, Odds)>,
}

impl Foretold {
    /// The odds of the next set, started after a rest of so many seconds.
    pub fn after(&self, seconds: u32) -> Odds {
        let chance = |place: usize| self.next.get(place).map(|odds| odds.chance());
        Odds::nearest(between(seconds, self.next.len(), chance))
    }

    /// The reps to failure to expect of the next set, started after so many seconds.
    pub fn reaches(&self, seconds: u32) -> Predicted {
        let count = |place: usize| self.reaches.get(place).map(|reps| reps.count());
        Predicted::nearest(between(seconds, self.reaches.len(), count))
    }
}

/// The value after so many seconds, of a table of `len` values.
fn between(seconds: u32, len: usize, at: impl Fn(usize) -> Option<f64>) -> f64 {
    let last = len.saturating_sub(1);
    let place = (seconds / STEP) as usize;
    let from = at(place.min(last)).unwrap_or(0.0);
    let to = at((place + 1).min(last)).unwrap_or(0.0);
    from + (to - from) * f64::from(seconds % STEP) / f64::from(STEP)
}

/// What the odds of a working set to come are; none where the belief says nothing of such work.
pub fn foretell(ctx: &Context<'_>, session: &Session, ahead: &Ahead) -> Option<Foretold> {
    let item = session.items.get(ahead.item)?;
    let exercise = ctx.catalogue.get(&item.planned.exercise)?;
    let records = session.records(ahead.item).filter(|set| !set.damaged);
    let sets: Vec<&Performed> = records
        .filter(|set| set.record.exercise == exercise.id)
        .collect();
    let done = Done {
        sets: &sets,
        ask: Some(item.planned.ask),
        rest: Some(item.planned.rest),
        deload: item.planned.deload,
    };
    let worked = sets.iter().any(|set| set.record.kind != SetKind::Ramp);
    let slot = slot_of(&item.planned);
    let at = Situation::new(ctx, exercise, &slot, Frame::default());
    // Sets of other exercises since the last one of this are rest for it.
    let aside = sets.last().map_or(0, |own| session.last_at().since(own.at));
    let aside = aside.max(0) as f64 / 1000.0;
    match ahead.asked {
        Asked::Reps(asked) => {
            let day = ctx.day(exercise, &done)?;
            let mind = day.mind();
            let known = mind.sessions > 0 || worked;
            let (at, mind, asked) = (&at, &mind, asked.get());
            let next = Next {
                at,
                mind,
                asked,
                aside,
            };
            foretold(&next, ahead).filter(|_| known)
        }
        Asked::Hold(asked) => {
            let day = ctx.held_day(exercise, &done)?;
            let known = day.sessions > 0 || worked;
            let (at, day, asked) = (&at, &day, asked.get());
            let next = NextHold {
                at,
                day,
                asked,
                aside,
            };
            foretold(&next, ahead).filter(|_| known)
        }
    }
}

/// What is to be known of the coming set, of reps or held.
trait Coming {
    /// Its chance after a rest of so many seconds.
    fn chance(&self, load: Load, rest: u32) -> Option<f64>;
    /// Its reps or seconds to failure then.
    fn reaches(&self, load: Load, rest: u32) -> Option<f64>;
    /// The chance that so many sets to come make as much as it is asked, with the usual rests.
    fn all(&self, load: Load, sets: u32) -> Option<f64>;
    /// The chance from which on a set is likely enough.
    fn bold(&self) -> f64;
    /// The next lighter load.
    fn lighter(&self, load: Load) -> Option<Load>;
}

fn foretold(next: &impl Coming, ahead: &Ahead) -> Option<Foretold> {
    let (opens, closes) = (ahead.window.opens.get(), ahead.window.closes.get());
    let last = (closes.saturating_add(BEYOND)).min(LONGEST) / STEP;
    let rests = || (0..=last).map(|step| step * STEP);
    let chances: Option<Vec<f64>> = rests().map(|rest| next.chance(ahead.load, rest)).collect();
    let reaches: Option<Vec<f64>> = rests().map(|rest| next.reaches(ahead.load, rest)).collect();
    let mut foretold = Foretold {
        next: chances?.into_iter().map(Odds::nearest).collect(),
        reaches: reaches?.into_iter().map(Predicted::nearest).collect(),
        exercise: Odds::nearest(next.all(ahead.load, ahead.sets.max(1))?),
        enough: None,
        lighter: None,
    };
    let likely = Odds::nearest(next.bold());
    let mut window = (opens..=closes).step_by(STEP as usize).chain([closes]);
    let enough = window.find(|rest| foretold.after(*rest) >= likely);
    foretold.enough = enough.map(Seconds::clamped);
    if enough.is_none()
        && let Some(load) = next.lighter(ahead.load)
    {
        let odds = next.chance(load, closes)?;
        foretold.lighter = Some((load, Odds::nearest(odds)));
    }
    Some(foretold)
}

/// The set that comes next.
struct Next<'a> {
    at: &'a Situation<'a>,
    mind: &'a Mind<'a>,
    asked: u32,
    aside: f64,
}

impl Next<'_> {
    fn choice(&self, sets: u32) -> Choice<'_> {
        Choice {
            at: self.at,
            mind: self.mind,
            sets,
            spare: None,
            above_range: true,
        }
    }

    /// One set after a rest of so many seconds.
    fn one(&self, load: Load, rest: u32) -> Option<Sets> {
        let one = self.choice(1);
        let mut set = one.ahead(load, self.asked, self.asked)?;
        set.rest = f64::from(rest) + self.aside;
        Some(set)
    }
}

impl Coming for Next<'_> {
    fn chance(&self, load: Load, rest: u32) -> Option<f64> {
        let set = self.one(load, rest)?;
        let spared = self.mind.noise.spared(Asks::Minimum, 1);
        Some(self.mind.forecast.makes(&set) * spared)
    }

    fn reaches(&self, load: Load, rest: u32) -> Option<f64> {
        let set = self.one(load, rest)?;
        self.mind.forecast.to_failure(&set).first().copied()
    }

    fn all(&self, load: Load, sets: u32) -> Option<f64> {
        let (_, _, odds) = self.choice(sets).stated(load, self.asked)?;
        Some(odds)
    }

    fn bold(&self) -> f64 {
        self.choice(1).bold()
    }

    fn lighter(&self, load: Load) -> Option<Load> {
        self.at.ladder.down(load)
    }
}

/// The hold that comes next.
struct NextHold<'a> {
    at: &'a Situation<'a>,
    day: &'a HeldDay,
    asked: u32,
    aside: f64,
}

impl NextHold<'_> {
    fn held(&self, sets: u32) -> Held<'_> {
        let (at, day) = (self.at, self.day);
        Held { at, day, sets }
    }

    /// One hold after a rest of so many seconds.
    fn one(&self, load: Load, rest: u32) -> Option<HoldsAhead> {
        let mut ahead = self.held(1).ahead(load, self.asked)?;
        ahead.rest = f64::from(rest) + self.aside;
        Some(ahead)
    }
}

impl Coming for NextHold<'_> {
    fn chance(&self, load: Load, rest: u32) -> Option<f64> {
        Some(self.day.today.makes(&self.one(load, rest)?))
    }

    fn reaches(&self, load: Load, rest: u32) -> Option<f64> {
        let one = self.one(load, rest)?;
        self.day.today.to_failure(&one).first().copied()
    }

    fn all(&self, load: Load, sets: u32) -> Option<f64> {
        let held = self.held(sets);
        held.ahead(load, self.asked)?;
        Some(held.chance(load, self.asked))
    }

    fn bold(&self) -> f64 {
        self.held(1).bold()
    }

    fn lighter(&self, load: Load) -> Option<Load> {
        self.at.ladder.down(load)
    }
}
