//! What months of sessions say: what enters each number stands in `shared/logbook.md`.

mod digests;
mod verdicts;
