//! No sentence claims what the numbers do not support: each claim of a reason is worked out again
//! from the journal, over random lives, for every policy.

use crate::rig::training::{Training, dumbbells, kg, slot};
use proptest::prelude::*;
use rackside::domain::advice::{Frame, beside};
use rackside::domain::history::Outing;
use rackside::domain::program::{Ask, Policy, Slot};
use rackside::domain::session::{PlannedItem, PlannedSet, SetKind};
use rackside::domain::units::{Load, Seconds, Unit};

/// What a lifter makes of a session: the days before it, whether it is an easier one, and by set
/// how many more or fewer than asked, and the spare that is told.
type Session = (i64, bool, Vec<(i32, Option<u32>)>);

fn session() -> impl Strategy<Value = Session> {
    let set = (
        prop_oneof![6 => Just(0), 1 => 1..=3_i32, 2 => -4..=-1_i32],
        prop::option::weighted(0.3, 0..=6_u32),
    );
    let days = prop_oneof![8 => 2..=5_i64, 1 => 6..=14_i64, 1 => 15..=70_i64];
    (
        days,
        prop::bool::weighted(0.1),
        prop::collection::vec(set, 6),
    )
}

fn slots() -> impl Strategy<Value = Slot> {
    let policies = vec![Policy::ByOdds, Policy::DoubleProgression, Policy::TwoForTwo];
    let exercises = vec![
        "dumbbell_curl",
        "dumbbell_floor_press",
        "goblet_squat",
        "plank",
    ];
    let range = prop::sample::select(vec![(6, 10), (8, 8), (8, 12), (12, 15)]);
    let names = (
        prop::sample::select(exercises),
        prop::sample::select(policies),
    );
    (names, range, 2..=4_u8).prop_map(|((exercise, policy), range, sets)| {
        let plain = slot(exercise, sets, range);
        let hold = Ask::Hold {
            min: Seconds::clamped(20),
            max: Seconds::clamped(45),
        };
        let ask = if exercise == "plank" { hold } else { plain.ask };
        Slot {
            policy,
            ask,
            ..plain
        }
    })
}

/// The number right before `words`, where the text has them.
fn before(text: &str, words: &str) -> Option<u32> {
    let (head, _) = text.split_once(words)?;
    let digits = head.rsplit(|c: char| !c.is_ascii_digit()).next()?;
    digits.parse().ok()
}

/// The number right after `words`, where the text has them.
fn after(text: &str, words: &str) -> Option<u32> {
    let (_, tail) = text.split_once(words)?;
    let digits = tail.split(|c: char| !c.is_ascii_digit()).next()?;
    digits.parse().ok()
}

fn work(item: &PlannedItem) -> Vec<&PlannedSet> {
    let work = |set: &&PlannedSet| set.kind == SetKind::Working && !set.feeler;
    item.sets.iter().filter(work).collect()
}

/// The working sets of an outing: load, count, whether a reserve was told.
fn done(outing: &Outing) -> Vec<(Load, u32, bool)> {
    let records = outing.sets.iter().map(|set| &set.record);
    let work = records.filter(|record| record.kind == SetKind::Working);
    work.map(|r| (r.load, r.done.deciding(), r.spare.is_some()))
        .collect()
}

/// The counts that a reason says were done last time, and the load where it names one.
fn told(reason: &str) -> Option<(Vec<u32>, Option<String>)> {
    let (head, _) = reason.split_once(" last time")?;
    let head = head.strip_suffix(" s").unwrap_or(head);
    let (counts, load) = match head.split_once(" at ") {
        Some((counts, load)) => (counts, Some(load.to_owned())),
        None => (head, None),
    };
    let counts = counts.trim_start_matches("more reps than last time (");
    let counts: Option<Vec<u32>> = counts.split(' ').map(|count| count.parse().ok()).collect();
    Some((counts?, load))
}

/// Odds that are named are those of the plan, for as much as is asked.
fn odds_are_those_of_the_plan(item: &PlannedItem) -> Result<(), TestCaseError> {
    let reason = &item.reason;
    if let Some(stated) = before(reason, " in 100 for ") {
        let asked = after(reason, " in 100 for ").expect("how many");
        let sets = work(item);
        if reason.contains("tried in the first") {
            prop_assert_eq!(sets[0].asked.count(), asked, "{}", reason);
        } else {
            let odds = item.odds.expect("stated with the plan").in_hundred();
            prop_assert!(odds.abs_diff(stated) <= 1, "{} {}", odds, reason);
            prop_assert!(
                sets.iter().all(|set| set.asked.count() == asked),
                "{}",
                reason
            );
        }
    }
    Ok(())
}

/// What was done last time was done then, with that load; up is up, down is down, off is off.
fn the_past_is_as_it_was(
    item: &PlannedItem,
    past: &[&Outing],
    off: i64,
) -> Result<(), TestCaseError> {
    let reason = &item.reason;
    if let Some(days) = before(reason, " days off") {
        prop_assert_eq!(i64::from(days), off, "{}", reason);
    }
    let Some(last) = past.last() else {
        return Ok(());
    };
    let sets = done(last);
    if let Some((counts, load)) = told(reason) {
        let mut left = sets.iter();
        let found = counts
            .iter()
            .all(|count| left.any(|(_, done, _)| done == count));
        prop_assert!(found, "{:?} {}", sets, reason);
        if let Some(load) = load {
            prop_assert!(
                sets.iter().any(|(l, ..)| l.to_string() == load),
                "{}",
                reason
            );
        }
    }
    let now = work(item)[0].load;
    let heavier = |(load, ..): &(Load, u32, bool)| now.heavier(*load).is_some_and(|o| o.is_gt());
    let lighter = |(load, ..): &(Load, u32, bool)| now.heavier(*load).is_some_and(|o| o.is_lt());
    if reason.contains(&format!(": up to {now}")) {
        prop_assert!(sets.iter().any(heavier), "{:?} {}", sets, reason);
    }
    if reason.contains(&format!(": down to {now}")) {
        prop_assert!(sets.iter().any(lighter), "{:?} {}", sets, reason);
    }
    if let Some(times) = before(reason, " times in a row below ") {
        let least = after(reason, " times in a row below ").expect("of what");
        let missed = |outing: &&&Outing| done(outing).iter().any(|(_, count, _)| *count < least);
        let row = past.iter().rev().take_while(missed).count();
        prop_assert!(row >= times as usize, "{} {}", row, reason);
    }
    if reason.contains("none spare was told lately") {
        let lately = past.iter().rev().take(3);
        let silent = |outing: &&&Outing| done(outing).iter().all(|(.., told)| !told);
        prop_assert!(lately.clone().all(|outing| silent(&outing)), "{}", reason);
        prop_assert!(item.sets.last().is_some_and(|set| set.open), "{}", reason);
    }
    Ok(())
}

/// A step that is called so far is so far, by the loads themselves.
fn a_step_is_as_far_as_it_is_said(item: &PlannedItem) -> Result<(), TestCaseError> {
    let reason = &item.reason;
    if let Some(percent) = before(reason, " % more") {
        let kilograms = |text: &str| text.split(' ').next().and_then(|n| n.parse::<f64>().ok());
        let next = kilograms(reason.trim_start()).expect("the next load");
        let now = work(item)[0].load.entered().expect("a mass").mass.kg();
        let jump = 100.0 * (next / now - 1.0);
        prop_assert!(
            (jump - f64::from(percent)).abs() <= 0.5 + 1e-9,
            "{} {}",
            jump,
            reason
        );
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 24,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// For every policy odds are stated too, and fall with the load beside it.
    #[test]
    fn no_reason_claims_what_the_journal_does_not_support(
        slot in slots(),
        life in prop::collection::vec(session(), 1..9),
    ) {
        let mut training =
            Training::with(dumbbells(Unit::Kg, (1..=15).map(|k| f64::from(k) * 2.0)));
        training.believes = true;
        let mut frame = Frame { guess: Some(kg(10.0)), ..Frame::default() };
        for (days, easier_week, sets) in life {
            training.pass(days);
            frame.easier_week = easier_week;
            let item = training.plan(&slot, frame);
            let history = training.history();
            let outings = history.outings(&slot.exercise);
            let past: Vec<&Outing> = outings.iter().filter(|outing| !outing.deload).collect();
            odds_are_those_of_the_plan(&item)?;
            the_past_is_as_it_was(&item, &past, days)?;
            a_step_is_as_far_as_it_is_said(&item)?;
            let alike = item.sets.iter().all(|set| !set.feeler)
                && work(&item).windows(2).all(|pair| pair[0].load == pair[1].load);
            if !outings.is_empty() && alike {
                let odds = item.odds.expect("every policy states the odds");
                let beside = beside(&training.context(&history), &item);
                prop_assert!(beside.up.is_none_or(|(_, up)| up <= odds));
                prop_assert!(beside.down.is_none_or(|(_, down)| down >= odds));
                prop_assert!(work(&item).iter().all(|set| set.predicted.is_some()));
            }
            let mut sets = sets.into_iter();
            training.carry_out(&item, &mut |set| {
                let (more, spare) = sets.next().unwrap_or((0, None));
                let count = set.asked.count().saturating_add_signed(more).max(1);
                (count, if set.feeler { Some(3) } else { spare })
            });
        }
    }
}
