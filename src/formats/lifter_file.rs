//! The lifter's file, `config/lifter.ron`: who trains, as first asked.

use super::mirror::{WireExperience, WireUnit};
use super::ron_text::{Source, draft};
use crate::domain::diagnostic::Diagnostic;
use crate::domain::gear::PlaceId;
use crate::domain::history::Lifter;
use crate::domain::program::ProgramId;
use crate::domain::session::{Boldness, Experience};
use crate::domain::units::{Unit, Weight};
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(rename = "lifter", deny_unknown_fields)]
struct WireLifter {
    format: u32,
    unit: WireUnit,
    body_weight: Option<String>,
    experience: Option<WireExperience>,
    place: String,
    program: String,
}

fn hints(_: &str, field: &str) -> Option<&'static str> {
    Some(match field {
        "unit" => "Kg or Lb",
        "body_weight" => "a weight, like \"70 kg\", or leave the field out",
        "experience" => "Novice, Intermediate or Returning",
        "place" => "the name of a place's file without .ron",
        "program" => "the name of a program's file without .ron",
        _ => return None,
    })
}

/// Reads the lifter's file.
///
/// # Errors
///
/// Everything that is wrong with the text.
pub fn read(path: &str, text: &str) -> Result<Lifter, Vec<Diagnostic>> {
    let draft = draft::<WireLifter>(Source::new(path, text), hints)?;
    let wire = &draft.value;
    let root = draft.root();
    let mut found = Vec::new();
    let unit = Unit::from(wire.unit);
    if wire.format != 1 {
        let place = root.field("format");
        found.extend(draft.problem(place, "this is not format 1", "write format: 1"));
    }
    let body_weight = match wire
        .body_weight
        .as_deref()
        .map(|text| Weight::parse(text, unit))
    {
        None => None,
        Some(Ok(weight)) => Some(weight),
        Some(Err(error)) => {
            let message = format!("this is no body weight: {error}");
            let advice = "write a weight, like \"70 kg\", or leave the field out";
            found.extend(draft.problem(root.field("body_weight"), message, advice));
            None
        }
    };
    let (place, program) = (PlaceId::new(&wire.place), ProgramId::new(&wire.program));
    for (field, good) in [("place", place.is_some()), ("program", program.is_some())] {
        if !good {
            let message = format!("this is no name of a {field}");
            let advice = "write lower-case letters, digits and _ alone";
            found.extend(draft.problem(root.field(field), message, advice));
        }
    }
    let experience = wire.experience.map(Experience::from).unwrap_or_default();
    let lifter = place.zip(program).map(|(place, program)| Lifter {
        unit,
        body_weight,
        experience,
        boldness: Boldness::default(),
        place,
        program,
    });
    let about = Diagnostic::about(path, "the file could not be used", "see above");
    draft
        .finish(lifter, found)
        .and_then(|(lifter, _)| lifter.ok_or_else(|| vec![about]))
}

/// The text of a new lifter's file.
pub fn text(lifter: &Lifter) -> String {
    let unit = match lifter.unit {
        Unit::Kg => "Kg",
        Unit::Lb => "Lb",
    };
    let body_weight = match lifter.body_weight {
        Some(weight) => format!("    body_weight: \"{weight}\",\n"),
        None => {
            "    // body_weight: \"70 kg\", if body-weight work is to be reckoned truly\n".into()
        }
    };
    format!(
        "// Who trains. Written once, read at every start; it is yours to edit.\n\
         // What changes later (body weight, program, place) is noted in the journal.\n\
         (\n    format: 1,\n    unit: {unit},\n{body_weight}    place: \"{}\",\n    \
         program: \"{}\",\n)\n",
        lifter.place, lifter.program,
    )
}
