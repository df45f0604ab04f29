//! The table of exercises: the one that ships and a person's own, of the same shape.

use super::mirror::{
    WireCounts, WireEffort, WireFixture, WireGivesWay, WireJoint, WireMuscle, WirePattern,
    WireRole, WireSides,
};
use super::ron_text::{Draft, Place, Source, draft, near};
use crate::domain::diagnostic::Diagnostic;
use crate::domain::exercise::{Catalogue, Coaching, Exercise, ExerciseId, StandIn};
use crate::domain::units::Seconds;
use serde::Deserialize;

/// The exercises that ship.
pub const SHIPPED: &str = include_str!("../../shared/exercises.ron");

/// A coach's word is three lines of 68 at most.
const LONGEST: usize = 204;

#[derive(Deserialize)]
#[serde(rename = "exercises", deny_unknown_fields)]
struct WireTable {
    format: u32,
    exercises: Vec<WireExercise>,
}

#[derive(Deserialize)]
#[serde(rename = "exercise", deny_unknown_fields)]
struct WireExercise {
    id: String,
    name: String,
    role: WireRole,
    pattern: WirePattern,
    prime: Vec<WireMuscle>,
    #[serde(default)]
    assisting: Vec<WireMuscle>,
    joints: Vec<WireJoint>,
    #[serde(default)]
    loads_spine: bool,
    #[serde(default)]
    loads_grip: bool,
    #[serde(default)]
    technical: bool,
    gives_way: WireGivesWay,
    #[serde(default)]
    needs: Vec<WireFixture>,
    counts: WireCounts,
    sides: WireSides,
    effort: WireEffort,
    setup_s: u32,
    #[serde(default)]
    stand_ins: Vec<WireStandIn>,
    easier: Option<String>,
    harder: Option<String>,
    set_up: String,
    movement: String,
    faults: String,
    stop: String,
}

#[derive(Deserialize)]
#[serde(rename = "stand-in", deny_unknown_fields)]
struct WireStandIn {
    exercise: String,
    factor: f64,
}

/// What to write for each field.
fn hints(thing: &str, field: &str) -> Option<&'static str> {
    Some(match (thing, field) {
        ("exercise", "id") => "lower-case letters, digits and _, like \"goblet_squat\"",
        ("exercise", "setup_s") => "seconds, 0 to 600",
        ("exercise", "counts") => {
            "PerHand, OneDumbbell, BarTotal, Body(percent: 70), BodyPlus(percent: 95) or Band"
        }
        ("stand-in", "factor") => "a number like 0.8, 0.05 to 20",
        ("counts", "percent") => "percent of body mass, 1 to 100",
        _ => return None,
    })
}

/// The exercises that ship, with a person's own in place of those of the same name.
///
/// # Errors
///
/// Everything that is wrong with either text.
pub fn catalogue(own: Option<(&str, &str)>) -> Result<Catalogue, Vec<Diagnostic>> {
    let mut exercises = read("shared/exercises.ron", SHIPPED, &Catalogue::default())?;
    if let Some((path, text)) = own {
        let shipped = Catalogue::new(exercises.clone());
        exercises.extend(read(path, text, &shipped)?);
    }
    Ok(Catalogue::new(exercises))
}

/// Reads one table; its references may also go to the exercises `beside`.
fn read(path: &str, text: &str, beside: &Catalogue) -> Result<Vec<Exercise>, Vec<Diagnostic>> {
    let draft = draft::<WireTable>(Source::new(path, text), hints)?;
    let list = draft.root().field("exercises");
    let mut found = Vec::new();
    if draft.value.format != 1 {
        let place = draft.root().field("format");
        found.extend(draft.problem(place, "this is not format 1", "write format: 1"));
    }
    let wires = &draft.value.exercises;
    let mut known: Vec<&str> = wires.iter().map(|wire| wire.id.as_str()).collect();
    known.extend(beside.iter().map(|exercise| exercise.id.as_str()));
    let mut made = Vec::new();
    for (k, wire) in wires.iter().enumerate() {
        let checked = Check {
            draft: &draft,
            place: list.item(k),
            known: &known,
        };
        if wires.iter().take(k).any(|other| other.id == wire.id) {
            let message = format!("the exercise {} stands here for the second time", wire.id);
            found.extend(checked.at("id", message, "give one of them another id"));
        }
        made.extend(checked.exercise(wire, &mut found));
    }
    draft.finish(made, found).map(|(made, _)| made)
}

/// An exercise of a table while it is looked over.
struct Check<'d> {
    draft: &'d Draft<'d, WireTable>,
    place: Place<'d>,
    known: &'d [&'d str],
}

impl Check<'_> {
    fn at(&self, field: &str, message: String, advice: &str) -> Option<Diagnostic> {
        self.draft.problem(self.place.field(field), message, advice)
    }

    fn exercise(&self, wire: &WireExercise, found: &mut Vec<Diagnostic>) -> Option<Exercise> {
        self.texts(wire, found);
        self.numbers(wire, found);
        let stand_ins = self.stand_ins(wire, found);
        let easier = self.other("easier", wire.easier.as_deref(), found);
        let harder = self.other("harder", wire.harder.as_deref(), found);
        let id = ExerciseId::new(&wire.id);
        if id.is_none() {
            let message = format!("\"{}\" is no id of an exercise", wire.id);
            let advice = "write lower-case letters, digits and _ alone";
            found.extend(self.at("id", message, advice));
        }
        Some(Exercise {
            id: id?,
            name: wire.name.clone(),
            role: wire.role.into(),
            pattern: wire.pattern.into(),
            prime: wire.prime.iter().map(|muscle| (*muscle).into()).collect(),
            assisting: wire
                .assisting
                .iter()
                .map(|muscle| (*muscle).into())
                .collect(),
            joints: wire.joints.iter().map(|joint| (*joint).into()).collect(),
            loads_spine: wire.loads_spine,
            loads_grip: wire.loads_grip,
            technical: wire.technical,
            gives_way: wire.gives_way.into(),
            needs: wire.needs.iter().map(|need| (*need).into()).collect(),
            counts: wire.counts.into(),
            sides: wire.sides.into(),
            effort: wire.effort.into(),
            setup: Seconds::clamped(wire.setup_s),
            stand_ins,
            easier,
            harder,
            coaching: Coaching {
                set_up: wire.set_up.clone(),
                movement: wire.movement.clone(),
                faults: wire.faults.clone(),
                stop: wire.stop.clone(),
            },
        })
    }

    fn texts(&self, wire: &WireExercise, found: &mut Vec<Diagnostic>) {
        let texts = [
            ("set_up", &wire.set_up),
            ("movement", &wire.movement),
            ("faults", &wire.faults),
            ("stop", &wire.stop),
        ];
        for (field, text) in texts {
            let length = text.chars().count();
            if length == 0 || length > LONGEST {
                let message = format!("{field} has {length} characters");
                let advice = "say it in one breath: 1 to 204 characters, three lines on the floor";
                found.extend(self.at(field, message, advice));
            }
        }
        if wire.name.trim().is_empty() || wire.name.chars().count() > 40 {
            let message = "a name has 1 to 40 characters".to_owned();
            found.extend(self.at("name", message, "write a shorter one"));
        }
    }

    fn numbers(&self, wire: &WireExercise, found: &mut Vec<Diagnostic>) {
        if wire.prime.is_empty() {
            let message = "no muscle does the work".to_owned();
            found.extend(self.at("prime", message, "name one to three, like [Chest]"));
        }
        if wire.setup_s > 600 {
            let message = format!("getting set takes {} s", wire.setup_s);
            found.extend(self.at("setup_s", message, "write seconds, 0 to 600"));
        }
        if let WireCounts::Body { percent } | WireCounts::BodyPlus { percent } = wire.counts
            && !(1..=100).contains(&percent)
        {
            let message = format!("{percent} percent of body mass");
            found.extend(self.at("counts", message, "write percent, 1 to 100"));
        }
    }

    fn stand_ins(&self, wire: &WireExercise, found: &mut Vec<Diagnostic>) -> Vec<StandIn> {
        let mut made = Vec::new();
        for (k, stand_in) in wire.stand_ins.iter().enumerate() {
            let place = self.place.field("stand_ins").item(k);
            if !(0.05..=20.0).contains(&stand_in.factor) {
                let message = format!("a factor of {}", stand_in.factor);
                let advice = "write what this load is multiplied by, 0.05 to 20";
                found.extend(self.draft.problem(place.field("factor"), message, advice));
            }
            let place = place.field("exercise");
            made.extend(
                self.named(place, &stand_in.exercise, found)
                    .map(|exercise| StandIn {
                        exercise,
                        factor: stand_in.factor,
                    }),
            );
        }
        made
    }

    fn other(
        &self,
        field: &str,
        name: Option<&str>,
        found: &mut Vec<Diagnostic>,
    ) -> Option<ExerciseId> {
        self.named(self.place.field(field), name?, found)
    }

    fn named(
        &self,
        place: Place<'_>,
        name: &str,
        found: &mut Vec<Diagnostic>,
    ) -> Option<ExerciseId> {
        let id = ExerciseId::new(name).filter(|_| self.known.contains(&name));
        if id.is_none() {
            let message = format!("no exercise is called \"{name}\"");
            let advice = match near(name, self.known.iter().copied()) {
                Some(other) => format!("did you mean \"{other}\"?"),
                None => "write the id of an exercise that is known".to_owned(),
            };
            found.extend(self.draft.problem(place, message, advice));
        }
        id
    }
}
