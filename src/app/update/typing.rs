//! What is typed on the floor: counts, spare, a load by name.

use super::super::effect::{Cue, Effect};
use super::super::model::{Model, Screen};
use super::Turn;
use super::{floor, record};
use crate::domain::exercise::{Exercise, Sides};
use crate::domain::session::{
    Amendment, Command, Done, Entry, SetRecord, Typed, done_by_side, done_of,
};
use crate::domain::units::{Load, Mass, Spare, Unit, Weight};

/// Counts have three digits at most.
const DIGITS: usize = 3;

/// A digit.
pub(super) fn digit(model: &mut Model, digit: u8, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    if floor.typed == Typed::SpareOfLast {
        floor.typed = Typed::Nothing;
        spare_of_last(model, Spare::clamped(digit.into()), turn);
    } else {
        push(&mut floor.typed, digit);
    }
}

/// A digit behind what is being typed.
pub(super) fn push(typed: &mut Typed, number: u8) {
    let digit = char::from(b'0' + number);
    match typed {
        Typed::Nothing | Typed::SpareOfLast => {
            *typed = Typed::Count {
                digits: digit.to_string(),
                spare: None,
            };
        }
        Typed::Count {
            digits,
            spare: None,
        }
        | Typed::OtherSide { digits, .. } => {
            if digits.len() < DIGITS {
                digits.push(digit);
            }
        }
        Typed::Count {
            spare: Some(spare), ..
        } => *spare = Some(Spare::clamped(number.into())),
        Typed::Load(text) => {
            if text.len() < 8 {
                text.push(digit);
            }
        }
    }
}

/// The point: spare behind a count, decimals of a load, else the spare of the set just done.
pub(super) fn point(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    match &mut floor.typed {
        Typed::Nothing if floor.edit.is_some() => point_of(&mut floor.typed),
        Typed::Nothing if floor.session.sets.is_empty() => {
            model.tell(
                "no set is done yet: spare is said of a set just done",
                turn.now,
            );
            turn.push(Effect::Cue(Cue::Mistake));
        }
        Typed::Nothing => floor.typed = Typed::SpareOfLast,
        typed => point_of(typed),
    }
}

/// The point behind what is being typed of a set that is known: its spare, or decimals of a load.
pub(super) fn point_of(typed: &mut Typed) {
    match typed {
        Typed::Nothing => {
            *typed = Typed::Count {
                digits: String::new(),
                spare: Some(None),
            };
        }
        Typed::Count { spare, .. } => *spare = Some(spare.flatten()),
        Typed::Load(text) if !text.contains('.') => text.push('.'),
        Typed::SpareOfLast | Typed::OtherSide { .. } | Typed::Load(_) => {}
    }
}

/// The last character goes; says whether there was one.
pub(super) fn erase(typed: &mut Typed) -> bool {
    match typed {
        Typed::Nothing => return false,
        Typed::Count {
            spare: spare @ Some(Some(_)),
            ..
        } => *spare = Some(None),
        Typed::Count {
            digits,
            spare: spare @ Some(None),
        } => {
            *spare = None;
            if digits.is_empty() {
                *typed = Typed::Nothing;
            }
        }
        Typed::Count { digits, .. } => {
            digits.pop();
            if digits.is_empty() {
                *typed = Typed::Nothing;
            }
        }
        Typed::SpareOfLast => *typed = Typed::Nothing,
        Typed::OtherSide {
            digits,
            first,
            spare,
        } => {
            if digits.pop().is_none() {
                let digits = first.to_string();
                *typed = Typed::Count {
                    digits,
                    spare: spare.map(Some),
                };
            }
        }
        Typed::Load(text) => {
            if text.pop().is_none() {
                *typed = Typed::Nothing;
            }
        }
    }
    true
}

/// Enter: what was typed holds.
pub(super) fn enter(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let number = |digits: &str| digits.parse::<u32>().ok();
    match std::mem::take(&mut floor.typed) {
        Typed::Nothing => record::as_asked(model, turn),
        Typed::Count { digits, spare } => {
            let spare = spare.flatten();
            if let Some(count) = number(&digits) {
                record::typed(model, count, spare, turn);
            }
        }
        Typed::SpareOfLast => {
            model.tell("the point wants a digit: .2 is two reps spare", turn.now);
        }
        Typed::OtherSide {
            first,
            spare,
            digits,
        } => {
            let second = number(&digits).unwrap_or(first);
            record::both_sides(model, (first, second), spare, turn);
        }
        Typed::Load(text) => name_load(model, &text, turn),
    }
}

fn spare_of_last(model: &mut Model, spare: Spare, turn: &mut Turn) {
    let Screen::Floor(floor) = &model.screen else {
        return;
    };
    let number = floor.session.sets.last().map_or(0, |set| set.record.number);
    if floor::command(model, Command::Spare(spare), turn) {
        model.tell(format!("set {number}: {spare} spare"), turn.now);
        record::follow(model, turn);
    }
}

/// A load by name. What cannot be made from the gear is taken too: the record is what was lifted.
fn name_load(model: &mut Model, text: &str, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    let load = load_named(text, coming.load);
    match load {
        Some(load) => {
            let makeable = floor.makeable.get(coming.item);
            let known = makeable.is_some_and(|all| all.iter().any(|m| m.load == load));
            floor::choose_load(floor, load);
            if !known {
                model.tell(
                    format!("{load} is not in this place's gear; taken as you say"),
                    turn.now,
                );
            }
        }
        None => no_load(model, text, turn),
    }
}

/// What was typed of a set that is known.
pub(super) enum Said {
    /// One side's count: the other's is asked for.
    OneSide,
    /// This of it was otherwise; nothing where nothing was typed.
    Change(Amendment),
    /// A load that is none.
    NoLoad(String),
}

/// Takes what was typed of a set that is known, and whose sides work in turn or do not.
pub(super) fn of_known(typed: &mut Typed, set: &SetRecord, in_turn: bool) -> Said {
    let mut change = Amendment::default();
    match std::mem::take(typed) {
        Typed::Nothing | Typed::SpareOfLast => {}
        Typed::Count { digits, spare } => {
            let (count, spare) = (digits.parse().ok(), spare.flatten());
            if let Some(first) = count.filter(|_| in_turn) {
                *typed = Typed::OtherSide {
                    first,
                    spare,
                    digits: String::new(),
                };
                return Said::OneSide;
            }
            change.done = count.map(|count| done_of(set.asked, count));
            change.spare = spare;
        }
        Typed::OtherSide {
            first,
            spare,
            digits,
        } => {
            let second = digits.parse().unwrap_or(first);
            change.done = Some(done_by_side(set.asked, first, second));
            change.spare = spare;
        }
        Typed::Load(text) => match load_named(&text, set.load) {
            Some(load) => change.load = Some(load),
            None => return Said::NoLoad(text),
        },
    }
    Said::Change(change)
}

/// Tells that a text is no load.
pub(super) fn no_load(model: &mut Model, text: &str, turn: &mut Turn) {
    let told = format!("\"{text}\" is no load: w and a number like 22.5");
    model.tell(told, turn.now);
    turn.push(Effect::Cue(Cue::Mistake));
}

/// The load of that number, of the same kind and unit as another.
fn load_named(text: &str, like: Load) -> Option<Load> {
    let unit = like.entered().map_or(Unit::Kg, |weight| weight.unit);
    let weight = Weight::new(Mass::parse(text, unit).ok()?, unit);
    match like {
        Load::Mass(_) => (weight.mass > Mass::ZERO).then_some(Load::Mass(weight)),
        Load::Body(_) => Some(Load::Body(weight)),
        Load::Band(_) => {
            let step = text.parse::<u8>().ok().filter(|step| *step > 0)?;
            Some(Load::Band(crate::domain::units::BandStep(step)))
        }
    }
}

/// What was recorded, in one line.
pub(super) fn told(entry: &Entry, number: u16, exercise: &Exercise) -> String {
    let each = match exercise.sides {
        Sides::Each | Sides::Alternating => " each side",
        Sides::Both => "",
    };
    let done = match entry.done {
        Done::Reps(reps) => format!("× {reps}{each}"),
        Done::RepsBySide { left, right } => format!("× {left} left, {right} right"),
        Done::Held(seconds) => format!("held {} s{each}", seconds.get()),
        Done::HeldBySide { left, right } => {
            format!("held {} s left, {} s right", left.get(), right.get())
        }
    };
    let spare = entry
        .spare
        .map(|spare| format!(", {spare} spare"))
        .unwrap_or_default();
    format!(
        "set {number}: {} {done}{spare}. u takes it back",
        entry.load
    )
}
