//! The floor: one big thing at a time, and around it what else matters now.

mod fitted;
mod plan;
mod room;
mod words;

pub use words::{FEELER, gear, heading, is_new, last_time, learned, odds, saving};

use super::{Page, footer, saved, told, typed};
use crate::app::floor::{ComingSet, RestView, Stage};
use crate::app::model::Floor;
use crate::domain::session::{Asked, Beat};
use crate::domain::units::Seconds;
use crate::ui::theme::Role;
use crate::ui::widgets::{big, gauge, put, put_right, tape};
use ratatui::Frame;
use ratatui::layout::Rect;
use room::{Room, Wide};
use unicode_width::UnicodeWidthStr;

/// Paints the floor.
pub fn draw(page: &Page<'_>, floor: &Floor, frame: &mut Frame<'_>) {
    let room = Room::of(page.area);
    header(page, floor, frame);
    draw_tape(page, floor, frame);
    if let Some(coming) = floor.coming_set() {
        title(page, floor, coming, (frame, room.title));
        centre(page, floor, coming, (frame, &room));
        line_of_rest(page, floor, (frame, &room));
        if floor.beat == Beat::Resting && floor.session.paused.is_none() {
            let width = usize::from(room.odds.width);
            let text = odds(floor, coming, (page.now, width)).unwrap_or_default();
            let (buf, area) = (frame.buffer_mut(), room.odds);
            put(buf, area, (0, 0), (&text, page.theme, Role::Strong));
        }
        let beside = room.beside.map(|area| (area, room.wide.is_some()));
        let (facts, long) = fitted::beside(floor, coming, beside);
        fitted::print(page, &facts, (frame, room.beside.unwrap_or_default()));
        let below = (room.words, room.wide.is_none());
        let lines = fitted::below(page, (floor, coming), long, below);
        fitted::print(page, &lines, (frame, room.words));
        if let Some(Wide { plan, how }) = room.wide {
            let below = plan::draw(page, floor, (frame, plan));
            let how = how.unwrap_or(below);
            let lines = fitted::how(page, (floor, coming), how);
            fitted::print(page, &lines, (frame, how));
        }
    }
    footer(page, frame, keys(floor));
    typed::draw(page, floor, frame);
}

/// Where in the program this is, and when it will be over.
fn header(page: &Page<'_>, floor: &Floor, frame: &mut Frame<'_>) {
    let buf = frame.buffer_mut();
    let name = super::briefing::name(&floor.briefing.plan);
    put(buf, page.area, (1, 0), (&name, page.theme, Role::Text));
    let left = crate::domain::schedule::remaining(
        &floor.session,
        &page.model.desk.catalogue,
        (floor.pace, &floor.briefing.stacks),
    );
    let done = page.now.civil.plus(left.millis()).clock();
    let clock = format!("{}, done about {done}", page.now.civil.clock());
    let fits = name.width() + clock.width() + 4 <= usize::from(page.area.width);
    let clock = if fits { clock } else { page.now.civil.clock() };
    put_right(buf, page.area, 0, (&clock, page.theme, Role::Text));
}

fn draw_tape(page: &Page<'_>, floor: &Floor, frame: &mut Frame<'_>) {
    let marks = tape::marks(floor, &page.model.desk);
    let room = usize::from(page.area.width).saturating_sub(16);
    let here = marks.iter().position(|mark| mark.here).unwrap_or(0);
    let from = if marks.len() > room {
        here.saturating_sub(room / 2)
    } else {
        0
    };
    let buf = frame.buffer_mut();
    for (k, mark) in marks.iter().skip(from).take(room).enumerate() {
        let role = if mark.here { Role::Marked } else { Role::Text };
        let at = (1 + u16::try_from(k).unwrap_or(0), 1);
        put(
            buf,
            page.area,
            at,
            (&mark.shape.to_string(), page.theme, role),
        );
    }
    saved(page, frame, page.area, 1);
}

/// The exercise, and which of its sets comes; the cursor stands before it, so that a screen reader
/// finds it, until something is typed.
fn title(page: &Page<'_>, floor: &Floor, coming: ComingSet, (frame, y): (&mut Frame<'_>, u16)) {
    let name = words::name(floor, coming.item, &page.model.desk).to_uppercase();
    let buf = frame.buffer_mut();
    let end = put(buf, page.area, (1, y), (&name, page.theme, Role::Strong));
    let which = format!(" · {}", words::which(floor, coming, &page.model.desk));
    put(buf, page.area, (end, y), (&which, page.theme, Role::Text));
    frame.set_cursor_position((page.area.x, page.area.y + y));
}

/// The one big thing: the countdown before the window opens, then load and reps; while lifting,
/// the time.
fn centre(
    page: &Page<'_>,
    floor: &Floor,
    coming: ComingSet,
    (frame, room): (&mut Frame<'_>, &Room),
) {
    let clock = |millis, to_come| gauge::clock(millis, to_come);
    let now = page.now;
    let (text, unit, role, counts) = match floor.beat {
        Beat::LeadIn { until, first, .. } => {
            let left = clock(until.since(now.boot), true);
            let what = first.map_or("get set", |_| "other side");
            (left, what.to_owned(), Role::Recover, true)
        }
        Beat::Lifting { since, .. } => {
            let lifted = clock(now.boot.since(since), false);
            let stretch = floor.stretch(&page.model.desk);
            (lifted, lifting(coming, stretch), Role::Open, true)
        }
        Beat::Between { .. } => {
            let (text, unit) = words::load_by_count(coming);
            (text, unit, Role::Strong, false)
        }
        Beat::Resting => match floor.rest(now) {
            Some(rest) if rest.stage == Stage::Recover => {
                let left = clock(rest.counts(), true);
                (left, "to the opening".to_owned(), Role::Recover, true)
            }
            Some(_) | None => {
                let (text, unit) = words::load_by_count(coming);
                (text, unit, Role::Strong, false)
            }
        },
    };
    let area = room.big;
    let buf = frame.buffer_mut();
    if page.model.prefs.small && !counts {
        let text = format!("{text}  {unit}");
        put(buf, area, (0, 0), (&text, page.theme, role));
        return;
    }
    let mut end = 0;
    let beside = unit.width() + 2;
    let width = usize::from(area.width).saturating_sub(beside);
    let rows = big::rows(&text, room.height, width);
    let mut last = 0;
    for (row, y) in rows.iter().zip(0..area.height) {
        end = end.max(put(buf, area, (0, y), (row, page.theme, role)));
        last = y;
    }
    put(buf, area, (end + 2, last), (&unit, page.theme, Role::Text));
}

fn is_hold(floor: &Floor) -> bool {
    let set = floor.coming_set();
    set.is_some_and(|set| matches!(set.asked, Asked::Hold(_)))
}

/// What is counted, and up to when the clock counts it.
fn lifting(coming: ComingSet, stretch: Option<Seconds>) -> String {
    let what = match coming.asked {
        Asked::Reps(_) => "lifting",
        Asked::Hold(_) => "hold",
    };
    let to = stretch.map_or(String::new(), |stretch| format!(" to {stretch}"));
    format!("{what}{to}")
}

/// The rest in words and as a gauge, on one line or two.
fn line_of_rest(page: &Page<'_>, floor: &Floor, (frame, room): (&mut Frame<'_>, &Room)) {
    let area = room.gauge;
    let buf = frame.buffer_mut();
    if floor.session.paused.is_some() {
        let text = "time out: no signs until t, or the next set";
        put(buf, area, (0, 0), (text, page.theme, Role::Strong));
        return;
    }
    match (floor.rest(page.now), floor.beat) {
        (Some(rest), _) => {
            let role = role_of(rest);
            let end = put(buf, area, (0, 0), ("rest  ", page.theme, Role::Text));
            let room = usize::from(area.width).saturating_sub(usize::from(end) + 26);
            let bar = gauge::bar(rest, room);
            let end = put(buf, area, (end, 0), (&bar, page.theme, role));
            let told = gauge::told(rest);
            put(buf, area, (end + 2, 0), (&told, page.theme, Role::Strong));
        }
        (None, Beat::Resting) => {
            let text = "ready when you are: Enter when done, Space to begin";
            put(buf, area, (0, 0), (text, page.theme, Role::Text));
        }
        (None, Beat::Between { .. }) => {
            let text = "one side is done: Space counts the other one in";
            put(buf, area, (0, 0), (text, page.theme, Role::Text));
        }
        (None, Beat::LeadIn { .. } | Beat::Lifting { .. }) => {}
    }
}

/// Where the rest stands, for what lies over the floor; and from which row on it would be cut.
pub fn under(page: &Page<'_>) -> Option<(String, Rect)> {
    let floor = page.model.floor()?;
    let rest = floor.rest(page.now)?;
    let Rect { y, .. } = Room::of(page.area).big;
    let gauge = Room::of(page.area).gauge;
    let whole = Rect {
        x: page.area.x,
        y,
        width: page.area.width,
        height: gauge.bottom().saturating_sub(y),
    };
    Some((gauge::told(rest), whole))
}

const fn role_of(rest: RestView) -> Role {
    match rest.stage {
        Stage::Recover => Role::Recover,
        Stage::Open => Role::Open,
        Stage::Late => Role::Late,
    }
}

/// The keys that matter now.
fn keys(floor: &Floor) -> &'static str {
    if floor.hands_free.is_some() {
        return "runs by itself  any key stops it  p pain";
    }
    match (floor.beat, floor.edit.is_some()) {
        (Beat::Between { .. }, _) => {
            "Space other side  Enter the same  digits seconds  Esc not done  p pain"
        }
        (Beat::LeadIn { .. }, _) => "Esc not yet   p pain   h all keys",
        (Beat::Lifting { .. }, _) if is_hold(floor) => "any key ends the hold  p pain",
        (Beat::Lifting { .. }, _) => "Enter done  digits reps  Esc not yet  p pain",
        (Beat::Resting, true) => "digits reps   . digit spare   ←→ load   Enter save   Esc back",
        (Beat::Resting, false) if is_hold(floor) => {
            "Enter done  Space begin  r by itself  p pain  / menu  h keys  digits seconds  ←→ load"
        }
        (Beat::Resting, false) => {
            "Enter done  digits reps  p pain  / menu  h keys  ←→ load  Space lifting  d g look"
        }
    }
}
