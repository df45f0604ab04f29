//! Keys of the logbook: leafing, searching, and saying of an earlier set that it was otherwise.

use super::super::effect::{Cue, Effect};
use super::super::keymap::Action;
use super::super::logbook::{Book, Entry, LogbookScreen, View};
use super::super::model::{Answer, Ask, List, Model, Overlay, Screen};
use super::typing::Said;
use super::{Turn, briefing, typing};
use crate::domain::exercise::{ExerciseId, Sides};
use crate::domain::logbook::told::Reading;
use crate::domain::session::{
    Amendment, Denial, Event, EventId, Performed, Stamped, Typed, amend_recorded, void_recorded,
};
use crate::domain::strength::belief::Believed;
use crate::domain::units::Spare;
use std::sync::Arc;

/// Lines that a page key moves by.
const PAGE: usize = 12;
/// Columns and rows of lines that are only counted.
const ANY: (usize, usize) = (200, 20);

/// Opens the logbook over the briefing.
pub(super) fn open(model: &mut Model, turn: &mut Turn) {
    let Screen::Briefing(screen) = &model.screen else {
        return;
    };
    let screen = LogbookScreen::new((**screen).clone(), turn.now.civil);
    model.screen = Screen::Logbook(Box::new(screen));
    read(model, turn);
}

pub(super) fn read(model: &Model, turn: &mut Turn) {
    if let Screen::Logbook(screen) = &model.screen {
        turn.push(Effect::ReadBook {
            events: model.ledger.written.clone(),
            depth: screen.depth,
        });
    }
}

/// All was read: what comes next is planned from it too.
pub(super) fn was_read(model: &mut Model, book: Arc<Book>) {
    if let Screen::Logbook(screen) = &mut model.screen {
        model.past = book.history.clone();
        screen.book = Some(book);
        screen.believed.clear();
    }
}

/// What was believed of an exercise after each of its sessions.
pub(super) fn believed(model: &mut Model, exercise: ExerciseId, found: Vec<Believed>) {
    if let Screen::Logbook(screen) = &mut model.screen {
        screen.believed.insert(exercise, found);
    }
}

/// What an action does in the logbook.
pub(super) fn act(model: &mut Model, action: Action, turn: &mut Turn) {
    let Screen::Logbook(screen) = &mut model.screen else {
        return;
    };
    let in_session = matches!(screen.open, Some(Entry::Session(_)));
    match action {
        Action::Digit(digit) if in_session => typing::push(&mut screen.typed, digit),
        Action::Digit(digit) => view(screen, usize::from(digit)),
        Action::Point if in_session => typing::point_of(&mut screen.typed),
        Action::NameLoad if in_session => screen.typed = Typed::Load(String::new()),
        Action::Erase if typing::erase(&mut screen.typed) => {}
        Action::Erase | Action::PageBack => step(model, false, PAGE),
        Action::PageForward => step(model, true, PAGE),
        Action::NextView => turn_page(screen, 1),
        Action::ViewBefore => turn_page(screen, View::ALL.len() - 1),
        Action::Back => step(model, false, 1),
        Action::Forward => step(model, true, 1),
        Action::Done if in_session => save(model, turn),
        Action::Done => pick(model, turn),
        Action::Search => model.overlay = Overlay::Writing(screen.search.clone()),
        Action::VoidSet if in_session => ask_void(model, false),
        Action::VoidSession if in_session => ask_void(model, true),
        Action::TakeBack => take_back(model, turn),
        Action::BringBack => bring_back(model, turn),
        Action::Cancel => cancel(model),
        _ => {}
    }
}

fn view(screen: &mut LogbookScreen, number: usize) {
    if let Some(view) = number.checked_sub(1).and_then(|k| View::ALL.get(k)) {
        screen.view = *view;
        screen.open = None;
        (screen.marked, screen.at) = (0, 0);
    }
}

fn turn_page(screen: &mut LogbookScreen, by: usize) {
    let place = View::ALL.iter().position(|view| *view == screen.view);
    view(screen, (place.unwrap_or(0) + by) % View::ALL.len() + 1);
    screen.typed = Typed::Nothing;
}

/// Up or down a list, a page, or the sets of a session.
fn step(model: &mut Model, down: bool, by: usize) {
    let lengths = with_reading(model, |screen, reading| {
        (screen.entries(reading).len(), screen.sets(reading).len())
    });
    let Screen::Logbook(screen) = &mut model.screen else {
        return;
    };
    let (entries, sets) = lengths.unwrap_or_default();
    let (at, most) = match &screen.open {
        None if screen.view.is_list() => (&mut screen.marked, entries.saturating_sub(1)),
        Some(Entry::Session(_)) => (&mut screen.at, sets.saturating_sub(1)),
        Some(Entry::Exercise(_)) | None => (&mut screen.at, model.reach),
    };
    let from = (*at).min(most);
    *at = if down {
        (from + by).min(most)
    } else {
        from.saturating_sub(by)
    };
    screen.typed = Typed::Nothing;
}

/// What can be told of the book, once it was read.
pub(super) fn with_reading<T>(
    model: &Model,
    tell: impl FnOnce(&LogbookScreen, &Reading<'_>) -> T,
) -> Option<T> {
    let Screen::Logbook(screen) = &model.screen else {
        return None;
    };
    let book = screen.book.as_ref()?;
    let reading = screen.reading(book, (&model.desk, model.lifter.as_ref()), ANY);
    Some(tell(screen, &reading))
}

/// Opens the marked entry.
fn pick(model: &mut Model, turn: &mut Turn) {
    let entry = with_reading(model, |screen, reading| {
        screen.entries(reading).into_iter().nth(screen.marked)
    });
    let Screen::Logbook(screen) = &mut model.screen else {
        return;
    };
    let Some(entry) = entry.flatten().filter(|_| screen.open.is_none()) else {
        return;
    };
    if let (View::Strength, Entry::Exercise(id)) = (screen.view, &entry)
        && !screen.believed.contains_key(id)
    {
        turn.push(Effect::Believe {
            exercise: id.clone(),
        });
    }
    screen.open = Some(entry);
    screen.at = 0;
}

/// Back by one: what was typed, what is open, the search, the logbook.
fn cancel(model: &mut Model) {
    let Screen::Logbook(screen) = &mut model.screen else {
        return;
    };
    if screen.typed != Typed::Nothing {
        screen.typed = Typed::Nothing;
    } else if screen.open.is_some() {
        screen.open = None;
        screen.at = 0;
    } else if !screen.search.is_empty() {
        screen.search.clear();
        screen.marked = 0;
    } else {
        model.screen = Screen::Briefing(Box::new(screen.behind.clone()));
    }
}

/// A text was written: what is searched for.
pub(super) fn search(screen: &mut LogbookScreen, text: &str) {
    text.clone_into(&mut screen.search);
    screen.open = None;
    (screen.marked, screen.at) = (0, 0);
}

/// The marked set of the open session.
fn marked(model: &Model) -> Option<Performed> {
    with_reading(model, |screen, reading| {
        let place = screen.open_session(reading.history)?;
        let set = *screen.sets(reading).get(screen.at)?;
        let session = reading.history.sessions.get(place)?;
        session.sets.get(set).cloned()
    })
    .flatten()
}

/// Enter in a session: what was typed holds of the marked set.
fn save(model: &mut Model, turn: &mut Turn) {
    let Some(set) = marked(model) else {
        return;
    };
    let sides = model.desk.catalogue.get(&set.record.exercise);
    let sides = sides.map_or(Sides::Both, |exercise| exercise.sides);
    let Screen::Logbook(screen) = &mut model.screen else {
        return;
    };
    let change = match typing::of_known(&mut screen.typed, &set.record, sides != Sides::Both) {
        Said::OneSide => return,
        Said::Change(change) if change == Amendment::default() => {
            let told = "type the reps, .spare, or w and a load; then Enter";
            return model.tell(told, turn.now);
        }
        Said::Change(change) => change,
        Said::NoLoad(text) => return typing::no_load(model, &text, turn),
    };
    let amend = |events: &[Stamped]| amend_recorded(events, &set.id, change);
    change_record(model, "set changed. u takes it back", amend, turn);
}

/// Everything that is known to be written, this run's among it.
fn events(model: &Model, book: &Book) -> Vec<Stamped> {
    let new = model.ledger.written.iter().skip(book.taken);
    book.events.iter().chain(new).cloned().collect()
}

/// Writes down what `decide` makes of an earlier event, reads all anew and has what comes next
/// drawn up anew; says which event it was, if it could.
fn change_record(
    model: &mut Model,
    said: &str,
    decide: impl FnOnce(&[Stamped]) -> Result<Event, Denial>,
    turn: &mut Turn,
) -> Option<EventId> {
    if model.access.looks_only() {
        model.tell("only looking: nothing can be recorded here", turn.now);
        return None;
    }
    let Screen::Logbook(screen) = &model.screen else {
        return None;
    };
    let all = events(model, screen.book.as_ref()?);
    let event = match decide(&all) {
        Ok(event) => event,
        Err(denial) => {
            model.tell(denial.to_string(), turn.now);
            turn.push(Effect::Cue(Cue::Mistake));
            return None;
        }
    };
    let target = match &event {
        Event::Amended { target, .. } | Event::Voided { target } => Some(target),
        _ => None,
    };
    let target = target.and_then(|id| all.iter().find(|event| event.id == *id));
    let session = target.and_then(|event| event.session.clone());
    let stamped = model.ledger.stamp(session, event, turn.now.civil);
    let id = stamped.id.clone();
    turn.push(Effect::Append(vec![stamped]));
    read(model, turn);
    briefing::draw_up_again(model, turn);
    model.tell(said, turn.now);
    if let Screen::Logbook(screen) = &mut model.screen {
        screen.changes.done.push(id.clone());
    }
    Some(id)
}

fn ask_void(model: &mut Model, whole: bool) {
    let Some(set) = marked(model) else {
        return;
    };
    let Screen::Logbook(screen) = &model.screen else {
        return;
    };
    let (question, target) = match &screen.open {
        Some(Entry::Session(id)) if whole => ("this session did not happen?", id.clone()),
        Some(_) | None => ("the marked set did not happen?", set.id),
    };
    let answers = vec![
        ("no".to_owned(), Answer::Nothing),
        ("yes, void it".to_owned(), Answer::Void(target)),
    ];
    model.overlay = Overlay::Ask(Box::new(Ask {
        question: question.to_owned(),
        answers,
        never_mind: Answer::Nothing,
        list: List::default(),
    }));
}

/// It did not happen.
pub(super) fn void(model: &mut Model, target: &EventId, turn: &mut Turn) {
    let void = |events: &[Stamped]| void_recorded(events, target);
    if change_record(model, "voided. u brings it back", void, turn).is_none() {
        return;
    }
    if let Screen::Logbook(screen) = &mut model.screen {
        screen.at = screen.at.saturating_sub(1);
        if screen.open == Some(Entry::Session(target.clone())) {
            screen.open = None;
        }
    }
}

fn take_back(model: &mut Model, turn: &mut Turn) {
    let Screen::Logbook(screen) = &mut model.screen else {
        return;
    };
    let Some(last) = screen.changes.done.pop() else {
        model.tell("nothing was changed from here", turn.now);
        return;
    };
    let void = |events: &[Stamped]| void_recorded(events, &last);
    let void = change_record(model, "taken back. U brings it back", void, turn);
    if let (Some(void), Screen::Logbook(screen)) = (void, &mut model.screen) {
        screen.changes.done.pop();
        screen.changes.undone.push(void);
    }
}

fn bring_back(model: &mut Model, turn: &mut Turn) {
    let Screen::Logbook(screen) = &mut model.screen else {
        return;
    };
    let Some(last) = screen.changes.undone.pop() else {
        model.tell("nothing was taken back here", turn.now);
        return;
    };
    let void = |events: &[Stamped]| void_recorded(events, &last);
    // Voiding the void brings it back; taking that back again voids this one.
    change_record(model, "brought back", void, turn);
}

/// What is being typed, in words.
pub fn typed(screen: &LogbookScreen) -> Option<String> {
    let spare =
        |spare: &Option<Spare>| spare.map_or_else(|| ".".to_owned(), |spare| format!(".{spare}"));
    match &screen.typed {
        Typed::Nothing | Typed::SpareOfLast => None,
        Typed::Count {
            digits,
            spare: said,
        } => {
            let said = said.as_ref().map(spare).unwrap_or_default();
            Some(format!("{digits}{said}  Enter changes the set"))
        }
        Typed::OtherSide { first, digits, .. } => Some(format!(
            "left {first}; the right side? {digits}  Enter alone: the same"
        )),
        Typed::Load(text) => Some(format!("load {text}  Enter changes the set")),
    }
}
