//! The words of a RON text, each with its place.

use crate::domain::diagnostic::{Diagnostic, Span};

/// A place between two characters.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Pos {
    /// Characters before it in the text.
    pub offset: usize,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

/// A stretch of the text.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stretch {
    /// Where it begins.
    pub start: Pos,
    /// Behind its last character.
    pub end: Pos,
}

impl Stretch {
    /// The stretch as a diagnostic shows it: its first line only.
    pub fn span(self) -> Span {
        let length = if self.start.line == self.end.line {
            self.end.column - self.start.column
        } else {
            1
        };
        Span {
            line: self.start.line,
            column: self.start.column,
            length: length.max(1),
        }
    }

    /// From the beginning of this one to the end of the other.
    pub const fn to(self, other: Self) -> Self {
        Self {
            start: self.start,
            end: other.end,
        }
    }

    /// Its first character alone.
    pub const fn first(self) -> Self {
        let Pos {
            offset,
            line,
            column,
        } = self.start;
        Self {
            start: self.start,
            end: Pos {
                offset: offset + 1,
                line,
                column: column + 1,
            },
        }
    }

    /// The place right behind it.
    pub const fn behind(self) -> Self {
        Self {
            start: self.end,
            end: self.end,
        }
    }
}

/// What kind of bracket.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Bracket {
    /// `(` and `)`.
    Round,
    /// `[` and `]`.
    Square,
    /// `{` and `}`.
    Curly,
}

impl Bracket {
    /// How it opens.
    pub const fn open(self) -> char {
        match self {
            Self::Round => '(',
            Self::Square => '[',
            Self::Curly => '{',
        }
    }

    /// How it closes.
    pub const fn close(self) -> char {
        match self {
            Self::Round => ')',
            Self::Square => ']',
            Self::Curly => '}',
        }
    }
}

/// What a word is.
#[derive(Clone, PartialEq, Debug)]
pub enum Kind {
    /// An opening bracket.
    Open(Bracket),
    /// A closing bracket.
    Close(Bracket),
    /// `,`
    Comma,
    /// `:`
    Colon,
    /// A bare word.
    Word(String),
    /// A number, as written.
    Number(String),
    /// Text between quotes, its escapes worked out.
    Text(String),
    /// A single character between single quotes.
    Char(char),
    /// A byte string: none of our files asks for one.
    Bytes,
}

/// A word with its place.
#[derive(Clone, PartialEq, Debug)]
pub struct Token {
    /// What it is.
    pub kind: Kind,
    /// Where it stands.
    pub at: Stretch,
}

/// A text and the name of the file that it came from.
#[derive(Clone, Copy, Debug)]
pub struct Source<'a> {
    /// The file, as the person would name it.
    pub path: &'a str,
    /// What is in it, without a byte order mark.
    pub text: &'a str,
}

impl<'a> Source<'a> {
    /// The text of that file; a byte order mark at its head is left out.
    pub fn new(path: &'a str, text: &'a str) -> Self {
        Self {
            path,
            text: text.strip_prefix('\u{feff}').unwrap_or(text),
        }
    }

    /// A problem with that stretch of the text.
    pub fn problem(
        self,
        at: Stretch,
        message: impl Into<String>,
        advice: impl Into<String>,
    ) -> Diagnostic {
        Diagnostic::about(self.path, message, advice).at(at.span(), self.text)
    }
}

/// Problems met on the way, and whether what follows them can still be trusted.
#[derive(Debug, Default)]
pub struct Problems {
    /// In order of meeting.
    pub list: Vec<Diagnostic>,
    /// Whether one of them hides what the rest of the text means.
    pub lost: bool,
}

impl Problems {
    /// Adds a problem, so long as there are not more than anyone mends in one go.
    pub fn report(&mut self, problem: impl FnOnce() -> Diagnostic) {
        if self.list.len() < super::MOST {
            self.list.push(problem());
        }
    }
}
