//! What months of sessions say: one digest of each session and exercise, from which every view,
//! export and report reads. What each number means stands in `shared/logbook.md`.

pub mod backing_off;
pub mod balance;
pub mod digest;
mod fit;
pub mod foster;
pub mod plot;
pub mod records;
pub mod said;
pub mod set;
pub mod strength;
pub mod told;
pub mod trend;
pub mod week;

pub use digest::{Digest, Logbook, SessionDigest};
