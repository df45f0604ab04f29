//! Digests, weeks and records, against numbers worked out by hand and published formulas.

use crate::published::table;
use crate::rig::written::{Written, Wrote, id};
use chrono::NaiveDate;
use rackside::domain::exercise::Muscle;
use rackside::domain::logbook::Logbook;
use rackside::domain::logbook::foster::Foster;
use rackside::domain::logbook::records::{Records, Work};
use rackside::domain::logbook::week::Week;
use rackside::domain::session::{Done, Event, SetKind};
use rackside::domain::strength::equations::Equation;
use rackside::domain::units::{Mass, Reps, Unit};

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a day")
}

fn kilograms(mass: Mass) -> f64 {
    (mass.kg() * 1000.0).round() / 1000.0
}

fn logbook(written: &Written) -> Logbook {
    Logbook::of(&written.history(), &written.catalogue, None)
}

/// A Monday with every kind of set.
fn monday() -> Written {
    let mut written = Written::new();
    let press = |kg, reps| Wrote::work("dumbbell_bench_press", kg, reps);
    let row = Wrote {
        done: Done::RepsBySide {
            left: Reps::clamped(10),
            right: Reps::clamped(8),
        },
        ..Wrote::work("one_arm_row", 22.5, 10)
    };
    let session = written.session(
        "2026-11-23T18:00:00+01:00",
        60,
        &[
            press(10.0, 8).kind(SetKind::Ramp),
            press(20.0, 10).spare(2),
            press(20.0, 8).spare(5),
            press(20.0, 6).spare(4),
            press(16.0, 12).kind(SetKind::BackOff),
            press(20.0, 0),
            row,
            Wrote::work("plank", 0.0, 1).body(0.0).held(45),
        ],
    );
    written.close(&session, 5);
    written
}

/// By hand: of the presses, 10 with 2 spare, 6 with 4 spare and the back-off set are hard; 5 spare
/// is too many, a ramp set and a set of no rep are none.
#[test]
fn a_hard_set_is_work_with_four_spare_at_most() {
    let logbook = logbook(&monday());
    let session = &logbook.sessions[0];
    let hard: Vec<u32> = session.exercises.iter().map(|digest| digest.hard).collect();
    assert_eq!(hard, [3, 1, 1]);
    assert_eq!(session.hard(), 5);
    assert_eq!(
        (session.minutes, session.effort, session.load()),
        (Some(60), Some(5), Some(300))
    );
    let week = Week::of(day("2026-11-23"));
    let weeks = logbook.weeks((week, week), &monday().catalogue, day("2026-11-24"));
    let hard = |muscle| weeks[0].hard.get(&muscle).copied().unwrap_or(0.0);
    // Presses: chest whole, triceps and front deltoid half; the row: lats and upper back whole.
    assert_eq!(hard(Muscle::Chest), 3.0);
    assert_eq!(hard(Muscle::Triceps), 1.5);
    assert_eq!(hard(Muscle::Lats), 1.0);
    assert_eq!(hard(Muscle::Biceps), 0.5);
    assert_eq!(hard(Muscle::Abdominals), 1.0);
    assert_eq!(hard(Muscle::Calves), 0.0);
}

/// By hand: two dumbbells of 20 kg for 10 + 8 + 6 reps and of 16 kg for 12, one of 22.5 kg for 10
/// and 8 reps; the plank moves nothing that is handled.
#[test]
fn volume_load_is_what_was_handled() {
    let logbook = logbook(&monday());
    let volume: Vec<f64> = logbook.sessions[0]
        .exercises
        .iter()
        .map(|digest| kilograms(digest.volume))
        .collect();
    assert_eq!(
        volume,
        [2.0 * (20.0 * 24.0 + 16.0 * 12.0), 22.5 * 18.0, 0.0]
    );
}

#[test]
fn deload_work_is_neither_hard_nor_evidence() {
    let mut written = Written::new();
    let sets = vec![Wrote::work("dumbbell_bench_press", 18.0, 8); 3];
    written.deload("2026-11-25T18:00:00+01:00", 40, &sets);
    let logbook = logbook(&written);
    let digest = &logbook.sessions[0].exercises[0];
    assert!(digest.deload);
    assert_eq!((digest.hard, kilograms(digest.volume)), (0, 864.0));
}

/// Epley 1985 and Brzycki 1993 by hand: 20 kg, 10 reps and 2 spare are twelve to failure, which is
/// more than ten; 6 and 4 spare are ten, at which both equations give 4/3 exactly.
#[test]
fn ten_reps_to_failure_at_most_enter_an_e1rm() {
    let logbook = logbook(&monday());
    let presses = &logbook.sessions[0].exercises[0];
    let epley: Vec<Option<f64>> = presses
        .sets
        .iter()
        .map(|set| set.one_rep_max(Equation::Epley))
        .collect();
    let told: Vec<usize> = (0..epley.len()).filter(|k| epley[*k].is_some()).collect();
    assert_eq!(told, [3]);
    for equation in [Equation::Epley, Equation::Brzycki] {
        let max = presses.one_rep_max(equation).expect("one");
        assert!((max - 20.0 * 4.0 / 3.0).abs() < 1e-9, "{max}");
    }
    // Of the row the lower side decides: 8 reps, Epley 22.5 (1 + 8/30).
    let row = logbook.sessions[0].exercises[1].one_rep_max(Equation::Epley);
    assert!((row.expect("one") - 28.5).abs() < 1e-9);
}

/// Pull-ups move 95 % of body weight (segment tables): of the weight said last before the day.
#[test]
fn body_weight_work_goes_by_the_body_weight_of_the_day() {
    let mut written = Written::new();
    let weigh = |written: &mut Written, at: &str, kg: f64| {
        let weight = crate::rig::training::weight(kg, Unit::Kg);
        let at = crate::rig::training::civil(at);
        written.write(None, at, Event::BodyWeight(weight));
    };
    let pull_up = Wrote::work("pull_up", 0.0, 1).body(10.0);
    written.session(
        "2026-01-05T18:00:00+01:00",
        30,
        std::slice::from_ref(&pull_up),
    );
    weigh(&mut written, "2026-02-01T08:00:00+01:00", 80.0);
    written.session(
        "2026-02-02T18:00:00+01:00",
        30,
        std::slice::from_ref(&pull_up),
    );
    weigh(&mut written, "2026-03-01T08:00:00+01:00", 70.0);
    written.session("2026-03-02T18:00:00+01:00", 30, &[pull_up]);
    let logbook = logbook(&written);
    let moved: Vec<f64> = logbook
        .of_exercise(&id("pull_up"))
        .map(|(_, digest)| digest.one_rep_max(Equation::Epley).expect("one"))
        .collect();
    assert_eq!(moved, [86.0, 86.0, 76.5]);
    assert_eq!(logbook.sessions[0].volume().kg(), 10.0);
}

/// The constructed week beside Foster 1998 and Foster et al. 2001.
#[test]
fn load_monotony_and_strain_are_fosters() {
    let rows = table("foster_example.csv");
    let load = |name: &str| {
        let row = rows.iter().find(|row| row.text("day") == name);
        row.expect("a row").number("load")
    };
    let days = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
    for row in rows.iter().take(7) {
        assert_eq!(
            row.number("load"),
            row.number("duration_min") * row.number("session_rpe")
        );
    }
    let foster = Foster::of(days.map(|day| load(day) as u32));
    assert_eq!(f64::from(foster.load), load("weekly_load"));
    let monotony = foster.monotony.expect("days differ");
    assert!((monotony - load("monotony_sample_sd")).abs() < 1e-6);
    let strain = foster.strain.expect("days differ");
    assert!((strain - load("strain_sample_sd")).abs() < 1e-4);
    assert_eq!(Foster::of([300; 7]).monotony, None);
}

/// The same week, recorded session by session.
#[test]
fn a_recorded_week_gives_the_same() {
    let mut written = Written::new();
    for (date, minutes, effort) in [
        ("2026-11-16", 60, 5),
        ("2026-11-18", 45, 6),
        ("2026-11-20", 60, 7),
        ("2026-11-21", 30, 3),
    ] {
        let sets = [Wrote::work("dumbbell_bench_press", 20.0, 8)];
        let id = written.session(&format!("{date}T07:00:00+01:00"), minutes, &sets);
        written.close(&id, effort);
    }
    let logbook = logbook(&written);
    let week = Week::of(day("2026-11-22"));
    assert_eq!(week.to_string(), "2026-W47");
    let weeks = |today: &str| {
        let weeks = logbook.weeks((week, week.next()), &written.catalogue, day(today));
        (weeks[0].foster(), weeks[0].days, weeks[1].sessions)
    };
    let (foster, days, after) = weeks("2026-11-23");
    assert_eq!(foster, Some(Foster::of([300, 0, 270, 0, 420, 90, 0])));
    assert_eq!((days, after), (4, 0));
    // On its Sunday the week is not over.
    assert_eq!(weeks("2026-11-22").0, None);
}

/// ISO 8601: the year's first week holds its first Thursday.
#[test]
fn weeks_are_those_of_iso_8601() {
    for (date, name) in [
        ("2027-01-03", "2026-W53"),
        ("2027-01-04", "2027-W01"),
        ("2024-12-30", "2025-W01"),
    ] {
        assert_eq!(Week::of(day(date)).to_string(), name);
    }
}

/// By hand.
#[test]
fn records_say_what_was_best_and_when() {
    let mut written = Written::new();
    let press = |kg, reps| Wrote::work("dumbbell_bench_press", kg, reps);
    written.session(
        "2026-01-05T18:00:00+01:00",
        30,
        &[press(20.0, 8), press(20.0, 8)],
    );
    written.session(
        "2026-01-08T18:00:00+01:00",
        30,
        &[press(22.0, 6), press(20.0, 10)],
    );
    written.session(
        "2026-01-12T18:00:00+01:00",
        30,
        &[press(18.0, 9), press(20.0, 10)],
    );
    written.session(
        "2026-01-15T23:50:00+01:00",
        30,
        &[press(24.0, 5).kind(SetKind::Ramp)],
    );
    let history = written.history();
    let logbook = logbook(&written);
    let records = Records::of(&history, &logbook, &id("dumbbell_bench_press"));
    let told = |list: &[rackside::domain::logbook::records::Fell<
        rackside::domain::logbook::records::Lifted,
    >]| {
        list.iter()
            .map(|fell| format!("{} × {} {}", fell.best.load, fell.best.count, fell.day))
            .collect::<Vec<_>>()
    };
    assert_eq!(
        told(&records.most),
        [
            "22 kg × 6 2026-01-08",
            "20 kg × 10 2026-01-08",
            "18 kg × 9 2026-01-12"
        ]
    );
    assert_eq!(
        told(&records.heaviest),
        ["22 kg × 6 2026-01-08", "20 kg × 10 2026-01-08"]
    );
    // Epley: 20 (1 + 10/30) beats 22 (1 + 6/30).
    let max = records.max.expect("one");
    assert_eq!(max.day, day("2026-01-08"));
    assert!((max.best.mass.kg() - 80.0 / 3.0).abs() < 1e-9);
    let work = records.work.expect("some");
    assert_eq!(work.day, day("2026-01-12"));
    assert_eq!(
        work.best,
        Work::Volume(Mass::from_ng(2 * (18 * 9 + 200) * 1_000_000_000_000))
    );
}

/// A lifter who flies east and trains after midnight: the day is that of the clock where they were.
#[test]
fn days_are_those_of_the_clock_on_the_wall() {
    let mut written = Written::new();
    let sets = [Wrote::work("dumbbell_bench_press", 20.0, 8)];
    written.session("2026-11-22T23:30:00-05:00", 60, &sets);
    written.session("2026-11-24T00:10:00+09:00", 60, &sets);
    let days: Vec<NaiveDate> = logbook(&written).sessions.iter().map(|s| s.day).collect();
    assert_eq!(days, [day("2026-11-22"), day("2026-11-24")]);
}
