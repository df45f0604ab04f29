//! Programs from the command line: checked, shown, begun.

mod advice;
mod broken;
mod calendar;
mod commands;
mod floor;
mod living;
mod time_box;
