//! The suite's rig that the targets play with.

#[path = "../../suite/rig/script.rs"]
pub mod script;
