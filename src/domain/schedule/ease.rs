//! A lighter week that the belief suggests: for the person to take or to leave.

use super::Material;
use super::stall::is_easier;
use crate::domain::advice::{Context, Fall, fall};
use crate::domain::session::Plan;
use chrono::NaiveDate;

/// Lifts that must have fallen; custom: one alone may have its own cause.
const LIFTS: usize = 2;
/// Days in which no lighter session may lie, nor a lay-off of more than two weeks end.
const RECENT: i64 = 21;
const LAY_OFF: i64 = 14;

/// Whether the week is, or could be, a lighter one.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub enum Ease {
    /// Nothing calls for it.
    #[default]
    No,
    /// It is suggested, and why.
    Suggested(String),
    /// The person took one, up to and with that day.
    Taken(NaiveDate),
}

impl Ease {
    /// What is told of it; `key` is what takes or leaves it, in words.
    pub fn told(&self, key: &str) -> Option<String> {
        match self {
            Self::No => None,
            Self::Suggested(why) => Some(format!("{why}. A lighter week? {key} takes it")),
            Self::Taken(until) => {
                let until = until.format("%a %-d %b");
                Some(format!(
                    "a lighter week until {until}; {key} goes back to the full one"
                ))
            }
        }
    }
}

impl Material<'_> {
    /// The lighter week that the person took, while it lasts.
    pub(super) fn taken(&self) -> Option<NaiveDate> {
        let until = self.history.choices.eased_until?;
        (until >= self.now.date()).then_some(until)
    }

    /// Whether a plan's week is a lighter one, or should be.
    pub(super) fn ease(&self, plan: &Plan, ctx: &Context<'_>) -> Ease {
        if let Some(until) = self.taken() {
            return Ease::Taken(until);
        }
        if plan.items.iter().any(|item| item.deload) || self.rested_lately() {
            return Ease::No;
        }
        let lifts = plan.items.iter().map(|item| &item.exercise);
        let lifts = lifts.filter_map(|id| self.catalogue.get(id));
        let falls: Vec<Fall> = lifts.filter_map(|lift| fall(ctx, lift)).collect();
        if falls.len() < LIFTS {
            return Ease::No;
        }
        let told = falls.iter().take(LIFTS).map(|fall| {
            let name = self.catalogue.name(&fall.exercise);
            let (percent, outings) = (fall.percent.round(), fall.outings);
            format!(
                "{name} {percent} % weaker than {outings} outings ago ({} sure)",
                fall.odds
            )
        });
        Ease::Suggested(told.collect::<Vec<_>>().join(", "))
    }

    /// Whether an easier session, or the end of a lay-off, lies in the last three weeks.
    fn rested_lately(&self) -> bool {
        let date = self.now.date();
        let recent = |day: NaiveDate| (date - day).num_days() <= RECENT;
        let mut days: Vec<NaiveDate> = Vec::new();
        for session in &self.history.sessions {
            let day = session.opened.date();
            if recent(day) && is_easier(session) {
                return true;
            }
            days.push(day);
        }
        days.push(date);
        let off = |pair: &[NaiveDate]| match pair {
            [a, b] => recent(*b) && (*b - *a).num_days() > LAY_OFF,
            _ => false,
        };
        days.windows(2).any(off)
    }
}
