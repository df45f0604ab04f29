//! Every file that ships is read, and everything it says is looked over.

use rackside::domain::exercise::Catalogue;
use rackside::domain::gear::{Place, PlaceId};
use rackside::domain::program::{Program, ProgramId};
use rackside::formats::{gear_file, program_file, table};

pub fn catalogue() -> Catalogue {
    table::catalogue(None).unwrap_or_else(|problems| {
        let text: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", text.join("\n"))
    })
}

pub fn places() -> Vec<Place> {
    let read = |(id, text): &(&str, &str)| {
        gear_file::read(id, &PlaceId::new(id).unwrap(), text).unwrap_or_else(|problems| {
            let text: Vec<String> = problems.iter().map(ToString::to_string).collect();
            panic!("{}", text.join("\n"))
        })
    };
    gear_file::SHIPPED.iter().map(read).collect()
}

pub fn programs() -> Vec<Program> {
    let catalogue = catalogue();
    let read = |(id, text): &(&str, &str)| {
        let id = ProgramId::new(id).unwrap();
        program_file::read(id.as_str(), &id, text, &catalogue).unwrap_or_else(|problems| {
            let text: Vec<String> = problems.iter().map(ToString::to_string).collect();
            panic!("{}", text.join("\n"))
        })
    };
    program_file::SHIPPED.iter().map(read).collect()
}

#[test]
fn the_table_of_exercises_is_whole() {
    let catalogue = catalogue();
    assert!(catalogue.len() >= 90, "{} exercises", catalogue.len());
    for exercise in catalogue.iter() {
        let both = exercise
            .prime
            .iter()
            .filter(|m| exercise.assisting.contains(m))
            .count();
        assert_eq!(both, 0, "{} counts a muscle twice", exercise.id);
        assert!(!exercise.joints.is_empty(), "{}", exercise.id);
        assert!(
            !exercise.stand_ins.is_empty(),
            "{} has no stand-in",
            exercise.id
        );
        for other in [&exercise.easier, &exercise.harder].into_iter().flatten() {
            let other = catalogue.get(other).unwrap();
            assert_eq!(
                other.pattern, exercise.pattern,
                "{} and {}",
                exercise.id, other.id
            );
        }
    }
}

/// Known from anatomy, not from the table.
#[test]
fn the_table_agrees_with_what_anyone_knows() {
    use rackside::domain::exercise::{GivesWay, Muscle, Sides};
    let catalogue = catalogue();
    let get = |id: &str| {
        catalogue
            .get(&rackside::domain::exercise::ExerciseId::new(id).unwrap())
            .unwrap()
    };
    assert!(get("bench_press").prime.contains(&Muscle::Chest));
    assert_eq!(get("bench_press").gives_way, GivesWay::Pins);
    assert_eq!(get("deadlift").gives_way, GivesWay::PutDown);
    assert_eq!(get("one_arm_row").sides, Sides::Each);
    assert!(get("dumbbell_curl").prime.contains(&Muscle::Biceps));
    assert!(get("back_squat").loads_spine && !get("crunch").loads_spine);
}

#[test]
fn four_places_ship_and_each_can_make_loads() {
    use rackside::domain::gear::Implement;
    let places = places();
    assert_eq!(places.len(), 4);
    for place in &places {
        assert!(place.makeable(Implement::One).len() > 3, "{}", place.name);
    }
}

#[test]
fn three_programs_ship_and_each_is_what_it_says() {
    let programs = programs();
    let weeks = |p: &Program| p.phases.iter().map(|f| u32::from(f.weeks)).sum::<u32>();
    assert_eq!(programs.iter().map(weeks).collect::<Vec<_>>(), [12, 8, 10]);
    for program in &programs {
        for phase in &program.phases {
            assert!(phase.easier_weeks.contains(&phase.weeks), "{}", phase.name);
        }
    }
    let sets = |phase: usize| -> u32 {
        let days = &programs[0].phases[phase].days;
        days.iter()
            .flat_map(|d| &d.slots)
            .map(|s| u32::from(s.sets))
            .sum()
    };
    assert!(sets(0) < sets(1) && sets(1) < sets(2), "volume rises");
}

/// Hard sets of a week, by a share: 1 for prime movers, 0.5 for those that assist (Pelland et al.
/// 2024, preprint).
fn weekly(program: &Program, phase: usize, muscle: rackside::domain::exercise::Muscle) -> f64 {
    use rackside::domain::program::Rhythm;
    let catalogue = catalogue();
    let days = &program.phases[phase].days;
    let sets: f64 = days
        .iter()
        .flat_map(|day| &day.slots)
        .map(|slot| {
            let exercise = catalogue.get(&slot.exercise).unwrap();
            let share = if exercise.prime.contains(&muscle) {
                1.0
            } else if exercise.assisting.contains(&muscle) {
                0.5
            } else {
                0.0
            };
            share * f64::from(slot.sets)
        })
        .sum();
    let times = match &program.rhythm {
        Rhythm::Rotation { per_week } => f64::from(*per_week) / days.len() as f64,
        Rhythm::Weekdays(_) => 1.0,
        Rhythm::Every { days: gap } => 7.0 / f64::from(*gap) / days.len() as f64,
    };
    sets * times
}

/// Schoenfeld et al. 2017 (abstract read): gains rise from fewer than 5 over 5-9 to 10 and more
/// sets a week; Baz-Valle et al. 2022 (abstract read): 12-20 for trained young men. A program for
/// novices or for two days a week stands lower. The glutes are left out: they share in every squat,
/// lunge and hinge, and their sets are not hard for them in all of these.
#[test]
fn weekly_sets_of_the_large_muscles_are_inside_the_published_range() {
    use rackside::domain::exercise::Muscle::{Chest, Lats, Quadriceps};
    for program in programs() {
        for (k, phase) in program.phases.iter().enumerate() {
            for muscle in [Chest, Lats, Quadriceps] {
                let sets = weekly(&program, k, muscle);
                assert!(
                    (4.0..=24.0).contains(&sets),
                    "{}: {muscle:?} {sets}",
                    phase.name
                );
            }
        }
    }
}

/// Pulling keeps pace with pushing: common practice, no source.
#[test]
fn pulling_keeps_pace_with_pushing() {
    use rackside::domain::exercise::Pattern::{PullAcross, PullOverhead, PushAcross, PushOverhead};
    let catalogue = catalogue();
    for program in programs() {
        for phase in &program.phases {
            let sets = |patterns: [_; 2]| -> u32 {
                let slots = phase.days.iter().flat_map(|day| &day.slots);
                slots
                    .filter(|s| patterns.contains(&catalogue.get(&s.exercise).unwrap().pattern))
                    .map(|slot| u32::from(slot.sets))
                    .sum()
            };
            let (push, pull) = (
                sets([PushAcross, PushOverhead]),
                sets([PullAcross, PullOverhead]),
            );
            assert!(
                pull * 4 >= push * 3,
                "{}: {push} push, {pull} pull",
                phase.name
            );
        }
    }
}

/// Rest by what the sets are for: 2-5 minutes for heavy sets of six reps or fewer (NSCA, read in
/// reviews of the handbook); 2-3 minutes multi-joint and 1-2 single-joint (ACSM 2009 as read in
/// Senna 2011). Shorter for isolation than for compound work: common practice, no source.
#[test]
fn rest_windows_fit_what_the_sets_are_for() {
    use rackside::domain::exercise::Role;
    use rackside::domain::program::Ask;
    let catalogue = catalogue();
    for program in programs() {
        for slot in program
            .phases
            .iter()
            .flat_map(|p| &p.days)
            .flat_map(|d| &d.slots)
        {
            let exercise = catalogue.get(&slot.exercise).unwrap();
            let (opens, closes) = (slot.rest.opens.get(), slot.rest.closes.get());
            let name = &slot.id;
            assert!(closes <= 300, "{name}: longer than five minutes");
            match (exercise.role, slot.ask) {
                (Role::Compound, Ask::Reps { max, .. }) if max.get() <= 6 => {
                    assert!(
                        opens >= 120,
                        "{name}: heavy work wants two minutes at least"
                    );
                }
                (Role::Compound, Ask::Reps { .. }) if exercise.is_lower_body() => {
                    assert!(opens >= 60, "{name}");
                }
                (Role::Compound, Ask::Reps { .. }) => {
                    assert!((60..=240).contains(&opens), "{name}");
                }
                (Role::Isolation, _) | (Role::Compound, Ask::Hold { .. }) => {
                    assert!(closes <= 120, "{name}: isolation rests are short");
                }
            }
        }
    }
}
