//! The briefing: today's session, last time's numbers, what to fetch, how long it will take.

use super::{Page, columns, footer, minutes, saved, told};
use crate::app::model::{BriefingScreen, Desk};
use crate::domain::exercise::Sides;
use crate::domain::history::Outing;
use crate::domain::schedule::{BriefedItem, Briefing, Outline, Saving};
use crate::domain::session::{Plan, PlannedItem, PlannedSet, SetKind};
use crate::domain::words;
use crate::ui::theme::Role;
use crate::ui::widgets::{cut, put, put_right, wrap, wrap_to};
use ratatui::Frame;
use ratatui::layout::Rect;
use std::collections::BTreeMap;
use unicode_width::UnicodeWidthStr;

/// Lines that an exercise takes, the marked one apart.
const LINES: u16 = 3;
/// From so many rows on every exercise has two lines for its why.
const TALL: u16 = 40;
/// Lines of why and with what that the marked one may take.
const MOST_LINES: usize = 3;

/// Paints the briefing.
pub fn draw(page: &Page<'_>, screen: &BriefingScreen, frame: &mut Frame<'_>) {
    let briefing = &screen.briefing;
    let plan = &briefing.plan;
    let place = page
        .model
        .desk
        .place(&plan.place)
        .map_or("", |place| place.name.as_str());
    let buf = frame.buffer_mut();
    let (area, theme) = (page.area, page.theme);
    put(buf, area, (1, 0), (&name(plan), theme, Role::Strong));
    let done = page.now.civil.plus(briefing.takes.millis()).clock();
    let mut takes = format!("{}, done about {done}", takes(briefing));
    if name(plan).width() + takes.width() + 3 > usize::from(area.width) {
        takes = format!("done about {done}");
    }
    put_right(buf, area, 0, (&takes, theme, Role::Text));
    let why = format!("{} · at: {place}", briefing.today.why);
    let why = cut(&why, usize::from(area.width) - 16);
    put(buf, area, (1, 1), (&why, theme, Role::Quiet));
    let mut y = 2;
    let unread = unread(page.model.unread);
    let remarks = unread.iter().chain(&briefing.remarks);
    for remark in remarks.take(2) {
        put(buf, area, (1, y), (remark, theme, Role::Warning));
        y += 1;
    }
    let ease = briefing.ease.told("e").unwrap_or_default();
    let wide = usize::from(area.width.saturating_sub(2));
    for line in wrap(&words::capital(&ease), wide).iter().take(2) {
        put(buf, area, (1, y), (line, theme, Role::Strong));
        y += 1;
    }
    y += u16::from(area.height >= 24);
    frame.set_cursor_position((area.x + 1, area.y));
    list(page, screen, (frame, y));
    let keys =
        "Enter start  h keys  q leave  o session  l place  t time  v program  ↑↓ look  c how";
    saved(page, frame, area, 1);
    footer(page, frame, keys);
}

/// Paints what is known of a session while it is drawn up.
pub fn outline(page: &Page<'_>, outline: &Outline, frame: &mut Frame<'_>) {
    let (area, theme) = (page.area, page.theme);
    let buf = frame.buffer_mut();
    put(buf, area, (1, 0), (&outline.name, theme, Role::Strong));
    put_right(buf, area, 0, (DRAWING_UP, theme, Role::Quiet));
    put(buf, area, (1, 1), (&outline.why, theme, Role::Quiet));
    let rows = (2 + u16::from(area.height >= 24)..area.height.saturating_sub(3)).step_by(3);
    for ((exercise, last), y) in outline.items.iter().zip(rows) {
        let name = page.model.desk.catalogue.name(exercise);
        put(
            buf,
            area,
            (1, y),
            (&format!(" {name} "), theme, Role::Strong),
        );
        let last = done_last(last.as_ref());
        put(buf, area, (3, y + 1), (&last, theme, Role::Text));
    }
    frame.set_cursor_position((area.x + 1, area.y));
    footer(page, frame, "q leave");
}

/// What is said while the loads are found.
pub const DRAWING_UP: &str = "drawing up the session";

/// The exercises from a row on, as many as there is room for, the marked one among them.
fn list(page: &Page<'_>, screen: &BriefingScreen, (frame, mut y): (&mut Frame<'_>, u16)) {
    let (area, theme) = (page.area, page.theme);
    let briefing = &screen.briefing;
    let plan = &briefing.plan;
    let room = area
        .height
        .saturating_sub(y + 2)
        .saturating_sub(MOST_LINES as u16 - 1);
    let lines = if area.height >= TALL {
        LINES + 1
    } else {
        LINES
    };
    let room = usize::from(room / lines).max(1);
    let from = screen.marked.saturating_sub(room - 1);
    let (left, right) = columns(area);
    let list = Page {
        area: left,
        ..*page
    };
    for k in from..plan.items.len().min(from + room) {
        let (Some(item), Some(briefed)) = (plan.items.get(k), briefing.items.get(k)) else {
            continue;
        };
        let told = (item, briefed, briefing.saving(k));
        y += exercise(&list, told, k == screen.marked, (frame, y));
    }
    let below = plan.items.len().saturating_sub(from + room);
    if below > 0 {
        let more = format!("↓ {below} more");
        put(
            frame.buffer_mut(),
            area,
            (3, y),
            (&more, theme, Role::Quiet),
        );
    }
    if let Some(right) = right {
        beside(page, screen, (frame, right));
    }
}

/// The marked exercise, on a screen that is wide enough: its sets, and how it is done.
fn beside(page: &Page<'_>, screen: &BriefingScreen, (frame, area): (&mut Frame<'_>, Rect)) {
    let Some(item) = screen.briefing.plan.items.get(screen.marked) else {
        return;
    };
    let catalogue = &page.model.desk.catalogue;
    let mut lines = vec![(catalogue.name(&item.exercise).to_owned(), Role::Strong)];
    for set in &item.sets {
        let ramp = if set.kind == SetKind::Ramp {
            "ramp  "
        } else {
            "set   "
        };
        let work = told::work(set.load, set.asked);
        lines.push((format!("{ramp}{work}"), Role::Text));
    }
    lines.push((String::new(), Role::Text));
    let coaching = catalogue.get(&item.exercise).map(told::coaching);
    for text in coaching.iter().flatten() {
        let wrapped = wrap(text, usize::from(area.width)).into_iter();
        lines.extend(wrapped.map(|line| (line, Role::Quiet)));
    }
    for ((text, role), y) in lines.iter().zip(3..area.height.saturating_sub(2)) {
        put(frame.buffer_mut(), area, (0, y), (text, page.theme, *role));
    }
}

/// That there is something in the journal to be looked at.
fn unread(places: usize) -> Option<String> {
    let places = (places > 0).then(|| words::count(places, "place"))?;
    Some(format!(
        "{places} in the journal cannot be used: 'rackside journal check' tells"
    ))
}

/// One exercise: what to do, what was done, why and with what; says how many lines it took.
fn exercise(
    page: &Page<'_>,
    (item, briefed, saving): (&PlannedItem, &BriefedItem, Option<&Saving>),
    marked: bool,
    (frame, y): (&mut Frame<'_>, u16),
) -> u16 {
    let (area, theme) = (page.area, page.theme);
    let name = page.model.desk.catalogue.name(&item.exercise);
    let buf = frame.buffer_mut();
    let role = if marked { Role::Marked } else { Role::Strong };
    put(buf, area, (1, y), (&format!(" {name} "), theme, role));
    if marked {
        frame.set_cursor_position((area.x + 1, area.y + y));
    }
    let buf = frame.buffer_mut();
    let room = usize::from(area.width).saturating_sub(name.width() + 5);
    let whole = work(item, &page.model.desk);
    let work = match whole.split_once(" ramp + ") {
        // The ramp is told on the floor; its work is what is looked for here.
        Some((_, work)) if whole.width() > room => work.to_owned(),
        Some(_) | None => whole,
    };
    // In a column with the others', but for what would be cut there.
    let begin = |cells: usize| u16::try_from(cells).unwrap_or(u16::MAX);
    let x = area.width.saturating_sub(begin(work.width()) + 1).min(31);
    let x = x.max(begin(name.width()) + 4);
    let work = cut(&work, usize::from(area.width.saturating_sub(x + 1)));
    put(buf, area, (x, y), (&work, theme, Role::Strong));
    let window = format!("{}-{}", item.rest.opens, item.rest.closes);
    let rest = format!("rest {window}");
    let both = odds(item).map(|odds| format!("{odds}, {rest}"));
    let last = last(briefed);
    let fits = |text: &String| last.width() + text.width() + 5 < usize::from(area.width);
    let rest = if fits(&rest) { rest } else { window };
    let rest = both.filter(fits).unwrap_or(rest);
    let last = cut(&last, usize::from(area.width) - rest.width() - 6);
    put(buf, area, (3, y + 1), (&last, theme, Role::Text));
    put_right(buf, area, y + 1, (&rest, theme, Role::Quiet));
    let text = why(item, briefed);
    let tall = area.height >= TALL;
    let most = match (marked, tall) {
        (true, _) => MOST_LINES,
        (false, true) => 2,
        (false, false) => 1,
    };
    let width = usize::from(area.width).saturating_sub(4);
    let mut lines = wrap_to(&text, width, most, " …");
    let saving = saving.map(ToString::to_string);
    let saving = saving.filter(|text| marked && text.chars().count() <= width);
    lines.extend(saving.filter(|_| lines.len() < MOST_LINES));
    let beside = expected(item, briefed).filter(|text| marked && text.width() <= width);
    lines.extend(beside.filter(|_| lines.len() < MOST_LINES));
    for (k, line) in lines.iter().take(most).enumerate() {
        let at = (3, y + 2 + u16::try_from(k).unwrap_or(0));
        put(buf, area, at, (line, theme, Role::Quiet));
    }
    u16::try_from(2 + lines.len().clamp(1, most)).unwrap_or(LINES)
}

/// Where in the program a session stands.
pub fn name(plan: &Plan) -> String {
    format!(
        "{} · {}, week {} of {}",
        plan.day_name, plan.phase_name, plan.week, plan.weeks
    )
}

/// How long a session takes.
pub fn takes(briefing: &Briefing) -> String {
    minutes(briefing.takes.get())
}

/// An exercise and what to do of it.
pub fn what(item: &PlannedItem, desk: &Desk) -> String {
    let name = desk.catalogue.name(&item.exercise);
    format!("{name}: {}", work(item, desk))
}

/// What was done of an exercise the last time.
pub fn last(briefed: &BriefedItem) -> String {
    done_last(briefed.last.as_ref())
}

fn done_last(last: Option<&Outing>) -> String {
    match last {
        Some(outing) => format!("last {}", told::outing(outing)),
        None => "not done before".to_owned(),
    }
}

/// The odds that every working set of an exercise reaches what is asked, where they are stated.
pub fn odds(item: &PlannedItem) -> Option<String> {
    item.odds.map(|odds| format!("{odds} for all sets"))
}

/// What is expected to be spare in each set, and the odds of the steps beside, where they are
/// stated.
pub fn expected(item: &PlannedItem, briefed: &BriefedItem) -> Option<String> {
    item.odds?;
    let work = item.sets.iter().filter(|set| set.kind == SetKind::Working);
    let spare = work.map(|set| {
        let asked = f64::from(set.asked.count());
        let spare = set
            .predicted
            .map(|predicted| (predicted.count() - asked).max(0.0));
        spare.map(|spare| format!("{spare:.0}"))
    });
    let spare: Option<Vec<String>> = spare.collect();
    let spare = spare.map(|spare| format!("about {} spare", spare.join(" ")));
    let steps = [briefed.beside.down, briefed.beside.up];
    let steps = steps.iter().flatten();
    let steps = steps.map(|(load, odds)| format!("{load}: {odds}"));
    Some(
        spare
            .into_iter()
            .chain(steps)
            .collect::<Vec<_>>()
            .join(", "),
    )
}

/// With what an exercise is done, and why like this.
pub fn why(item: &PlannedItem, briefed: &BriefedItem) -> String {
    match briefed.fetch.as_str() {
        "" => words::capital(&item.reason),
        fetch => format!("fetch {fetch}. {}", words::capital(&item.reason)),
    }
}

/// What to do of an item, each side where it is done so.
fn work(item: &PlannedItem, desk: &Desk) -> String {
    let exercise = desk.catalogue.get(&item.exercise);
    let sides = match exercise.map(|exercise| exercise.sides) {
        Some(Sides::Each | Sides::Alternating) => " each side",
        Some(Sides::Both) | None => "",
    };
    format!("{}{sides}", sets(item))
}

/// "2 ramp + 4 × 8, 22 kg" of an item's sets.
fn sets(item: &PlannedItem) -> String {
    let of = |kind| item.sets.iter().filter(move |set| set.kind == kind);
    let ramps = of(SetKind::Ramp).count();
    let ramp = if ramps > 0 {
        format!("{ramps} ramp + ")
    } else {
        String::new()
    };
    let working: Vec<&PlannedSet> = item
        .sets
        .iter()
        .filter(|set| set.kind != SetKind::Ramp)
        .collect();
    let Some(first) = working.first() else {
        return ramp;
    };
    if first.feeler {
        return format!("{ramp}feel for it from {}", first.load);
    }
    let mut counts: BTreeMap<u32, usize> = BTreeMap::new();
    for set in &working {
        *counts.entry(set.asked.count()).or_default() += 1;
    }
    let asked = if counts.len() == 1 {
        first.asked.to_string()
    } else {
        working
            .iter()
            .map(|set| set.asked.to_string())
            .collect::<Vec<_>>()
            .join(" ")
    };
    format!("{ramp}{} × {asked}, {}", working.len(), first.load)
}
