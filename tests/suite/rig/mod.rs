//! What the tests of the whole program stand on: a private home, the real binary, a real terminal.
#![allow(dead_code, reason = "the rigs offer what the next test will want")]

pub mod cli;
pub mod events;
pub mod faulty;
pub mod pty;
pub mod script;
pub mod training;
pub mod written;
