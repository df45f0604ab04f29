//! `rackside suggest`: the next load, for scripts.

use super::{Exit, Failure};
use crate::domain::advice::standalone::Answers;
use crate::formats::batch;
use std::io::{self, BufRead, Write};

/// Answers what the next load should be.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Read one JSON request a line, and answer each with a line
    #[arg(long, required = true)]
    batch: bool,
}

/// Answers the lines of standard input, one by one, until it ends.
///
/// # Errors
///
/// Standard input cannot be read, or `out` not written.
pub fn run(_: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let mut answers = Answers::default();
    let mut input = io::stdin().lock();
    let mut line = Vec::new();
    for number in 1.. {
        line.clear();
        let read = input.read_until(b'\n', &mut line);
        if read.map_err(|e| Failure::error(format!("standard input: {e}")))? == 0 {
            break;
        }
        let text = String::from_utf8_lossy(&line);
        if text.trim().is_empty() {
            continue;
        }
        writeln!(out, "{}", batch::answer(&mut answers, &text, number))?;
        out.flush()?;
    }
    Ok(Exit::Done)
}
