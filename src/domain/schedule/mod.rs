//! Which session is today's, and how long it will take.

mod briefing;
mod remaining;

pub use briefing::{BriefedItem, Briefing, Today, Wish};
pub use remaining::remaining;
