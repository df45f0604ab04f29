//! Digits of five, seven or ten rows, to be read from three metres and more.

/// Rows of a glyph as it is kept.
const KEPT: usize = 5;

/// A glyph, row by row. A stroke is two cells wide and one high, which is as wide as it is high.
const fn glyph(c: char) -> [&'static str; KEPT] {
    match c {
        '0' => ["██████", "██  ██", "██  ██", "██  ██", "██████"],
        '1' => ["████  ", "  ██  ", "  ██  ", "  ██  ", "██████"],
        '2' => ["██████", "    ██", "██████", "██    ", "██████"],
        '3' => ["██████", "    ██", "██████", "    ██", "██████"],
        '4' => ["██  ██", "██  ██", "██████", "    ██", "    ██"],
        '5' => ["██████", "██    ", "██████", "    ██", "██████"],
        '6' => ["██████", "██    ", "██████", "██  ██", "██████"],
        '7' => ["██████", "    ██", "   ██ ", "  ██  ", "  ██  "],
        '8' => ["██████", "██  ██", "██████", "██  ██", "██████"],
        '9' => ["██████", "██  ██", "██████", "    ██", "██████"],
        ':' => ["  ", "██", "  ", "██", "  "],
        '.' => ["  ", "  ", "  ", "  ", "██"],
        '+' => ["      ", "  ██  ", "██████", "  ██  ", "      "],
        '-' => ["    ", "    ", "████", "    ", "    "],
        '×' => ["      ", "██  ██", "  ██  ", "██  ██", "      "],
        _ => [" ", " ", " ", " ", " "],
    }
}

/// How tall digits are.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Height {
    /// Five rows.
    Five,
    /// Seven rows.
    Seven,
    /// Ten rows, and strokes of twice the width where there is room for them; else seven.
    Ten,
}

impl Height {
    /// The same in rows.
    pub const fn rows(self) -> u16 {
        match self {
            Self::Five => 5,
            Self::Seven => 7,
            Self::Ten => 10,
        }
    }

    /// Which kept row stands in each row: the upright strokes grow.
    const fn from(self) -> &'static [usize] {
        match self {
            Self::Five => &[0, 1, 2, 3, 4],
            Self::Seven => &[0, 1, 1, 2, 3, 3, 4],
            Self::Ten => &[0, 0, 1, 1, 2, 2, 3, 3, 4, 4],
        }
    }
}

/// How wide digits are.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stroke {
    /// Upright strokes of four cells.
    Wide,
    Full,
    /// Upright strokes of one cell, for what would not fit else.
    Thin,
}

/// The rows of a text in big glyphs, in at most so many cells where it can be done: first without
/// its spaces, then with thinner strokes, then with both.
pub fn rows(text: &str, height: Height, width: usize) -> Vec<String> {
    let close = text.replace(' ', "");
    let lower = height.min(Height::Seven);
    let forms = [
        (text, height, Stroke::Wide),
        (&close, height, Stroke::Wide),
        (text, lower, Stroke::Full),
        (&close, lower, Stroke::Full),
        (text, lower, Stroke::Thin),
        (&close, lower, Stroke::Thin),
    ];
    let has = |stroke: Stroke| stroke != Stroke::Wide || height == Height::Ten;
    let forms = forms.into_iter().filter(|(_, _, stroke)| has(*stroke));
    let fits = |rows: &Vec<String>| rows.iter().all(|row| row.chars().count() <= width);
    let mut drawn = forms.map(|(text, height, stroke)| draw(text, height, stroke));
    drawn
        .find(fits)
        .unwrap_or_else(|| draw(&close, lower, Stroke::Thin))
}

fn draw(text: &str, height: Height, stroke: Stroke) -> Vec<String> {
    let row = |kept: &usize| {
        let parts: Vec<String> = text
            .chars()
            .map(|c| part(glyph(c).get(*kept).copied().unwrap_or_default(), stroke))
            .collect();
        parts.join(if stroke == Stroke::Wide { "  " } else { " " })
    };
    height.from().iter().map(row).collect()
}

/// A row of a glyph; wide, each cell is there twice; thin, the second cell of each outer stroke is
/// left out.
fn part(row: &str, stroke: Stroke) -> String {
    let last = row.chars().count().saturating_sub(1);
    let times = |k: usize| match stroke {
        Stroke::Wide => 2,
        Stroke::Full => 1,
        Stroke::Thin => usize::from(k == 0 || (k != 1 && k + 1 != last)),
    };
    let cells = row.chars().enumerate();
    cells
        .flat_map(|(k, c)| std::iter::repeat_n(c, times(k)))
        .collect()
}
