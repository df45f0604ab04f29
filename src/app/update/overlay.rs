//! Keys of what lies over a screen: the numbered menu, questions, notes, help.

use super::super::effect::{Cue, Effect};
use super::super::keymap::{Action, Key, Mode, menu_entries};
use super::super::model::{Answer, Ask, List, Model, Overlay, Screen};
use super::record::Report;
use super::{Turn, briefing, debrief, floor, happen, logbook, pain, record};
use crate::domain::session::{Command, Event, PlannedItem, Whereabouts};

/// Lines of a page: the smallest screen shows them all at once.
pub(super) const PAGE: usize = 15;
/// Notes are a line, not a page.
const NOTE: usize = 200;

/// What an action does to an overlay.
pub(super) fn act(model: &mut Model, action: Action, turn: &mut Turn) {
    match &mut model.overlay {
        Overlay::None => {}
        Overlay::Menu(list) => {
            let entries = menu_entries(below(&model.screen)).count();
            match action {
                Action::Done => pick_menu(model, turn),
                Action::Cancel => model.overlay = Overlay::None,
                other => move_mark(list, other, entries),
            }
        }
        Overlay::Ask(ask) => match action {
            Action::Done => pick_answer(model, turn),
            Action::Cancel => {
                let answer = ask.never_mind.clone();
                model.overlay = Overlay::None;
                answered(model, answer, turn);
            }
            Action::Digit(digit) => type_answer(model, usize::from(digit), turn),
            other => {
                let answers = ask.answers.len();
                move_mark(&mut ask.list, other, answers);
            }
        },
        Overlay::Writing(text) => match action {
            Action::Letter(c) if text.chars().count() < NOTE => text.push(c),
            Action::Erase => _ = text.pop(),
            Action::Cancel => model.overlay = Overlay::None,
            Action::Done => keep_note(model, turn),
            _ => {}
        },
        Overlay::Help { scroll, .. }
        | Overlay::Page { scroll, .. }
        | Overlay::Coaching { scroll, .. } => {
            if !turn_page(scroll, action, model.reach) {
                model.overlay = Overlay::None;
            }
        }
    }
}

/// Moves the first line shown, as far as what was shown reaches; says whether the action is one
/// that does.
pub(super) fn turn_page(scroll: &mut usize, action: Action, reach: usize) -> bool {
    let step = match action {
        Action::Back | Action::Forward => 1,
        Action::PageBack | Action::PageForward => PAGE,
        _ => return false,
    };
    let from = (*scroll).min(reach);
    *scroll = match action {
        Action::Back | Action::PageBack => from.saturating_sub(step),
        _ => (from + step).min(reach),
    };
    true
}

/// What the keys of the screen below are taken for: the menu is its own.
pub fn below(screen: &Screen) -> Mode {
    match screen {
        Screen::FirstRun(_) => Mode::FirstRun,
        Screen::Waiting(_) | Screen::Briefing(_) => Mode::Briefing,
        Screen::Floor(_) => Mode::Floor,
        Screen::Debrief(_) => Mode::Debrief,
        Screen::Logbook(_) => Mode::Logbook,
    }
}

/// Digits and arrows move the mark of a list.
pub(super) fn move_mark(list: &mut List, action: Action, entries: usize) {
    match action {
        Action::Digit(digit) => {
            list.digits.push(char::from(b'0' + digit));
            let number = list.digits.parse::<usize>().unwrap_or(0);
            if (1..=entries).contains(&number) {
                list.marked = number - 1;
            } else {
                list.digits.clear();
            }
        }
        Action::Erase => _ = list.digits.pop(),
        Action::Back => {
            list.digits.clear();
            list.marked = list.marked.saturating_sub(1);
        }
        Action::Forward => {
            list.digits.clear();
            list.marked = (list.marked + 1).min(entries.saturating_sub(1));
        }
        _ => {}
    }
}

fn pick_menu(model: &mut Model, turn: &mut Turn) {
    let Overlay::Menu(list) = &model.overlay else {
        return;
    };
    let entry = menu_entries(below(&model.screen)).nth(list.marked);
    model.overlay = Overlay::None;
    if let Some(entry) = entry {
        run(model, entry.action, turn);
    }
}

/// An entry's own letter, while the menu is shown.
pub(super) fn menu_letter(model: &mut Model, key: Key, turn: &mut Turn) {
    let mut entries = menu_entries(below(&model.screen));
    if let Some(entry) = entries.find(|entry| entry.keys.contains(&key)) {
        model.overlay = Overlay::None;
        run(model, entry.action, turn);
    }
}

fn run(model: &mut Model, action: Action, turn: &mut Turn) {
    match action {
        Action::Leave => turn.push(Effect::Quit),
        Action::Pain => pain::ask(model, turn.now),
        Action::Ground => super::change_ground(model, turn),
        Action::Help => {
            model.overlay = Overlay::Help {
                mode: super::mode(model),
                scroll: 0,
            };
        }
        other => match model.screen {
            Screen::FirstRun(_) => {}
            Screen::Waiting(_) | Screen::Briefing(_) => briefing::act(model, other, turn),
            Screen::Floor(_) => floor::act(model, other, turn),
            Screen::Debrief(_) => debrief::act(model, other, turn),
            Screen::Logbook(_) => logbook::act(model, other, turn),
        },
    }
}

/// One digit answers a question of up to ten answers at once; 0 is the tenth.
fn type_answer(model: &mut Model, digit: usize, turn: &mut Turn) {
    let Overlay::Ask(ask) = &mut model.overlay else {
        return;
    };
    let place = if digit == 0 { 9 } else { digit - 1 };
    if place < ask.answers.len() {
        ask.list.marked = place;
        pick_answer(model, turn);
    } else {
        turn.push(Effect::Cue(Cue::Mistake));
    }
}

fn pick_answer(model: &mut Model, turn: &mut Turn) {
    let Overlay::Ask(ask) = std::mem::replace(&mut model.overlay, Overlay::None) else {
        return;
    };
    let Ask {
        mut answers, list, ..
    } = *ask;
    if list.marked >= answers.len() {
        return;
    }
    answered(model, answers.swap_remove(list.marked).1, turn);
}

fn answered(model: &mut Model, answer: Answer, turn: &mut Turn) {
    match answer {
        Answer::Nothing => {}
        Answer::Record => record::record(model, Report::AS_ASKED, turn),
        Answer::RecordTwo => record::two(model, turn),
        Answer::Hurts(whereabouts) => pain::hurts(model, whereabouts, turn),
        Answer::HurtsInMuscle => pain::ask_muscle(model),
        Answer::Swap(with) => swap(model, *with, turn),
        Answer::SkipExercise => {
            floor::told(model, Command::SkipExercise, "left out", turn);
        }
        Answer::Finish => debrief::finish(model, turn),
        Answer::NoStopSign => briefing::no_stop_sign(model, turn),
        Answer::Session(wish) => briefing::draw_up(model, wish, turn),
        Answer::Place(place) => briefing::train_at(model, place, turn),
        Answer::Void(target) => logbook::void(model, &target, turn),
        Answer::Leave => turn.push(Effect::Quit),
    }
}

fn swap(model: &mut Model, with: PlannedItem, turn: &mut Turn) {
    let name = model.desk.catalogue.name(&with.exercise).to_owned();
    let said = format!("now {name}");
    floor::told(model, Command::Swap(Box::new(with)), &said, turn);
}

/// What can take an item's place was found: the person chooses.
pub(super) fn stand_ins(
    model: &mut Model,
    item: usize,
    avoid: Option<Whereabouts>,
    found: Vec<PlannedItem>,
) {
    let Some(coming) = model.floor().and_then(|floor| floor.session.coming()) else {
        return;
    };
    if coming.item != item || !matches!(model.screen, Screen::Floor(_)) {
        return;
    }
    let named = |planned: PlannedItem| {
        let name = model.desk.catalogue.name(&planned.exercise);
        let load = planned
            .sets
            .last()
            .map(|set| set.load.to_string())
            .unwrap_or_default();
        (format!("{name}, {load}"), Answer::Swap(Box::new(planned)))
    };
    let mut answers: Vec<(String, Answer)> = found.into_iter().take(7).map(named).collect();
    let none = answers.is_empty();
    answers.push(("leave this exercise out".to_owned(), Answer::SkipExercise));
    let question = match (avoid, none) {
        (Some(_), false) => {
            answers.push(("finish here".to_owned(), Answer::Finish));
            "something that does not load it?".to_owned()
        }
        (Some(_), true) => {
            answers.push(("finish here".to_owned(), Answer::Finish));
            "nothing else here spares it".to_owned()
        }
        (None, false) => {
            answers.push(("stay with this one".to_owned(), Answer::Nothing));
            "what instead?".to_owned()
        }
        (None, true) => {
            answers.push(("stay with this one".to_owned(), Answer::Nothing));
            "nothing here can take its place".to_owned()
        }
    };
    // Who does not choose is not left with what hurts.
    let never_mind = match avoid {
        Some(_) => Answer::SkipExercise,
        None => Answer::Nothing,
    };
    model.overlay = Overlay::Ask(Box::new(Ask {
        question,
        answers,
        never_mind,
        list: List::default(),
    }));
}

fn keep_note(model: &mut Model, turn: &mut Turn) {
    let Overlay::Writing(text) = std::mem::replace(&mut model.overlay, Overlay::None) else {
        return;
    };
    let text = text.trim().to_owned();
    let floor = match &mut model.screen {
        Screen::Floor(floor) => floor,
        Screen::Debrief(debrief) => &mut debrief.floor,
        Screen::Logbook(screen) => return logbook::search(screen, &text),
        Screen::FirstRun(_) | Screen::Waiting(_) | Screen::Briefing(_) => return,
    };
    if !text.is_empty() {
        let (_, append) = happen(&mut model.ledger, floor, Event::Note { text }, turn.now);
        turn.push(append);
        model.tell("note kept", turn.now);
    }
}
