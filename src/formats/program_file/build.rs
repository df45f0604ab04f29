//! Phases and days, with what a phase takes over from an earlier one.

use super::wire::{WireChange, WireDay, WirePhase, WireSlot};
use super::{At, Check};
use crate::domain::exercise::Effort;
use crate::domain::program::{Ask, Day, Details, Phase, Policy, RestWindow, Slot, SlotId};
use crate::domain::units::{Reps, Seconds};
use crate::formats::ron_text::listed;

/// No rest is made shorter than this, in seconds.
const SHORTEST: u32 = 15;

impl<'d> Check<'d> {
    pub(super) fn phase(&mut self, wire: &WirePhase, at: At<'d>, earlier: &[Phase]) -> Phase {
        self.name(&wire.name, at.field("name"));
        self.own_name(wire, at, earlier);
        self.nothing_to_change(wire, at);
        self.number("phase", "weeks", wire.weeks.into(), at.field("weeks"));
        let shorter = wire.shorter_rests_s;
        self.number(
            "phase",
            "shorter_rests_s",
            shorter,
            at.field("shorter_rests_s"),
        );
        self.easier_weeks(wire, at);
        let mut days = match &wire.builds_on {
            Some(name) => self.built_on(wire, name, at, earlier),
            None => Vec::new(),
        };
        for (k, day) in wire.days.iter().enumerate() {
            let (day, places) = self.day(day, at.field("days").item(k));
            self.remember(&day.slots, &places);
            days.push(day);
        }
        let taken_over = days.len() - wire.days.len();
        self.own_days(&days, taken_over, at);
        let lost = wire.builds_on.is_some() || at.field("days").is_made_up();
        if days.is_empty() && !lost || days.len() > 14 {
            let message = format!("a phase with {} days", days.len());
            let advice = "write 1 to 14 days, or builds_on an earlier phase";
            self.say(at, &message, advice);
        }
        Phase {
            name: wire.name.trim().to_owned(),
            note: wire.note.clone(),
            weeks: wire.weeks.clamp(1, 52),
            easier_weeks: wire.easier_weeks.clone(),
            easier_on_stall: wire.easier_on_stall,
            days,
        }
    }

    /// The earlier phase's days, changed and added to.
    fn built_on(
        &mut self,
        wire: &WirePhase,
        name: &str,
        at: At<'d>,
        earlier: &[Phase],
    ) -> Vec<Day> {
        let Some(base) = earlier.iter().find(|phase| phase.name == name.trim()) else {
            let names: Vec<&str> = earlier.iter().map(|phase| phase.name.as_str()).collect();
            let advice = match names.as_slice() {
                [] => "this is the first phase: leave builds_on out".to_owned(),
                names => format!("earlier phases are: {}", listed(names)),
            };
            let message = format!("no earlier phase is \"{name}\"");
            self.say(at.field("builds_on"), &message, &advice);
            return Vec::new();
        };
        let mut days = base.days.clone();
        let from = earlier.iter().position(|phase| phase.name == base.name);
        self.take_over(from.unwrap_or(0), at.field("builds_on"));
        self.more_sets(wire, &days, at);
        for slot in days.iter_mut().flat_map(|day| &mut day.slots) {
            slot.sets = slot.sets.saturating_add(wire.more_sets).min(20);
            for sets in slot.wave.iter_mut().filter_map(|step| step.sets.as_mut()) {
                *sets = sets.saturating_add(wire.more_sets).min(20);
            }
            slot.rest = shorter(slot.rest, wire.shorter_rests_s);
        }
        for (k, change) in wire.change.iter().enumerate() {
            self.change(change, at.field("change").item(k), &mut days);
        }
        for (k, added) in wire.add.iter().enumerate() {
            let place = at.field("add").item(k);
            let (added, places) = self.day(added, place);
            match days.iter_mut().find(|day| day.name == added.name) {
                Some(day) => {
                    let had = day.slots.len();
                    day.slots.extend(added.slots);
                    number_slots(day);
                    self.remember(day.slots.get(had..).unwrap_or_default(), &places);
                }
                None => self.no_day(&added.name, place.field("name"), &days),
            }
        }
        days
    }

    fn no_day(&mut self, name: &str, at: At<'d>, days: &[Day]) {
        let names: Vec<&str> = days.iter().map(|day| day.name.as_str()).collect();
        let advice = format!("its days are: {}", listed(&names));
        self.say(at, &format!("the phase has no day \"{name}\""), &advice);
    }

    fn change(&mut self, change: &WireChange, at: At<'d>, days: &mut [Day]) {
        let day = days.iter().position(|day| day.name == change.day.trim());
        let Some(day) = day.and_then(|day| days.get_mut(day)) else {
            self.no_day(&change.day, at.field("day"), days);
            return;
        };
        let place = self.changed(change, at, day);
        let Some(slot) = place.and_then(|place| day.slots.get_mut(place)) else {
            return;
        };
        let mut effort = self.catalogue.get(&slot.exercise).map(|e| e.effort);
        if let Some(name) = &change.with
            && let Some((exercise, other)) = self.exercise(name, at.field("with"))
        {
            slot.exercise = exercise;
            effort = Some(other);
        }
        let held = matches!(slot.ask, Ask::Hold { .. });
        let other = effort.is_some_and(|effort| (effort == Effort::Hold) != held);
        self.fill(slot, &change.given(), (effort, other), at);
        number_slots(day);
        if let Some(slot) = place.and_then(|place| day.slots.get(place)) {
            self.remember(std::slice::from_ref(slot), &[at]);
        }
    }

    /// The place of the slot that a change is of.
    fn changed(&mut self, change: &WireChange, at: At<'d>, day: &Day) -> Option<usize> {
        let slots = day.slots.iter().enumerate();
        let of = slots.filter(|(_, slot)| slot.exercise.as_str() == change.exercise);
        let places: Vec<usize> = of.map(|(place, _)| place).collect();
        let (name, exercise) = (&change.day, &change.exercise);
        let which = change.which.map(|which| usize::from(which).wrapping_sub(1));
        match (places.as_slice(), which) {
            ([], _) => {
                let names: Vec<&str> = day.slots.iter().map(|s| s.exercise.as_str()).collect();
                let advice = format!("it has: {}", listed(&names));
                let message = format!("\"{name}\" has no {exercise}");
                self.say(at.field("exercise"), &message, &advice);
                None
            }
            ([only], None) => Some(*only),
            (several, None) => {
                let slots = several.iter().filter_map(|place| day.slots.get(*place));
                let ways = slots.zip(1..);
                let ways = ways.map(|(s, k)| format!("which: {k} ({} × {})", s.sets, s.ask));
                let ways: Vec<String> = ways.collect();
                let ways: Vec<&str> = ways.iter().map(String::as_str).collect();
                let message = format!("\"{name}\" has {exercise} {} times", several.len());
                let advice = format!("say which one changes: {}", listed(&ways));
                self.say(at.field("exercise"), &message, &advice);
                None
            }
            (places, Some(which)) => {
                let place = places.get(which).copied();
                if place.is_none() {
                    let times = crate::domain::words::count(places.len(), "time");
                    let message = format!("\"{name}\" has {exercise} only {times}");
                    let advice = format!("write which: 1 to {}", places.len());
                    self.say(at.field("which"), &message, &advice);
                }
                place
            }
        }
    }

    /// A day, and where each of its slots stands.
    fn day(&mut self, wire: &WireDay, at: At<'d>) -> (Day, Vec<At<'d>>) {
        self.name(&wire.name, at.field("name"));
        if wire.slots.is_empty() || wire.slots.len() > 20 {
            let message = format!("a day with {} exercises", wire.slots.len());
            let advice = "write 1 to 20 exercises between its [ and ]";
            self.say(at.field("slots"), &message, advice);
        }
        let slots = wire.slots.iter().enumerate();
        let slots = slots.filter_map(|(k, slot)| {
            let place = at.field("slots").item(k);
            Some((self.slot(slot, place)?, place))
        });
        let (slots, places) = slots.unzip();
        let mut day = Day {
            slots,
            name: wire.name.trim().to_owned(),
        };
        number_slots(&mut day);
        (day, places)
    }

    fn slot(&mut self, wire: &WireSlot, at: At<'d>) -> Option<Slot> {
        let exercise = self.exercise(&wire.exercise, at.field("exercise"));
        let effort = exercise.as_ref().map(|(_, effort)| *effort);
        let id = exercise.as_ref().map(|(exercise, _)| exercise.clone());
        let one = Reps::clamped(1);
        let mut slot = Slot {
            id: SlotId(String::new()),
            exercise: id.or_else(|| self.catalogue.iter().next().map(|e| e.id.clone()))?,
            sets: wire.sets.clamp(1, 20),
            ask: Ask::Reps { min: one, max: one },
            rest: RestWindow {
                opens: Seconds::clamped(60),
                closes: Seconds::clamped(90),
            },
            spare: None,
            tempo: None,
            policy: Policy::default(),
            group: None,
            wave: Vec::new(),
            details: Details::default(),
        };
        self.fill(&mut slot, &wire.given(), (effort, true), at);
        exercise.map(|_| slot)
    }
}

/// A window made shorter at both ends, within reason.
fn shorter(rest: RestWindow, by: u32) -> RestWindow {
    let less = |end: Seconds| {
        let least = SHORTEST.min(end.get());
        Seconds::clamped(end.get().saturating_sub(by).max(least))
    };
    RestWindow {
        opens: less(rest.opens),
        closes: less(rest.closes),
    }
}

/// Names the slots of a day: by the exercise, and the number where it stands there again.
fn number_slots(day: &mut Day) {
    let mut seen: Vec<String> = Vec::new();
    for slot in &mut day.slots {
        let base = format!("{}/{}", day.name, slot.exercise);
        let number = seen.iter().filter(|other| **other == base).count() + 1;
        slot.id = SlotId(if number == 1 {
            base.clone()
        } else {
            format!("{base}/{number}")
        });
        seen.push(base);
    }
}
