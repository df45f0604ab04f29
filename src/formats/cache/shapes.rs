//! The shapes of what is kept of the past.

use super::codec::{Bytes, Kept, kept_enum, kept_names, kept_struct, put_text, take_text};
use crate::domain::exercise::{Counts, ExerciseId, Joint, Muscle, Sides};
use crate::domain::gear::PlaceId;
use crate::domain::history::{Adoption, Choices, History, Mark, Outing, Outings, PainReport, Told};
use crate::domain::program::{Ask, BackOff, Details, Policy, ProgramId, RestWindow, SlotId, Tempo};
use crate::domain::session::{
    Adopted, Asked, Boldness, Cell, Closed, Done, Ended, EventId, Experience, Item, Pain,
    Performed, Plan, PlannedItem, PlannedSet, Rest, RestKnown, Session, SetKind, SetRecord,
    Whereabouts,
};
use crate::domain::units::{
    BandStep, Civil, Load, Mass, Odds, Predicted, Reps, Seconds, Spare, Unit, Weight,
};
use chrono::{Datelike, NaiveDate};
use std::sync::Arc;

impl Kept for History {
    /// What acted on nothing decides on nothing, and is not kept.
    fn put(&self, out: &mut Vec<u8>) {
        let Self {
            sessions,
            forgotten,
            choices,
            pains,
            weighed,
            strays: _,
            outings,
        } = self;
        sessions.put(out);
        forgotten.put(out);
        choices.put(out);
        pains.put(out);
        weighed.put(out);
        outings.put(out);
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        Some(Self {
            sessions: Kept::take(from)?,
            forgotten: Kept::take(from)?,
            choices: Kept::take(from)?,
            pains: Kept::take(from)?,
            weighed: Kept::take(from)?,
            strays: Vec::new(),
            outings: Kept::take(from)?,
        })
    }
}

/// They stand in a piece, so that it can be put aside until somebody asks. It lies under the
/// checksum of the whole, written by this very program: what can be put aside can be read.
impl Kept for Outings {
    fn put(&self, out: &mut Vec<u8>) {
        let mut piece = Vec::new();
        self.told().put(&mut piece);
        piece.len().put(out);
        out.extend(piece);
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        let length = usize::take(from)?;
        let piece: Arc<[u8]> = from.split(length)?.into();
        let told = move || Told::take(&mut Bytes(&piece)).unwrap_or_default();
        Some(Self::recalled(Arc::new(told)))
    }
}

kept_struct! {
    Choices { body_weight, adopted, place, boldness, experience, eased_until }
    Adoption { adopted, said, after }
    Adopted { program, from, phase }
    PainReport { at, session, whereabouts, exercise }
    Told { forgotten, bests, kept }
    Outing { session, at, place, deload, ask, rest, planned, sets }
    Mark { load, is_hold, count }
    Session {
        id, opened, plan, items, order, sets, pains, notes, paused, closed, source,
        body_weight,
    }
    Pain { item, whereabouts }
    Closed { effort }
    Plan { program, phase, phase_name, week, weeks, day, day_name, place, items }
    PlannedItem {
        slot, exercise, sets, ask, rest, spare, tempo, policy, group, details, deload, odds,
        reason,
    }
    PlannedSet { kind, load, asked, feeler, open, predicted }
    Details { open_last, total, back_off, inside, sides, note }
    BackOff { sets, percent, ask }
    RestWindow { opens, closes }
    Tempo { lowering, bottom, lifting, top }
    Performed { id, at, record, damaged }
    SetRecord {
        item, exercise, counts, kind, number, load, done, asked, open, spare, rest, lifted, odds,
        predicted, ended,
    }
    Rest { seconds, known }
    Weight { mass, unit }
}

kept_enum! {
    Load { 0 Mass (weight) [weight], 1 Body (weight) [weight], 2 Band (step) [step] }
    Done {
        0 Reps (reps) [reps],
        1 RepsBySide { left, right } [left right],
        2 Held (seconds) [seconds],
        3 HeldBySide { left, right } [left right],
    }
    Asked { 0 Reps (reps) [reps], 1 Hold (seconds) [seconds] }
    Ask { 0 Reps { min, max } [min max], 1 Hold { min, max } [min max] }
    Cell { 0 ToCome (set) [set], 1 Skipped (set) [set], 2 Done (place) [place] }
    Whereabouts { 0 Joint (joint) [joint], 1 Muscle (muscle) [muscle], 2 Alarm {} [] }
    Counts {
        0 PerHand {} [],
        1 OneDumbbell {} [],
        2 BarTotal {} [],
        3 Body { percent } [percent],
        4 BodyPlus { percent } [percent],
        5 Band {} [],
    }
}

kept_names! {
    Unit { Kg, Lb }
    SetKind { Ramp, Working, BackOff }
    Ended { AsAsked, Short, OnPurpose, Interrupted }
    RestKnown { Measured, Estimated }
    Policy { ByOdds, DoubleProgression, TwoForTwo }
    Sides { Both, Each, Alternating }
    Boldness { Bold, Steady, Cautious }
    Experience { Novice, Intermediate, Returning }
    Joint { Neck, Shoulder, Elbow, Wrist, UpperBack, LowerBack, Hip, Knee, Ankle }
    Muscle {
        Chest, FrontDeltoid, SideDeltoid, RearDeltoid, Triceps, Biceps, Forearms, Lats, UpperBack,
        Trapezius, SpinalErectors, Abdominals, Obliques, Glutes, Quadriceps, Hamstrings, Adductors,
        Abductors, HipFlexors, Calves,
    }
}

impl Kept for Item {
    fn put(&self, out: &mut Vec<u8>) {
        self.planned.put(out);
        self.cells.put(out);
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        Some(Self::with_cells(Kept::take(from)?, Kept::take(from)?))
    }
}

/// Values that are kept as another one, which may not be every value of its type.
macro_rules! kept_as {
    ($($type:ty as $other:ty: $to:expr, $back:expr;)+) => {
        $(impl Kept for $type {
            fn put(&self, out: &mut Vec<u8>) {
                let to: fn(&$type) -> $other = $to;
                to(self).put(out);
            }

            fn take(from: &mut Bytes<'_>) -> Option<Self> {
                let back: fn($other) -> Option<$type> = $back;
                back(Kept::take(from)?)
            }
        })+
    };
}

/// Odds are whole ten-thousandths.
const PARTS: f64 = 10_000.0;

kept_as! {
    Mass as i64: |mass| mass.ng(), |ng| Some(Self::from_ng(ng));
    BandStep as u8: |step| step.0, |step| Some(Self(step));
    Reps as u32: |reps| reps.get(), |count| Self::new(count).ok();
    Seconds as u32: |seconds| seconds.get(), |count| Self::new(count).ok();
    Spare as u32: |spare| spare.get(), |count| Self::new(count).ok();
    Odds as u64: |odds| (odds.chance() * PARTS).round() as u64,
        |parts| Some(Self::nearest(parts as f64 / PARTS));
    Predicted as u64: |predicted| (predicted.count() * 10.0).round() as u64,
        |tenths| Some(Self::nearest(tenths as f64 / 10.0));
    NaiveDate as i64: |date| date.num_days_from_ce().into(),
        |days| Self::from_num_days_from_ce_opt(days.try_into().ok()?);
    Civil as (i64, i64): |at| at.parts(), |(millis, offset)| Self::of_parts(millis, offset);
}

/// Names, and ids that are texts.
macro_rules! kept_texts {
    ($($type:ty: $as_text:expr, $back:expr;)+) => {
        $(impl Kept for $type {
            fn put(&self, out: &mut Vec<u8>) {
                let as_text: fn(&$type) -> &str = $as_text;
                put_text(as_text(self), out);
            }

            fn take(from: &mut Bytes<'_>) -> Option<Self> {
                let back: fn(&str) -> Option<$type> = $back;
                back(take_text(from)?)
            }
        })+
    };
}

kept_texts! {
    EventId: |id| &id.0, |text| Some(Self(text.to_owned()));
    SlotId: |id| &id.0, |text| Some(Self(text.to_owned()));
    ExerciseId: |id| id.as_str(), |text| Self::new(text);
    PlaceId: |id| id.as_str(), |text| Self::new(text);
    ProgramId: |id| id.as_str(), |text| Self::new(text);
}
