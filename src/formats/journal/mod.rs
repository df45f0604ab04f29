//! The journal's lines: one event a line, each a RON value that stands alone.
//!
//! ```text
//! (v:0,id:"k3f9qa-8a1c2d-0004",n:412,session:"k3f9qa-8a1c2d-0000",
//!  at:"2026-11-19T18:22:05.123+01:00",event:Set(exercise:"one_arm_row",kind:Working,number:3,
//!  load:"22.5 kg",done:Reps(8),asked:Reps(8),ended:AsAsked,spare:2,rest_s:Measured(88),
//!  counts:OneDumbbell,item:1)) // crc 1a2b3c4d
//! ```
//!
//! (wrapped here; a line in the file is never wrapped). Reading it:
//!
//! - `v` is the version of the format. A newer version's lines are kept and skipped.
//! - `id` is unique across devices; `n` and then `id` give the order, whatever the clocks said.
//! - `session` is the id of the session's opening event; `at` the time on the wall, with its
//!   offset from UTC.
//! - An optional field that says nothing is left out; `Some(2)` and `2` are the same. Fields that
//!   are not known are ignored, events that are not known are kept and skipped.
//! - A mass is a text with its unit, exact: "22.5 kg", "50 lb"; a load may also be "body",
//!   "body +10 kg", "body -15 kg" or "band 2". Fields that end in `_s` are whole seconds. `odds`
//!   are a chance from 0 to 1.
//! - Behind the value rides a comment with the CRC-32 (ISO-HDLC, as in zip) of the value's bytes,
//!   from its opening to its closing bracket. Right: as it was written. Absent: written by hand,
//!   as good. Wrong: damaged; a set is still shown, and nothing else is done with it. Whoever
//!   edits a line deletes its checksum.
//!
//! Reading never fails as a whole: every undamaged line is used, everything else is reported with
//! its place. The work is linear in the bytes.

mod event;
mod frame;
mod line;
mod plan;
mod problem;
mod read;
mod seal;
mod set;
mod text;
mod union;

pub use line::{Unwritable, write_line};
pub use problem::{Problem, Trouble};
pub use read::{Entry, Read, Reader, read};
pub use seal::Seal;
pub(crate) use text::{read_load, write_load};
pub use union::{Record, union};

/// The version of the format that is written; this one and all before it are read.
pub const VERSION: u32 = 0;

/// The longest line, in bytes, its line feed apart.
pub const LONGEST: usize = 1 << 20;

/// The highest `n` that counts: beyond it a number is damage, and must not lead the next ones.
pub const HIGHEST: u64 = 1 << 53;

/// The name of a device's file for the sessions opened in a year.
pub fn file_name(year: i32, device: &str) -> String {
    format!("{year}-{device}.ron")
}
