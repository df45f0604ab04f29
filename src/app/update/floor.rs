//! Keys of the floor.

use super::super::effect::{Cue, Effect, Question};
use super::super::keymap::Action;
use super::super::model::{Answer, Edit, Floor, List, Model, Overlay, Screen, Way};
use super::Turn;
use super::typing::Said;
use super::{aside, briefing, hands_free, happen, lift, prefer, record, typing};
use crate::domain::advice::Revision;
use crate::domain::history::Preference;
use crate::domain::session::{Amendment, Aside, Command, Event, EventId, Refusal, Typed, decide};
use crate::domain::units::{Load, Now};

/// What an action does on the floor.
pub(super) fn act(model: &mut Model, action: Action, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    match action {
        Action::Done if floor.edit.is_some() => save_edit(model, turn),
        Action::Done => typing::enter(model, turn),
        Action::Digit(digit) => typing::digit(model, digit, turn),
        Action::Point => typing::point(model, turn),
        Action::Erase => _ = typing::erase(&mut floor.typed),
        Action::Cancel => cancel(model),
        Action::Lift => lift::begin(model, turn.now),
        Action::HandsFree => hands_free::begin(model, turn),
        Action::Lighter => step(model, false, turn),
        Action::Heavier => step(model, true, turn),
        Action::NameLoad => floor.typed = Typed::Load(String::new()),
        Action::Back => walk(floor, false),
        Action::Forward => walk(floor, true),
        Action::TakeBack => take_back(model, turn),
        Action::BringBack => bring_back(model, turn),
        Action::Menu => model.overlay = Overlay::Menu(List::default()),
        Action::RestEarlier => rest_earlier(model, turn.now),
        Action::Swap => ask_stand_ins(model, turn),
        Action::PutOff => _ = told(model, Command::PutOff, "put off: it comes last", turn),
        Action::SkipSet => _ = told(model, Command::SkipSet, "set skipped", turn),
        Action::SkipExercise => _ = told(model, Command::SkipExercise, "left out", turn),
        Action::AddSet => _ = told(model, Command::AddSet, "a set added", turn),
        Action::Interrupted => {
            let said = "the last set counts as interrupted, not as missed";
            told(model, Command::Interrupted, said, turn);
        }
        Action::Note => model.overlay = Overlay::Writing(String::new()),
        Action::Pause => pause(model, turn),
        Action::Mute => toggle_mute(model, turn),
        Action::BigDigits => toggle_big(model, turn),
        Action::Coaching => coaching(model),
        Action::Finish => finish(model),
        Action::KeypadOff => model.tell("Num Lock seems to be off: press it once", turn.now),
        Action::Pain | Action::Help | Action::Leave | Action::Suspend => {}
        Action::Letter(_)
        | Action::PageBack
        | Action::PageForward
        | Action::OtherSession
        | Action::ViewProgram
        | Action::OtherPlace
        | Action::LessTime
        | Action::Logbook
        | Action::NextView
        | Action::ViewBefore
        | Action::Search
        | Action::VoidSet
        | Action::VoidSession
        | Action::LighterWeek
        | Action::Ground => {}
    }
}

/// Carries a command out; says whether it was.
pub(super) fn command(model: &mut Model, command: Command, turn: &mut Turn) -> bool {
    let floor = match &mut model.screen {
        Screen::Floor(floor) => floor,
        Screen::Debrief(debrief) => &mut debrief.floor,
        Screen::FirstRun(_) | Screen::Waiting(_) | Screen::Briefing(_) | Screen::Logbook(_) => {
            return false;
        }
    };
    match decide(&floor.session, &floor.events, command) {
        Ok(event) => {
            let (_, append) = happen(&mut model.ledger, floor, event, turn.now);
            turn.push(append);
            true
        }
        Err(refusal) => {
            model.tell(refusal.to_string(), turn.now);
            turn.push(Effect::Cue(Cue::Mistake));
            false
        }
    }
}

/// Carries a command out, tells what it came to, and sees to what follows.
pub(super) fn told(model: &mut Model, wanted: Command, said: &str, turn: &mut Turn) -> bool {
    let done = command(model, wanted, turn);
    if done {
        model.tell(format!("{said}. u takes it back"), turn.now);
        briefing::fetch_loads(model);
        record::follow(model, turn);
    }
    done
}

fn cancel(model: &mut Model) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    if floor.typed != Typed::Nothing {
        floor.typed = Typed::Nothing;
    } else if floor.edit.is_some() {
        floor.edit = None;
    } else if !lift::cancel(model) {
        model.notice = None;
    }
}

/// Back and forth along the tape: over the sets done, to the coming one.
fn walk(floor: &mut Floor, forward: bool) {
    let sets = floor.session.sets.len();
    let at = floor.edit.as_ref().map_or(sets, |edit| edit.set);
    let to = if forward {
        at + 1
    } else {
        at.saturating_sub(1)
    };
    floor.typed = Typed::Nothing;
    floor.edit = (to < sets).then(|| Edit {
        set: to,
        change: Amendment::default(),
    });
}

/// A step of load: of the coming set, or of the set that is being changed.
fn step(model: &mut Model, heavier: bool, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let (item, from) = match &floor.edit {
        Some(edit) => {
            let Some(set) = floor.session.sets.get(edit.set) else {
                return;
            };
            let load = edit.change.load.unwrap_or(set.record.load);
            (usize::from(set.record.item), load)
        }
        None => match floor.coming_set() {
            Some(coming) => (coming.item, coming.load),
            None => return,
        },
    };
    match floor.step(item, from, heavier) {
        Some(load) => match &mut floor.edit {
            Some(edit) => edit.change.load = Some(load),
            None => choose_load(floor, load),
        },
        None => {
            let way = if heavier { "heavier" } else { "lighter" };
            model.tell(
                format!("nothing {way} than {from} here; w names a load"),
                turn.now,
            );
            turn.push(Effect::Cue(Cue::Mistake));
        }
    }
}

/// The person's own load for the coming set and those like it behind it.
pub(super) fn choose_load(floor: &mut Floor, load: Load) {
    let Some(coming) = floor.coming_set() else {
        return;
    };
    let of = (coming.item, coming.kind);
    let before = floor.ways.insert(of, Way::chosen(load));
    let before = before.filter(|way| way.chosen).and_then(|way| way.load);
    let after = load;
    aside::note(floor, Aside::Load { of, before, after });
}

fn save_edit(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(Edit { set, mut change }) = floor.edit.take() else {
        return;
    };
    let Some(record) = floor.session.sets.get(set).map(|set| &set.record) else {
        return;
    };
    let in_turn = floor.sides(usize::from(record.item), &model.desk) == 2;
    match typing::of_known(&mut floor.typed, record, in_turn) {
        Said::OneSide => {
            floor.edit = Some(Edit { set, change });
            return;
        }
        Said::Change(said) => {
            change = Amendment {
                load: said.load.or(change.load),
                ..said
            };
        }
        Said::NoLoad(text) => return typing::no_load(model, &text, turn),
    }
    if change == Amendment::default() {
        return;
    }
    told(model, Command::Amend { set, change }, "set changed", turn);
}

fn take_back(model: &mut Model, turn: &mut Turn) {
    match aside::take_back(model, turn) {
        Some(what) => {
            model.tell(format!("taken back: {what}. U brings it back"), turn.now);
            restored(model, turn);
            // What the person chose before it stands again: nothing was learned after that.
            if !stands_chosen(model) {
                record::follow(model, turn);
            }
        }
        None => model.tell(Refusal::NothingToTakeBack.to_string(), turn.now),
    }
}

fn bring_back(model: &mut Model, turn: &mut Turn) {
    if aside::bring_back(model, turn) {
        model.tell("brought back", turn.now);
        restored(model, turn);
        record::follow(model, turn);
    }
}

/// Whether the person chose the load of the coming set.
fn stands_chosen(model: &Model) -> bool {
    model.floor().is_some_and(|floor| {
        let coming = floor.coming_set();
        let way = coming.and_then(|coming| floor.ways.get(&(coming.item, coming.kind)));
        way.is_some_and(|way| way.chosen)
    })
}

/// After something was taken back or brought back: the rest is the one that now stands, its signs
/// are not given again, and what was learned is to be thought over.
fn restored(model: &mut Model, turn: &mut Turn) {
    if let Screen::Floor(floor) = &mut model.screen {
        floor.ways.retain(|_, way| way.chosen);
        aside::choose_again(floor);
        floor.edit = None;
        floor.typed = Typed::Nothing;
        floor.cued = super::signs::already(floor, turn.now);
    }
    briefing::fetch_loads(model);
}

fn rest_earlier(model: &mut Model, now: Now) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(id) = floor.session.sets.last().map(|set| set.id.clone()) else {
        model.tell("no rest to move: no set is done yet", now);
        return;
    };
    let end = floor.last_end(now).plus(-aside::EARLIER);
    floor.ends.insert(id.clone(), end);
    aside::note(floor, Aside::RestEarlier(id));
    model.tell("the rest began 15 s earlier. u takes it back", now);
}

fn finish(model: &mut Model) {
    let left = model.floor().map_or(0, |floor| floor.session.remaining());
    let question = format!("finish with {left} sets not done?");
    let answers = [("finish here", Answer::Finish), ("no", Answer::Nothing)];
    model.overlay = record::ask(question, &answers);
}

/// Asks for what can take the coming exercise's place.
pub(super) fn ask_stand_ins(model: &mut Model, turn: &mut Turn) {
    match question(model) {
        Some(question) => {
            turn.push(Effect::FindStandIns {
                question: Box::new(question),
                avoid: None,
            });
        }
        None => model.tell("every set is done", turn.now),
    }
}

/// The coming item, as it is thought over elsewhere.
pub(super) fn question(model: &Model) -> Option<Question> {
    let floor = model.floor()?;
    let index = floor.session.coming()?.item;
    let item = floor.session.items.get(index)?.clone();
    Some(Question {
        index,
        item,
        session: floor.session.clone(),
    })
}

pub(super) fn pause(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let (event, said) = match floor.session.paused {
        Some(_) => (Event::Resumed, "on again"),
        None => (Event::Paused, "time out: no signs until t or the next set"),
    };
    let (_, append): (EventId, Effect) = happen(&mut model.ledger, floor, event, turn.now);
    turn.push(append);
    model.tell(said, turn.now);
}

fn toggle_mute(model: &mut Model, turn: &mut Turn) {
    prefer(model, Preference::Mute(!model.prefs.mute), turn);
    model.tell(
        if model.prefs.mute {
            "sound off"
        } else {
            "sound on"
        },
        turn.now,
    );
}

fn toggle_big(model: &mut Model, turn: &mut Turn) {
    prefer(model, Preference::Small(!model.prefs.small), turn);
    let said = if model.prefs.small {
        "big digits for the countdown alone"
    } else {
        "big digits"
    };
    model.tell(said, turn.now);
}

fn coaching(model: &mut Model) {
    let item = model
        .floor()
        .and_then(|f| f.session.items.get(f.session.coming()?.item));
    if let Some(item) = item {
        let exercise = item.planned.exercise.clone();
        model.overlay = Overlay::Coaching {
            exercise,
            scroll: 0,
        };
    }
}

/// What was thought over: the coming set, other than planned. An answer to a question that the
/// session has moved on from is dropped.
pub(super) fn revised(model: &mut Model, item: usize, after: usize, revision: Option<Revision>) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    if floor.session.sets.len() != after || coming.item != item || !record::is_work(coming.kind) {
        return;
    }
    match revision {
        Some(Revision { load, asked, say }) => {
            let way = Way {
                load: Some(load),
                asked: Some(asked),
                chosen: false,
                say,
            };
            floor.ways.insert((item, coming.kind), way);
        }
        None => {
            if floor
                .ways
                .get(&(item, coming.kind))
                .is_some_and(|way| !way.chosen)
            {
                floor.ways.remove(&(item, coming.kind));
            }
        }
    }
    // What the person has chosen since the set stands, however soon behind it the key came.
    aside::choose_again(floor);
}
