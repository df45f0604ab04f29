//! Loads that can be made, and stacks with the fewest moves, held against a search through
//! everything.

mod exact;
mod fewest;
mod lists;
mod together;

use proptest::prelude::*;
use rackside::domain::gear::{Implement, Order, Rack, Supply};
use rackside::domain::units::{Mass, Unit};
use std::collections::BTreeSet;

fn kg(tenths: i64) -> Mass {
    Mass::from_ng(tenths * Unit::Kg.nanograms() / 10)
}

/// Every stack of one end, in every order that is allowed.
fn all_stacks(plates: &[(Mass, u8)], order: Order) -> Vec<Vec<Mass>> {
    fn grow(
        left: &mut [(Mass, u8)],
        order: Order,
        stack: &mut Vec<Mass>,
        all: &mut Vec<Vec<Mass>>,
    ) {
        all.push(stack.clone());
        for k in 0..left.len() {
            let (mass, count) = left[k];
            let fits = order == Order::Free || stack.last().is_none_or(|last| *last >= mass);
            if count > 0 && fits {
                left[k].1 -= 1;
                stack.push(mass);
                grow(left, order, stack, all);
                stack.pop();
                left[k].1 += 1;
            }
        }
    }
    let mut all = Vec::new();
    grow(&mut plates.to_vec(), order, &mut Vec::new(), &mut all);
    all
}

/// The least moves of one end by trying everything.
fn least(plates: &[(Mass, u8)], targets: &[Mass], order: Order) -> usize {
    let all = all_stacks(plates, order);
    let mass = |stack: &Vec<Mass>| stack.iter().copied().sum::<Mass>();
    let mut best: Vec<(Vec<Mass>, usize)> = vec![(Vec::new(), 0)];
    for target in targets {
        let mut next = Vec::new();
        for stack in all.iter().filter(|stack| mass(stack) == *target) {
            let cost = best.iter().map(|(before, cost)| {
                let shared = before.iter().zip(stack).take_while(|(a, b)| a == b).count();
                cost + before.len() + stack.len() - 2 * shared
            });
            next.push((stack.clone(), cost.min().unwrap()));
        }
        best = next;
    }
    best.into_iter().map(|(_, cost)| cost).min().unwrap()
}

/// Different plates, in tenths of a kilogram.
fn kinds() -> impl Strategy<Value = BTreeSet<i64>> {
    prop::collection::btree_set(prop::sample::select(vec![5_i64, 12, 25, 50, 75, 100]), 1..4)
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 300,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// The published answer is the search through everything: same least total, stacks that add up,
    /// no plate used twice.
    #[test]
    fn the_plan_is_the_least(
        kinds in kinds(),
        counts in prop::collection::vec(1_u8..3, 4),
        picks in prop::collection::vec(any::<prop::sample::Index>(), 1..5),
        handles in 1_u8..3,
        free in any::<bool>(),
    ) {
        let order = if free { Order::Free } else { Order::LargestInside };
        let each: Vec<(Mass, u8)> =
            kinds.iter().zip(&counts).map(|(kind, count)| (kg(*kind), *count)).collect();
        let ends = handles * 2;
        let plates = each.iter().map(|(mass, count)| (*mass, u32::from(count * ends))).collect();
        let supply = Supply { sleeve: None, plates };
        let rack = Rack { ends, bare: kg(20), supply };
        let all = all_stacks(&each, Order::LargestInside);
        let sums: BTreeSet<Mass> = all.iter().map(|s| s.iter().copied().sum::<Mass>()).collect();
        let makeable: Vec<Mass> = sums.iter().map(|sum| kg(20) + *sum * 2).collect();
        prop_assert_eq!(rack.makeable(), makeable);
        let sums: Vec<Mass> = sums.into_iter().collect();
        let targets: Vec<Mass> = picks.iter().map(|pick| *pick.get(&sums)).collect();
        let loads: Vec<Mass> = targets.iter().map(|target| kg(20) + *target * 2).collect();
        let plan = rack.plan(&loads, order).expect("makeable");
        prop_assert!(plan.exact);
        let wanted = least(&each, &targets, order) * usize::from(ends);
        prop_assert_eq!(plan.total() as usize, wanted);
        for (stack, target) in plan.stacks.iter().zip(&targets) {
            prop_assert_eq!(stack.iter().copied().sum::<Mass>(), *target);
            for (mass, count) in &each {
                let used = stack.iter().filter(|plate| *plate == mass).count();
                prop_assert!(used <= usize::from(*count));
            }
            let sorted = stack.windows(2).all(|pair| pair[0] >= pair[1]);
            prop_assert!(free || sorted, "the largest inside");
        }
    }
}

/// Every load of every place adds up from what is to be fetched for it.
#[test]
fn every_load_of_every_place_adds_up() {
    use rackside::domain::gear::Build;
    use rackside::domain::units::Load;
    for place in crate::files::places() {
        for implement in [Implement::Pair, Implement::One, Implement::Bar] {
            for made in place.makeable(implement) {
                let Load::Mass(load) = made.load else {
                    panic!("{}", made.load)
                };
                let Build::Loaded { stack, .. } = &made.build else {
                    continue;
                };
                let bare = load.mass - stack.mass() * 2;
                assert!(bare > Mass::ZERO, "{}: {}", place.name, made.load);
                for plate in &place.plates {
                    let used = stack
                        .0
                        .iter()
                        .filter(|p| p.mass == plate.weight.mass)
                        .count();
                    let same = place
                        .plates
                        .iter()
                        .filter(|p| p.weight.mass == plate.weight.mass);
                    let there: usize = same.map(|p| usize::from(p.count)).sum();
                    let ends = if implement == Implement::Pair { 4 } else { 2 };
                    assert!(used * ends <= there, "{}: {}", place.name, made.load);
                }
            }
        }
    }
}

/// 0.45359237 kg exactly (international agreement of 1959): there and back without a loss.
#[test]
fn pounds_and_kilograms_go_there_and_back() {
    for thousandths in (1..400_000_i64).step_by(37) {
        let mass = Mass::from_ng(thousandths * Unit::Lb.nanograms() / 1000);
        assert_eq!(Mass::parse(&mass.text(Unit::Lb), Unit::Lb), Ok(mass));
        assert_eq!(Mass::nearest(mass.amount(Unit::Lb), Unit::Lb), Some(mass));
    }
    let pound = Mass::from_ng(Unit::Lb.nanograms());
    assert_eq!(pound.text(Unit::Kg), "0.45");
    assert_eq!(pound.ng(), 453_592_370_000);
}

mod solve {
    use crate::rig::cli::Cli;
    use serde_json::Value;

    fn answers(lines: &str) -> Vec<Value> {
        let ran = Cli::new().stdin(lines).run(["gear", "solve"]);
        assert!(ran.status.success(), "{}", ran.stderr);
        ran.stdout
            .lines()
            .map(|line| serde_json::from_str(line).unwrap())
            .collect()
    }

    #[test]
    fn a_line_in_is_a_line_out() {
        let found = answers(concat!(
            r#"{"handles":2,"handle_kg":2.0,"plates":[[5.0,4],[2.5,8],[1.25,8]],"#,
            r#""order":"largest_inside","loads":[12.0,17.0,14.5]}"#,
            "\nnot json\n",
            r#"{"handles":2,"handle_kg":2.0,"plates":[[5.0,4]],"order":"free","loads":[7.0]}"#,
            "\n",
        ));
        assert_eq!(found.len(), 3);
        assert_eq!(found[0]["stacks"][0], serde_json::json!([5.0]));
        assert_eq!(found[0]["stacks"][1], serde_json::json!([5.0, 2.5]));
        assert_eq!(found[0]["stacks"][2], serde_json::json!([5.0, 1.25]));
        assert_eq!(found[0]["moves"], serde_json::json!([4, 4, 8]));
        assert_eq!(
            (&found[0]["total_moves"], &found[0]["exact"]),
            (&16.into(), &true.into())
        );
        assert_eq!(found[1]["line"], 2);
        assert_eq!(
            (&found[2]["below"], &found[2]["above"]),
            (&2.0.into(), &12.0.into())
        );
    }
}

/// Loads out of reach on either side are refused with two neighbours; plates beyond what anyone
/// owns are plates.
#[test]
fn gear_solve_answers_extremes() {
    use crate::rig::cli::Cli;
    use serde_json::{Value, json};
    let lines = concat!(
        r#"{"handles":1,"handle_kg":2,"plates":[[1.25,400]],"order":"free","loads":[42]}"#,
        "\n",
        r#"{"handles":1,"handle_kg":2,"plates":[[1.25,4]],"order":"free","loads":[1]}"#,
        "\n",
        r#"{"handles":1,"handle_kg":2,"plates":[[1.25,4]],"order":"free","loads":[2,100]}"#,
        "\n",
        r#"{"handles":1,"handle_kg":2,"plates":[],"order":"free","loads":[]}"#,
        "\n",
    );
    let answers = Cli::new().stdin(lines).run(["gear", "solve"]).ok();
    let answers = answers
        .lines()
        .map(|line| serde_json::from_str(line).unwrap());
    let found: Vec<Value> = answers.collect();
    assert_eq!(found[0]["stacks"][0].as_array().unwrap().len(), 16);
    assert_eq!(found[1]["nearest"], json!([2.0, 4.5]));
    assert_eq!(
        (&found[1]["below"], &found[1]["above"]),
        (&Value::Null, &json!(2.0))
    );
    assert_eq!(found[2]["nearest"], json!([4.5, 7.0]));
    assert_eq!(
        (&found[2]["load"], &found[2]["line"]),
        (&json!(100.0), &json!(3))
    );
    assert_eq!(found[3]["makeable"], json!([2.0]));
    assert_eq!(found[3]["total_moves"], 0);
}

mod session {
    use crate::rig::cli::Cli;
    use serde_json::Value;

    /// A home whose lifter trains at a place, with a program in which two exercises take turns.
    fn home(place: &str) -> Cli {
        let cli = Cli::new();
        let config = cli.home().join("config");
        std::fs::create_dir_all(config.join("programs")).unwrap();
        let slot = |exercise: &str, group: &str| {
            let numbers = "sets: 3, reps: \"8-12\", rest: \"1:00-1:30\"";
            format!("(exercise: \"{exercise}\", {numbers}{group}),")
        };
        let program = format!(
            "(format: 1, name: \"Turns\", rhythm: Rotation(per_week: 3), phases: [(name: \"Only\", \
             weeks: 4, days: [(name: \"Day 1\", slots: [{}{}{}])])])",
            slot("dumbbell_bench_press", ", group: 1"),
            slot("dumbbell_bent_over_row", ", group: 1"),
            slot("bench_press", ""),
        );
        std::fs::write(config.join("programs/turns.ron"), program).unwrap();
        let lifter = format!("(format: 1, unit: Kg, place: \"{place}\", program: \"turns\")");
        std::fs::write(config.join("lifter.ron"), lifter).unwrap();
        cli
    }

    fn json(cli: &Cli, arguments: &[&str]) -> Value {
        let ran = cli.run(arguments);
        assert!(ran.status.success(), "{}", ran.stderr);
        serde_json::from_str(&ran.stdout).unwrap()
    }

    #[test]
    fn the_plan_of_today_counts_its_moves() {
        let cli = home("home");
        let plan = json(&cli, &["gear", "plan", "--json"]);
        let moves = plan["slots"].as_array().unwrap().iter().flat_map(|slot| {
            slot["sets"]
                .as_array()
                .unwrap()
                .iter()
                .map(|set| set["moves"].as_u64().unwrap())
        });
        assert_eq!(moves.sum::<u64>(), plan["total_moves"].as_u64().unwrap());
        let slots = plan["slots"].as_array().unwrap().iter();
        let by_slot: u64 = slots.map(|slot| slot["moves"].as_u64().unwrap()).sum();
        assert_eq!(by_slot, plan["total_moves"].as_u64().unwrap());
    }

    #[test]
    fn another_place_gives_other_loads_and_stand_ins_with_their_reason() {
        let club = json(&home("club"), &["brief", "--json"]);
        assert_eq!(club["slots"][2]["exercise"], "bench_press");
        let hotel = json(&home("hotel"), &["brief", "--json"]);
        let slot = &hotel["slots"][2];
        assert_ne!(slot["exercise"], "bench_press", "no bar in a hotel room");
        let reason = slot["reason"].as_str().unwrap();
        assert!(reason.contains("in place of Bench press"), "{reason}");
    }

    #[test]
    fn gear_lists_every_place() {
        let listed = home("home").run(["gear", "--json"]);
        assert_eq!(listed.stdout.lines().count(), 4);
        let shown = home("home").run(["gear"]).stdout;
        assert!(shown.contains("At home (home)"), "{shown}");
    }
}

/// No suggestion leaves the gear: every set of every day of every program at every place, before
/// and after months of an invented lifter's records.
#[test]
fn every_suggested_load_at_every_place_is_makeable() {
    use rackside::domain::history::{History, Lifter};
    use rackside::domain::invented::Invention;
    use rackside::domain::schedule::{Material, Today, Wish};
    use rackside::domain::session::{Boldness, Experience};
    use rackside::domain::units::Civil;
    let (catalogue, places, programs) = (
        crate::files::catalogue(),
        crate::files::places(),
        crate::files::programs(),
    );
    let until = Civil::parse("2026-06-30T00:00:00.000+00:00").unwrap();
    let home = places
        .iter()
        .find(|place| place.id.as_str() == "home")
        .unwrap();
    let (catalogue, place) = (&catalogue, home);
    let invention = Invention {
        catalogue,
        program: &programs[0],
        place,
        seed: 5,
        sets: 400,
        until,
    };
    let histories = [
        History::default(),
        History::of(invention.sessions().flatten().collect()),
    ];
    let mut looked_at = 0;
    for (history, place, program) in histories.iter().flat_map(|history| {
        let pairs = places
            .iter()
            .flat_map(|place| programs.iter().map(move |p| (place, p)));
        pairs.map(move |(place, program)| (history, place, program))
    }) {
        let lifter = Lifter {
            unit: Unit::Kg,
            body_weight: None,
            experience: Experience::Novice,
            boldness: Boldness::Steady,
            place: place.id.clone(),
            program: program.id.clone(),
        };
        let (places, programs) = (places.as_slice(), programs.as_slice());
        let material = Material {
            catalogue,
            places,
            programs,
            history,
            lifter: &lifter,
            now: until,
            beliefs: None,
        };
        for day in 1..=program.phases[0].days.len() {
            let session = Today {
                phase: 1,
                week: 1,
                day: u16::try_from(day).unwrap(),
                name: String::new(),
                easier_week: false,
                why: String::new(),
            };
            let wish = Wish {
                place: None,
                session: Some(session),
                ..Wish::default()
            };
            let briefing = material.brief(&wish).unwrap();
            for item in &briefing.plan.items {
                let made = place.makeable(catalogue.get(&item.exercise).unwrap().implement());
                for set in &item.sets {
                    let found = rackside::domain::gear::at(&made, set.load).is_some();
                    assert!(found, "{} at {}: {}", item.exercise, place.id, set.load);
                    looked_at += 1;
                }
            }
            for saving in &briefing.savings {
                let exercise = &briefing.plan.items[saving.item].exercise;
                let made = place.makeable(catalogue.get(exercise).unwrap().implement());
                assert!(rackside::domain::gear::at(&made, saving.instead).is_some());
            }
        }
    }
    assert!(looked_at > 500, "{looked_at} sets");
}
