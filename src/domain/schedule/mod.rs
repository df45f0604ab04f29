//! Which session is today's, what is told before it, and how long it takes.

mod briefing;
mod remaining;
mod stacks;
mod today;

pub use briefing::{BriefedItem, Briefing, Material, Wish};
pub use remaining::{remaining, whole};
pub use stacks::{Saving, SetStack, savings, stacks};
pub use today::{Today, others, today};
