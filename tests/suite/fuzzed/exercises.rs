//! Any bytes as a person's own exercises: refused with words, or read beside those that ship.

use super::told;
use rackside::formats::table;

/// Slow, for all that ship are read as well.
pub fn run(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    if let Err(problems) = table::catalogue(Some(("e.ron", &text))) {
        told(&problems);
    }
}
