//! The journal's lines: one event a line, each a RON value that stands alone. The format is a
//! promise; what follows is the page that says it.
//!
#![doc = include_str!("../../../shared/journal.md")]
//!
//! Reading never fails as a whole: every undamaged line is used, everything else is reported with
//! its place. The work is linear in the bytes.

mod check;
mod details;
mod event;
mod frame;
mod imported;
mod lean;
mod line;
mod mend;
mod merge;
mod plan;
mod problem;
mod read;
mod seal;
mod set;
mod text;
mod union;

pub use check::{Check, Finding, check};
pub use line::{Unwritable, write_line};
pub use mend::{Change, Mended, reseal, salvage};
pub use merge::{Merged, Other, merge};
pub use problem::{Problem, Trouble};
pub use read::{Entry, Read, Reader, Unused, read};
pub use seal::Seal;
pub use text::load_like;
pub(crate) use text::{exact, read_load, write_load};
pub use union::{Record, union};

/// The version of the format that is written; this one and all before it are read.
pub const VERSION: u32 = 1;

/// The longest line, in bytes, its line feed apart.
pub const LONGEST: usize = 1 << 20;

/// The highest `n` that counts: beyond it a number is damage, and must not lead the next ones.
pub const HIGHEST: u64 = 1 << 53;

/// The name of a device's file for the sessions opened in a year.
pub fn file_name(year: i32, device: &str) -> String {
    format!("{year}-{device}.ron")
}
