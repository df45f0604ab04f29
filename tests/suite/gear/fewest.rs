//! Stacks of more plates than a search through everything allows, and of more than anyone owns.

use super::{all_stacks, kg};
use proptest::prelude::*;
use rackside::domain::gear::{Order, Rack, Supply};
use rackside::domain::units::Mass;
use std::collections::{BTreeMap, BTreeSet};

/// Ends with so many plates of each kind on each.
fn rack(each: &[(Mass, u8)], ends: u8) -> Rack {
    let plates = each
        .iter()
        .map(|(mass, count)| (*mass, u32::from(*count) * u32::from(ends)));
    let supply = Supply {
        sleeve: None,
        plates: plates.collect(),
    };
    Rack {
        ends,
        bare: kg(20),
        supply,
    }
}

/// The least moves of one end, all stacks in all orders, by what two in a row have in common: of
/// every begin of a stack, the cheapest way to have just that on the end.
fn least_by_begins(stacks: &BTreeMap<Mass, BTreeSet<Vec<Mass>>>, targets: &[Mass]) -> usize {
    let mut now: BTreeMap<Vec<Mass>, usize> = BTreeMap::from([(Vec::new(), 0)]);
    for target in targets {
        let mut begins: BTreeMap<&[Mass], usize> = BTreeMap::new();
        for (stack, cost) in &now {
            for shared in 0..=stack.len() {
                let off = cost + stack.len() - shared;
                let least = begins.entry(&stack[..shared]).or_insert(off);
                *least = off.min(*least);
            }
        }
        let on = |stack: &Vec<Mass>| {
            let shared = (0..=stack.len())
                .filter_map(|shared| Some(begins.get(&stack[..shared])? + stack.len() - shared));
            (stack.clone(), shared.min().unwrap())
        };
        now = stacks[target].iter().map(on).collect();
    }
    now.into_values().min().unwrap()
}

fn least_of_all(each: &[(Mass, u8)], order: Order, picks: &[usize]) -> (Vec<Mass>, usize) {
    let mut stacks: BTreeMap<Mass, BTreeSet<Vec<Mass>>> = BTreeMap::new();
    for stack in all_stacks(each, order) {
        let mass = stack.iter().copied().sum();
        stacks.entry(mass).or_default().insert(stack);
    }
    let sums: Vec<Mass> = stacks.keys().copied().collect();
    let targets: Vec<Mass> = picks.iter().map(|pick| sums[pick % sums.len()]).collect();
    let loads = targets.iter().map(|target| kg(20) + *target * 2).collect();
    (loads, least_by_begins(&stacks, &targets))
}

/// Eight different plates an end, in any order: 109,601 stacks.
#[test]
fn eight_different_plates_are_planned_with_the_least() {
    let each: Vec<(Mass, u8)> = (1..=8).map(|kind| (kg(kind * 10), 1)).collect();
    for picks in [[17, 30, 9, 22, 35, 12], [36, 18, 18, 7, 29, 14]] {
        let (loads, least) = least_of_all(&each, Order::Free, &picks);
        let plan = rack(&each, 2).plan(&loads, Order::Free).expect("makeable");
        assert!(plan.exact);
        assert_eq!(plan.total() as usize, least * 2);
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 40,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// Up to six plates an end of up to six kinds, up to eight loads.
    #[test]
    fn six_plates_are_planned_with_the_least(
        kinds in prop::collection::btree_set(
            prop::sample::select(vec![5_i64, 10, 15, 20, 25, 30, 40, 50, 75, 100]), 2..7),
        more in any::<prop::sample::Index>(),
        picks in prop::collection::vec(0_usize..1000, 2..9),
        free in any::<bool>(),
    ) {
        let order = if free { Order::Free } else { Order::LargestInside };
        let more = more.index(kinds.len());
        let copies = |k: usize| if k == more { 7 - kinds.len() as u8 } else { 1 };
        let each: Vec<(Mass, u8)> =
            kinds.iter().enumerate().map(|(k, kind)| (kg(*kind), copies(k))).collect();
        let (loads, least) = least_of_all(&each, order, &picks);
        let plan = rack(&each, 4).plan(&loads, order).expect("makeable");
        prop_assert!(plan.exact);
        prop_assert_eq!(plan.total() as usize, least * 4);
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 8,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// Whatever is listed can be planned, of however many kinds and plates, and any order is never
    /// more moves than the largest inside.
    #[test]
    fn every_listed_load_can_be_planned(
        kinds in prop::collection::btree_map(1_i64..300, 1_u8..20, 1..20),
        picks in prop::collection::vec(any::<prop::sample::Index>(), 1..8),
    ) {
        let each: Vec<(Mass, u8)> = kinds.iter().map(|(kind, count)| (kg(*kind), *count)).collect();
        let rack = rack(&each, 4);
        let all = rack.makeable();
        let loads: Vec<Mass> = picks.iter().map(|pick| *pick.get(&all)).collect();
        let plans = [Order::Free, Order::LargestInside].map(|order| rack.plan(&loads, order));
        for plan in plans.iter().map(|plan| plan.as_ref().expect("listed")) {
            for (stack, load) in plan.stacks.iter().zip(&loads) {
                prop_assert_eq!(kg(20) + stack.iter().copied().sum::<Mass>() * 2, *load);
                for (mass, count) in &each {
                    let used = stack.iter().filter(|plate| *plate == mass).count();
                    prop_assert!(used <= usize::from(*count));
                }
            }
        }
        let [free, sorted] = plans.map(|plan| plan.expect("listed"));
        prop_assert!(free.total() <= sorted.total());
        for stack in &sorted.stacks {
            prop_assert!(stack.is_sorted_by(|inner, outer| inner >= outer));
        }
    }
}

/// Runs longer than are looked at together: planned, and said not to be the least for certain.
#[test]
fn a_long_run_is_planned_in_parts() {
    let rack = rack(&[(kg(50), 1), (kg(25), 2), (kg(12), 2)], 2);
    let all = rack.makeable();
    let loads: Vec<Mass> = (0..200).map(|k| all[k * 7 % all.len()]).collect();
    let plan = rack.plan(&loads, Order::Free).expect("makeable");
    assert_eq!((plan.stacks.len(), plan.exact), (200, false));
    let mut loads = vec![all[3]; 200];
    let plan = rack.plan(&loads, Order::Free).expect("makeable");
    assert!(plan.exact && plan.moves[1..].iter().all(|moves| *moves == 0));
    loads.push(kg(9_999));
    let not = rack.plan(&loads, Order::Free).expect_err("too heavy");
    assert_eq!(not.index, 200);
    assert_eq!(not.nearest, all[all.len() - 2..]);
}
