//! Digits of five rows, to be read from three metres.

/// Rows of a glyph.
pub const ROWS: usize = 5;

/// A glyph, row by row.
const fn glyph(c: char) -> [&'static str; ROWS] {
    match c {
        '0' => ["█████", "█   █", "█   █", "█   █", "█████"],
        '1' => ["  █  ", " ██  ", "  █  ", "  █  ", " ███ "],
        '2' => ["█████", "    █", "█████", "█    ", "█████"],
        '3' => ["█████", "    █", " ████", "    █", "█████"],
        '4' => ["█   █", "█   █", "█████", "    █", "    █"],
        '5' => ["█████", "█    ", "█████", "    █", "█████"],
        '6' => ["█████", "█    ", "█████", "█   █", "█████"],
        '7' => ["█████", "    █", "   █ ", "  █  ", "  █  "],
        '8' => ["█████", "█   █", "█████", "█   █", "█████"],
        '9' => ["█████", "█   █", "█████", "    █", "█████"],
        ':' => [" ", "█", " ", "█", " "],
        '.' => [" ", " ", " ", " ", "█"],
        '+' => ["   ", " █ ", "███", " █ ", "   "],
        '-' => ["   ", "   ", "███", "   ", "   "],
        '×' => ["   ", "█ █", " █ ", "█ █", "   "],
        's' => ["    ", "▄▄▄▄", "█▄▄▄", "▄▄▄█", "    "],
        _ => ["  ", "  ", "  ", "  ", "  "],
    }
}

/// The rows of a text in big glyphs.
pub fn rows(text: &str) -> [String; ROWS] {
    let mut rows: [String; ROWS] = Default::default();
    for (k, c) in text.chars().enumerate() {
        for (row, part) in rows.iter_mut().zip(glyph(c)) {
            if k > 0 {
                row.push(' ');
            }
            row.push_str(part);
        }
    }
    rows
}
