//! A set is done: when it began, what it was, and what follows.

use super::super::effect::{Effect, Question};
use super::super::floor::ComingSet;
use super::super::model::{Answer, Ask, Debrief, Floor, List, Model, Overlay, Screen};
use super::Turn;
use super::happen;
use crate::domain::session::{
    Beat, Command, Cued, Done, Entry, Rest, RestKnown, SetKind, Typed, decide, done_by_side,
    done_of,
};
use crate::domain::strength::records;
use crate::domain::units::{Boot, Millis, Now, Seconds, Spare};

/// A second Enter so soon after a record is the same Enter.
const TWICE: Millis = 2_000;
/// Nobody lifts a rep in less.
const FASTEST_REP: Millis = 500;

/// What is said where a set is open and no count was typed.
const OPEN: &str = "an open set: as many clean reps as there are. How many? Then Enter";

/// What is reported of a set.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Report {
    /// What was done; as asked when not said.
    pub done: Option<Done>,
    /// Reps in reserve.
    pub spare: Option<Spare>,
    /// Something else than the muscles ended it.
    pub interrupted: bool,
    /// Whether the clock can tell when it began.
    pub timed: bool,
}

impl Report {
    /// Done as asked.
    pub const AS_ASKED: Self = Self {
        done: None,
        spare: None,
        interrupted: false,
        timed: true,
    };
}

/// Enter alone: the coming set is done as asked, unless the clock says that it cannot be.
pub(super) fn as_asked(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    let elapsed = floor.since_last(turn.now);
    let sides = i64::from(floor.sides(coming.item, &model.desk));
    let fastest = match coming.asked {
        crate::domain::session::Asked::Reps(reps) => i64::from(reps.get()) * FASTEST_REP * sides,
        crate::domain::session::Asked::Hold(hold) => hold.millis() * sides,
    };
    let usual = floor.usual(coming.item, &model.desk).millis();
    let window = floor.window(coming.item);
    // In turn with another a set may follow at once: that is no second one yet.
    let own = floor.session.items.get(coming.item);
    let own = own.map_or(window, |item| item.planned.rest);
    let closes = window.closes.max(own.closes).millis();
    let opens = window.opens.max(own.opens).millis();
    let two = closes + opens + 2 * usual;
    let may_be_two = !floor.session.sets.is_empty() && floor.session.remaining() > 1;
    match floor.beat {
        _ if elapsed < TWICE => {}
        // The side that was done stands; Enter says that the other did the same.
        Beat::LeadIn {
            first: Some(first), ..
        }
        | Beat::Between { first, .. } => {
            let same = (first.get(), first.get());
            both_sides(model, same, None, turn);
        }
        _ if coming.open => model.tell(OPEN, turn.now),
        Beat::Lifting { since, .. } if turn.now.boot.since(since) < fastest => {
            model.overlay = done_already(coming.number);
        }
        Beat::Lifting { .. } | Beat::LeadIn { .. } => {
            record(model, Report::AS_ASKED, turn);
        }
        Beat::Resting if elapsed < fastest => {
            model.overlay = done_already(coming.number);
        }
        Beat::Resting if may_be_two && elapsed >= two => {
            let two = [("one set", Answer::Record), ("two sets", Answer::RecordTwo)];
            model.overlay = ask("one set or two?".to_owned(), &two);
        }
        Beat::Resting => record(model, Report::AS_ASKED, turn),
    }
}

/// What was recorded, and what the last set of a total leaves of it.
fn with_missing(told: String, floor: &Floor, coming: ComingSet) -> String {
    let missing = floor.session.missing(coming.item);
    match missing.filter(|_| coming.kind == SetKind::Working) {
        Some(missing) => format!("{told}. {missing} of the total are missing, a adds a set"),
        None => told,
    }
}

fn done_already(number: u16) -> Overlay {
    let answers = [("yes", Answer::Record), ("no", Answer::Nothing)];
    ask(format!("set {number} done already?"), &answers)
}

/// A question with these answers, the first marked.
pub(super) fn ask(question: String, answers: &[(&str, Answer)]) -> Overlay {
    let answers = answers
        .iter()
        .map(|(text, answer)| ((*text).to_owned(), answer.clone()));
    Overlay::Ask(Box::new(Ask {
        question,
        answers: answers.collect(),
        never_mind: Answer::Nothing,
        list: List::default(),
    }))
}

/// Records the coming set and sees to what follows.
pub(super) fn record(model: &mut Model, report: Report, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    let Some(exercise) = floor.exercise(coming.item, &model.desk) else {
        model.tell("this exercise is no longer known: s for another", turn.now);
        return;
    };
    let done = report
        .done
        .unwrap_or_else(|| done_of(coming.asked, coming.asked.count()));
    let usual = floor.usual(coming.item, &model.desk);
    let (rest, lifted) = times(floor, usual, report, turn.now);
    let stated = floor.stated(rest, turn.now);
    let entry = Entry {
        counts: exercise.counts,
        load: coming.load,
        asked: coming.asked,
        done,
        spare: report.spare,
        rest,
        lifted,
        open: coming.open,
        odds: stated.map(|(odds, _)| odds),
        predicted: stated.map(|(_, predicted)| predicted),
        interrupted: report.interrupted,
    };
    let told = super::typing::told(&entry, coming.number, exercise);
    match decide(
        &floor.session,
        &floor.events,
        Command::Record(Box::new(entry)),
    ) {
        Ok(event) => {
            let (id, append) = happen(&mut model.ledger, floor, event, turn.now);
            floor.ends.insert(id, turn.now.boot);
            floor.beat = Beat::Resting;
            floor.typed = Typed::Nothing;
            floor.cued = Cued::Nothing;
            if let Some(hands_free) = &mut floor.hands_free {
                hands_free.by_key = false;
            }
            let told = with_missing(told, floor, coming);
            turn.push(append);
            model.tell(told, turn.now);
            follow(model, turn);
        }
        Err(refusal) => model.tell(refusal.to_string(), turn.now),
    }
}

/// The rest before the set and how long it took, as well as the clock can tell. What the clock
/// began by itself nobody has seen begin.
fn times(
    floor: &Floor,
    usual: Seconds,
    report: Report,
    now: Now,
) -> (Option<Rest>, Option<Seconds>) {
    let seconds = |millis: Millis| Seconds::clamped(u32::try_from(millis / 1000).unwrap_or(0));
    let first = floor.session.sets.is_empty();
    let elapsed = floor.since_last(now);
    let by_clock = floor.hands_free.is_some_and(|run| !run.by_key);
    let (lifted, known) = match began(floor.beat) {
        Some(began) if by_clock => (now.boot.since(began), RestKnown::Estimated),
        Some(began) => (now.boot.since(began), RestKnown::Measured),
        None => (usual.millis(), RestKnown::Estimated),
    };
    let rest = Rest {
        seconds: seconds(elapsed - lifted),
        known,
    };
    let ends_seen = match floor.beat {
        Beat::Lifting { .. } => floor.hands_free.is_none() || report.done.is_some(),
        Beat::Between { .. } | Beat::LeadIn { .. } | Beat::Resting => false,
    };
    let measured = known == RestKnown::Measured && ends_seen;
    (
        (!first && report.timed).then_some(rest),
        measured.then(|| seconds(lifted)),
    )
}

/// When the set that is on began, where that is known.
const fn began(beat: Beat) -> Option<Boot> {
    match beat {
        Beat::Lifting { began, .. } | Beat::Between { began, .. } => Some(began),
        Beat::LeadIn {
            first: Some(_),
            began,
            ..
        } => Some(began),
        Beat::LeadIn { first: None, .. } | Beat::Resting => None,
    }
}

/// After something changed: the coming set is thought over, or the session is at its end.
pub(super) fn follow(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    if let Some(coming) = floor.session.coming() {
        let Some(item) = floor.session.items.get(coming.item) else {
            return;
        };
        let question = Question {
            index: coming.item,
            item: item.clone(),
            session: floor.session.clone(),
        };
        if item.done().next().is_some() {
            turn.push(Effect::Revise(Box::new(question)));
        }
        return;
    }
    to_debrief(model, turn);
}

/// The session is at its end: records, and what is left to say of it.
pub(super) fn to_debrief(model: &mut Model, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    floor.hands_free = None;
    let floor = (**floor).clone();
    let records = records::fallen(&floor.session, &floor.past);
    if !records.is_empty() {
        turn.push(Effect::Cue(super::super::effect::Cue::Record));
    }
    model.screen = Screen::Debrief(Box::new(Debrief {
        floor,
        digits: String::new(),
        spare: false,
        records,
        next: None,
        closed: false,
        scroll: 0,
    }));
}

/// Two sets were done since the last record.
pub(super) fn two(model: &mut Model, turn: &mut Turn) {
    let untimed = Report {
        timed: false,
        ..Report::AS_ASKED
    };
    record(model, untimed, turn);
    record(model, untimed, turn);
}

/// A count that was typed; where each side works in turn, the other side's is asked for.
pub(super) fn typed(model: &mut Model, count: u32, spare: Option<Spare>, turn: &mut Turn) {
    let Screen::Floor(floor) = &mut model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    if floor.sides(coming.item, &model.desk) == 2 {
        floor.typed = Typed::OtherSide {
            first: count,
            spare,
            digits: String::new(),
        };
        return;
    }
    let report = Report {
        done: Some(done_of(coming.asked, count)),
        spare,
        ..Report::AS_ASKED
    };
    record(model, report, turn);
}

/// Both sides' counts.
pub(super) fn both_sides(
    model: &mut Model,
    counts: (u32, u32),
    spare: Option<Spare>,
    turn: &mut Turn,
) {
    let Screen::Floor(floor) = &model.screen else {
        return;
    };
    let Some(coming) = floor.coming_set() else {
        return;
    };
    let done = done_by_side(coming.asked, counts.0, counts.1);
    record(
        model,
        Report {
            done: Some(done),
            spare,
            ..Report::AS_ASKED
        },
        turn,
    );
}

/// Whether a set of that kind follows what was learned and what was chosen.
pub(super) const fn is_work(kind: SetKind) -> bool {
    match kind {
        SetKind::Working | SetKind::BackOff => true,
        SetKind::Ramp => false,
    }
}
