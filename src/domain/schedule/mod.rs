//! Which session is today's, what is told before it, and how long it takes.

mod briefing;
mod coming;
mod ease;
mod in_turn;
mod outline;
mod preview;
mod remaining;
mod savings;
mod stacks;
mod stall;
mod time_box;
mod today;

pub use briefing::{BriefedItem, Briefing, Material, Wish};
pub use coming::{ComingSession, coming};
pub use ease::Ease;
pub use outline::{Outline, outline};
pub use preview::{Preview, PreviewItem, PreviewSession, PreviewWeek};
pub use remaining::{remaining, whole};
pub use savings::{Saving, savings};
pub use stacks::{Plates, SetStack, Stacks};
pub use time_box::{Boxed, Cut};
pub use today::{Today, others, today};
