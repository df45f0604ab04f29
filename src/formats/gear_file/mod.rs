//! A place's file: what a person trains with.

mod wire;

use super::ron_text::{Draft, Place as At, Source, draft};
use crate::domain::diagnostic::Diagnostic;
use crate::domain::gear::{Bar, Dumbbell, Handle, Place, PlaceId, Plate};
use crate::domain::units::{Mass, Unit, Weight};
use wire::{WireDumbbells, WirePlace, hints};

/// The places that ship: id and text.
pub const SHIPPED: [(&str, &str); 4] = [
    ("home", include_str!("../../../shared/places/home.ron")),
    ("hotel", include_str!("../../../shared/places/hotel.ron")),
    ("club", include_str!("../../../shared/places/club.ron")),
    ("garage", include_str!("../../../shared/places/garage.ron")),
];

/// The most of one kind that a place can list.
const MOST: u8 = 100;
/// The most weights that one row of dumbbells can have.
const LONGEST_ROW: i64 = 200;

/// Reads a place's file; the place's id comes from the file's name.
///
/// # Errors
///
/// Everything that is wrong with the text.
pub fn read(path: &str, id: &PlaceId, text: &str) -> Result<Place, Vec<Diagnostic>> {
    let draft = draft::<WirePlace>(Source::new(path, text), hints)?;
    let mut check = Check {
        draft: &draft,
        found: Vec::new(),
        unit: draft.value.unit.into(),
    };
    let place = check.place(id);
    let found = check.found;
    draft.finish(place, found).map(|(place, _)| place)
}

struct Check<'d> {
    draft: &'d Draft<'d, WirePlace>,
    found: Vec<Diagnostic>,
    unit: Unit,
}

impl<'d> Check<'d> {
    fn place(&mut self, id: &PlaceId) -> Place {
        let wire = &self.draft.value;
        let root = self.draft.root();
        if wire.format != 1 {
            self.say(
                root.field("format"),
                "this is not format 1",
                "write format: 1",
            );
        }
        if wire.name.trim().is_empty() || wire.name.chars().count() > 40 {
            let advice = "write 1 to 40 characters, like \"At home\"";
            self.say(root.field("name"), "this is no name for a place", advice);
        }
        let mut place = Place::empty(id.clone(), wire.name.trim(), self.unit);
        for (k, row) in wire.dumbbells.iter().enumerate() {
            place
                .dumbbells
                .extend(self.row(row, root.field("dumbbells").item(k)));
        }
        for (k, handle) in wire.handles.iter().enumerate() {
            let at = root.field("handles").item(k);
            place.handles.push(Handle {
                weight: self.weight(&handle.weight, at.field("weight")),
                collars: self.collars(handle.collars.as_deref(), at.field("collars")),
                count: self.count(handle.count, at.field("count")),
                sleeve: handle.sleeve,
            });
        }
        for (k, bar) in wire.bars.iter().enumerate() {
            let at = root.field("bars").item(k);
            place.bars.push(Bar {
                name: bar.name.clone(),
                weight: self.weight(&bar.weight, at.field("weight")),
                collars: self.collars(bar.collars.as_deref(), at.field("collars")),
                sleeve: bar.sleeve,
            });
        }
        for (k, plate) in wire.plates.iter().enumerate() {
            let at = root.field("plates").item(k);
            place.plates.push(Plate {
                weight: self.weight(&plate.weight, at.field("weight")),
                count: self.count(plate.count, at.field("count")),
                fits: plate.fits.into(),
            });
        }
        place.bands.clone_from(&wire.bands);
        place.fixtures = wire.has.iter().map(|fixture| (*fixture).into()).collect();
        place.safeties = wire.safeties;
        place.any_order = wire.any_order;
        place
    }

    fn row(&mut self, row: &WireDumbbells, at: At<'d>) -> Vec<Dumbbell> {
        let count = self.count(row.count, at.field("count"));
        let from = self.weight(&row.from, at.field("from"));
        let (Some(to), Some(step)) = (&row.to, &row.step) else {
            if row.to.is_some() != row.step.is_some() {
                let advice = "write both to and step, or neither for a single weight";
                self.say(at, "a row of dumbbells has to and step, or neither", advice);
            }
            return vec![Dumbbell {
                weight: from,
                count,
            }];
        };
        let to = self.weight(to, at.field("to"));
        let step = self.weight(step, at.field("step"));
        let long = (to.mass.ng() - from.mass.ng()) / step.mass.ng().max(1);
        if to.mass < from.mass || long > LONGEST_ROW {
            let advice = "write from the lightest to the heaviest, 200 weights at most";
            self.say(at, "this row of dumbbells cannot be counted", advice);
            return Vec::new();
        }
        let missing: Vec<Weight> = row
            .missing
            .iter()
            .enumerate()
            .map(|(k, text)| self.weight(text, at.field("missing").item(k)))
            .collect();
        (0..=long)
            .map(|k| Weight::new(from.mass + step.mass * k, from.unit))
            .filter(|weight| missing.iter().all(|other| other.mass != weight.mass))
            .map(|weight| Dumbbell { weight, count })
            .collect()
    }

    /// A weight above nothing; a reading that fails stands for one of the place's unit.
    fn weight(&mut self, text: &str, at: At<'d>) -> Weight {
        match Weight::parse(text, self.unit) {
            Ok(weight) if weight.mass > Mass::ZERO => weight,
            Ok(_) => {
                self.say(
                    at,
                    "a weight of nothing",
                    "write how heavy one is, like \"5 kg\"",
                );
                Weight::new(Mass::from_ng(self.unit.nanograms()), self.unit)
            }
            Err(error) => {
                let advice = "write a weight with its unit, like \"22.5 kg\" or \"50 lb\"";
                self.say(at, &format!("\"{text}\" is no weight: {error}"), advice);
                Weight::new(Mass::from_ng(self.unit.nanograms()), self.unit)
            }
        }
    }

    fn collars(&mut self, text: Option<&str>, at: At<'d>) -> Weight {
        match text {
            Some(text) => self.weight(text, at),
            None => Weight::new(Mass::ZERO, self.unit),
        }
    }

    fn count(&mut self, count: u8, at: At<'d>) -> u8 {
        if !(1..=MOST).contains(&count) {
            self.say(
                at,
                &format!("{count} of a kind"),
                "write how many there are, 1 to 100",
            );
        }
        count.clamp(1, MOST)
    }

    fn say(&mut self, at: At<'d>, message: &str, advice: &str) {
        self.found.extend(self.draft.problem(at, message, advice));
    }
}
