//! Texts for terminals that know ASCII alone: a stand-in of one cell for each other character.

/// Which characters can be shown.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Letters {
    /// All of them.
    #[default]
    Unicode,
    /// ASCII alone.
    Ascii,
}

impl Letters {
    /// The text in these letters.
    pub fn spell(self, text: &str) -> String {
        match self {
            Self::Unicode => text.to_owned(),
            Self::Ascii => text.chars().map(stand_in).collect(),
        }
    }
}

/// The ASCII character that stands for another; a question mark where none does.
pub const fn stand_in(c: char) -> char {
    match c {
        '\0'..='\x7f' => c,
        '█' | '▄' | '▀' | '▮' => '#',
        '▯' => '_',
        '░' => ':',
        '•' => 'o',
        '●' => 'O',
        '┼' => '+',
        '▶' | '→' | '»' => '>',
        '←' => '<',
        '▴' | '↑' => '^',
        '▵' | '‘' | '’' => '\'',
        '↓' => 'v',
        '◇' | '×' => 'x',
        '·' | '…' => '.',
        '│' | '├' | '┤' => '|',
        '─' | '–' | '—' | '−' => '-',
        '━' => '=',
        '“' | '”' | '«' => '"',
        '°' => 'o',
        _ => latin(c),
    }
}

/// The letter below an accent.
const fn latin(c: char) -> char {
    match c {
        'À'..='Æ' => 'A',
        'Ç' => 'C',
        'È'..='Ë' => 'E',
        'Ì'..='Ï' => 'I',
        'Ñ' => 'N',
        'Ò'..='Ö' | 'Ø' => 'O',
        'Ù'..='Ü' => 'U',
        'à'..='æ' => 'a',
        'ç' => 'c',
        'è'..='ë' => 'e',
        'ì'..='ï' => 'i',
        'ñ' => 'n',
        'ò'..='ö' | 'ø' => 'o',
        'ù'..='ü' => 'u',
        'ß' => 's',
        _ => '?',
    }
}
