//! Text to values and values to text, all in memory. Never files, a clock or a terminal.

mod mirror;

// The record: one event a line.
pub mod journal;

// What is kept beside it.
pub mod cache;

// The RON files that people write.
pub mod ron_text;

// The table of exercises.
pub mod table;

// A place's file.
pub mod gear_file;

// A program's file.
pub mod program_file;

// The lifter's file.
pub mod lifter_file;

// Files of ours: device, preferences, draft.
pub mod state_files;

// Questions and answers of scripts.
pub mod batch;

// What commands print for scripts.
pub mod json;

// What commands print for people.
pub mod plain;

// The coming sessions as a calendar.
pub mod calendar;

// A program before it is done.
pub mod preview;

// Gear by JSON Lines.
pub mod gear_solve;

// What the logbook's views say.
pub mod logbook;

// A spreadsheet of sets, read.
pub mod sheet;

// The record as tables for other programs.
pub mod export;

// What the logbook says as a page.
pub mod report;

// Stated odds against what happened.
pub mod calibration;

// Sounds as files.
pub mod sound_file;
