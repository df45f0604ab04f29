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
