//! What stands around the big thing, in lines that fit the room there is for them.

use super::{Page, told, words};
use crate::app::floor::ComingSet;
use crate::app::model::Floor;
use crate::ui::theme::Role;
use crate::ui::widgets::{put, wrap, wrap_to};
use ratatui::Frame;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// Lines, each with its look.
pub type Lines = Vec<(String, Role)>;

/// How a text ends that has no room, and how one does of which a key shows all.
const MORE: &str = " …";
const MORE_BY_KEY: &str = " … c: all of it";
/// So many times that the exercise was done before are told on a wide screen.
const TIMES: usize = 4;

/// Writes lines from the top of an area, as many as it has rows for.
pub fn print(page: &Page<'_>, lines: &Lines, (frame, area): (&mut Frame<'_>, Rect)) {
    for ((text, role), y) in lines.iter().zip(0..area.height) {
        put(frame.buffer_mut(), area, (0, y), (text, page.theme, *role));
    }
}

/// Last time, today, next and what to fetch; with what was done before that where there is room.
pub fn facts(floor: &Floor, coming: ComingSet, wide: bool) -> Lines {
    let mut lines = Lines::new();
    let last = words::last_time(floor, coming)
        .into_iter()
        .zip([Role::Quiet, Role::Text]);
    lines.extend(last);
    lines.extend(words::today(floor, coming).map(|text| (text, Role::Text)));
    let next = format!("next  {}", told::work(coming.load, coming.asked));
    lines.push((next, Role::Strong));
    let gear = words::gear(floor, coming).into_iter();
    lines.extend(gear.map(|text| (text, Role::Text)));
    if wide && let Some(item) = floor.session.items.get(coming.item) {
        let outings = floor.past.outings(&item.planned.exercise);
        let before = outings.iter().rev().skip(1).take(TIMES - 1);
        lines.extend(before.map(|outing| (told::outing(outing), Role::Quiet)));
    }
    lines
}

/// The same in as few lines as can be.
pub fn brief_facts(floor: &Floor, coming: ComingSet) -> Lines {
    let mut lines = vec![(words::last_time(floor, coming).join(":"), Role::Text)];
    lines.extend(words::today(floor, coming).map(|text| (text, Role::Text)));
    let next = [told::work(coming.load, coming.asked)].into_iter();
    let next: Vec<String> = next.chain(words::gear(floor, coming)).collect();
    lines.push((format!("next  {}", next.join(", ")), Role::Strong));
    lines
}

/// What stands beside the big thing, and, of it, what is too long for that and stands below.
pub fn beside(floor: &Floor, coming: ComingSet, room: Option<(Rect, bool)>) -> (Lines, Lines) {
    let Some((area, wide)) = room else {
        return (Lines::new(), brief_facts(floor, coming));
    };
    let width = usize::from(area.width);
    if wide {
        let all = facts(floor, coming, true).into_iter();
        let lines = all.flat_map(|(text, role)| wrapped(&text, width, role));
        return (lines.collect(), Lines::new());
    }
    facts(floor, coming, false)
        .into_iter()
        .partition(|(text, _)| text.width() <= width)
}

fn wrapped(text: &str, width: usize, role: Role) -> Lines {
    let lines = if text.width() <= width {
        vec![text.to_owned()]
    } else {
        wrap(text, width)
    };
    lines.into_iter().map(|line| (line, role)).collect()
}

/// What stands below it: what has no room beside, what was learned, why this load, what comes then,
/// and how the exercise is done where it is new and is told nowhere else.
pub fn below(
    page: &Page<'_>,
    (floor, coming): (&Floor, ComingSet),
    long: Lines,
    (area, how): (Rect, bool),
) -> Lines {
    let (width, rows) = (usize::from(area.width), usize::from(area.height));
    let mut lines: Lines = long
        .into_iter()
        .flat_map(|(text, role)| wrapped(&text, width, role))
        .collect();
    let (why, felt) = match words::reason(floor, coming) {
        Some(why) if coming.feeler => (None, Some(why)),
        why => (why, None),
    };
    let learned = words::learned(floor, coming).map(|text| (text.to_owned(), Role::Strong));
    let why = learned.or(why.map(|text| (text.to_owned(), Role::Text)));
    let feeler = coming
        .feeler
        .then(|| (words::FEELER.to_owned(), Role::Strong));
    let saving = words::saving(floor, coming).map(|text| (text, Role::Quiet));
    let then = words::next_exercise(&floor.session, coming.item);
    let then = then.map(|next| words::name(floor, next, &page.model.desk));
    let then = then.map(|name| (format!("then {name}"), Role::Quiet));
    let texts = [why, feeler, saving, then].into_iter().flatten();
    for (text, role) in texts {
        let left = rows.saturating_sub(lines.len());
        let cut = wrap_to(&text, width, left, MORE);
        lines.extend(cut.into_iter().map(|line| (line, role)));
    }
    if how && (page.area.height > 30 || words::is_new(floor, coming)) {
        let left = rows.saturating_sub(lines.len());
        let cues = cues(page, (floor, coming), (width, left));
        lines.extend(cues.into_iter().map(|line| (line, Role::Quiet)));
    }
    // Where a load is felt for, how matters more than why.
    let left = rows.saturating_sub(lines.len());
    let felt = felt
        .map(|why| wrap_to(why, width, left, MORE))
        .unwrap_or_default();
    lines.extend(felt.into_iter().map(|line| (line, Role::Text)));
    lines
}

/// How the exercise is done, in so many lines. Where there is no room for all of it, each set of it
/// has the next thing to heed before it.
fn cues(
    page: &Page<'_>,
    (floor, coming): (&Floor, ComingSet),
    (width, rows): (usize, usize),
) -> Vec<String> {
    let exercise = floor.exercise(coming.item, &page.model.desk);
    let Some([set_up, movement, faults, _]) = exercise.map(told::coaching) else {
        return Vec::new();
    };
    let mut texts = [set_up, movement, faults];
    let whole: Vec<String> = texts.iter().flat_map(|text| wrap(text, width)).collect();
    if whole.len() <= rows {
        return whole;
    }
    let turn = floor.session.records(coming.item).count() % texts.len();
    texts.rotate_left(turn);
    let [first, others @ ..] = texts;
    let mut lines = wrap_to(&first, width, rows, MORE_BY_KEY);
    for other in others {
        let more = wrap(&other, width);
        if lines.len() + more.len() <= rows {
            lines.extend(more);
        }
    }
    lines
}

/// How the exercise is done, all of it, in a column of its own.
pub fn how(page: &Page<'_>, (floor, coming): (&Floor, ComingSet), area: Rect) -> Lines {
    let (width, rows) = (usize::from(area.width), usize::from(area.height));
    let exercise = floor.exercise(coming.item, &page.model.desk);
    let Some(texts) = exercise.map(told::coaching).filter(|_| rows > 2) else {
        return Lines::new();
    };
    let mut lines = vec![("how it is done".to_owned(), Role::Quiet)];
    for text in texts {
        let left = rows.saturating_sub(lines.len());
        let cut = wrap_to(&text, width, left, MORE_BY_KEY);
        lines.extend(cut.into_iter().map(|line| (line, Role::Text)));
    }
    lines
}
