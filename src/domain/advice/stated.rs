//! What is believed of an exercise today, and what that says of equal sets.

use super::beliefs::Day;
use super::evidence::Done;
use super::held::HeldDay;
use super::holding::Held;
use super::odds::Choice;
use super::situation::Situation;
use super::stand_in::slot_of;
use super::{Context, Frame};
use crate::domain::session::{PlannedItem, SetKind};
use crate::domain::units::{Load, Odds};

/// What is believed of an exercise today.
pub enum Believed {
    /// Of reps.
    Reps(Box<Day>),
    /// Of seconds held.
    Holds(HeldDay),
    /// Nothing, so that no odds are stated.
    Nothing,
}

/// The steps beside a suggested load, each with the odds that every set makes as much with it.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Beside {
    /// The next lighter.
    pub down: Option<(Load, Odds)>,
    /// The next heavier.
    pub up: Option<(Load, Odds)>,
}

/// The steps beside the load of an item's working sets; none where its odds are not stated.
pub fn beside(ctx: &Context<'_>, item: &PlannedItem) -> Beside {
    let found = item.odds.zip(ctx.catalogue.get(&item.exercise));
    let work = item.sets.iter().filter(|set| set.kind == SetKind::Working);
    let Some(((_, exercise), first)) = found.zip(work.clone().next()) else {
        return Beside::default();
    };
    let slot = slot_of(item);
    let at = Situation::new(ctx, exercise, &slot, Frame::default());
    let believed = Believed::of(ctx, &at);
    let sets = u32::try_from(work.count()).unwrap_or(u32::MAX);
    let of = |load: Option<Load>| {
        let stated = believed.stated(&at, sets, (load?, first.asked.count()))?;
        Some((load?, stated.odds))
    };
    Beside {
        down: of(at.ladder.down(first.load)),
        up: of(at.ladder.up(first.load)),
    }
}

/// What is stated of equal sets.
pub struct Stated {
    /// The odds that every set makes what is asked.
    pub odds: Odds,
    /// Reps or seconds to failure of each.
    pub to_failure: Vec<f64>,
}

impl Believed {
    /// What is believed before the first set of the day.
    pub fn of(ctx: &Context<'_>, at: &Situation<'_>) -> Self {
        let done = Done::default();
        let known = if at.holds() {
            ctx.held_day(at.exercise, &done).map(Self::Holds)
        } else {
            ctx.day(at.exercise, &done)
                .map(|day| Self::Reps(Box::new(day)))
        };
        known.unwrap_or(Self::Nothing)
    }

    /// What is stated of so many sets with a load that ask for so much.
    pub fn stated(
        &self,
        at: &Situation<'_>,
        sets: u32,
        (load, asked): (Load, u32),
    ) -> Option<Stated> {
        match self {
            Self::Nothing => None,
            Self::Holds(day) => {
                let held = Held { at, day, sets };
                Some(Stated {
                    odds: Odds::nearest(held.chance(load, asked)),
                    to_failure: held.to_failure(load, asked)?,
                })
            }
            Self::Reps(day) => {
                let mind = day.mind();
                let choice = Choice {
                    at,
                    mind: &mind,
                    sets,
                    spare: None,
                    above_range: true,
                };
                let (_, _, odds) = choice.stated(load, asked)?;
                let ahead = choice.ahead(load, asked, asked)?;
                Some(Stated {
                    odds: Odds::nearest(odds),
                    to_failure: mind.forecast.to_failure(&ahead),
                })
            }
        }
    }
}
