//! Keys of the debrief, and the end of a session.

use super::super::effect::{Cue, Effect};
use super::super::keymap::Action;
use super::super::model::{Debrief, List, Model, Overlay, Screen};
use super::overlay::turn_page;
use super::{Turn, aside, floor, happen};
use crate::domain::schedule::Wish;
use crate::domain::session::{Closed, Command, Event};
use crate::domain::units::Spare;

/// What an action does in the debrief.
pub(super) fn act(model: &mut Model, action: Action, turn: &mut Turn) {
    let Screen::Debrief(debrief) = &mut model.screen else {
        return;
    };
    match action {
        Action::Done if debrief.closed => turn.push(Effect::Quit),
        Action::Done => close(model, turn),
        Action::Digit(digit) if debrief.spare => {
            debrief.spare = false;
            floor::command(model, Command::Spare(Spare::clamped(digit.into())), turn);
            model.tell(format!("the last set: {digit} spare"), turn.now);
        }
        Action::Digit(digit) if !debrief.closed => type_effort(debrief, digit, turn),
        Action::Point => debrief.spare = !debrief.closed,
        Action::Erase => {
            debrief.spare = false;
            debrief.digits.pop();
        }
        Action::Back | Action::Forward | Action::PageBack | Action::PageForward => {
            turn_page(&mut debrief.scroll, action, model.reach);
        }
        Action::TakeBack | Action::BringBack | Action::AddSet if !debrief.closed => {
            let said = match action {
                Action::TakeBack => aside::take_back(model, turn)
                    .map(|what| format!("taken back: {what}. U brings it back")),
                Action::BringBack => {
                    aside::bring_back(model, turn).then(|| "brought back".to_owned())
                }
                _ => floor::command(model, Command::AddSet, turn)
                    .then(|| "a set added. u takes it back".to_owned()),
            };
            if let Some(said) = said {
                reopen(model, &said, turn);
            }
        }
        Action::Cancel if !debrief.closed => go_on(model, turn),
        Action::Menu => model.overlay = Overlay::Menu(List::default()),
        Action::Note if !debrief.closed => model.overlay = Overlay::Writing(String::new()),
        _ => {}
    }
}

/// Effort goes from 0 to 10.
fn type_effort(debrief: &mut Debrief, digit: u8, turn: &mut Turn) {
    let digits = format!("{}{digit}", debrief.digits);
    match digits.parse::<u8>() {
        Ok(0..=10) => debrief.digits = digits,
        Ok(_) | Err(_) => turn.push(Effect::Cue(Cue::Mistake)),
    }
}

fn close(model: &mut Model, turn: &mut Turn) {
    let Screen::Debrief(debrief) = &mut model.screen else {
        return;
    };
    let effort = debrief.digits.parse().ok();
    let event = Event::Closed(Closed { effort });
    let (_, append) = happen(&mut model.ledger, &mut debrief.floor, event, turn.now);
    debrief.closed = true;
    turn.push(append);
    let wish = Wish::default();
    turn.push(Effect::DrawUp {
        wish,
        events: model.ledger.written.clone(),
    });
}

/// Finished too soon: back to the sets that are left.
fn go_on(model: &mut Model, turn: &mut Turn) {
    let left = model.floor().map_or(0, |floor| floor.session.remaining());
    if model.alarm {
        model.tell("a stop sign stands: u takes it back", turn.now);
    } else if left > 0 {
        reopen(model, "on again", turn);
    } else {
        model.tell("every set is done: a adds one", turn.now);
    }
}

/// Something was taken back or added: if there is a set to do again, back to the floor.
fn reopen(model: &mut Model, said: &str, turn: &mut Turn) {
    let Screen::Debrief(debrief) = &model.screen else {
        return;
    };
    if debrief.floor.session.coming().is_some() {
        model.screen = Screen::Floor(Box::new(debrief.floor.clone()));
        super::briefing::fetch_loads(model);
    }
    model.tell(said, turn.now);
}

/// Ends the session here: what is left of it stays undone.
pub(super) fn finish(model: &mut Model, turn: &mut Turn) {
    if let Screen::Floor(_) = &model.screen {
        super::record::to_debrief(model, turn);
    }
}
