//! Values and rules of the trade: pure, no I/O, no clock, no serialisation, no terminal.
//!
//! In order: a module imports only those that stand before it.

// Quantities as types.
pub mod units;

// Signs for the ear, and how they sound.
pub mod cue;

// A problem in something that a person wrote.
pub mod diagnostic;

// Words shared by every voice of the program.
pub mod words;

// What a place has, and which loads it can make.
pub mod gear;

// What is known of an exercise.
pub mod exercise;

// Phases, days and slots.
pub mod program;

// The fold of a session's events.
pub mod session;

// What the journal says of the past.
pub mod history;

// Published equations, and what a person can lift.
pub mod strength;

// What months of sessions say.
pub mod logbook;

// The next load, and why.
pub mod advice;

// Which session is today's, and how long it takes.
pub mod schedule;

// An invented lifter's records.
pub mod invented;
