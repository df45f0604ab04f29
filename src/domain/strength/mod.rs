//! Published equations of strength, and what was better than ever before.

pub mod belief;
pub mod calibration;
pub mod equations;
pub mod moved;
pub mod records;
pub mod volume;
