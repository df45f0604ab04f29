//! Which session is today's, and how long it will take.

mod briefing;

pub use briefing::{BriefedItem, Briefing, Today, Wish};
