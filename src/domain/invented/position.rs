//! A place in the program, and the one after it.

use crate::domain::program::{Phase, Program, Slot};

/// Sessions that make a week of the program.
const A_WEEK: u8 = 3;

/// A session's place in the program.
#[derive(Clone, Copy, Debug)]
pub struct Position {
    /// Phase, from 0.
    pub phase: usize,
    /// Week of the phase, from 1.
    pub week: u8,
    /// Day of the phase, from 0.
    pub day: usize,
    /// Sessions of this week so far.
    in_week: u8,
}

impl Position {
    /// Where the program begins.
    pub const BEGINNING: Self = Self::phase(0);

    const fn phase(phase: usize) -> Self {
        Self {
            phase,
            week: 1,
            day: 0,
            in_week: 0,
        }
    }

    /// The phase itself.
    pub fn of(self, program: &Program) -> Option<&Phase> {
        program.phases.get(self.phase)
    }

    /// Whether the week is an easier one.
    pub fn is_easier(self, program: &Program) -> bool {
        self.of(program)
            .is_some_and(|phase| phase.easier_weeks.contains(&self.week))
    }

    /// The slots of the session with their sets: half of them, and one, in an easier week.
    pub fn slots(self, program: &Program) -> impl Iterator<Item = (&Slot, u8)> {
        let easier = self.is_easier(program);
        let day = self.of(program).and_then(|phase| phase.days.get(self.day));
        let slots = day.map_or(&[][..], |day| &day.slots);
        let sets = move |slot: &Slot| {
            if easier {
                slot.sets.min(slot.sets / 2 + 1)
            } else {
                slot.sets
            }
        };
        slots.iter().map(move |slot| (slot, sets(slot)))
    }

    /// The next session: days in turn, three a week; after the last phase the first again.
    pub fn after(self, program: &Program) -> Self {
        let Some(phase) = self.of(program) else {
            return self;
        };
        let day = (self.day + 1) % phase.days.len().max(1);
        if self.in_week + 1 < A_WEEK {
            let in_week = self.in_week + 1;
            return Self {
                day,
                in_week,
                ..self
            };
        }
        if self.week < phase.weeks {
            return Self {
                phase: self.phase,
                week: self.week + 1,
                day,
                in_week: 0,
            };
        }
        Self::phase((self.phase + 1) % program.phases.len().max(1))
    }
}

/// How many sessions hold so many sets.
pub fn sessions_for(sets: u64, program: &Program) -> u64 {
    let mut position = Position::BEGINNING;
    let (mut held, mut sessions) = (0, 0);
    while held < sets {
        let these: u64 = position.slots(program).map(|(_, n)| u64::from(n)).sum();
        held += these.max(1);
        sessions += 1;
        position = position.after(program);
    }
    sessions
}
