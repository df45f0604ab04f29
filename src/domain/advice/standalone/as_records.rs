//! A script's numbers as the records that the rails read.

use super::super::past::{Exposure, Past, When};
use super::{PastSession, PastSet, Question};
use crate::domain::exercise::{
    Coaching, Counts, Effort, Exercise, ExerciseId, GivesWay, Pattern, Role, Sides,
};
use crate::domain::program::{Ask, Details, Policy, RestWindow, Slot, SlotId};
use crate::domain::session::{Asked, Done, Ended, EventId, SetKind, SetRecord};
use crate::domain::units::{Civil, Load, Mass, Reps, Seconds, Spare, Unit, Weight};

/// The name of an exercise that no catalogue knows.
const ALONE: &str = "alone";

pub fn load_of(kg: f64) -> Option<Load> {
    let mass = Mass::nearest(kg, Unit::Kg)?;
    Some(Load::Mass(Weight::new(mass, Unit::Kg)))
}

pub fn civil(day: i64) -> Option<Civil> {
    let start = Civil::parse("2000-01-01T12:00:00+00:00")?;
    Some(start.plus(day.clamp(-1_000_000, 1_000_000) * 86_400_000))
}

pub fn past_of(question: &Question) -> Past {
    let mut past = Past {
        exposures: Vec::new(),
        easier: Vec::new(),
        trained: Vec::new(),
    };
    for (number, session) in question.history.iter().enumerate() {
        let Some(at) = civil(session.day) else {
            continue;
        };
        past.trained.push(at);
        let records: Vec<SetRecord> = session.sets.iter().filter_map(record_of).collect();
        let records: Vec<&SetRecord> = records.iter().collect();
        let when = When {
            session: EventId(number.to_string()),
            at,
            place: None,
        };
        let least = Some(question.plan.least);
        let easier = session.sets.iter().any(|set| set.deload);
        if let Some(exposure) = Exposure::digest(when, &records, least, None) {
            let rest = rest_of(session);
            let exposure = Exposure { rest, ..exposure };
            if easier {
                past.easier.push(exposure);
            } else {
                past.exposures.push(exposure);
            }
        }
    }
    past
}

/// The longest rest of a session, where rests are known.
fn rest_of(session: &PastSession) -> Option<u32> {
    let rests = session.sets.iter().filter_map(|set| set.rest);
    rests.reduce(f64::max).map(|rest| libm::round(rest) as u32)
}

fn record_of(set: &PastSet) -> Option<SetRecord> {
    let spare = set
        .spare
        .map(|spare| Spare::clamped(libm::floor(spare.clamp(0.0, 9.0)) as u32));
    let on_purpose = set.reps < set.target && spare.is_some_and(|spare| spare.get() > 0);
    Some(SetRecord {
        item: 0,
        exercise: ExerciseId::new(ALONE)?,
        counts: Counts::OneDumbbell,
        kind: SetKind::Working,
        number: 1,
        load: load_of(set.load)?,
        done: Done::Reps(Reps::clamped(set.reps)),
        asked: Asked::Reps(Reps::clamped(set.target)),
        open: set.open,
        spare,
        rest: None,
        lifted: None,
        odds: None,
        predicted: None,
        ended: match (set.reps >= set.target, on_purpose) {
            (true, _) => Ended::AsAsked,
            (false, true) => Ended::OnPurpose,
            (false, false) => Ended::Short,
        },
    })
}

pub fn slot_of(question: &Question) -> Option<Slot> {
    let rest = Seconds::clamped(question.plan.rest);
    Some(Slot {
        id: SlotId(String::new()),
        exercise: ExerciseId::new(ALONE)?,
        sets: u8::try_from(question.plan.sets).unwrap_or(u8::MAX),
        ask: Ask::Reps {
            min: Reps::clamped(question.plan.least),
            max: Reps::clamped(question.plan.most),
        },
        rest: RestWindow {
            opens: rest,
            closes: rest,
        },
        spare: question.plan.spare.map(Spare::clamped),
        tempo: None,
        policy: Policy::DoubleProgression,
        group: None,
        wave: Vec::new(),
        details: Details::default(),
    })
}

/// An exercise of which no more is known than what a failed rep does: where that is put down, its
/// reps may go as far above the range as those of an isolation exercise.
pub fn exercise_of(question: &Question) -> Option<Exercise> {
    Some(Exercise {
        id: ExerciseId::new(ALONE)?,
        name: question.exercise.clone(),
        role: Role::Isolation,
        pattern: Pattern::PushAcross,
        prime: Vec::new(),
        assisting: Vec::new(),
        joints: Vec::new(),
        loads_spine: false,
        loads_grip: false,
        technical: false,
        gives_way: question.gives_way,
        needs: Vec::new(),
        counts: match question.gives_way {
            GivesWay::PutDown => Counts::OneDumbbell,
            GivesWay::Pins => Counts::BarTotal,
        },
        sides: Sides::Both,
        effort: Effort::Reps,
        setup: Seconds::clamped(0),
        stand_ins: Vec::new(),
        easier: None,
        harder: None,
        coaching: Coaching::default(),
    })
}
