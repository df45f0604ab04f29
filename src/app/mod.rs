//! What the interactive program decides: messages in, effects out. Pure; never draws.

pub mod effect;
pub mod floor;
pub mod kept;
pub mod keymap;
pub mod logbook;
pub mod model;
pub mod msg;
pub mod update;
