//! What is told before a session: the plan, last time's numbers, what to fetch, how long it takes.

use super::{
    Boxed, Ease, Plates, Saving, SetStack, Stacks, Today, in_turn, others, savings, today, whole,
};
use crate::domain::advice::{Beliefs, Beside, Context, Frame, beside, plan_slots};
use crate::domain::exercise::Catalogue;
use crate::domain::gear::{Build, Makeable, Place, PlaceId, at};
use crate::domain::history::{History, Lifter, Outing, Pace};
use crate::domain::program::{Program, Slot};
use crate::domain::session::{Plan, PlannedItem, SetKind};
use crate::domain::units::{Civil, Seconds};

/// What a person wishes to train, other than what the program says.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Wish {
    /// At that place.
    pub place: Option<PlaceId>,
    /// That session.
    pub session: Option<Today>,
    /// In so many minutes.
    pub minutes: Option<u32>,
}

/// All that is told of one exercise before it is done.
#[derive(Clone, PartialEq, Debug)]
pub struct BriefedItem {
    /// The last time that it was done.
    pub last: Option<Outing>,
    /// What to fetch for its working load; empty where nothing is.
    pub fetch: String,
    /// The steps beside its load, with their odds.
    pub beside: Beside,
}

/// All that is told before a session.
#[derive(Clone, PartialEq, Debug)]
pub struct Briefing {
    /// Which session it is, and why.
    pub today: Today,
    /// The other sessions that can be chosen.
    pub others: Vec<Today>,
    /// What is planned.
    pub plan: Plan,
    /// By item of the plan.
    pub items: Vec<BriefedItem>,
    /// The plates of each set.
    pub stacks: Stacks,
    /// Neighbouring loads that would save plate moves.
    pub savings: Vec<Saving>,
    /// How long it will take.
    pub takes: Seconds,
    /// How fast this lifter is.
    pub pace: Pace,
    /// What could not be planned, and why.
    pub remarks: Vec<String>,
    /// How it was made to fit, where the time is short.
    pub boxed: Option<Boxed>,
    /// Whether the week is, or could be, a lighter one.
    pub ease: Ease,
}

/// What a briefing is drawn up from.
#[derive(Clone, Copy, Debug)]
pub struct Material<'a> {
    /// All exercises.
    pub catalogue: &'a Catalogue,
    /// All places.
    pub places: &'a [Place],
    /// All programs.
    pub programs: &'a [Program],
    /// What was done.
    pub history: &'a History,
    /// Who trains, after what they chose since they were first asked.
    pub lifter: &'a Lifter,
    /// When.
    pub now: Civil,
    /// What is believed of each exercise; without it no odds are stated.
    pub beliefs: Option<&'a Beliefs>,
}

impl Briefing {
    /// The neighbouring load of an item that would save plate moves.
    pub fn saving(&self, item: usize) -> Option<&Saving> {
        self.savings.iter().find(|saving| saving.item == item)
    }
}

impl<'a> Material<'a> {
    /// What advice is computed from at a place.
    pub const fn at(&self, place: &'a Place) -> Context<'a> {
        Context {
            catalogue: self.catalogue,
            place,
            history: self.history,
            lifter: self.lifter,
            now: self.now,
            beliefs: self.beliefs,
        }
    }

    /// The same with beliefs that are kept between questions.
    #[must_use]
    pub const fn believing(self, beliefs: &'a Beliefs) -> Self {
        Self {
            beliefs: Some(beliefs),
            ..self
        }
    }

    /// The place of that id, or words for its absence.
    ///
    /// # Errors
    ///
    /// No such place is known: the words name those that are.
    pub fn place(&self, id: &PlaceId) -> Result<&'a Place, String> {
        self.places
            .iter()
            .find(|place| place.id == *id)
            .ok_or_else(|| {
                let known: Vec<&str> = self.places.iter().map(|place| place.id.as_str()).collect();
                format!(
                    "no place is called \"{id}\"; known are {}",
                    known.join(", ")
                )
            })
    }

    fn program(&self) -> Result<&'a Program, String> {
        let id = &self.lifter.program;
        self.programs
            .iter()
            .find(|program| program.id == *id)
            .ok_or_else(|| {
                let known: Vec<&str> = self.programs.iter().map(|p| p.id.as_str()).collect();
                format!(
                    "no program is called \"{id}\"; known are {}",
                    known.join(", ")
                )
            })
    }

    /// Draws up today's session, or the one that is wished for.
    ///
    /// # Errors
    ///
    /// The lifter's program or place is not known, in words.
    pub fn brief(&self, wish: &Wish) -> Result<Briefing, String> {
        let program = self.program()?;
        let place = self.place(wish.place.as_ref().unwrap_or(&self.lifter.place))?;
        let today = match &wish.session {
            Some(session) => session.clone(),
            None => today(program, self.history, self.now),
        };
        let (Drawn(plan, mut remarks, plates), boxed) = match wish.minutes {
            Some(minutes) => {
                let (drawn, boxed) = self.fitted((program, place, &today), minutes);
                (drawn, Some(boxed))
            }
            None => (self.plan(program, place, &today), None),
        };
        remarks.extend(boxed.as_ref().and_then(Boxed::told));
        let pace = Pace::of(self.history);
        let stacks = plates.stacks(&plan);
        let briefed = |(item, stacks): (&PlannedItem, &Vec<Option<SetStack>>)| BriefedItem {
            fetch: stack(item, stacks).unwrap_or_else(|| self.briefed(item, place).fetch),
            last: self.last(item),
            beside: beside(&self.at(place), item),
        };
        let items = plan.items.iter().zip(&stacks.sets).map(briefed).collect();
        let ease = self.ease(&plan, &self.at(place));
        Ok(Briefing {
            ease,
            others: others(program, &today),
            takes: whole(&plan, self.catalogue, (pace, &stacks)),
            savings: savings(&plan, &plates, &self.at(place), &stacks),
            stacks,
            today,
            plan,
            items,
            pace,
            remarks,
            boxed,
        })
    }

    /// What is told of a plan that was made before: a session that was left open.
    pub fn of_plan(&self, plan: &Plan) -> Briefing {
        let place = self.places.iter().find(|place| place.id == plan.place);
        let items = plan.items.iter().map(|item| match place {
            Some(place) => self.briefed(item, place),
            None => BriefedItem {
                last: self.last(item),
                fetch: String::new(),
                beside: Beside::default(),
            },
        });
        let pace = Pace::of(self.history);
        let plates = place.map(|place| Plates::of(place, self.catalogue, plan));
        let stacks = plates
            .as_ref()
            .map(|plates| plates.stacks(plan))
            .unwrap_or_default();
        let here = place.zip(plates);
        let saved = here.map(|(p, plates)| savings(plan, &plates, &self.at(p), &stacks));
        let today = Today {
            phase: plan.phase,
            week: plan.week,
            day: plan.day,
            name: plan.day_name.clone(),
            easier_week: false,
            why: "it was left open".to_owned(),
        };
        Briefing {
            today,
            others: Vec::new(),
            items: items.collect(),
            takes: whole(plan, self.catalogue, (pace, &stacks)),
            stacks,
            savings: saved.unwrap_or_default(),
            plan: plan.clone(),
            pace,
            remarks: Vec::new(),
            boxed: None,
            ease: Ease::No,
        }
    }

    /// The plan of a session of a program at a place, what could not be planned, and the plates.
    pub(super) fn plan(&self, program: &Program, place: &'a Place, today: &Today) -> Drawn<'a> {
        let slots = slots_of(program, today);
        self.plan_of((program, place, today), &slots)
    }

    /// The same of these slots.
    pub(super) fn plan_of(
        &self,
        (program, place, today): (&Program, &'a Place, &Today),
        slots: &[Slot],
    ) -> Drawn<'a> {
        let phase = program.phases.get(usize::from(today.phase) - 1);
        let day = phase.and_then(|phase| phase.days.get(usize::from(today.day) - 1));
        let frame = Frame {
            easier_week: today.easier_week || self.taken().is_some(),
            first_week: today.phase == 1 && today.week == 1,
            ..Frame::default()
        };
        let mut plan = Plan {
            program: program.id.clone(),
            phase: today.phase,
            phase_name: phase.map(|phase| phase.name.clone()).unwrap_or_default(),
            week: today.week,
            weeks: phase.map_or(1, |phase| u16::from(phase.weeks)),
            day: today.day,
            day_name: day.map(|day| day.name.clone()).unwrap_or_default(),
            place: place.id.clone(),
            items: Vec::new(),
        };
        let mut remarks = Vec::new();
        for planned in plan_slots(&self.at(place), slots, frame) {
            match planned {
                Ok(item) => plan.items.push(item),
                Err(why) => remarks.push(why.to_string()),
            }
        }
        let plates = Plates::of(place, self.catalogue, &plan);
        remarks.extend(in_turn::part(&mut plan, &plates, self.catalogue));
        Drawn(plan, remarks, plates)
    }

    fn last(&self, item: &PlannedItem) -> Option<Outing> {
        self.history.outings(&item.exercise).last().cloned()
    }

    fn briefed(&self, item: &PlannedItem, place: &Place) -> BriefedItem {
        let load = item
            .sets
            .iter()
            .find(|set| set.kind != SetKind::Ramp)
            .map(|set| set.load);
        let made = self
            .catalogue
            .get(&item.exercise)
            .map(|exercise| place.makeable(exercise.implement()));
        let build = load
            .zip(made.as_ref())
            .and_then(|(load, made)| at(made, load));
        BriefedItem {
            last: self.last(item),
            fetch: build.map(fetch_of).unwrap_or_default(),
            beside: Beside::default(),
        }
    }
}

/// A plan, what could not be planned, and the plates.
pub(super) struct Drawn<'a>(pub Plan, pub Vec<String>, pub Plates<'a>);

/// What a session of the program asks for.
pub(super) fn slots_of(program: &Program, today: &Today) -> Vec<Slot> {
    let phase = program.phases.get(usize::from(today.phase) - 1);
    let day = phase.and_then(|phase| phase.days.get(usize::from(today.day) - 1));
    day.map(|day| day.in_week(today.week)).unwrap_or_default()
}

/// The plates of an item's first working set, as the whole session has them.
fn stack(item: &PlannedItem, stacks: &[Option<SetStack>]) -> Option<String> {
    let first = item.sets.iter().position(|set| set.kind != SetKind::Ramp)?;
    let stack = &stacks.get(first)?.as_ref()?.stack;
    (!stack.0.is_empty()).then(|| format!("{stack} each end"))
}

/// What to fetch for a load; nothing for the body alone.
fn fetch_of(made: &Makeable) -> String {
    match &made.build {
        Build::Body => String::new(),
        Build::Dumbbells { .. } | Build::Loaded { .. } | Build::Plate(_) | Build::Band { .. } => {
            made.build.to_string()
        }
    }
}
