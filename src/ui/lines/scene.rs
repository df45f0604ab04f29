//! What is before the person, in lines: nothing in them changes with the clock, so that a line
//! that was told need not be told again.

use crate::app::floor::ComingSet;
use crate::app::keymap::{Mode, menu_entries, shown};
use crate::app::logbook::LogbookScreen;
use crate::app::model::{
    Ask, BriefingScreen, Debrief, FirstRun, FirstStep, Floor, Model, Overlay, Screen,
};
use crate::app::update::{below, typed_in_logbook};
use crate::domain::exercise::ExerciseId;
use crate::domain::session::{Asked, Beat, Typed};
use crate::domain::units::Now;
use crate::domain::words::{self, caution};
use crate::ui::screens::{briefing, debrief, first_run, floor, logbook, overlay, told, typed};
use crate::ui::widgets::gauge;

/// No line is cut: whoever reads it wraps it.
const WIDTH: usize = 10_000;

/// What is before the person now.
pub fn scene(model: &Model) -> Vec<String> {
    let mut lines = Vec::new();
    if model.alarm {
        lines.push(caution::ALARM.to_owned());
    }
    lines.extend(match &model.overlay {
        Overlay::None => screen(model),
        Overlay::Menu(_) => menu(below(&model.screen)),
        Overlay::Ask(ask) => question(ask),
        Overlay::Writing(_) => {
            let what = overlay::written(&model.screen);
            vec![format!("the {what}, then Enter; esc alone: never mind")]
        }
        Overlay::Help { mode, .. } => help(*mode),
        Overlay::Coaching { exercise, .. } => coaching(model, exercise),
        Overlay::Page { lines, .. } => lines.clone(),
    });
    lines
}

/// Where things stand at an instant: the answer to "now".
pub fn standing(model: &Model, now: Now) -> Vec<String> {
    let mut lines = vec![now.civil.clock()];
    if let Some(floor) = model.floor() {
        let (left, done) = (floor.session.remaining(), floor.session.sets.len());
        lines.push(format!(
            "{} done, {left} to come",
            words::count(done, "set")
        ));
        match floor.beat {
            Beat::Lifting { since, .. } => {
                let lifted = gauge::clock(now.boot.since(since), false);
                lines.push(format!("lifting for {lifted}"));
            }
            Beat::LeadIn { .. } | Beat::Between { .. } => {}
            Beat::Resting => {
                let rest = floor.rest(now);
                lines.extend(rest.map(|rest| format!("rest: {}", gauge::told(rest))));
                let coming = floor.coming_set();
                lines.extend(coming.and_then(|coming| floor::odds(floor, coming, (now, WIDTH))));
            }
        }
    }
    lines.extend(scene(model));
    lines
}

fn screen(model: &Model) -> Vec<String> {
    match &model.screen {
        Screen::FirstRun(first) => first_question(model, first),
        Screen::Waiting(_) => vec![briefing::DRAWING_UP.to_owned()],
        Screen::Briefing(screen) => today(model, screen),
        Screen::Floor(floor) => coming(model, floor),
        Screen::Debrief(debrief) => after(model, debrief),
        Screen::Logbook(screen) => leafed(model, screen),
    }
}

fn numbered(texts: impl Iterator<Item = String>) -> impl Iterator<Item = String> {
    texts
        .enumerate()
        .map(|(k, text)| format!("{} {text}", k + 1))
}

fn first_question(model: &Model, first: &FirstRun) -> Vec<String> {
    let mut lines: Vec<String> = caution::CAUTION.map(str::to_owned).into();
    let step = FirstStep::ALL.iter().position(|step| *step == first.step);
    let number = step.unwrap_or(0) + 1;
    let question = first_run::question(first.step);
    lines.push(format!(
        "question {number} of {}: {question}",
        FirstStep::ALL.len()
    ));
    let answers = first_run::answers(model, first);
    let marked = answers.get(first.list.marked);
    let enter = marked.map(|text| format!("a number and Enter; Enter alone: {text}"));
    lines.extend(numbered(answers.iter().cloned()));
    lines.extend(enter);
    lines
}

fn today(model: &Model, screen: &BriefingScreen) -> Vec<String> {
    let plan = &screen.briefing.plan;
    let mut lines = vec![
        briefing::name(plan),
        screen.briefing.today.why.clone(),
        format!("takes {}", briefing::takes(&screen.briefing)),
    ];
    lines.extend(screen.briefing.remarks.iter().cloned());
    lines.extend(screen.briefing.ease.told("e"));
    let items = plan.items.iter().zip(&screen.briefing.items);
    lines.extend(numbered(items.map(|(item, briefed)| {
        let parts = [
            Some(briefing::what(item, &model.desk)),
            Some(briefing::last(briefed)),
            briefing::odds(item),
            briefing::expected(item, briefed),
            Some(briefing::why(item, briefed)),
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        parts.join("; ")
    })));
    if let Some(mark) = model.mark {
        lines.push(mark.to_owned());
    }
    lines.push(keys(Mode::Briefing));
    lines
}

fn coming(model: &Model, floor: &Floor) -> Vec<String> {
    let Some(set) = floor.coming_set() else {
        return Vec::new();
    };
    let (done, left) = (floor.session.sets.len(), floor.session.remaining());
    let head = floor::heading(floor, set, &model.desk);
    let work = told::work(set.load, set.asked);
    let mut lines = vec![format!("{} of {}: {head}: {work}", done + 1, done + left)];
    lines.extend(floor::gear(floor, set));
    lines.extend(floor::last_time(floor, set));
    lines.extend(floor::learned(floor, set).map(str::to_owned));
    lines.extend(floor::saving(floor, set));
    if set.feeler {
        lines.push(floor::FEELER.to_owned());
    }
    if floor::is_new(floor, set) {
        let exercise = floor.exercise(set.item, &model.desk);
        let cues = exercise.map(told::coaching).into_iter().flatten();
        lines.extend(cues.take(3));
    }
    if done > 0 {
        let window = floor.window(set.item);
        lines.push(format!("rest {} to {}", window.opens, window.closes));
    }
    if floor.session.paused.is_some() {
        lines.push("time out: no signs until t, or the next set".to_owned());
    }
    if floor.hands_free.is_some() {
        lines.push("runs by itself: any line stops it".to_owned());
    }
    lines.extend(lifting(floor, set));
    lines.extend(typed::text(floor).filter(|_| {
        // A count that is being typed is on its way; the other side's is asked for.
        !matches!(floor.typed, Typed::Count { .. } | Typed::Load(_))
    }));
    if matches!(set.asked, Asked::Hold(_)) {
        lines.push("space: the hold is counted in; r: this and what follows by itself".to_owned());
    }
    lines.push(FLOOR.to_owned());
    lines
}

const FLOOR: &str = "Enter: done as asked; a number: other reps; 8.2: eight, two spare; .2: two \
    spare in the set just done; + and -: load; now: where things stand; /: menu; h: keys; q: leave";

fn lifting(floor: &Floor, set: ComingSet) -> Option<String> {
    let text = match (floor.beat, set.asked) {
        (Beat::Resting, _) => return None,
        (Beat::LeadIn { first: Some(_), .. }, _) => "other side",
        (Beat::LeadIn { .. }, _) => "get set",
        (Beat::Between { .. }, _) => "one side is done: space and Enter count the other one in",
        (Beat::Lifting { .. }, Asked::Reps(_)) => "lifting: Enter when the set is done",
        (Beat::Lifting { .. }, Asked::Hold(_)) => "holding",
    };
    Some(text.to_owned())
}

fn after(model: &Model, debrief: &Debrief) -> Vec<String> {
    let mut lines = vec![debrief::title(debrief).to_owned()];
    let told = debrief::lines(model, debrief, WIDTH);
    let told = told.into_iter().map(|(text, _)| text.trim().to_owned());
    lines.extend(told.filter(|text| !text.is_empty()));
    lines.push(if debrief.closed {
        "Enter: leave".to_owned()
    } else {
        "how hard was it, 0 to 10? a number closes the session, and so does Enter alone".to_owned()
    });
    if !debrief.closed {
        lines.push(keys(Mode::Debrief));
    }
    lines
}

fn leafed(model: &Model, screen: &LogbookScreen) -> Vec<String> {
    let mut lines = logbook::told(model, screen);
    lines.extend(typed_in_logbook(screen));
    lines.push(keys(Mode::Logbook));
    lines
}

fn menu(mode: Mode) -> Vec<String> {
    let entries = menu_entries(mode).map(|entry| format!("{} ({})", entry.help, entry.shown));
    let mut lines: Vec<String> = numbered(entries).collect();
    lines.push("a number, or the letter in brackets; esc: never mind".to_owned());
    lines
}

fn question(ask: &Ask) -> Vec<String> {
    let mut lines = vec![ask.question.clone()];
    lines.extend(numbered(ask.answers.iter().map(|(text, _)| text.clone())));
    let marked = ask.answers.get(ask.list.marked);
    let enter = marked.map(|(text, _)| format!("a number; Enter: {text}; esc: never mind"));
    lines.extend(enter);
    lines
}

fn help(mode: Mode) -> Vec<String> {
    let rows = shown(mode).map(|row| format!("{}: {}", row.shown, row.help));
    let more = [
        "now: where things stand",
        "up, down, left, right, space, esc: those keys, by name",
        "Enter goes back",
    ];
    rows.chain(more.map(str::to_owned)).collect()
}

/// The keys of a mode in one line.
fn keys(mode: Mode) -> String {
    let rows: Vec<String> = shown(mode)
        .map(|row| format!("{}: {}", row.shown, row.help))
        .collect();
    rows.join("; ")
}

fn coaching(model: &Model, exercise: &ExerciseId) -> Vec<String> {
    let catalogue = &model.desk.catalogue;
    let mut lines = vec![catalogue.name(exercise).to_owned()];
    if let Some(exercise) = catalogue.get(exercise) {
        lines.extend(told::coaching(exercise));
    }
    lines.push("Enter goes back".to_owned());
    lines
}
