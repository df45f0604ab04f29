//! What commands print for people: plain lines, nothing that could steer a terminal.

use crate::domain::diagnostic::neutral;
use crate::domain::exercise::{Catalogue, Sides};
use crate::domain::gear::{Fits, Fixture, Place};
use crate::domain::logbook::told::sessions::performed;
use crate::domain::schedule::{BriefedItem, Briefing};
use crate::domain::session::{PlannedItem, SetKind};
use crate::domain::units::{Civil, Odds};
use crate::domain::words;

/// Today's session in lines.
pub fn brief(briefing: &Briefing, catalogue: &Catalogue, now: Civil) -> String {
    let plan = &briefing.plan;
    let mut lines = vec![
        format!(
            "{} · {}, week {} of {}",
            plan.day_name, plan.phase_name, plan.week, plan.weeks
        ),
        format!(
            "{}; at {}; {} minutes, done about {}",
            briefing.today.why,
            plan.place,
            briefing.takes.get().div_ceil(60),
            now.plus(briefing.takes.millis()).clock(),
        ),
    ];
    lines.extend(briefing.remarks.iter().cloned());
    lines.extend(briefing.ease.told("e in the briefing"));
    for (item, briefed) in plan.items.iter().zip(&briefing.items) {
        lines.push(String::new());
        lines.extend(item_lines(item, briefed, catalogue));
    }
    lines.iter().map(|line| neutral(line) + "\n").collect()
}

fn item_lines(item: &PlannedItem, briefed: &BriefedItem, catalogue: &Catalogue) -> Vec<String> {
    let name = catalogue.name(&item.exercise);
    let sides = match catalogue.get(&item.exercise).map(|exercise| exercise.sides) {
        Some(Sides::Each | Sides::Alternating) => " each side",
        Some(Sides::Both) | None => "",
    };
    let sets: Vec<String> = item
        .sets
        .iter()
        .map(|set| {
            let ramp = if set.kind == SetKind::Ramp {
                "ramp "
            } else {
                ""
            };
            format!("{ramp}{} × {}", set.load, set.asked)
        })
        .collect();
    let last = match &briefed.last {
        Some(outing) => {
            let sets: Vec<String> = outing.sets.iter().map(performed).collect();
            let easier = if outing.deload { ", easier" } else { "" };
            let day = words::day(outing.at.date());
            format!("last, {day}{easier}: {}", sets.join(", "))
        }
        None => "not done before".to_owned(),
    };
    let first = [
        format!(
            "{name}{sides}, rest {}-{}",
            item.rest.opens, item.rest.closes
        ),
        format!("  {}", sets.join(", ")),
    ];
    let fetch = (!briefed.fetch.is_empty()).then(|| format!("  fetch {}", briefed.fetch));
    let untold = |odds: &Odds| !item.reason.contains(&odds.to_string());
    let odds = item
        .odds
        .filter(untold)
        .map(|odds| format!("  {odds} that every working set makes what is asked"));
    let steps = [briefed.beside.down, briefed.beside.up];
    let steps: Vec<String> = steps
        .iter()
        .flatten()
        .map(|(load, odds)| format!("{load}: {odds}"))
        .collect();
    let steps = (!steps.is_empty()).then(|| format!("  beside it {}", steps.join(", ")));
    let behind = [format!("  {}", item.reason), format!("  {last}")];
    let lines = first.into_iter().chain(fetch).chain(odds).chain(steps);
    lines.chain(behind).collect()
}

/// An exercise of a plan in a line, without loads: "Goblet squat, 3 × 8-12".
pub fn outline(item: &PlannedItem, catalogue: &Catalogue) -> String {
    let work = item.sets.iter();
    let work = work.filter(|set| set.kind != SetKind::Ramp && !set.feeler);
    let text = format!(
        "{}, {} × {}",
        catalogue.name(&item.exercise),
        work.count(),
        item.ask
    );
    neutral(&text)
}

/// The plates of today's session in lines.
pub fn gear_plan(briefing: &Briefing, catalogue: &Catalogue) -> String {
    let mut lines = Vec::new();
    for (item, stacks) in briefing.plan.items.iter().zip(&briefing.stacks.sets) {
        lines.push(catalogue.name(&item.exercise).to_owned());
        for (set, stack) in item.sets.iter().zip(stacks) {
            match stack {
                Some(stack) if stack.moves > 0 => {
                    lines.push(format!(
                        "  {}: {} ({})",
                        set.load, stack.stack, stack.change
                    ));
                }
                Some(_) | None => {}
            }
        }
    }
    let moves = words::count(briefing.stacks.moves() as usize, "plate move");
    lines.push(if briefing.stacks.exact {
        moves
    } else {
        format!("{moves}, or near the fewest")
    });
    for saving in &briefing.savings {
        let Some(item) = briefing.plan.items.get(saving.item) else {
            continue;
        };
        lines.push(format!("{}: {saving}", catalogue.name(&item.exercise)));
    }
    lines.iter().map(|line| neutral(line) + "\n").collect()
}

/// What a place has, by what it is called: only what is there.
pub fn place(place: &Place) -> Vec<(&'static str, String)> {
    let fixtures = place.fixtures.iter().map(ToString::to_string);
    let catches = place.has(Fixture::Rack).then(|| {
        if place.safeties {
            "safeties that catch a bar".to_owned()
        } else {
            "no safeties".to_owned()
        }
    });
    let handles = place.handles.iter().map(|handle| {
        let sleeve = sleeve(handle.sleeve);
        format!("{} × {}{sleeve}", handle.count, handle.weight)
    });
    let bars = place.bars.iter().map(|bar| {
        let sleeve = sleeve(bar.sleeve);
        format!("{}, {}{sleeve}", bar.name, bar.weight)
    });
    let plates = place.plates.iter().map(|plate| {
        let fits = match plate.fits {
            Fits::All => "",
            Fits::Handles => " for handles",
            Fits::Bars => " for bars",
        };
        format!("{} × {}{fits}", plate.count, plate.weight)
    });
    let bands = place
        .bands
        .iter()
        .zip(1..)
        .map(|(name, step): (_, u32)| format!("{step} {name}"));
    let listed = [
        ("has", fixtures.chain(catches).collect::<Vec<_>>()),
        ("handles", handles.collect()),
        ("bars", bars.collect()),
        ("plates", plates.collect()),
        ("bands", bands.collect()),
    ];
    let there = listed.into_iter().filter(|(_, things)| !things.is_empty());
    there
        .map(|(name, things)| (name, things.join("; ")))
        .collect()
}

fn sleeve(most: Option<u8>) -> String {
    let told = |most: u8| {
        let plates = words::count(usize::from(most), "plate");
        format!(" with {plates} an end at most")
    };
    most.map(told).unwrap_or_default()
}
