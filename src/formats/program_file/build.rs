//! Phases, days and slots, with what a phase takes over from an earlier one.

use super::wire::{WireChange, WireDay, WirePhase, WireSlot};
use super::{At, Check, quantity};
use crate::domain::exercise::Effort;
use crate::domain::program::{Ask, Day, Phase, Policy, RestWindow, Slot, SlotId, Tempo};
use crate::domain::units::{Reps, Seconds, Spare};

/// What a slot asks of the body, as it stands in the file.
struct Asked<'w> {
    effort: Option<Effort>,
    reps: Option<&'w str>,
    hold: Option<&'w str>,
}

impl<'d> Check<'d> {
    pub(super) fn phase(&mut self, wire: &WirePhase, at: At<'d>, earlier: &[Phase]) -> Phase {
        self.name(&wire.name, at.field("name"));
        self.own_name(wire, at, earlier);
        self.nothing_to_change(wire, at);
        if !(1..=52).contains(&wire.weeks) {
            let message = format!("a phase of {} weeks", wire.weeks);
            self.say(at.field("weeks"), &message, "write 1 to 52");
        }
        for (k, week) in wire.easier_weeks.iter().enumerate() {
            if !(1..=wire.weeks).contains(week) {
                let message = format!("week {week} of a phase of {}", wire.weeks);
                let place = at.field("easier_weeks").item(k);
                self.say(place, &message, "write numbers of weeks that the phase has");
            }
        }
        let mut days = match &wire.builds_on {
            Some(name) => self.built_on(wire, name, at, earlier),
            None => Vec::new(),
        };
        for (k, day) in wire.days.iter().enumerate() {
            let day = self.day(day, at.field("days").item(k));
            days.push(day);
        }
        self.own_days(&days, at);
        if days.is_empty() || days.len() > 14 {
            let message = format!("a phase with {} days", days.len());
            self.say(
                at,
                &message,
                "write 1 to 14 days, or builds_on an earlier phase",
            );
        }
        Phase {
            name: wire.name.trim().to_owned(),
            note: wire.note.clone(),
            weeks: wire.weeks.clamp(1, 52),
            easier_weeks: wire.easier_weeks.clone(),
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
        let Some(base) = earlier.iter().find(|phase| phase.name == name) else {
            let names: Vec<&str> = earlier.iter().map(|phase| phase.name.as_str()).collect();
            let known = super::super::ron_text::listed(&names);
            let advice = format!("earlier phases are: {known}");
            self.say(
                at.field("builds_on"),
                &format!("no earlier phase is \"{name}\""),
                &advice,
            );
            return Vec::new();
        };
        let mut days = base.days.clone();
        self.more_sets(wire, &days, at);
        for slot in days.iter_mut().flat_map(|day| &mut day.slots) {
            slot.sets = slot.sets.saturating_add(wire.more_sets).min(20);
        }
        for (k, change) in wire.change.iter().enumerate() {
            self.change(change, at.field("change").item(k), &mut days);
        }
        for (k, added) in wire.add.iter().enumerate() {
            let place = at.field("add").item(k);
            let added = self.day(added, place);
            match days.iter_mut().find(|day| day.name == added.name) {
                Some(day) => {
                    day.slots.extend(added.slots);
                    number_slots(day);
                }
                None => self.no_day(&added.name, place.field("name"), &days),
            }
        }
        days
    }

    fn no_day(&mut self, name: &str, at: At<'d>, days: &[Day]) {
        let names: Vec<&str> = days.iter().map(|day| day.name.as_str()).collect();
        let advice = format!("its days are: {}", super::super::ron_text::listed(&names));
        self.say(at, &format!("the phase has no day \"{name}\""), &advice);
    }

    fn change(&mut self, change: &WireChange, at: At<'d>, days: &mut [Day]) {
        let Some(place) = days.iter().position(|day| day.name == change.day) else {
            self.no_day(&change.day, at.field("day"), days);
            return;
        };
        let day = &mut days[place];
        let slot = day
            .slots
            .iter()
            .position(|s| s.exercise.as_str() == change.exercise);
        let Some(slot) = slot else {
            let names: Vec<&str> = day.slots.iter().map(|s| s.exercise.as_str()).collect();
            let advice = format!("it has: {}", super::super::ron_text::listed(&names));
            let message = format!("\"{}\" has no {}", change.day, change.exercise);
            self.say(at.field("exercise"), &message, &advice);
            return;
        };
        let mut slot = day.slots[slot].clone();
        let id = slot.id.clone();
        let mut effort = self.catalogue.get(&slot.exercise).map(|e| e.effort);
        if let Some(name) = &change.with
            && let Some((exercise, other)) = self.exercise(name, at.field("with"))
        {
            slot.id = SlotId(format!("{}/{exercise}", change.day));
            slot.exercise = exercise;
            effort = Some(other);
        }
        let held = matches!(slot.ask, Ask::Hold { .. });
        let other = effort.is_some_and(|effort| (effort == Effort::Hold) != held);
        if other || change.reps.is_some() || change.hold.is_some() {
            let (reps, hold) = (change.reps.as_deref(), change.hold.as_deref());
            slot.ask = self.ask(&Asked { effort, reps, hold }, at);
        }
        if let Some(sets) = change.sets {
            slot.sets = self.sets(sets, at.field("sets"));
        }
        if let Some(rest) = &change.rest {
            slot.rest = self.rest(rest, at.field("rest"));
        }
        self.spare(change.spare, at);
        slot.spare = change
            .spare
            .map(|s| Spare::clamped(s.into()))
            .or(slot.spare);
        if let Some(tempo) = &change.tempo {
            slot.tempo = self.tempo(tempo, at.field("tempo"));
        }
        if let Some(old) = days[place].slots.iter_mut().find(|old| old.id == id) {
            *old = slot;
        }
        number_slots(&mut days[place]);
    }

    fn day(&mut self, wire: &WireDay, at: At<'d>) -> Day {
        self.name(&wire.name, at.field("name"));
        if wire.slots.is_empty() || wire.slots.len() > 20 {
            let message = format!("a day with {} exercises", wire.slots.len());
            self.say(at.field("slots"), &message, "write 1 to 20");
        }
        let name = wire.name.trim().to_owned();
        let slots = wire.slots.iter().enumerate();
        let slots = slots.filter_map(|(k, s)| self.slot(s, at.field("slots").item(k), &name));
        let mut day = Day {
            slots: slots.collect(),
            name,
        };
        number_slots(&mut day);
        day
    }

    fn slot(&mut self, wire: &WireSlot, at: At<'d>, day: &str) -> Option<Slot> {
        let exercise = self.exercise(&wire.exercise, at.field("exercise"));
        let effort = exercise.as_ref().map(|(_, effort)| *effort);
        let (reps, hold) = (wire.reps.as_deref(), wire.hold.as_deref());
        let ask = self.ask(&Asked { effort, reps, hold }, at);
        let sets = self.sets(wire.sets, at.field("sets"));
        let rest = self.rest(&wire.rest, at.field("rest"));
        self.spare(wire.spare, at);
        let tempo = match &wire.tempo {
            Some(tempo) => self.tempo(tempo, at.field("tempo")),
            None => None,
        };
        let (exercise, _) = exercise?;
        Some(Slot {
            id: SlotId(format!("{day}/{exercise}")),
            exercise,
            sets,
            ask,
            rest,
            spare: wire.spare.map(|spare| Spare::clamped(spare.into())),
            tempo,
            policy: wire.policy.map(Policy::from).unwrap_or_default(),
            group: wire.group,
            note: wire.note.clone(),
        })
    }

    /// Reps or seconds, whichever the exercise is counted in.
    fn ask(&mut self, asked: &Asked<'_>, at: At<'d>) -> Ask {
        let one = Reps::clamped(1);
        let unread = Ask::Reps { min: one, max: one };
        let (text, field, hold) = match (asked.reps, asked.hold) {
            (Some(text), None) => (text, at.field("reps"), false),
            (None, Some(text)) => (text, at.field("hold"), true),
            (Some(_), Some(_)) | (None, None) => {
                let advice = "write reps: \"8-12\", or hold: \"20-40\" where seconds are counted";
                self.say(
                    at,
                    "a slot asks for reps or for a hold, one of them",
                    advice,
                );
                return unread;
            }
        };
        match asked.effort {
            Some(Effort::Hold) if !hold => {
                self.say(field, "this exercise is held", "write hold: and seconds");
            }
            Some(Effort::Reps) if hold => {
                self.say(
                    field,
                    "this exercise is counted in reps",
                    "write reps: and a number",
                );
            }
            Some(Effort::Hold | Effort::Reps) | None => {}
        }
        let bounds = if hold { (1, 600) } else { (1, 100) };
        let Some((low, high)) = quantity::range(text, bounds) else {
            let what = if hold {
                "a hold of 1 to 600 s"
            } else {
                "1 to 100 reps"
            };
            let advice = "write a number, or the lower and the upper one, like \"8-12\"";
            self.say(field, &format!("\"{text}\" is not {what}"), advice);
            return unread;
        };
        if hold {
            Ask::Hold {
                min: Seconds::clamped(low),
                max: Seconds::clamped(high),
            }
        } else {
            Ask::Reps {
                min: Reps::clamped(low),
                max: Reps::clamped(high),
            }
        }
    }

    fn sets(&mut self, sets: u8, at: At<'d>) -> u8 {
        if !(1..=20).contains(&sets) {
            self.say(at, &format!("{sets} sets"), "write 1 to 20");
        }
        sets.clamp(1, 20)
    }

    fn rest(&mut self, text: &str, at: At<'d>) -> RestWindow {
        quantity::window(text).unwrap_or_else(|| {
            let advice = "write the shortest and the longest rest, like \"1:00-1:30\"";
            self.say(at, &format!("\"{text}\" is no rest window"), advice);
            RestWindow {
                opens: Seconds::clamped(60),
                closes: Seconds::clamped(90),
            }
        })
    }

    fn tempo(&mut self, text: &str, at: At<'d>) -> Option<Tempo> {
        let tempo = quantity::tempo(text);
        if tempo.is_none() {
            let advice = "write four digits: lowering, bottom, lifting (or X), top, like \"30X0\"";
            self.say(at, &format!("\"{text}\" is no tempo"), advice);
        }
        tempo
    }
}

/// Gives slots of the same exercise in one day names of their own.
fn number_slots(day: &mut Day) {
    for k in 0..day.slots.len() {
        let base = format!("{}/{}", day.name, day.slots[k].exercise);
        let before = day.slots[..k]
            .iter()
            .filter(|s| s.exercise == day.slots[k].exercise)
            .count();
        let number = before + 1;
        day.slots[k].id = SlotId(if number == 1 {
            base
        } else {
            format!("{base}/{number}")
        });
    }
}
