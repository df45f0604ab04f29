//! How the program begins: the first run's questions, a session left open, or today's briefing.

use super::super::effect::Effect;
use super::super::kept::{Access, Beginning, Ledger, Open};
use super::super::model::{Answer, Desk, FirstRun, FirstStep, List, Model, Overlay, Screen};
use super::{Turn, aside, briefing, deadline, debrief, draft, plates, record};
use crate::domain::history::{History, Lifter};
use crate::domain::schedule::{Outline, Wish, outline};
use crate::domain::session::{Closed, Event, Session};
use crate::domain::units::{Millis, Now};

/// A session left for longer is closed at its last set.
const LEFT: Millis = 4 * 3_600_000;

/// The model to begin with, and what is to be done first. `default` answers the first run's
/// questions until the person does.
pub fn begin(beginning: Beginning, default: Lifter, now: Now) -> (Model, Vec<Effect>) {
    let Beginning {
        desk,
        lifter,
        origin,
        highest,
        past,
        open,
        prefs,
        access,
        unread,
    } = beginning;
    let known = lifter.is_some();
    let screen = match &lifter {
        Some(lifter) => Screen::Waiting(Box::new(outlined(&desk, lifter, (&past, now)))),
        None => questions(default),
    };
    let mut model = Model {
        desk,
        past,
        lifter,
        screen,
        drawing_up: false,
        overlay: Overlay::None,
        ledger: Ledger {
            origin,
            highest,
            ..Ledger::default()
        },
        access,
        unread,
        notice: None,
        alarm: false,
        mark: None,
        ground: prefs.ground.unwrap_or_default(),
        prefs,
        last_key: now.boot,
        due: None,
        slept: false,
        reach: 0,
        flash: None,
        kept: None,
    };
    let mut turn = Turn::at(now);
    greet(&mut model, now);
    match open {
        Some(_) if model.access.looks_only() => {
            briefing::draw_up(&mut model, Wish::default(), &mut turn);
        }
        Some(open) => resume(&mut model, *open, &mut turn),
        None if known => briefing::draw_up(&mut model, Wish::default(), &mut turn),
        None => {}
    }
    plates::settle(&mut model);
    model.due = deadline(&model, now);
    (model, turn.effects)
}

/// The questions of the first run, answered until the person does.
fn questions(answered: Lifter) -> Screen {
    Screen::FirstRun(Box::new(FirstRun {
        step: FirstStep::ALL[0],
        list: List::default(),
        lifter: answered,
        writing: false,
    }))
}

/// What is known at once of the session that is going to be drawn up.
fn outlined(desk: &Desk, lifter: &Lifter, (past, now): (&History, Now)) -> Outline {
    let lifter = lifter.clone().after(&past.choices, now.civil.date());
    let program = desk.program(&lifter.program);
    program.map_or_else(Outline::default, |program| {
        outline(program, past, now.civil)
    })
}

/// Says at once what this run may not do.
fn greet(model: &mut Model, now: Now) {
    let question = match &model.access {
        Access::Writes => return,
        Access::WritesUnlocked => {
            let words = "this file system has no locks: run one rackside at a time";
            return model.tell(words, now);
        }
        Access::OthersWrite(words) | Access::CannotWrite(words) => words.clone(),
    };
    let answers = [("look only", Answer::Nothing), ("leave", Answer::Leave)];
    model.overlay = record::ask(question, &answers);
}

/// Whether a session was left for so long that it is over.
pub fn is_over(session: &Session, now: Now) -> bool {
    now.civil.since(session.last_at()) > LEFT
}

fn resume(model: &mut Model, open: Open, turn: &mut Turn) {
    let Open {
        events,
        damaged,
        briefing,
        draft,
    } = open;
    let opened = turn.now.boot;
    let Some(mut floor) = briefing::on_the_floor(model, briefing, (events, damaged), opened) else {
        return;
    };
    if is_over(&floor.session, turn.now) {
        let event = Event::Closed(Closed { effort: None });
        let stamped = model
            .ledger
            .stamp(Some(floor.session.id), event, turn.now.civil);
        turn.push(Effect::Append(vec![stamped]));
        briefing::draw_up(model, Wish::default(), turn);
        return;
    }
    // The past does not hold a session that is on: what is drawn up behind it needs all of it.
    model.ledger.written.clone_from(&floor.events);
    if let Some(draft) = &draft {
        draft::restore(&mut floor, draft, turn.now);
    }
    if floor.session.sets.is_empty() {
        let since = turn.now.civil.since(floor.session.opened).max(0);
        floor.opened = turn.now.boot.plus(-since);
    }
    floor.cued = floor.cued.max(super::signs::already(&floor, turn.now));
    // What the person chose since the last set stands: nothing was learned after it.
    let chosen = floor.coming_set().is_some_and(|coming| {
        let way = floor.ways.get(&(coming.item, coming.kind));
        way.is_some_and(|way| way.chosen)
    });
    model.screen = Screen::Floor(Box::new(floor));
    model.kept = draft.map(Box::new);
    aside::heed(model);
    if model.alarm {
        return debrief::finish(model, turn);
    }
    model.tell("the session goes on where it was left", turn.now);
    if !chosen {
        record::follow(model, turn);
    }
}
