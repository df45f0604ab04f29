//! Text to values and values to text, all in memory. Never files, a clock or a terminal.

// The record: one event a line.
pub mod journal;

// The RON files that people write.
pub mod ron_text;
