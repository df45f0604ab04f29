//! The one test binary.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that meets the unexpected fails"
)]

mod advice;
mod beliefs;
mod cache;
mod command_line;
mod demo;
mod desktop;
mod disk;
mod export;
mod files;
mod fuzzed;
mod gear;
mod hostile;
mod import;
mod journal;
mod kept;
mod lines;
mod logbook;
mod looks;
mod manual;
mod programs;
mod published;
mod readme;
mod record;
mod report;
mod resumed;
mod rig;
mod room;
mod round_trip;
mod schedule;
mod script;
mod session;
mod settings;
mod sounds;
mod surroundings;
mod terminal;
mod tidy;
mod trends;
mod units;
mod whole_program;
