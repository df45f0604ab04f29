//! A program's file: months of training that a person can write.

mod advice;
mod build;
mod fields;
mod quantity;
mod schema;
mod slots;
mod whole;
mod wire;

pub use advice::{Whom, read_with_advice, rules};
pub use fields::{FIELDS, Field};
pub use schema::{EXAMPLE, schema, start};

use super::ron_text::{Draft, Place as At, Source, draft, near};
use crate::domain::diagnostic::Diagnostic;
use crate::domain::exercise::{Catalogue, Effort, ExerciseId};
use crate::domain::program::{Phase, Program, ProgramId, Rhythm, Slot, SlotId};
use chrono::Weekday;
use fields::{bounds, hints};
use std::collections::BTreeMap;
use wire::{WireProgram, WireRhythm, WireWeekday};

/// The programs that ship: id and text.
pub const SHIPPED: [(&str, &str); 3] = [
    (
        "three_steps",
        include_str!("../../../programs/three_steps.ron"),
    ),
    (
        "small_room",
        include_str!("../../../programs/small_room.ron"),
    ),
    (
        "four_square",
        include_str!("../../../programs/four_square.ron"),
    ),
];

/// Reads a program's file; its id comes from the file's name.
///
/// # Errors
///
/// Everything that is wrong with the text.
pub fn read(
    path: &str,
    id: &ProgramId,
    text: &str,
    catalogue: &Catalogue,
) -> Result<Program, Vec<Diagnostic>> {
    let draft = draft::<WireProgram>(Source::new(path, text), hints)?;
    let mut check = Check::of(&draft, catalogue);
    let program = check.program(id);
    let found = check.found;
    draft.finish(program, found).map(|(program, _)| program)
}

/// A program while it is looked over.
struct Check<'d> {
    draft: &'d Draft<'d, WireProgram>,
    catalogue: &'d Catalogue,
    found: Vec<Diagnostic>,
    /// Which phase is looked over, from 0.
    phase: usize,
    /// Where the slots of each phase stand: of one that was taken over, where that is said.
    places: BTreeMap<(usize, SlotId), At<'d>>,
}

impl<'d> Check<'d> {
    const fn of(draft: &'d Draft<'d, WireProgram>, catalogue: &'d Catalogue) -> Self {
        Self {
            draft,
            catalogue,
            found: Vec::new(),
            phase: 0,
            places: BTreeMap::new(),
        }
    }

    fn program(&mut self, id: &ProgramId) -> Program {
        let wire = &self.draft.value;
        let root = self.draft.root();
        if wire.format != 1 {
            let advice = match wire.format {
                0 => "write format: 1",
                _ => "write format: 1, or use the newer rackside that wrote it",
            };
            self.say(root.field("format"), "this is not format 1", advice);
        }
        self.name(&wire.name, root.field("name"));
        if wire.phases.is_empty() {
            let advice = "write at least one phase with at least one day";
            self.say(root.field("phases"), "the program has no phase", advice);
        }
        let mut phases: Vec<Phase> = Vec::new();
        for (k, phase) in wire.phases.iter().enumerate() {
            self.phase = k;
            let built = self.phase(phase, root.field("phases").item(k), &phases);
            phases.push(built);
        }
        let rhythm = self.rhythm(&wire.rhythm, root.field("rhythm"), &phases);
        Program {
            id: id.clone(),
            name: wire.name.trim().to_owned(),
            note: wire.note.clone(),
            rhythm,
            phases,
        }
    }

    /// Remembers where slots of the phase stand.
    fn remember(&mut self, slots: &[Slot], places: &[At<'d>]) {
        for (slot, place) in slots.iter().zip(places) {
            self.places.insert((self.phase, slot.id.clone()), *place);
        }
    }

    /// The slots of an earlier phase are taken over here.
    fn take_over(&mut self, from: usize, at: At<'d>) {
        let taken = self.places.keys().filter(|(phase, _)| *phase == from);
        let ids: Vec<SlotId> = taken.map(|(_, id)| id.clone()).collect();
        for id in ids {
            self.places.insert((self.phase, id), at);
        }
    }

    fn rhythm(&mut self, wire: &WireRhythm, at: At<'d>, phases: &[Phase]) -> Rhythm {
        match wire {
            WireRhythm::Rotation { per_week } => {
                let number = u32::from(*per_week);
                self.number("rhythm", "per_week", number, at.field("per_week"));
                Rhythm::Rotation {
                    per_week: (*per_week).clamp(1, 7),
                }
            }
            WireRhythm::Every { days } => {
                self.number("rhythm", "days", (*days).into(), at.field("days"));
                Rhythm::Every {
                    days: (*days).clamp(1, 14),
                }
            }
            WireRhythm::Weekdays(names) => {
                let days: Vec<Weekday> = names.iter().map(|day| weekday(*day)).collect();
                if days.is_empty() || phases.iter().any(|p| p.days.len() != days.len()) {
                    let message = format!("{} weekdays for another number of days", days.len());
                    let advice = "name as many weekdays as each phase has days, in their order";
                    self.say(at, &message, advice);
                }
                Rhythm::Weekdays(days)
            }
        }
    }

    fn name(&mut self, name: &str, at: At<'d>) {
        let length = name.trim().chars().count();
        if !(1..=40).contains(&length) {
            let message = format!("a name of {length} characters");
            self.say(at, &message, "write 1 to 40 characters");
        }
    }

    /// The exercise of that name, and what is counted in its sets.
    fn exercise(&mut self, name: &str, at: At<'d>) -> Option<(ExerciseId, Effort)> {
        let id = ExerciseId::new(name);
        if let Some(known) = id.and_then(|id| self.catalogue.get(&id)) {
            return Some((known.id.clone(), known.effort));
        }
        let names = self.catalogue.iter().map(|exercise| exercise.id.as_str());
        let advice = match near(name, names) {
            Some(other) => format!("did you mean \"{other}\"?"),
            None => "write an exercise's id, or add your own to config/exercises.ron".to_owned(),
        };
        self.say(at, &format!("no exercise is called \"{name}\""), &advice);
        None
    }

    /// A number inside the bounds of its field.
    fn number(&mut self, thing: &str, name: &str, number: u32, at: At<'d>) {
        let (least, most) = bounds(thing, name);
        if (least..=most).contains(&number) {
            return;
        }
        let hint = hints(thing, name).unwrap_or_default();
        let message = format!("{name} is {number}");
        self.say(at, &message, &format!("write {hint}"));
    }

    fn say(&mut self, at: At<'d>, message: &str, advice: &str) {
        self.found.extend(self.draft.problem(at, message, advice));
    }
}

const fn weekday(day: WireWeekday) -> Weekday {
    match day {
        WireWeekday::Monday => Weekday::Mon,
        WireWeekday::Tuesday => Weekday::Tue,
        WireWeekday::Wednesday => Weekday::Wed,
        WireWeekday::Thursday => Weekday::Thu,
        WireWeekday::Friday => Weekday::Fri,
        WireWeekday::Saturday => Weekday::Sat,
        WireWeekday::Sunday => Weekday::Sun,
    }
}
