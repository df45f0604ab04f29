//! Text to values and back, in memory.

pub mod journal;
