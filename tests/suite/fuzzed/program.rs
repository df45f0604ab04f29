//! Any bytes as a program's file: refused with words, or a program that can be trained.

use super::{printable, told};
use crate::files;
use chrono::{DateTime, FixedOffset};
use rackside::domain::exercise::Catalogue;
use rackside::domain::gear::{Place, PlaceId};
use rackside::domain::history::{History, Lifter};
use rackside::domain::program::{Program, ProgramId};
use rackside::domain::schedule::{Material, Wish};
use rackside::domain::session::{Boldness, Experience};
use rackside::domain::units::{Civil, Unit};
use rackside::formats::{json, plain, program_file};
use std::sync::LazyLock;

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(files::catalogue);
static PLACES: LazyLock<Vec<Place>> = LazyLock::new(files::places);

/// Reads the bytes, and draws up a session of what was read at a place that ships.
pub fn run(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    let id = ProgramId::new("fuzzed").expect("a name");
    match program_file::read("p.ron", &id, &text, &CATALOGUE) {
        Err(problems) => told(&problems),
        Ok(program) => brief(&[program], &PLACES, "home"),
    }
}

/// Draws up the first session of a program at a place, and tells it in every way.
pub fn brief(programs: &[Program], places: &[Place], place: &str) {
    let at = DateTime::<FixedOffset>::parse_from_rfc3339("2026-01-05T18:00:00+01:00");
    let now = Civil::new(at.expect("a time"));
    let lifter = Lifter {
        unit: Unit::Kg,
        body_weight: None,
        experience: Experience::Novice,
        boldness: Boldness::Steady,
        place: PlaceId::new(place).expect("a name"),
        program: programs[0].id.clone(),
    };
    let history = History::of(Vec::new());
    let material = Material {
        catalogue: &CATALOGUE,
        places,
        programs,
        history: &history,
        lifter: &lifter,
        now,
        beliefs: None,
    };
    let briefing = material.brief(&Wish::default()).expect("a briefing");
    printable(&plain::brief(&briefing, &CATALOGUE, now));
    printable(&plain::gear_plan(&briefing, &CATALOGUE));
    printable(&json::line(&json::brief(&briefing, &CATALOGUE)));
}
