//! Events out of thin air: every kind, every field, for tests that must hold for all of them.

use chrono::{DateTime, FixedOffset, NaiveDate};
use proptest::option::of;
use proptest::prelude::*;
use rackside::domain::exercise::{Counts, ExerciseId, Joint, Muscle};
use rackside::domain::gear::PlaceId;
use rackside::domain::program::{
    Ask, BackOff, Details, Policy, ProgramId, RestWindow, SlotId, Tempo,
};
use rackside::domain::session::{
    Adopted, Amendment, Asked, Boldness, Choice, Closed, Done, Ended, Event, EventId, Experience,
    ImportEnded, ImportPart, Imported, Opened, Pain, Plan, PlannedItem, PlannedSet, Rest,
    RestKnown, SetKind, SetRecord, Stamped, Whereabouts,
};
use rackside::domain::units::{
    BandStep, Civil, Load, Mass, Odds, Predicted, Reps, Seconds, Spare, Unit, Weight,
};

fn pick<T: Clone + std::fmt::Debug + 'static>(all: &[T]) -> impl Strategy<Value = T> + use<T> {
    prop::sample::select(all.to_vec())
}

/// Any mass that the program takes, to the nanogram.
pub fn weight() -> impl Strategy<Value = Weight> {
    let max = Mass::MAX.ng();
    let mass = prop_oneof![
        -max..=max,
        (-4000_i64..=4000).prop_map(|k| k * Unit::Kg.nanograms() / 4),
        (-4000_i64..=4000).prop_map(|k| k * Unit::Lb.nanograms() / 16),
    ];
    (mass, pick(&[Unit::Kg, Unit::Lb])).prop_map(|(ng, unit)| Weight::new(Mass::from_ng(ng), unit))
}

pub fn load() -> impl Strategy<Value = Load> {
    prop_oneof![
        weight().prop_map(Load::Mass),
        weight().prop_map(Load::Body),
        Just(Load::body(Unit::Kg)),
        any::<u8>().prop_map(|step| Load::Band(BandStep(step))),
    ]
}

/// Any time of the years 0 to 9999 with an offset in whole minutes.
pub fn civil() -> impl Strategy<Value = Civil> {
    let span = -62_135_000_000_000_i64..253_402_000_000_000;
    (span, -23 * 60..23 * 60).prop_map(|(millis, minutes)| {
        let offset = FixedOffset::east_opt(minutes * 60).expect("an offset");
        let at = DateTime::from_timestamp_millis(millis).expect("a time");
        Civil::new(at.with_timezone(&offset))
    })
}

fn date() -> impl Strategy<Value = NaiveDate> {
    (0_i32..3_000_000).prop_map(|day| NaiveDate::from_num_days_from_ce_opt(day).expect("a day"))
}

fn reps() -> impl Strategy<Value = Reps> {
    (Reps::MIN..=Reps::MAX).prop_map(Reps::clamped)
}

fn seconds() -> impl Strategy<Value = Seconds> {
    (Seconds::MIN..=Seconds::MAX).prop_map(Seconds::clamped)
}

fn spare() -> impl Strategy<Value = Spare> {
    (Spare::MIN..=Spare::MAX).prop_map(Spare::clamped)
}

fn odds() -> impl Strategy<Value = Odds> {
    (0.0..=1.0).prop_map(Odds::nearest)
}

fn predicted() -> impl Strategy<Value = Predicted> {
    (0.0..=Predicted::MAX).prop_map(Predicted::nearest)
}

fn counts() -> impl Strategy<Value = Counts> {
    prop_oneof![
        pick(&[
            Counts::PerHand,
            Counts::OneDumbbell,
            Counts::BarTotal,
            Counts::Band
        ]),
        any::<u8>().prop_map(|percent| Counts::Body { percent }),
        any::<u8>().prop_map(|percent| Counts::BodyPlus { percent }),
    ]
}

fn done() -> impl Strategy<Value = Done> {
    prop_oneof![
        reps().prop_map(Done::Reps),
        (reps(), reps()).prop_map(|(left, right)| Done::RepsBySide { left, right }),
        seconds().prop_map(Done::Held),
        (seconds(), seconds()).prop_map(|(left, right)| Done::HeldBySide { left, right }),
    ]
}

fn asked() -> impl Strategy<Value = Asked> {
    prop_oneof![
        reps().prop_map(Asked::Reps),
        seconds().prop_map(Asked::Hold)
    ]
}

fn kind() -> impl Strategy<Value = SetKind> {
    pick(&[SetKind::Ramp, SetKind::Working, SetKind::BackOff])
}

fn ended() -> impl Strategy<Value = Ended> {
    pick(&[
        Ended::AsAsked,
        Ended::Short,
        Ended::OnPurpose,
        Ended::Interrupted,
    ])
}

fn rest() -> impl Strategy<Value = Rest> {
    (
        seconds(),
        pick(&[RestKnown::Measured, RestKnown::Estimated]),
    )
        .prop_map(|(seconds, known)| Rest { seconds, known })
}

fn exercise() -> impl Strategy<Value = ExerciseId> {
    "[a-z0-9_]{1,64}".prop_map(|name| ExerciseId::new(&name).expect("a name"))
}

pub fn set_record() -> impl Strategy<Value = SetRecord> {
    let what = (any::<u16>(), exercise(), counts(), kind(), any::<u16>());
    let how = (load(), done(), asked(), of(spare()), of(rest()));
    let stated = (of(odds()), of(predicted()), any::<bool>());
    (what, how, of(seconds()), stated, ended()).prop_map(|(what, how, lifted, stated, ended)| {
        let (item, exercise, counts, kind, number) = what;
        let (load, done, asked, spare, rest) = how;
        let (odds, predicted, open) = stated;
        SetRecord {
            item,
            exercise,
            counts,
            kind,
            number,
            load,
            done,
            asked,
            open,
            spare,
            rest,
            lifted,
            odds,
            predicted,
            ended,
        }
    })
}

fn planned_set() -> impl Strategy<Value = PlannedSet> {
    let flags = any::<[bool; 2]>();
    (kind(), load(), asked(), flags, of(predicted())).prop_map(
        |(kind, load, asked, [feeler, open], predicted)| PlannedSet {
            kind,
            load,
            asked,
            feeler,
            open,
            predicted,
        },
    )
}

fn ask() -> impl Strategy<Value = Ask> {
    prop_oneof![
        (reps(), reps()).prop_map(|(min, max)| Ask::Reps { min, max }),
        (seconds(), seconds()).prop_map(|(min, max)| Ask::Hold { min, max }),
    ]
}

fn tempo() -> impl Strategy<Value = Tempo> {
    (any::<u8>(), any::<u8>(), of(any::<u8>()), any::<u8>()).prop_map(
        |(lowering, bottom, lifting, top)| Tempo {
            lowering,
            bottom,
            lifting,
            top,
        },
    )
}

fn details() -> impl Strategy<Value = Details> {
    use rackside::domain::exercise::Sides;
    let back_off = (any::<[u8; 2]>(), ask());
    let back_off = back_off.prop_map(|([sets, percent], ask)| BackOff { sets, percent, ask });
    let inside = (seconds(), seconds()).prop_map(|(opens, closes)| RestWindow { opens, closes });
    let sides = pick(&[Sides::Both, Sides::Each, Sides::Alternating]);
    let rest = (of(inside), of(sides), any::<String>());
    (any::<bool>(), of(reps()), of(back_off), rest).prop_map(
        |(open_last, total, back_off, (inside, sides, note))| Details {
            open_last,
            total,
            back_off,
            inside,
            sides,
            note,
        },
    )
}

fn planned_item() -> impl Strategy<Value = PlannedItem> {
    let what = (any::<String>(), exercise(), ask(), (seconds(), seconds()));
    let sets = prop::collection::vec(planned_set(), 0..4);
    let group = (of(any::<u8>()), details());
    let how = (of(spare()), of(tempo()), group, any::<bool>());
    let policy = pick(&[Policy::DoubleProgression, Policy::TwoForTwo]);
    (what, sets, how, policy, of(odds()), any::<String>()).prop_map(
        |(what, sets, how, policy, odds, reason)| {
            let (slot, exercise, ask, (opens, closes)) = what;
            let (spare, tempo, (group, details), deload) = how;
            PlannedItem {
                slot: SlotId(slot),
                exercise,
                sets,
                ask,
                rest: RestWindow { opens, closes },
                spare,
                tempo,
                policy,
                group,
                details,
                deload,
                odds,
                reason,
            }
        },
    )
}

fn plan() -> impl Strategy<Value = Plan> {
    let numbers = any::<[u16; 4]>();
    let items = prop::collection::vec(planned_item(), 0..3);
    let names = (any::<String>(), any::<String>(), exercise(), exercise());
    (numbers, items, names).prop_map(|([phase, week, weeks, day], items, names)| {
        let (phase_name, day_name, program, place) = names;
        Plan {
            program: ProgramId::new(program.as_str()).expect("a name"),
            phase,
            phase_name,
            week,
            weeks,
            day,
            day_name,
            place: PlaceId::new(place.as_str()).expect("a name"),
            items,
        }
    })
}

fn whereabouts() -> impl Strategy<Value = Whereabouts> {
    let joints = [Joint::Neck, Joint::LowerBack, Joint::Ankle];
    let muscles = [Muscle::Chest, Muscle::UpperBack, Muscle::Calves];
    prop_oneof![
        pick(&joints).prop_map(Whereabouts::Joint),
        pick(&muscles).prop_map(Whereabouts::Muscle),
        Just(Whereabouts::Alarm),
    ]
}

fn choice() -> impl Strategy<Value = Choice> {
    let boldness = [Boldness::Bold, Boldness::Steady, Boldness::Cautious];
    let experience = [
        Experience::Novice,
        Experience::Intermediate,
        Experience::Returning,
    ];
    prop_oneof![
        exercise().prop_map(|e| Choice::Place(PlaceId::new(e.as_str()).expect("a name"))),
        pick(&boldness).prop_map(Choice::Boldness),
        pick(&experience).prop_map(Choice::Experience),
    ]
}

pub fn amendment() -> impl Strategy<Value = Amendment> {
    (of(load()), of(done()), of(spare()), of(ended())).prop_map(|(load, done, spare, ended)| {
        Amendment {
            load,
            done,
            spare,
            ended,
        }
    })
}

/// Any id that this program would give.
pub fn id() -> impl Strategy<Value = EventId> {
    "[a-z0-9]{6}-[a-z0-9]{6}-[0-9]{4}".prop_map(EventId)
}

fn imported() -> impl Strategy<Value = Imported> {
    let sets = prop::collection::vec(set_record(), 0..3);
    let part = (id(), any::<u32>()).prop_map(|(import, days)| ImportPart { import, days });
    let notes = prop::collection::vec(any::<String>(), 0..3);
    let day = (
        of(part),
        of(0_u8..=10),
        of(any::<u32>()),
        of(weight()),
        notes,
    );
    let whole = (date(), any::<String>(), sets, day);
    whole.prop_map(|(date, source, sets, day)| {
        let (part, effort, minutes, body_weight, notes) = day;
        Imported {
            date,
            source,
            sets,
            part,
            effort,
            minutes,
            body_weight,
            notes,
        }
    })
}

fn adopted() -> impl Strategy<Value = Adopted> {
    (exercise(), date(), any::<u16>()).prop_map(|(name, from, phase)| Adopted {
        program: ProgramId::new(name.as_str()).expect("a name"),
        from,
        phase,
    })
}

/// Any event.
pub fn event() -> impl Strategy<Value = Event> {
    let item = any::<u16>();
    prop_oneof![
        plan().prop_map(|plan| Event::Opened(Box::new(Opened { plan }))),
        set_record().prop_map(|set| Event::Set(Box::new(set))),
        (id(), spare()).prop_map(|(set, spare)| Event::Spare { set, spare }),
        (item, any::<bool>()).prop_map(|(item, whole)| Event::Skipped { item, whole }),
        item.prop_map(|item| Event::PutOff { item }),
        (item, planned_item()).prop_map(|(item, with)| Event::Swapped {
            item,
            with: Box::new(with)
        }),
        (item, planned_set()).prop_map(|(item, set)| Event::Added { item, set }),
        (of(item), whereabouts())
            .prop_map(|(item, whereabouts)| Event::Pain(Pain { item, whereabouts })),
        any::<String>().prop_map(|text| Event::Note { text }),
        Just(Event::Paused),
        Just(Event::Resumed),
        of(0_u8..=10).prop_map(|effort| Event::Closed(Closed { effort })),
        weight().prop_map(Event::BodyWeight),
        adopted().prop_map(Event::Adopted),
        choice().prop_map(Event::Chose),
        of(date()).prop_map(|until| Event::Eased { until }),
        imported().prop_map(|day| Event::Imported(Box::new(day))),
        (any::<String>(), any::<u32>())
            .prop_map(|(source, days)| Event::ImportEnded(ImportEnded { source, days })),
        (id(), amendment()).prop_map(|(target, change)| Event::Amended { target, change }),
        id().prop_map(|target| Event::Voided { target }),
    ]
}

/// Any event with its place in the order. An opening event belongs to its own session.
pub fn stamped() -> impl Strategy<Value = Stamped> {
    (id(), 0_u64..=1 << 53, of(id()), civil(), event()).prop_map(|(id, n, session, at, event)| {
        let session = match event {
            Event::Opened(_) => Some(id.clone()),
            _ => session,
        };
        Stamped {
            id,
            n,
            session,
            at,
            event,
        }
    })
}
