//! The four questions of the first run, each with a working default.

use super::super::effect::{Cue, Effect};
use super::super::keymap::Action;
use super::super::model::{Desk, FirstRun, FirstStep, List, Model, Screen};
use super::overlay::move_mark;
use super::{Turn, briefing};
use crate::domain::history::Lifter;
use crate::domain::schedule::Wish;
use crate::domain::units::{Mass, Unit, Weight};

/// What an action does to the questions.
pub(super) fn act(model: &mut Model, action: Action, turn: &mut Turn) {
    let desk = model.desk.clone();
    let Screen::FirstRun(first) = &mut model.screen else {
        return;
    };
    if first.writing {
        return;
    }
    let entries = match first.step {
        FirstStep::Units => 2,
        FirstStep::BodyWeight => return body_weight(model, action, turn),
        FirstStep::Place => desk.places.len(),
        FirstStep::Program => desk.programs.len(),
    };
    match (action, first.step) {
        (Action::Done, FirstStep::Units) => {
            first.lifter.unit = if first.list.marked == 1 {
                Unit::Lb
            } else {
                Unit::Kg
            };
            go_on(first, FirstStep::BodyWeight, &desk);
        }
        (Action::Done, FirstStep::Place) => {
            if let Some(place) = desk.places.get(first.list.marked) {
                first.lifter.place = place.id.clone();
            }
            go_on(first, FirstStep::Program, &desk);
        }
        (Action::Done, FirstStep::Program) => {
            if let Some(program) = desk.programs.get(first.list.marked) {
                first.lifter.program = program.id.clone();
            }
            first.writing = true;
            turn.push(Effect::WriteLifter(Box::new(first.lifter.clone())));
        }
        (other, _) => move_mark(&mut first.list, other, entries),
    }
}

/// The next question, the present answer marked.
fn go_on(first: &mut FirstRun, step: FirstStep, desk: &Desk) {
    let marked = match step {
        FirstStep::Units | FirstStep::BodyWeight => None,
        FirstStep::Place => {
            let mut places = desk.places.iter();
            places.position(|place| place.id == first.lifter.place)
        }
        FirstStep::Program => {
            let mut programs = desk.programs.iter();
            programs.position(|program| program.id == first.lifter.program)
        }
    };
    first.step = step;
    first.list = List {
        marked: marked.unwrap_or(0),
        digits: String::new(),
    };
}

/// A number, or nothing at all.
fn body_weight(model: &mut Model, action: Action, turn: &mut Turn) {
    let desk = model.desk.clone();
    let Screen::FirstRun(first) = &mut model.screen else {
        return;
    };
    let digits = &mut first.list.digits;
    match action {
        Action::Digit(digit) if digits.len() < 6 => digits.push(char::from(b'0' + digit)),
        Action::Point if !digits.is_empty() && !digits.contains('.') => digits.push('.'),
        Action::Erase => _ = digits.pop(),
        Action::Done => {
            let unit = first.lifter.unit;
            let mass = Mass::parse(digits, unit)
                .ok()
                .filter(|mass| plausible(*mass));
            if !digits.is_empty() && mass.is_none() {
                let range = format!("20 to 300 kg, in {unit}; or nothing at all");
                model.tell(format!("a body weight is {range}"), turn.now);
                turn.push(Effect::Cue(Cue::Mistake));
                return;
            }
            first.lifter.body_weight = mass.map(|mass| Weight::new(mass, unit));
            go_on(first, FirstStep::Place, &desk);
        }
        _ => {}
    }
}

fn plausible(mass: Mass) -> bool {
    let kg = Unit::Kg.nanograms();
    (20 * kg..=300 * kg).contains(&mass.ng())
}

/// The answers are not on the disk: Enter tries again.
pub(super) fn not_written(model: &mut Model, why: String, turn: &Turn) {
    if let Screen::FirstRun(first) = &mut model.screen {
        first.writing = false;
    }
    model.tell(why, turn.now);
}

/// The answers are on the disk: on to the briefing.
pub(super) fn written(model: &mut Model, lifter: Lifter, turn: &mut Turn) {
    model.lifter = Some(lifter);
    model.screen = Screen::Waiting(Box::default());
    briefing::draw_up(model, Wish::default(), turn);
}
