//! It hurts: what is asked, and what follows. The program never diagnoses.

use super::super::effect::Effect;
use super::super::model::{Answer, Ask, Desk, Floor, List, Model, Overlay, Screen};
use super::record::{Report, record};
use super::{Turn, debrief, floor, happen, lift};
use crate::domain::exercise::{Joint, Muscle};
use crate::domain::session::{
    Beat, Command, Ended, Event, Pain, Typed, Whereabouts, done_by_side, done_of,
};
use crate::domain::units::Now;
use Whereabouts as W;

/// Where it can hurt, by the key that says so: 1 to 9, then 0.
const PLACES: [(&str, Answer); 10] = [
    ("chest, head, breath, or numbness", Answer::Hurts(W::Alarm)),
    ("neck", Answer::Hurts(W::Joint(Joint::Neck))),
    ("shoulder", Answer::Hurts(W::Joint(Joint::Shoulder))),
    ("elbow or wrist", Answer::Hurts(W::Joint(Joint::Elbow))),
    ("upper back", Answer::Hurts(W::Joint(Joint::UpperBack))),
    ("lower back", Answer::Hurts(W::Joint(Joint::LowerBack))),
    ("hip", Answer::Hurts(W::Joint(Joint::Hip))),
    ("knee", Answer::Hurts(W::Joint(Joint::Knee))),
    ("ankle or foot", Answer::Hurts(W::Joint(Joint::Ankle))),
    ("a muscle", Answer::HurtsInMuscle),
];

/// Muscles that are asked for, by the key that says so.
const MUSCLES: [(&str, Muscle); 9] = [
    ("chest muscle", Muscle::Chest),
    ("front of the upper arm", Muscle::Biceps),
    ("back of the upper arm", Muscle::Triceps),
    ("upper back or lats", Muscle::Lats),
    ("lower back muscle", Muscle::SpinalErectors),
    ("belly", Muscle::Abdominals),
    ("buttock", Muscle::Glutes),
    ("front of the thigh", Muscle::Quadriceps),
    ("back of the thigh", Muscle::Hamstrings),
];

/// Asks where, in one key. A hold that is on ends with the key: what was held so far stands.
pub(super) fn ask(model: &mut Model, now: Now) {
    if let Screen::Logbook(screen) = &model.screen {
        model.screen = Screen::Briefing(Box::new(screen.behind.clone()));
    }
    if matches!(model.screen, Screen::FirstRun(_) | Screen::Waiting(_)) {
        model.tell("stop if it hurts; there is no session yet", now);
        return;
    }
    if let Screen::Floor(floor) = &mut model.screen {
        lift::freeze(floor, now);
    }
    let question = "stop. Where does it hurt?".to_owned();
    let answers = PLACES
        .iter()
        .map(|(text, answer)| ((*text).to_owned(), answer.clone()));
    let answers = answers.collect();
    model.overlay = Overlay::Ask(Box::new(Ask {
        question,
        answers,
        never_mind: Answer::Nothing,
        list: List::default(),
    }));
}

/// Asks which muscle.
pub(super) fn ask_muscle(model: &mut Model) {
    let question = "which muscle?".to_owned();
    let answer =
        |(text, muscle): &(&str, Muscle)| ((*text).to_owned(), Answer::Hurts(W::Muscle(*muscle)));
    let answers = MUSCLES.iter().map(answer).collect();
    model.overlay = Overlay::Ask(Box::new(Ask {
        question,
        answers,
        never_mind: Answer::Nothing,
        list: List::default(),
    }));
}

/// It hurts there. The set that was on is ended, never missed.
pub(super) fn hurts(model: &mut Model, whereabouts: Whereabouts, turn: &mut Turn) {
    match &model.screen {
        Screen::Floor(_) => end_set(model, turn),
        Screen::Debrief(_) => {}
        Screen::Briefing(_) => return before(model, whereabouts, turn),
        Screen::FirstRun(_) | Screen::Waiting(_) | Screen::Logbook(_) => return,
    }
    let floor = match &mut model.screen {
        Screen::Floor(floor) => floor,
        Screen::Debrief(debrief) => &mut debrief.floor,
        Screen::FirstRun(_) | Screen::Waiting(_) | Screen::Briefing(_) | Screen::Logbook(_) => {
            return;
        }
    };
    let item = floor
        .session
        .coming()
        .and_then(|coming| u16::try_from(coming.item).ok());
    let item = item.or(floor.session.sets.last().map(|set| set.record.item));
    let short = missed_by_pain(floor, &model.desk, whereabouts);
    let pain = Event::Pain(Pain { item, whereabouts });
    let (_, append) = happen(&mut model.ledger, floor, pain, turn.now);
    turn.push(append);
    if short {
        floor::command(model, Command::Interrupted, turn);
    }
    match whereabouts {
        W::Alarm => {
            debrief::finish(model, turn);
            model.alarm = true;
        }
        W::Joint(_) | W::Muscle(_) => spare_it(model, whereabouts, turn),
    }
}

/// Whether the set just done fell short and loads what hurts: then the pain ended it, and it is no
/// miss.
fn missed_by_pain(floor: &Floor, desk: &Desk, whereabouts: Whereabouts) -> bool {
    let Some(last) = floor.session.sets.last().map(|set| &set.record) else {
        return false;
    };
    let exercise = desk.catalogue.get(&last.exercise);
    let loads = exercise.is_some_and(|exercise| whereabouts.is_loaded_by(exercise));
    last.ended == Ended::Short && loads
}

/// Pain before a session: it is written down, and the session is drawn up anew around it.
fn before(model: &mut Model, whereabouts: Whereabouts, turn: &mut Turn) {
    let event = Event::Pain(Pain {
        item: None,
        whereabouts,
    });
    let stamped = model.ledger.stamp(None, event, turn.now.civil);
    turn.push(Effect::Append(vec![stamped]));
    match whereabouts {
        W::Alarm => model.alarm = true,
        W::Joint(_) | W::Muscle(_) => super::briefing::draw_up_again(model, turn),
    }
}

/// What was typed or held so far is recorded as interrupted; a set that was on without a count is
/// left out.
fn end_set(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    let typed = match std::mem::take(&mut floor.typed) {
        Typed::Count { digits, .. } => digits.parse().ok().map(|n| done_of(coming.asked, n)),
        // The side that was done stands; the other came to nothing, or to what was typed of it.
        Typed::OtherSide { first, digits, .. } => {
            let other = digits.parse().unwrap_or(0);
            Some(done_by_side(coming.asked, first, other))
        }
        Typed::Nothing | Typed::SpareOfLast | Typed::Load(_) => None,
    };
    let lifting = floor.beat != Beat::Resting;
    match (typed, lifting) {
        (Some(done), _) => {
            record(
                model,
                Report {
                    done: Some(done),
                    interrupted: true,
                    ..Report::AS_ASKED
                },
                turn,
            );
        }
        (None, true) => {
            floor.beat = Beat::Resting;
            floor::command(model, Command::SkipSet, turn);
        }
        (None, false) => {}
    }
}

/// Whatever else is to come and loads it is left out; for the coming exercise a stand-in that does
/// not load it is looked for.
fn spare_it(model: &mut Model, whereabouts: Whereabouts, turn: &mut Turn) {
    let desk = model.desk.clone();
    let Screen::Floor(floor) = &mut model.screen else {
        return model.tell("written down. u takes it back", turn.now);
    };
    let Some(coming) = floor.session.coming() else {
        // The set that was on was the last one.
        super::record::to_debrief(model, turn);
        return;
    };
    let loaded = |floor: &Floor, item: usize| {
        let open = floor
            .session
            .items
            .get(item)
            .is_some_and(|i| i.coming().is_some());
        open && floor
            .exercise(item, &desk)
            .is_some_and(|e| whereabouts.is_loaded_by(e))
    };
    let others: Vec<usize> = (0..floor.session.items.len())
        .filter(|item| *item != coming.item && loaded(floor, *item))
        .collect();
    for item in &others {
        let event = Event::Skipped {
            item: u16::try_from(*item).unwrap_or(u16::MAX),
            whole: true,
        };
        let (_, append) = happen(&mut model.ledger, floor, event, turn.now);
        turn.push(append);
    }
    let here = loaded(floor, coming.item);
    let names: Vec<&str> = others
        .iter()
        .filter_map(|item| floor.exercise(*item, &desk))
        .map(|exercise| exercise.name.as_str())
        .collect();
    if !names.is_empty() {
        let text = format!("left out, since they load it: {}", names.join(", "));
        model.tell(text, turn.now);
    } else if !here {
        let text = "written down: nothing left loads it. u takes it back";
        model.tell(text, turn.now);
    }
    if here && let Some(question) = floor::question(model) {
        turn.push(Effect::FindStandIns {
            question: Box::new(question),
            avoid: Some(whereabouts),
        });
    }
}
