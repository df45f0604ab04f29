//! The floor: one big thing at a time, and around it what else matters now.

use super::{Page, footer, saved, told, typed};
use crate::app::floor::{ComingSet, RestView, Stage};
use crate::app::model::Floor;
use crate::domain::exercise::Sides;
use crate::domain::gear::Build;
use crate::domain::session::{Asked, Beat, Session, SetKind};
use crate::domain::units::Load;
use crate::ui::theme::Role;
use crate::ui::widgets::{big, gauge, put, put_right, tape, wrap};
use ratatui::Frame;
use ratatui::layout::Rect;

/// Where the right-hand column begins, on a screen wide enough for it.
const RIGHT: u16 = 44;
/// An exercise done fewer times than this has its cues shown unasked.
const NEW: usize = 3;

/// Paints the floor.
pub fn draw(page: &Page<'_>, floor: &Floor, frame: &mut Frame<'_>) {
    let area = page.area;
    header(page, floor, frame);
    draw_tape(page, floor, frame);
    let roomy = area.height >= 24;
    let top = if roomy { 3 } else { 2 };
    if let Some(coming) = floor.coming_set() {
        title(page, floor, coming, (frame, top));
        centre(page, floor, coming, (frame, top + 2));
        beside(page, floor, coming, (frame, top + 2));
        let below = top + 2 + big::ROWS as u16 + u16::from(roomy);
        line_of_rest(page, floor, (frame, below));
        words(page, floor, coming, (frame, below + 2));
    }
    typed::draw(page, floor, frame);
    footer(page, frame, keys(floor));
}

/// Where in the program this is, and when it will be over.
fn header(page: &Page<'_>, floor: &Floor, frame: &mut Frame<'_>) {
    let buf = frame.buffer_mut();
    let plan = &floor.briefing.plan;
    let text = format!(
        "{} · {}, week {} of {}",
        plan.day_name, plan.phase_name, plan.week, plan.weeks
    );
    put(buf, page.area, (1, 0), (&text, page.theme, Role::Text));
    let left = crate::domain::schedule::remaining(
        &floor.session,
        &page.model.desk.catalogue,
        (floor.pace, &floor.briefing.stacks),
    );
    let done = page.now.civil.plus(left.millis()).clock();
    let clock = format!("{}, done about {done}", page.now.civil.clock());
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

/// The exercise, and which of its sets comes.
fn title(page: &Page<'_>, floor: &Floor, coming: ComingSet, (frame, y): (&mut Frame<'_>, u16)) {
    let exercise = floor.exercise(coming.item, &page.model.desk);
    let name = exercise
        .map_or("?", |exercise| exercise.name.as_str())
        .to_uppercase();
    let kind = match (coming.kind, coming.feeler) {
        (SetKind::Ramp, _) => "ramp set",
        (SetKind::Working, true) => "feeler set",
        (SetKind::Working, false) => "set",
        (SetKind::BackOff, _) => "back-off set",
    };
    let sides = match exercise.map(|exercise| exercise.sides) {
        Some(Sides::Each | Sides::Alternating) => ", each side",
        Some(Sides::Both) | None => "",
    };
    let buf = frame.buffer_mut();
    let end = put(buf, page.area, (1, y), (&name, page.theme, Role::Strong));
    let text = format!(" · {kind} {} of {}{sides}", coming.number, coming.of);
    put(buf, page.area, (end, y), (&text, page.theme, Role::Text));
}

/// The one big thing: the countdown before the window opens, then load and reps; while lifting,
/// the time.
fn centre(page: &Page<'_>, floor: &Floor, coming: ComingSet, (frame, y): (&mut Frame<'_>, u16)) {
    let (text, unit, role) = match floor.beat {
        Beat::LeadIn { until, .. } => (
            gauge::clock(until.since(page.now.boot), true),
            "get set",
            Role::Recover,
        ),
        Beat::Lifting { since, .. } => (
            gauge::clock(page.now.boot.since(since), false),
            lifting(coming),
            Role::Open,
        ),
        Beat::Resting => match floor.rest(page.now) {
            Some(rest) if rest.stage == Stage::Recover => (
                gauge::clock(rest.counts(), true),
                "to the opening",
                Role::Recover,
            ),
            Some(_) | None => {
                let (text, unit) = load_by_count(coming);
                (text, unit, Role::Strong)
            }
        },
    };
    let rows = fitting(&text);
    let buf = frame.buffer_mut();
    let mut end = 0;
    for (k, row) in rows.iter().enumerate() {
        let at = (1, y + u16::try_from(k).unwrap_or(0));
        end = end.max(put(buf, page.area, at, (row, page.theme, role)));
    }
    let below = y + big::ROWS as u16 - 1;
    if end + 2 < RIGHT.min(page.area.width) {
        put(
            buf,
            page.area,
            (end + 2, below),
            (unit, page.theme, Role::Text),
        );
    }
}

/// Big rows that leave the right-hand column alone: a long text goes without its spaces.
fn fitting(text: &str) -> [String; big::ROWS] {
    let rows = big::rows(text);
    let wide = rows
        .iter()
        .any(|row| row.chars().count() + 2 > usize::from(RIGHT));
    if wide {
        big::rows(&text.replace(' ', ""))
    } else {
        rows
    }
}

const fn lifting(coming: ComingSet) -> &'static str {
    match coming.asked {
        Asked::Reps(_) => "lifting",
        Asked::Hold(_) => "hold",
    }
}

/// "24 × 8" and the unit of what is not said in it.
fn load_by_count(coming: ComingSet) -> (String, &'static str) {
    let count = match coming.asked {
        Asked::Reps(reps) => reps.to_string(),
        Asked::Hold(seconds) => format!("{}s", seconds.get()),
    };
    match coming.load {
        Load::Mass(weight) => (
            format!("{} × {count}", weight.number()),
            weight.unit.symbol(),
        ),
        Load::Body(weight) if weight.mass.ng() == 0 => (format!("× {count}"), "body alone"),
        Load::Body(weight) if weight.mass.ng() > 0 => (
            format!("+{} × {count}", weight.number()),
            weight.unit.symbol(),
        ),
        Load::Body(weight) => (
            format!("{} × {count}", weight.number()),
            weight.unit.symbol(),
        ),
        Load::Band(step) => (format!("{} × {count}", step.0), "band"),
    }
}

/// How wide the right-hand column is, on a screen wide enough for it.
fn beside_room(page: &Page<'_>) -> Option<u16> {
    page.area
        .width
        .checked_sub(RIGHT)
        .filter(|room| *room >= 16)
}

/// Last time, today, next and what to fetch, as far as it fits there.
fn beside(page: &Page<'_>, floor: &Floor, coming: ComingSet, (frame, y): (&mut Frame<'_>, u16)) {
    let Some(room) = beside_room(page) else {
        return;
    };
    let area = Rect {
        x: page.area.x + RIGHT,
        width: room,
        ..page.area
    };
    let mut lines: Vec<(String, Role)> = Vec::new();
    if let Some(last) = floor
        .briefing
        .items
        .get(coming.item)
        .and_then(|i| i.last.as_ref())
    {
        let day = crate::domain::words::day(last.at.date());
        lines.push((format!("last time, {day}"), Role::Quiet));
        lines.push((format!(" {}", told::sets(last.sets.iter())), Role::Text));
    } else {
        lines.push(("not done before".to_owned(), Role::Quiet));
    }
    let today = told::sets(floor.session.records(coming.item));
    if !today.is_empty() {
        lines.push((format!("today {today}"), Role::Text));
    }
    lines.push((
        format!("next  {}", told::work(coming.load, coming.asked)),
        Role::Strong,
    ));
    let gear = gear(floor, coming).into_iter();
    let fits = gear.filter(|text| text.chars().count() <= usize::from(area.width));
    lines.extend(fits.map(|text| (text, Role::Text)));
    let buf = frame.buffer_mut();
    for (k, (text, role)) in lines.iter().take(big::ROWS + 1).enumerate() {
        put(
            buf,
            area,
            (0, y + u16::try_from(k).unwrap_or(0)),
            (text, page.theme, *role),
        );
    }
}

/// What to fetch, and which plates move from what is on now.
fn gear(floor: &Floor, coming: ComingSet) -> Vec<String> {
    if let Some(set) = floor.plates.as_ref().filter(|set| !set.stack.0.is_empty()) {
        return vec![format!("plates {} each end", set.stack), set.change.clone()];
    }
    let build = floor.build(coming.item, coming.load);
    let fetch = build.filter(|build| **build != Build::Body);
    let fetch = fetch.map(|build| format!("fetch {build}"));
    let moved = floor.plates.as_ref().filter(|set| set.moves > 0);
    fetch
        .into_iter()
        .chain(moved.map(|set| set.change.clone()))
        .collect()
}

/// The rest in words and as a gauge, on one line or two.
fn line_of_rest(page: &Page<'_>, floor: &Floor, (frame, y): (&mut Frame<'_>, u16)) {
    let buf = frame.buffer_mut();
    if floor.session.paused.is_some() {
        let text = "time out: no signs until t, or the next set";
        put(buf, page.area, (1, y), (text, page.theme, Role::Strong));
        return;
    }
    match (floor.rest(page.now), floor.beat) {
        (Some(rest), _) => {
            let role = role_of(rest);
            let end = put(buf, page.area, (1, y), ("rest  ", page.theme, Role::Text));
            let told = gauge::told(rest);
            let room = usize::from(page.area.width).saturating_sub(usize::from(end) + 26);
            let end = put(
                buf,
                page.area,
                (end, y),
                (&gauge::bar(rest, room), page.theme, role),
            );
            put(
                buf,
                page.area,
                (end + 2, y),
                (&told, page.theme, Role::Strong),
            );
        }
        (None, Beat::Resting) => {
            let text = "ready when you are: Enter once the set is done, Space as it begins";
            put(buf, page.area, (1, y), (text, page.theme, Role::Text));
        }
        (None, Beat::LeadIn { .. } | Beat::Lifting { .. }) => {}
    }
}

const fn role_of(rest: RestView) -> Role {
    match rest.stage {
        Stage::Recover => Role::Recover,
        Stage::Open => Role::Open,
        Stage::Late => Role::Late,
    }
}

/// What was learned, why this load, and how the exercise is done where it is new.
fn words(page: &Page<'_>, floor: &Floor, coming: ComingSet, (frame, y): (&mut Frame<'_>, u16)) {
    let width = usize::from(page.area.width).saturating_sub(2);
    let mut lines: Vec<(String, Role)> = Vec::new();
    // What has no room beside the big digits.
    let beside = usize::from(beside_room(page).unwrap_or_default());
    for text in gear(floor, coming)
        .iter()
        .filter(|text| text.chars().count() > beside)
    {
        lines.extend(
            wrap(text, width)
                .into_iter()
                .map(|line| (line, Role::Strong)),
        );
    }
    let way = floor.ways.get(&(coming.item, coming.kind));
    if let Some(way) = way.filter(|way| !way.say.is_empty()) {
        lines.extend(
            wrap(&way.say, width)
                .into_iter()
                .map(|line| (line, Role::Strong)),
        );
    } else if let Some(item) = floor.session.items.get(coming.item) {
        let reason = wrap(&item.planned.reason, width);
        lines.extend(reason.into_iter().take(2).map(|line| (line, Role::Text)));
    }
    if coming.feeler {
        let text = "after it say how many more would have gone: . and a digit";
        lines.push((text.to_owned(), Role::Strong));
    }
    lines.extend(cues(page, floor, (coming, width)));
    if let Some(next) = next_exercise(&floor.session, coming.item) {
        let name = page
            .model
            .desk
            .catalogue
            .name(&floor.session.items[next].planned.exercise);
        lines.push((format!("then {name}"), Role::Quiet));
    }
    let buf = frame.buffer_mut();
    let room = page.area.height.saturating_sub(y + 3);
    for (k, (text, role)) in lines.iter().take(usize::from(room)).enumerate() {
        put(
            buf,
            page.area,
            (1, y + u16::try_from(k).unwrap_or(0)),
            (text, page.theme, *role),
        );
    }
}

/// How an exercise is done, while it is new.
fn cues(
    page: &Page<'_>,
    floor: &Floor,
    (coming, width): (ComingSet, usize),
) -> Vec<(String, Role)> {
    let item = floor.session.items.get(coming.item);
    let before = item.map_or(0, |item| floor.past.outings(&item.planned.exercise).len());
    match floor.exercise(coming.item, &page.model.desk) {
        Some(exercise) if before < NEW => {
            let coaching = &exercise.coaching;
            let texts = [&coaching.set_up, &coaching.movement].into_iter();
            let lines = texts.flat_map(|text| wrap(text, width));
            lines.map(|line| (line, Role::Quiet)).collect()
        }
        Some(_) | None => Vec::new(),
    }
}

/// The exercise after the coming one, once its last set is the coming one.
fn next_exercise(session: &Session, item: usize) -> Option<usize> {
    if session.items.get(item)?.to_come().count() > 1 {
        return None;
    }
    let open = |other: &usize| {
        *other != item
            && session
                .items
                .get(*other)
                .is_some_and(|i| i.coming().is_some())
    };
    session.order.iter().copied().find(open)
}

/// The keys that matter now.
const fn keys(floor: &Floor) -> &'static str {
    match (floor.beat, floor.edit.is_some()) {
        (Beat::LeadIn { .. }, _) => "Esc not yet   p pain   h all keys",
        (Beat::Lifting { .. }, _) => "Enter done  digits reps  Esc not yet  p pain",
        (Beat::Resting, true) => "digits reps   . digit spare   ←→ load   Enter save   Esc back",
        (Beat::Resting, false) => {
            "Enter done  digits reps  p pain  / menu  h keys  ←→ load  Space lifting"
        }
    }
}
