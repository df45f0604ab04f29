//! Programs from the command line: checked, shown, begun.

mod advice;
mod broken;
mod commands;
