//! A whole program before it is done: week by week, what each session asks for and how long it
//! takes, and the hard sets of each muscle.

use super::briefing::Drawn;
use super::{Material, Today};
use crate::domain::advice::easier_sets;
use crate::domain::exercise::{ExerciseId, Muscle};
use crate::domain::gear::Place;
use crate::domain::program::{Phase, Program, Rhythm, Slot, hard_sets};
use crate::domain::session::{PlannedItem, PlannedSet, SetKind};
use crate::domain::units::{Load, Seconds};
use std::collections::BTreeMap;

/// A whole program before it is done.
#[derive(Clone, PartialEq, Debug)]
pub struct Preview {
    /// Its weeks, in order.
    pub weeks: Vec<PreviewWeek>,
}

/// A week of it.
#[derive(Clone, PartialEq, Debug)]
pub struct PreviewWeek {
    /// Its phase, from 1.
    pub phase: u16,
    /// The week of the phase, from 1.
    pub week: u16,
    /// Whether it is an easier one.
    pub easier: bool,
    /// Its sessions, in order.
    pub sessions: Vec<PreviewSession>,
    /// Hard sets of the week by muscle.
    pub muscles: BTreeMap<Muscle, f64>,
}

/// A session of it.
#[derive(Clone, PartialEq, Debug)]
pub struct PreviewSession {
    /// The day of the phase, from 1.
    pub day: u16,
    /// What it is called.
    pub name: String,
    /// How long it takes this lifter at the place.
    pub takes: Seconds,
    /// Its exercises, in order.
    pub items: Vec<PreviewItem>,
}

/// An exercise of a session.
#[derive(Clone, PartialEq, Debug)]
pub struct PreviewItem {
    /// What the program asks for in that week.
    pub slot: Slot,
    /// What is done at this place; none where it cannot be done.
    pub here: Option<ExerciseId>,
    /// What it would be done with today, where the journal knows.
    pub load: Option<Load>,
}

impl<'a> Material<'a> {
    /// The program week by week, at the lifter's place, with loads as they would be today.
    ///
    /// # Errors
    ///
    /// The lifter's place is not known, in words.
    pub fn preview(&self, program: &Program) -> Result<Preview, String> {
        let place = self.place(&self.lifter.place)?;
        let mut known: Vec<(Today, Vec<Slot>, PreviewSession)> = Vec::new();
        let mut weeks = Vec::new();
        for (k, phase) in program.phases.iter().enumerate() {
            let number = u16::try_from(k + 1).unwrap_or(u16::MAX);
            let mut turn = 0;
            for week in 1..=u16::from(phase.weeks) {
                let days = days_of(program, phase, &mut turn);
                let easier = phase.is_easier(week);
                let mut sessions = Vec::new();
                for day in days {
                    let today = at((number, week, day), easier);
                    let slots = slots_of(phase, &today);
                    let same = |(other, had, _): &&(Today, Vec<Slot>, PreviewSession)| {
                        *had == slots && other.easier_week == easier && other.day == today.day
                    };
                    let session = match known.iter().find(same) {
                        Some((_, _, session)) => session.clone(),
                        None => {
                            let session = self.session(program, place, (&today, &slots));
                            known.push((today, slots, session.clone()));
                            session
                        }
                    };
                    sessions.push(session);
                }
                weeks.push(PreviewWeek {
                    phase: number,
                    week,
                    easier,
                    muscles: self.muscles(&sessions),
                    sessions,
                });
            }
        }
        Ok(Preview { weeks })
    }

    fn muscles(&self, sessions: &[PreviewSession]) -> BTreeMap<Muscle, f64> {
        let items = sessions.iter().flat_map(|session| &session.items);
        hard_sets(
            self.catalogue,
            items.map(|item| (&item.slot, item.slot.hard_sets())),
        )
    }

    fn session(
        &self,
        program: &Program,
        place: &'a Place,
        (today, slots): (&Today, &[Slot]),
    ) -> PreviewSession {
        let Drawn(mut plan, _, plates) = self.plan(program, place, today);
        let mut items = Vec::new();
        for slot in slots {
            let item = plan.items.iter_mut().find(|item| item.slot == slot.id);
            let here = item.as_ref().map(|item| item.exercise.clone());
            let known = |item: &PlannedItem| !self.history.outings(&item.exercise).is_empty();
            let load = item.as_deref().filter(|item| known(item)).and_then(working);
            if let Some(item) = item {
                as_the_program_says(item, slot);
            }
            let slot = slot.clone();
            items.push(PreviewItem { slot, here, load });
        }
        PreviewSession {
            day: today.day,
            name: plan.day_name.clone(),
            takes: self.time_of(&plan, &plates),
            items,
        }
    }
}

fn at((phase, week, day): (u16, u16, u16), easier_week: bool) -> Today {
    Today {
        phase,
        week,
        day,
        name: String::new(),
        easier_week,
        why: String::new(),
    }
}

/// The days of the week that comes, by number; `turn` counts the sessions of the phase.
fn days_of(program: &Program, phase: &Phase, turn: &mut usize) -> Vec<u16> {
    let days = phase.days.len().max(1);
    let number = |place: usize| u16::try_from(place % days + 1).unwrap_or(1);
    match &program.rhythm {
        Rhythm::Weekdays(_) => (0..days).map(number).collect(),
        Rhythm::Rotation { .. } | Rhythm::Every { .. } => {
            let from = *turn;
            *turn += program.rhythm.per_week();
            (from..*turn).map(number).collect()
        }
    }
}

/// The slots of a session, with the sets of an easier week where it is one.
fn slots_of(phase: &Phase, today: &Today) -> Vec<Slot> {
    let day = phase.days.get(usize::from(today.day) - 1);
    let mut slots = day.map(|day| day.in_week(today.week)).unwrap_or_default();
    if today.easier_week {
        for slot in &mut slots {
            slot.sets = easier_sets(slot.sets);
            slot.details.open_last = false;
            if let Some(back_off) = &mut slot.details.back_off {
                back_off.sets /= 2;
            }
        }
    }
    slots
}

/// The load of the first working set, where it is not still to be felt for.
fn working(item: &PlannedItem) -> Option<Load> {
    let set = item.sets.iter().find(|set| set.kind == SetKind::Working)?;
    (!set.feeler).then_some(set.load)
}

/// The sets that the program asks for, whatever today would make of them; ramp sets stay.
fn as_the_program_says(item: &mut PlannedItem, slot: &Slot) {
    let of = |kind| item.sets.iter().rfind(|set| set.kind == kind).cloned();
    let (working, behind) = (of(SetKind::Working), of(SetKind::BackOff));
    let mut sets: Vec<PlannedSet> = item.sets.clone();
    sets.retain(|set| set.kind == SetKind::Ramp);
    sets.extend(working.iter().cycle().take(slot.sets.into()).cloned());
    let back_off = slot.details.back_off.map_or(0, |back_off| back_off.sets);
    sets.extend(behind.iter().cycle().take(back_off.into()).cloned());
    item.sets = sets;
}
