//! What a slot asks for: sets, reps, rests, and what sets it apart from equal sets.

use super::fields::bounds;
use super::wire::{Asked, Given, WireBackOff, WireStep};
use super::{At, Check, quantity};
use crate::domain::exercise::{Effort, Sides};
use crate::domain::program::{Ask, BackOff, Policy, RestWindow, Slot, Step, Tempo};
use crate::domain::units::{Reps, Seconds, Spare};

impl<'d> Check<'d> {
    /// Puts what is given into a slot. `effort` is what its exercise counts; `new` says that it
    /// has nothing to count yet.
    pub(super) fn fill(
        &mut self,
        slot: &mut Slot,
        given: &Given<'_>,
        (effort, new): (Option<Effort>, bool),
        at: At<'d>,
    ) {
        if let Some(sets) = given.sets {
            self.number("slot", "sets", sets.into(), at.field("sets"));
            // Of a wrong number nothing else is to be told.
            slot.sets = if (1..=20).contains(&sets) { sets } else { 1 };
        }
        if new || given.ask.count() > 0 {
            slot.details.total = None;
            if let Some(ask) = self.ask(&given.ask, effort, at) {
                slot.ask = ask;
            }
        }
        if let Some(total) = given.ask.total {
            slot.details.total = Some(Reps::clamped(total));
        }
        if let Some(total) = slot.details.total {
            self.total(total, slot.sets, at);
            slot.ask = Ask::share(total, slot.sets);
        }
        if let Some(rest) = given.rest {
            slot.rest = self.rest(rest, at.field("rest"));
        }
        if let Some(spare) = given.spare {
            self.number("slot", "spare", spare.into(), at.field("spare"));
            slot.spare = Some(Spare::clamped(spare.into()));
        }
        if let Some(tempo) = given.tempo {
            slot.tempo = self.tempo(tempo, at.field("tempo"));
        }
        if let Some(policy) = given.policy {
            slot.policy = Policy::from(policy);
        }
        self.details(slot, given, effort, at);
        self.agree(slot, at);
    }

    /// What sets a slot apart from equal sets.
    fn details(&mut self, slot: &mut Slot, given: &Given<'_>, effort: Option<Effort>, at: At<'d>) {
        if let Some(open) = given.open_last {
            slot.details.open_last = open;
        }
        if let Some(back_off) = given.back_off {
            let back_off = self.back_off(back_off, (slot.ask, effort), at.field("back_off"));
            slot.details.back_off = Some(back_off);
        }
        if let Some(wave) = given.wave {
            self.number("slot", "wave", wave.len() as u32, at.field("wave"));
            let steps = wave.iter().enumerate();
            let steps = steps.map(|(k, step)| self.step(step, effort, at.field("wave").item(k)));
            slot.wave = steps.collect();
        }
        if let Some(group) = given.group {
            self.number("slot", "group", group.into(), at.field("group"));
            slot.group = Some(group);
        }
        if let Some(inside) = given.inside {
            slot.details.inside = Some(self.rest(inside, at.field("inside")));
        }
        if let Some(sides) = given.sides {
            slot.details.sides = Some(sides.into());
            self.sides(slot, at.field("sides"));
        }
        if let Some(note) = given.note {
            let length = note.chars().count() as u32;
            self.number("slot", "note", length, at.field("note"));
            note.trim().clone_into(&mut slot.details.note);
        }
    }

    /// What cannot stand together.
    fn agree(&mut self, slot: &Slot, at: At<'d>) {
        let details = &slot.details;
        if details.inside.is_some() && slot.group.is_none() {
            let advice = "write group: 1 here, and in the others that are done in turn with it";
            self.say(
                at.field("inside"),
                "a rest inside a group, and no group",
                advice,
            );
        }
        let total = details.total.is_some();
        let others = [
            ("open_last", details.open_last),
            ("back_off", details.back_off.is_some()),
            ("wave", !slot.wave.is_empty()),
        ];
        for (name, given) in others {
            if total && given {
                let message = format!("{name} beside a total over all sets");
                let advice = "write reps: in place of total:, or leave the other out";
                self.say(at.field(name), &message, advice);
            }
        }
    }

    /// Both sides take turns in an exercise, or none do.
    fn sides(&mut self, slot: &Slot, at: At<'d>) {
        let usual = self.catalogue.get(&slot.exercise).map(|e| e.sides);
        let message = match (usual, slot.details.sides) {
            (_, None) | (None, _) => return,
            (_, Some(Sides::Both)) => "both sides at once is how an exercise is, or is not",
            (Some(Sides::Both), Some(_)) => "this exercise works both sides at once",
            (Some(Sides::Each | Sides::Alternating), Some(_)) => return,
        };
        self.say(
            at,
            message,
            "leave sides: out, or take a one-sided exercise",
        );
    }

    fn total(&mut self, total: Reps, sets: u8, at: At<'d>) {
        self.number("slot", "total", total.get(), at.field("total"));
        if total.get() < u32::from(sets) {
            let message = format!("{total} reps over {sets} sets");
            self.say(
                at.field("total"),
                &message,
                "write a rep for each set at least",
            );
        }
    }

    fn back_off(
        &mut self,
        wire: &WireBackOff,
        (top, effort): (Ask, Option<Effort>),
        at: At<'d>,
    ) -> BackOff {
        self.number("back_off", "sets", wire.sets.into(), at.field("sets"));
        self.number(
            "back_off",
            "percent",
            wire.percent.into(),
            at.field("percent"),
        );
        let asked = Asked {
            reps: wire.reps.as_deref(),
            hold: wire.hold.as_deref(),
            total: None,
        };
        let ask = match asked.count() {
            0 => None,
            _ => self.ask(&asked, effort, at),
        };
        BackOff {
            sets: wire.sets.clamp(1, 10),
            percent: wire.percent.clamp(40, 99),
            ask: ask.unwrap_or(top),
        }
    }

    fn step(&mut self, wire: &WireStep, effort: Option<Effort>, at: At<'d>) -> Step {
        let asked = Asked {
            reps: wire.reps.as_deref(),
            hold: wire.hold.as_deref(),
            total: None,
        };
        for (name, number) in [("sets", wire.sets), ("spare", wire.spare)] {
            if let Some(number) = number {
                self.number("step", name, number.into(), at.field(name));
            }
        }
        Step {
            sets: wire.sets.map(|sets| sets.clamp(1, 20)),
            ask: match asked.count() {
                0 => None,
                _ => self.ask(&asked, effort, at),
            },
            spare: wire.spare.map(|spare| Spare::clamped(spare.into())),
        }
    }

    /// Reps or seconds, whichever the exercise is counted in. None where a total says it, or where
    /// it cannot be read.
    fn ask(&mut self, asked: &Asked<'_>, effort: Option<Effort>, at: At<'d>) -> Option<Ask> {
        let (text, name) = match (asked.reps, asked.hold, asked.total) {
            (Some(text), None, None) => (Some(text), "reps"),
            (None, Some(text), None) => (Some(text), "hold"),
            (None, None, Some(_)) => (None, "total"),
            _ => {
                self.asks_for_one(asked, at);
                return None;
            }
        };
        let (field, hold) = (at.field(name), name == "hold");
        match effort {
            Some(Effort::Hold) if !hold => {
                let seconds =
                    text.filter(|text| quantity::range(text, bounds("slot", "hold")).is_ok());
                let seconds = seconds.unwrap_or("20-40");
                let advice = format!("write hold: \"{seconds}\" in its place, in seconds");
                self.say(field, "this exercise is held", &advice);
                return None;
            }
            Some(Effort::Reps) if hold => {
                let reps =
                    text.filter(|text| quantity::range(text, bounds("slot", "reps")).is_ok());
                let advice = format!("write reps: \"{}\" in its place", reps.unwrap_or("8-12"));
                self.say(field, "this exercise is counted in reps", &advice);
                return None;
            }
            Some(Effort::Hold | Effort::Reps) | None => {}
        }
        let text = text?;
        match quantity::range(text, bounds("slot", name)) {
            Ok((low, high)) if hold => Some(Ask::Hold {
                min: Seconds::clamped(low),
                max: Seconds::clamped(high),
            }),
            Ok((low, high)) => Some(Ask::Reps {
                min: Reps::clamped(low),
                max: Reps::clamped(high),
            }),
            Err(wrong) => {
                self.say(field, &wrong.message, &wrong.advice);
                None
            }
        }
    }

    /// That none or several of the three are given.
    fn asks_for_one(&mut self, asked: &Asked<'_>, at: At<'d>) {
        let names = ["reps", "hold", "total"];
        if names.iter().any(|name| at.field(name).is_made_up()) {
            return;
        }
        if asked.count() > 1 {
            let last = if asked.total.is_some() {
                "total"
            } else {
                "hold"
            };
            let message = "reps, hold and total say the same in different ways";
            self.say(at.field(last), message, "keep one of them");
            return;
        }
        let message = "a slot asks for reps, a hold or a total, one of them";
        let advice = "write reps: \"8-12\", or hold: \"20-40\" where seconds are counted";
        self.say(at, message, advice);
    }

    fn rest(&mut self, text: &str, at: At<'d>) -> RestWindow {
        quantity::window(text, bounds("slot", "rest")).unwrap_or_else(|wrong| {
            self.say(at, &wrong.message, &wrong.advice);
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
