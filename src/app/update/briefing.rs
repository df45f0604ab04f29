//! Keys of the briefing, and the way from it onto the floor.

use super::super::effect::Effect;
use super::super::keymap::Action;
use super::super::model::{Answer, Ask, BriefingScreen, Floor, List, Model, Overlay, Screen};
use super::{Turn, logbook, record, refold};
use crate::domain::gear::PlaceId;
use crate::domain::history::History;
use crate::domain::schedule::{Briefing, Ease, Wish};
use crate::domain::session::{
    Asides, Beat, Choice, Cued, Event, EventId, Opened, Stamped, Typed, Whereabouts,
};
use crate::domain::units::{Boot, Millis};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The times that are offered, in minutes.
const TIMES: [u32; 8] = [20, 25, 30, 35, 40, 45, 50, 60];

/// From the first day of a lighter week to its last.
const WEEK: Millis = 6 * 86_400_000;

/// What an action does in the briefing.
pub(super) fn act(model: &mut Model, action: Action, turn: &mut Turn) {
    if model.drawing_up {
        return model.tell("still drawing up the session: a moment", turn.now);
    }
    let Screen::Briefing(screen) = &mut model.screen else {
        return;
    };
    let items = screen.briefing.plan.items.len();
    match action {
        Action::Done => start(model, turn),
        Action::Back => screen.marked = screen.marked.saturating_sub(1),
        Action::Forward => screen.marked = (screen.marked + 1).min(items.saturating_sub(1)),
        Action::ViewProgram => turn.push(Effect::Preview {
            events: model.ledger.written.clone(),
        }),
        Action::Menu => model.overlay = Overlay::Menu(List::default()),
        Action::Logbook => logbook::open(model, turn),
        Action::OtherSession => ask_session(model),
        Action::OtherPlace => ask_place(model),
        Action::LessTime => ask_time(model),
        Action::LighterWeek => ease(model, turn),
        Action::Coaching => {
            if let Some(item) = screen.briefing.plan.items.get(screen.marked) {
                let exercise = item.exercise.clone();
                model.overlay = Overlay::Coaching {
                    exercise,
                    scroll: 0,
                };
            }
        }
        _ => {}
    }
}

/// A session was drawn up: before a session it is the briefing, after one it is the next.
pub(super) fn drawn_up(model: &mut Model, briefing: Briefing) {
    model.drawing_up = false;
    match &mut model.screen {
        Screen::Debrief(debrief) => debrief.next = Some(Box::new(briefing)),
        Screen::Floor(_) => {}
        Screen::Logbook(screen) => {
            screen.behind = BriefingScreen {
                briefing,
                marked: 0,
            };
        }
        Screen::FirstRun(_) | Screen::Waiting(_) | Screen::Briefing(_) => {
            model.screen = Screen::Briefing(Box::new(BriefingScreen {
                briefing,
                marked: 0,
            }));
        }
    }
}

/// The program that is followed is laid over the briefing.
pub(super) fn preview(model: &mut Model, lines: Vec<String>) {
    if matches!(model.screen, Screen::Briefing(_)) {
        model.overlay = Overlay::Page { lines, scroll: 0 };
    }
}

fn start(model: &mut Model, turn: &mut Turn) {
    let Screen::Briefing(screen) = &model.screen else {
        return;
    };
    if model.access.looks_only() {
        model.tell("only looking: nothing can be recorded here", turn.now);
        return;
    }
    if model.alarm {
        let answers = [
            ("no", Answer::Nothing),
            ("yes: it was pressed by mistake", Answer::NoStopSign),
        ];
        let question = "a stop sign was reported. Start all the same?".to_owned();
        model.overlay = record::ask(question, &answers);
        return;
    }
    let briefing = screen.briefing.clone();
    if briefing.plan.items.is_empty() {
        model.tell(
            "nothing to train here: l for another place, o for another session",
            turn.now,
        );
        return;
    }
    let opened = Event::Opened(Box::new(Opened {
        plan: briefing.plan.clone(),
    }));
    let mut stamped = model.ledger.stamp(None, opened, turn.now.civil);
    stamped.session = Some(stamped.id.clone());
    if let Some(last) = model.ledger.written.last_mut() {
        last.session.clone_from(&stamped.session);
    }
    turn.push(Effect::Append(vec![stamped.clone()]));
    if let Some(floor) = on_the_floor(
        model,
        briefing,
        (vec![stamped], BTreeSet::new()),
        turn.now.boot,
    ) {
        model.screen = Screen::Floor(Box::new(floor));
    }
}

/// A stop sign that was reported before the session was none: the report is taken back.
pub(super) fn no_stop_sign(model: &mut Model, turn: &mut Turn) {
    let sign = |event: &&Stamped| match &event.event {
        Event::Pain(pain) => event.session.is_none() && pain.whereabouts == Whereabouts::Alarm,
        _ => false,
    };
    let written = model.ledger.written.iter().rev();
    let signs: Vec<EventId> = written.filter(sign).map(|event| event.id.clone()).collect();
    for target in signs {
        let event = Event::Voided { target };
        let stamped = model.ledger.stamp(None, event, turn.now.civil);
        turn.push(Effect::Append(vec![stamped]));
    }
    model.alarm = false;
    draw_up_again(model, turn);
}

/// The floor of a session with these events; `None` where they open none.
pub(super) fn on_the_floor(
    model: &Model,
    briefing: Briefing,
    (events, damaged): (Vec<Stamped>, BTreeSet<EventId>),
    opened: Boot,
) -> Option<Floor> {
    let mut floor = Floor {
        session: refold(&events, &damaged)?,
        events,
        damaged,
        beat: Beat::Resting,
        hands_free: None,
        typed: Typed::Nothing,
        edit: None,
        ways: BTreeMap::new(),
        makeable: Vec::new(),
        plates: None,
        plates_for: None,
        foretold: None,
        foretold_for: None,
        ends: BTreeMap::new(),
        opened,
        cued: Cued::Nothing,
        pace: briefing.pace,
        past: past(model),
        asides: Asides::default(),
        briefing,
    };
    fetch(&model.desk, &mut floor);
    Some(floor)
}

/// What was done before this run.
fn past(model: &Model) -> Arc<History> {
    model.past.clone()
}

/// Works out anew what can be made for each item: after a swap it is another exercise.
pub(super) fn fetch_loads(model: &mut Model) {
    let desk = model.desk.clone();
    match &mut model.screen {
        Screen::Floor(floor) => fetch(&desk, floor),
        Screen::Debrief(debrief) => fetch(&desk, &mut debrief.floor),
        Screen::FirstRun(_) | Screen::Waiting(_) | Screen::Briefing(_) | Screen::Logbook(_) => {}
    }
}

fn fetch(desk: &super::super::model::Desk, floor: &mut Floor) {
    let place = floor
        .session
        .plan
        .as_ref()
        .and_then(|plan| desk.place(&plan.place));
    let of = |item| match (place, floor.exercise(item, desk)) {
        (Some(place), Some(exercise)) => place.makeable(exercise.implement()),
        (None, _) | (_, None) => Vec::new(),
    };
    floor.makeable = (0..floor.session.items.len()).map(of).collect();
}

fn ask_session(model: &mut Model) {
    let Screen::Briefing(screen) = &model.screen else {
        return;
    };
    let answer = |today: &crate::domain::schedule::Today| {
        let wish = Wish {
            session: Some(today.clone()),
            ..Wish::default()
        };
        (today.name.clone(), Answer::Session(wish))
    };
    let mut answers: Vec<(String, Answer)> = screen.briefing.others.iter().map(answer).collect();
    answers.push(("stay with this one".to_owned(), Answer::Nothing));
    let question = "which session?".to_owned();
    model.overlay = Overlay::Ask(Box::new(Ask {
        question,
        answers,
        never_mind: Answer::Nothing,
        list: List::default(),
    }));
}

/// The briefing, also where the logbook lies over it.
fn before(model: &Model) -> Option<&BriefingScreen> {
    match &model.screen {
        Screen::Briefing(screen) => Some(screen),
        Screen::Logbook(screen) => Some(&screen.behind),
        Screen::FirstRun(_) | Screen::Waiting(_) | Screen::Floor(_) | Screen::Debrief(_) => None,
    }
}

/// The time there is, where it was said to be short.
fn minutes_of(model: &Model) -> Option<u32> {
    before(model)?
        .briefing
        .boxed
        .as_ref()
        .map(|boxed| boxed.minutes)
}

/// How much time there is: shorter times than the session takes. What each cuts is shown by the
/// briefing, and nothing is settled before the session starts.
fn ask_time(model: &mut Model) {
    let Screen::Briefing(screen) = &model.screen else {
        return;
    };
    let briefing = &screen.briefing;
    let wish = |minutes| Wish {
        session: Some(briefing.today.clone()),
        place: Some(briefing.plan.place.clone()),
        minutes,
    };
    let mut answers = vec![(
        "all that the session takes".to_owned(),
        Answer::Session(wish(None)),
    )];
    let times = TIMES.iter().map(|minutes| {
        let answer = Answer::Session(wish(Some(*minutes)));
        (format!("{minutes} minutes"), answer)
    });
    answers.extend(times);
    model.overlay = Overlay::Ask(Box::new(Ask {
        question: "how much time is there?".to_owned(),
        answers,
        never_mind: Answer::Nothing,
        list: List::default(),
    }));
}

fn ask_place(model: &mut Model) {
    let answer =
        |place: &crate::domain::gear::Place| (place.name.clone(), Answer::Place(place.id.clone()));
    let answers = model.desk.places.iter().map(answer).collect();
    let question = "where?".to_owned();
    model.overlay = Overlay::Ask(Box::new(Ask {
        question,
        answers,
        never_mind: Answer::Nothing,
        list: List::default(),
    }));
}

/// Trains there from now on: a choice that matters, so it is written down.
pub(super) fn train_at(model: &mut Model, place: PlaceId, turn: &mut Turn) {
    let event = Event::Chose(Choice::Place(place.clone()));
    let stamped = model.ledger.stamp(None, event, turn.now.civil);
    turn.push(Effect::Append(vec![stamped]));
    draw_up(
        model,
        Wish {
            place: Some(place),
            minutes: minutes_of(model),
            session: None,
        },
        turn,
    );
}

/// Takes a lighter week from today on, or goes back to the full one: a choice that matters, so it
/// is written down.
fn ease(model: &mut Model, turn: &mut Turn) {
    let Screen::Briefing(screen) = &model.screen else {
        return;
    };
    if model.access.looks_only() {
        return model.tell("only looking: nothing can be recorded here", turn.now);
    }
    let until = match screen.briefing.ease {
        Ease::Taken(_) => None,
        Ease::No if screen.briefing.today.easier_week => {
            return model.tell("this week is an easier one already", turn.now);
        }
        Ease::No | Ease::Suggested(_) => Some(turn.now.civil.plus(WEEK).date()),
    };
    let event = Event::Eased { until };
    let stamped = model.ledger.stamp(None, event, turn.now.civil);
    turn.push(Effect::Append(vec![stamped]));
    draw_up_again(model, turn);
}

/// Has the wished-for session drawn up.
pub(super) fn draw_up(model: &mut Model, wish: Wish, turn: &mut Turn) {
    model.drawing_up = true;
    turn.push(Effect::DrawUp {
        wish,
        events: model.ledger.written.clone(),
    });
}

/// Has the same session drawn up again, after something changed.
pub(super) fn draw_up_again(model: &mut Model, turn: &mut Turn) {
    let Some(screen) = before(model) else {
        return;
    };
    let place = Some(screen.briefing.plan.place.clone());
    let session = Some(screen.briefing.today.clone());
    let minutes = minutes_of(model);
    let wish = Wish {
        place,
        session,
        minutes,
    };
    draw_up(model, wish, turn);
}
