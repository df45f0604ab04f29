//! Any bytes as a place's file: refused with words, or a place that one can train at.

use super::{program, told};
use crate::files;
use rackside::domain::gear::{Implement, PlaceId};
use rackside::domain::program::Program;
use rackside::formats::gear_file;
use std::cmp::Ordering;
use std::sync::LazyLock;

static PROGRAMS: LazyLock<Vec<Program>> = LazyLock::new(files::programs);

const IMPLEMENTS: [Implement; 6] = [
    Implement::Pair,
    Implement::One,
    Implement::Bar,
    Implement::Added,
    Implement::Body,
    Implement::Band,
];

/// Reads the bytes, lists what can be made there, and draws up a session for it.
pub fn run(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    let id = PlaceId::new("fuzzed").expect("a name");
    let place = match gear_file::read("g.ron", &id, &text) {
        Err(problems) => return told(&problems),
        Ok(place) => place,
    };
    for implement in IMPLEMENTS {
        let made = place.makeable(implement);
        for pair in made.windows(2) {
            let order = pair[1].load.heavier(pair[0].load);
            assert_eq!(order, Some(Ordering::Greater), "{:?}", pair);
        }
    }
    program::brief(&PROGRAMS, &[place], "fuzzed");
}
