//! rackside runs a lifter's strength session on the gym floor.
//!
//! The folders, in order: each imports only those that stand before it, and each has one "never"
//! (`tests/suite/tidy.rs` holds both).

// Values and rules of the trade. Never I/O, a clock, serialisation or a terminal.
pub mod domain;

// Text to values and values to text. Never files, a clock or a terminal.
pub mod formats;

// What the interactive program decides. Never drawing, files or a clock.
pub mod app;

// What the model looks like. Never a clock, files or the terminal itself.
pub mod ui;

// The only place with effects. Never the command line.
pub mod shell;

// One file per subcommand. Never the screens: the loop is started through the shell.
pub mod cli;
