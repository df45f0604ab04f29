//! The next load: what a coach would expect of it, and the rails that hold for every policy.

mod batch;
mod believed;
mod changes;
mod fall;
mod holds;
mod odds;
mod open;
mod others;
mod progression;
mod rails;
mod reasons;
mod returning;
