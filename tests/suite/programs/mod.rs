//! Programs from the command line: checked, shown, begun.

mod broken;
mod commands;
