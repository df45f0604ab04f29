//! A session is the fold of its events: what was planned, what was done, what is still to come.

mod afterwards;
mod decide;
mod draft;
mod event;
mod imports;
mod plan;
mod resolve;
mod set;
mod state;
mod turns;

pub use afterwards::{Denial, amend_recorded, void_recorded};
pub use decide::{
    Command, Entry, Refusal, decide, done_by_side, done_of, to_bring_back, to_take_back,
};
pub use draft::{Aside, Asides, Beat, Cued, Draft, Typed};
pub use event::{
    Adopted, Amendment, Boldness, Choice, Closed, Event, EventId, Experience, ImportEnded,
    ImportPart, Imported, Opened, Pain, Stamped, Whereabouts,
};
pub use plan::{Asked, Plan, PlannedItem, PlannedSet, SetKind};
use resolve::resolved_away;
pub use resolve::{Resolved, Stray, StrayWhy, acts_on, amend, resolve, sort};
pub use set::{Done, Ended, Rest, RestKnown, SetRecord};
pub use state::{Cell, Coming, Item, Performed, Session};
