//! What months of sessions say: what enters each number stands in `shared/logbook.md`.

mod commands;
mod digests;
mod verdicts;
