//! What the tests of the whole program stand on: a private home, the real binary, a real terminal.
#![allow(dead_code, reason = "the rigs offer what the next test will want")]

pub mod cli;
pub mod events;
pub mod faulty;
pub mod pty;
pub mod script;
pub mod training;
pub mod written;

use std::time::Duration;

/// How long anything may take on a slow machine. `PATIENCE` bounds it in seconds, for runs in which
/// something is known to be broken.
pub fn patience() -> Duration {
    let said = std::env::var("PATIENCE").ok();
    let seconds = said.and_then(|text| text.parse().ok());
    Duration::from_secs(seconds.unwrap_or(60))
}
