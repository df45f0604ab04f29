//! The logbook: a list, or a page to be read, of what months of sessions say.

use super::{Page, footer, saved};
use crate::app::logbook::{Book, Entry, LogbookScreen, View};
use crate::app::model::Model;
use crate::app::update::typed_in_logbook;
use crate::domain::logbook::told::{
    Reading, backing_off, balance, records, sessions, strength, work,
};
use crate::ui::theme::Role;
use crate::ui::widgets::put;
use ratatui::Frame;
use unicode_width::UnicodeWidthStr;

/// Rows above what is read: the views, and what is searched for.
const HEAD: u16 = 2;
/// Columns and rows of what is told in lines.
const PLAIN: (usize, usize) = (78, 22);
/// Entries that are told of a list; a search finds the others.
const FEW: usize = 20;

/// Paints the logbook; says how far down its page goes.
pub fn draw(page: &Page<'_>, screen: &LogbookScreen, frame: &mut Frame<'_>) -> usize {
    heads(page, screen, frame);
    saved(page, frame, page.area, 1);
    let Some(book) = &screen.book else {
        let ink = ("reading the journal", page.theme, Role::Quiet);
        put(frame.buffer_mut(), page.area, (1, HEAD), ink);
        footer(page, frame, "Esc back");
        return 0;
    };
    let width = usize::from(page.area.width) - 2;
    let rows = usize::from(page.area.height.saturating_sub(HEAD + 2));
    let desk = (&*page.model.desk, page.model.lifter.as_ref());
    let reading = screen.reading(book, desk, (width, rows));
    let (lines, reach, more) = match &screen.open {
        None if screen.view.is_list() => (list(screen, &reading, rows), 0, 0),
        Some(_) | None => leaf(screen, book, &reading, rows),
    };
    for (line, y) in lines.iter().zip(HEAD..) {
        let role = if line.marked {
            Role::Marked
        } else {
            Role::Text
        };
        let text = if line.marked {
            format!("{:<width$}", line.text)
        } else {
            line.text.clone()
        };
        put(
            frame.buffer_mut(),
            page.area,
            (1, y),
            (&text, page.theme, role),
        );
        if line.marked {
            frame.set_cursor_position((page.area.x + 1, page.area.y + y));
        }
    }
    if more > 0 {
        let (text, y) = (format!("↓ {more} more"), page.area.height - 2);
        let ink = (text.as_str(), page.theme, Role::Quiet);
        put(frame.buffer_mut(), page.area, (2, y), ink);
    }
    foot(page, screen, frame);
    reach
}

/// A line, and whether it is the one that keys act on.
struct Line {
    text: String,
    marked: bool,
}

impl Line {
    const fn plain(text: String) -> Self {
        Self {
            text,
            marked: false,
        }
    }
}

/// The views in a row, the one that is shown marked; numbers alone where there is little room.
fn heads(page: &Page<'_>, screen: &LogbookScreen, frame: &mut Frame<'_>) {
    frame.set_cursor_position((page.area.x + 1, page.area.y));
    let names = |whole: bool| -> Vec<(String, bool)> {
        let of = |(k, view): (usize, &View)| {
            let shown = *view == screen.view;
            let text = if whole || shown {
                format!("{} {}", k + 1, view.name())
            } else {
                (k + 1).to_string()
            };
            (text, shown)
        };
        View::ALL.iter().enumerate().map(of).collect()
    };
    let width = |names: &[(String, bool)]| {
        names
            .iter()
            .map(|(text, _)| text.width() + 2)
            .sum::<usize>()
    };
    let whole = names(true);
    let names = if width(&whole) < usize::from(page.area.width) {
        whole
    } else {
        names(false)
    };
    let mut x = 1;
    for (text, shown) in names {
        let role = if shown { Role::Marked } else { Role::Quiet };
        x = put(
            frame.buffer_mut(),
            page.area,
            (x, 0),
            (&text, page.theme, role),
        ) + 2;
    }
    if !screen.search.is_empty() {
        let text = format!("with \"{}\"; Esc shows all", screen.search);
        put(
            frame.buffer_mut(),
            page.area,
            (1, 1),
            (&text, page.theme, Role::Strong),
        );
    }
}

/// The entries around the marked one.
fn list(screen: &LogbookScreen, reading: &Reading<'_>, rows: usize) -> Vec<Line> {
    let entries = screen.entries(reading);
    if entries.is_empty() {
        return vec![Line::plain("nothing to show here".to_owned())];
    }
    let marked = screen.marked.min(entries.len() - 1);
    let from = from(marked, entries.len(), rows);
    let shown = entries.iter().enumerate().skip(from).take(rows);
    let line = |(k, entry): (usize, &Entry)| Line {
        text: entry_line(screen.view, reading, entry),
        marked: k == marked,
    };
    shown.map(line).collect()
}

/// The first of so many lines that are shown, the marked one in the middle where it can be.
fn from(marked: usize, lines: usize, rows: usize) -> usize {
    marked
        .saturating_sub(rows / 2)
        .min(lines.saturating_sub(rows))
}

/// An entry of a list in a line.
pub fn entry_line(view: View, reading: &Reading<'_>, entry: &Entry) -> String {
    match entry {
        Entry::Session(id) => {
            let all = &reading.history.sessions;
            let place = all.iter().position(|session| session.id == *id);
            place.map_or_else(String::new, |place| sessions::line(reading, place))
        }
        Entry::Exercise(id) if view == View::Records => records::line(reading, id),
        Entry::Exercise(id) => strength::line(reading, id),
    }
}

/// A page from the line on that is looked at, of a session with its marked set; how far down it
/// goes, and how many lines are below.
fn leaf(
    screen: &LogbookScreen,
    book: &Book,
    reading: &Reading<'_>,
    rows: usize,
) -> (Vec<Line>, usize, usize) {
    let lines = page_lines(screen, book, reading);
    let number = lines.len();
    let reach = number.saturating_sub(rows);
    let set = screen.sets(reading).get(screen.at).copied();
    let in_session = matches!(screen.open, Some(Entry::Session(_)));
    let is_marked = |of: &Option<usize>| in_session && of.is_some() && *of == set;
    let marked = lines.iter().position(|(_, of)| is_marked(of));
    let from = match marked {
        Some(marked) => from(marked, number, rows),
        None => screen.at.min(reach),
    };
    let shown = lines.into_iter().skip(from).take(rows);
    let line = |(text, of): (String, Option<usize>)| Line {
        marked: is_marked(&of),
        text,
    };
    (shown.map(line).collect(), reach, reach - from)
}

/// The lines of what is open, or of the view; with each goes the set that it is of.
pub fn page_lines(
    screen: &LogbookScreen,
    book: &Book,
    reading: &Reading<'_>,
) -> Vec<(String, Option<usize>)> {
    let plain = |lines: Vec<String>| lines.into_iter().map(|line| (line, None)).collect();
    match (&screen.open, screen.view) {
        (Some(Entry::Session(_)), _) => screen.open_session(reading.history).map_or_else(
            || plain(vec!["this session was voided; u brings it back".to_owned()]),
            |place| sessions::one(reading, place),
        ),
        (Some(Entry::Exercise(id)), View::Records) => plain(records::one(reading, id)),
        (Some(Entry::Exercise(id)), _) => {
            let believed = screen.believed.get(id).map_or(&[][..], Vec::as_slice);
            let asked = screen.asked();
            plain(asked.map_or_else(Vec::new, |asked| strength::one(reading, &asked, believed)))
        }
        (None, View::Work) => plain(work::lines(reading)),
        (None, View::Balance) => plain(balance::lines(reading)),
        (None, View::Odds) => plain(book.odds.clone()),
        (None, View::Deload) => plain(backing_off::lines(reading)),
        (None, View::Sessions | View::Strength | View::Records) => Vec::new(),
    }
}

fn foot(page: &Page<'_>, screen: &LogbookScreen, frame: &mut Frame<'_>) {
    let keys = match &screen.open {
        Some(Entry::Session(_)) => {
            "Esc back  h keys  digits other reps  .digit spare  w load  x void  u take back"
        }
        None if screen.view.is_list() => {
            "Enter open  Esc back  h keys  / search  ↑↓ Space look  ←→ other views"
        }
        Some(Entry::Exercise(_)) | None => "Esc back  h keys  ↑↓ Space read  ←→ other views",
    };
    footer(page, frame, keys);
    if let Some(typed) = typed_in_logbook(screen) {
        let y = page.area.height - 2;
        let blank = " ".repeat(usize::from(page.area.width));
        put(
            frame.buffer_mut(),
            page.area,
            (0, y),
            (&blank, page.theme, Role::Text),
        );
        let end = put(
            frame.buffer_mut(),
            page.area,
            (1, y),
            (&typed, page.theme, Role::Strong),
        );
        frame.set_cursor_position((page.area.x + end, page.area.y + y));
    }
}

/// How many entries of the list that is before the person are told with a number; none where it is
/// no list.
pub fn numbered(model: &Model, screen: &LogbookScreen) -> usize {
    let listed = screen.open.is_none() && screen.view.is_list();
    let Some(book) = screen.book.as_ref().filter(|_| listed) else {
        return 0;
    };
    let reading = screen.reading(book, (&model.desk, model.lifter.as_ref()), PLAIN);
    screen.entries(&reading).len().min(FEW)
}

/// The same in lines, each whole.
pub fn told(model: &Model, screen: &LogbookScreen) -> Vec<String> {
    let Some(book) = &screen.book else {
        return vec!["reading the journal".to_owned()];
    };
    let reading = screen.reading(book, (&model.desk, model.lifter.as_ref()), PLAIN);
    let mut lines = vec![format!("logbook: {}", screen.view.name())];
    if screen.open.is_none() && screen.view.is_list() {
        let entries = screen.entries(&reading);
        let few = entries.iter().take(FEW).enumerate();
        lines.extend(
            few.map(|(k, entry)| format!("{} {}", k + 1, entry_line(screen.view, &reading, entry))),
        );
    } else {
        let set = screen.sets(&reading).get(screen.at).copied();
        let all = page_lines(screen, book, &reading).into_iter();
        lines.extend(all.map(|(line, of)| match of {
            Some(_) if of == set => format!("{line} <"),
            Some(_) | None => line,
        }));
    }
    lines
}
