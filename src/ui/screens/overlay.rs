//! What lies over a screen: the menu, questions, a note, the keys, how an exercise is done.

use super::{Page, floor, told};
use crate::app::keymap::{Mode, menu_entries, shown};
use crate::app::model::{Ask, List, Overlay, Screen};
use crate::app::update::below;
use crate::domain::exercise::ExerciseId;
use crate::ui::theme::Role;
use crate::ui::widgets::{cut, put, wrap};
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::widgets::Clear;
use unicode_width::UnicodeWidthStr;

/// Paints what lies over the screen; where something to be read does, says how far down it goes.
pub fn draw(page: &Page<'_>, frame: &mut Frame<'_>) -> Option<usize> {
    match &page.model.overlay {
        Overlay::None => return None,
        Overlay::Menu(list) => menu(page, list, frame),
        Overlay::Ask(ask) => question(page, ask, frame),
        Overlay::Writing(text) => note(page, text, frame),
        Overlay::Help { mode, scroll } => return Some(help(page, *mode, *scroll, frame)),
        Overlay::Coaching { exercise, scroll } => {
            let lines = coaching(page, exercise);
            return Some(to_be_read(page, &lines, *scroll, frame));
        }
        Overlay::Page { lines, scroll } => {
            let width = usize::from(page.area.width).saturating_sub(2).max(1);
            let fitted = |line: &String| match line.width() <= width {
                true => vec![line.clone()],
                false => wrap(line, width),
            };
            let lines: Vec<String> = lines.iter().flat_map(fitted).collect();
            return Some(to_be_read(page, &plain(lines), *scroll, frame));
        }
    }
    None
}

type Lines = Vec<(String, Role)>;

fn plain(lines: Vec<String>) -> Lines {
    lines.into_iter().map(|line| (line, Role::Text)).collect()
}

/// Clears the lower part of the screen, so many rows of it, above the footer.
fn sheet(page: &Page<'_>, rows: usize, frame: &mut Frame<'_>) -> Rect {
    let most = page.area.height.saturating_sub(3);
    let height = u16::try_from(rows + 1).unwrap_or(most).min(most);
    let y = page.area.y + page.area.height - height;
    let area = Rect {
        y,
        height,
        ..page.area
    };
    clear(page, area, frame);
    frame.set_cursor_position((area.x, area.y + 1));
    let rule = "─".repeat(usize::from(area.width));
    put(
        frame.buffer_mut(),
        area,
        (0, 0),
        (&rule, page.theme, Role::Quiet),
    );
    // The countdown stays in sight: digits that would be cut make way for it in words.
    if let Some((rest, counted)) = floor::under(page)
        && y < counted.bottom()
    {
        let cut = Rect {
            height: y.saturating_sub(counted.y),
            ..counted
        };
        clear(page, cut, frame);
        let ink = (format!(" {rest} "), page.theme, Role::Strong);
        put(frame.buffer_mut(), area, (2, 0), (&ink.0, ink.1, ink.2));
    }
    Rect {
        y: y + 1,
        height: height - 1,
        ..area
    }
}

fn clear(page: &Page<'_>, area: Rect, frame: &mut Frame<'_>) {
    frame.render_widget(Clear, area);
    if let Some(ground) = page.theme.ground() {
        frame.buffer_mut().set_style(area, Style::new().bg(ground));
    }
}

/// Entries in columns, as many as the sheet has rows for.
fn entries(
    page: &Page<'_>,
    texts: &[String],
    marked: usize,
    (frame, area): (&mut Frame<'_>, Rect),
) {
    let rows = usize::from(area.height).max(1);
    let columns = texts.len().div_ceil(rows).max(1);
    let width = usize::from(area.width) / columns;
    for (k, text) in texts.iter().enumerate() {
        let (column, row) = (k / rows, k % rows);
        let x = u16::try_from(column * width + 1).unwrap_or(0);
        let y = u16::try_from(row).unwrap_or(0);
        let role = if k == marked {
            Role::Marked
        } else {
            Role::Text
        };
        let text = cut(text, width.saturating_sub(1));
        put(frame.buffer_mut(), area, (x, y), (&text, page.theme, role));
        if k == marked {
            frame.set_cursor_position((area.x + x, area.y + y));
        }
    }
}

fn menu(page: &Page<'_>, list: &List, frame: &mut Frame<'_>) {
    let texts: Vec<String> = menu_entries(below(&page.model.screen))
        .enumerate()
        .map(|(k, entry)| {
            let key = entry.shown.split(' ').next().unwrap_or_default();
            let letter = if key.len() > 1 { " " } else { key };
            format!("{:>2} {letter} {}", k + 1, entry.help)
        })
        .collect();
    let area = sheet(page, texts.len().div_ceil(2) + 1, frame);
    let list_area = Rect {
        height: area.height - 1,
        ..area
    };
    entries(page, &texts, list.marked, (frame, list_area));
    let keys = format!(
        "number and Enter, or the letter   Esc never mind   {}",
        list.digits
    );
    put(
        frame.buffer_mut(),
        area,
        (1, area.height - 1),
        (&keys, page.theme, Role::Quiet),
    );
}

fn question(page: &Page<'_>, ask: &Ask, frame: &mut Frame<'_>) {
    let number = |k: usize| if k == 9 { 0 } else { k + 1 };
    let texts: Vec<String> = ask
        .answers
        .iter()
        .enumerate()
        .map(|(k, (text, _))| format!("{} {text}", number(k)))
        .collect();
    let asked = wrap(&ask.question, usize::from(page.area.width) - 2);
    let area = sheet(page, texts.len() + 2 + asked.len(), frame);
    let mut y = 0;
    for line in &asked {
        let line = (line.as_str(), page.theme, Role::Strong);
        put(frame.buffer_mut(), area, (1, y), line);
        y += 1;
    }
    let list = Rect {
        y: area.y + y,
        height: area.height.saturating_sub(y + 1).max(1),
        ..area
    };
    entries(page, &texts, ask.list.marked, (frame, list));
    let keys = "Enter the marked one   a digit at once   Esc never mind";
    put(
        frame.buffer_mut(),
        area,
        (1, area.height - 1),
        (keys, page.theme, Role::Quiet),
    );
}

fn note(page: &Page<'_>, text: &str, frame: &mut Frame<'_>) {
    let area = sheet(page, 2, frame);
    let width = usize::from(area.width) - 8;
    let tail: String = text
        .chars()
        .skip(text.chars().count().saturating_sub(width))
        .collect();
    let line = format!("{}: {tail}", written(&page.model.screen));
    let end = put(
        frame.buffer_mut(),
        area,
        (1, 0),
        (&line, page.theme, Role::Strong),
    );
    let keys = "Enter keep   Esc never mind";
    put(
        frame.buffer_mut(),
        area,
        (1, 1),
        (keys, page.theme, Role::Quiet),
    );
    frame.set_cursor_position((area.x + end, area.y));
}

/// What is written there: what is looked for, or a note.
pub const fn written(screen: &Screen) -> &'static str {
    match screen {
        Screen::Logbook(_) => "search",
        Screen::FirstRun(_)
        | Screen::Waiting(_)
        | Screen::Briefing(_)
        | Screen::Floor(_)
        | Screen::Debrief(_) => "note",
    }
}

/// Every key of a screen, from the table that handles them.
fn help(page: &Page<'_>, mode: Mode, scroll: usize, frame: &mut Frame<'_>) -> usize {
    let mut texts: Vec<String> = Vec::new();
    if mode == Mode::Floor {
        texts.push(line("8 Enter", "the coming set is done with 8"));
        texts.push(line("8.2 Enter", "eight done, two spare"));
    }
    texts.extend(shown(mode).map(|row| line(row.shown, row.help)));
    let texts = in_columns(&texts, usize::from(page.area.width) - 2);
    to_be_read(page, &plain(texts), scroll, frame)
}

/// The lines side by side, downwards and then across, in as many columns as there is room for.
fn in_columns(texts: &[String], width: usize) -> Vec<String> {
    const BETWEEN: usize = 3;
    const MOST: usize = 4;
    let widest = |column: &[String]| column.iter().map(|text| text.width()).max().unwrap_or(0);
    let laid = |columns: usize| -> Vec<&[String]> {
        let rows = texts.len().div_ceil(columns).max(1);
        texts.chunks(rows).collect()
    };
    let fits = |columns: &Vec<&[String]>| {
        let all: usize = columns.iter().map(|column| widest(column) + BETWEEN).sum();
        all <= width + BETWEEN
    };
    let columns = (1..=MOST).rev().map(laid).find(fits);
    let columns = columns.unwrap_or_else(|| laid(1));
    let rows = columns.iter().map(|column| column.len()).max().unwrap_or(0);
    let row = |k: usize| {
        let cells = columns.iter().map(|column| {
            let text = column.get(k).map_or("", String::as_str);
            let missing = (widest(column) + BETWEEN).saturating_sub(text.width());
            format!("{text}{}", " ".repeat(missing))
        });
        cells.collect::<String>().trim_end().to_owned()
    };
    (0..rows).map(row).collect()
}

/// A page that may be longer than the screen; says how far down it goes.
fn to_be_read(page: &Page<'_>, lines: &Lines, scroll: usize, frame: &mut Frame<'_>) -> usize {
    let area = sheet(page, lines.len() + 1, frame);
    let rows = usize::from(area.height).saturating_sub(1);
    let reach = lines.len().saturating_sub(rows);
    let from = scroll.min(reach);
    for ((text, role), y) in lines.iter().skip(from).take(rows).zip(0..) {
        put(frame.buffer_mut(), area, (1, y), (text, page.theme, *role));
    }
    let more = reach - from;
    let keys = if more > 0 {
        format!("↑↓ look, PgUp PgDn pages   {more} more below   Esc back")
    } else if from > 0 {
        "↑↓ look, PgUp PgDn pages   the end   Esc back".to_owned()
    } else {
        "Esc back".to_owned()
    };
    let keys = keys.as_str();
    put(
        frame.buffer_mut(),
        area,
        (1, area.height - 1),
        (keys, page.theme, Role::Quiet),
    );
    reach
}

fn line(keys: &str, help: &str) -> String {
    format!("{keys:<9} {help}")
}

fn coaching(page: &Page<'_>, exercise: &ExerciseId) -> Lines {
    let width = usize::from(page.area.width) - 2;
    let mut lines = Lines::new();
    let catalogue = &page.model.desk.catalogue;
    lines.push((catalogue.name(exercise).to_owned(), Role::Strong));
    if let Some(exercise) = catalogue.get(exercise) {
        for text in told::coaching(exercise) {
            let wrapped = wrap(&text, width).into_iter();
            lines.extend(wrapped.map(|line| (line, Role::Text)));
        }
    }
    lines
}
