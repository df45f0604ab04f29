//! Cuts a RON text into words, and goes on after what does not belong there.

use super::token::{Bracket, Kind, Pos, Problems, Source, Stretch, Token};
use crate::domain::diagnostic::is_unsafe;

/// The words of a text and what is wrong with them.
pub fn lex(source: Source<'_>) -> (Vec<Token>, Problems) {
    let mut lexer = Lexer::new(source);
    while let Some(c) = lexer.peek(0) {
        lexer.step(c);
    }
    (lexer.tokens, lexer.problems)
}

/// How one quotation mark is answered by another.
const TYPOGRAPHIC: &str = "“”„‟«»‘’‚″";

pub(super) struct Lexer<'a> {
    pub(super) source: Source<'a>,
    chars: Vec<char>,
    at: Pos,
    tokens: Vec<Token>,
    pub(super) problems: Problems,
}

impl<'a> Lexer<'a> {
    fn new(source: Source<'a>) -> Self {
        Self {
            source,
            chars: source.text.chars().collect(),
            at: Pos {
                offset: 0,
                line: 1,
                column: 1,
            },
            tokens: Vec::new(),
            problems: Problems::default(),
        }
    }

    pub(super) fn peek(&self, ahead: usize) -> Option<char> {
        self.chars.get(self.at.offset + ahead).copied()
    }

    pub(super) fn here(&self) -> Pos {
        self.at
    }

    /// Goes back to an earlier place.
    pub(super) fn back_to(&mut self, pos: Pos) {
        self.at = pos;
    }

    pub(super) fn advance(&mut self) -> Option<char> {
        let c = self.peek(0)?;
        self.at.offset += 1;
        if c == '\n' {
            self.at.line += 1;
            self.at.column = 1;
        } else {
            self.at.column += 1;
        }
        Some(c)
    }

    pub(super) fn skip_while(&mut self, keep: impl Fn(char) -> bool) {
        while self.peek(0).is_some_and(&keep) {
            self.advance();
        }
    }

    pub(super) fn since(&self, start: Pos) -> Stretch {
        Stretch {
            start,
            end: self.at,
        }
    }

    pub(super) fn written(&self, at: Stretch) -> String {
        let range = at.start.offset..at.end.offset.min(self.chars.len());
        self.chars.get(range).unwrap_or(&[]).iter().collect()
    }

    pub(super) fn push(&mut self, kind: Kind, start: Pos) {
        let at = self.since(start);
        self.tokens.push(Token { kind, at });
    }

    pub(super) fn report(&mut self, at: Stretch, message: &str, advice: &str) {
        self.problems
            .report(|| self.source.problem(at, message, advice));
    }

    /// Whether the word before is a colon: a field's value begins here.
    pub(super) fn after_colon(&self) -> bool {
        self.tokens.last().is_some_and(|t| t.kind == Kind::Colon)
    }

    fn step(&mut self, c: char) {
        let start = self.at;
        match c {
            ' ' | '\t' | '\n' | '\r' => {
                self.advance();
            }
            '(' => self.single(Kind::Open(Bracket::Round)),
            ')' => self.single(Kind::Close(Bracket::Round)),
            '[' => self.single(Kind::Open(Bracket::Square)),
            ']' => self.single(Kind::Close(Bracket::Square)),
            '{' => self.single(Kind::Open(Bracket::Curly)),
            '}' => self.single(Kind::Close(Bracket::Curly)),
            ',' => self.single(Kind::Comma),
            ':' => self.single(Kind::Colon),
            '/' => self.comment(),
            '#' => self.hash(),
            '"' => self.text(),
            '\'' => self.single_quoted(),
            'r' if self.is_raw_text() => self.raw_text(),
            'b' if matches!(self.peek(1), Some('"' | '\'')) => {
                self.advance();
                let quote = self.advance();
                self.skip_while(|c| Some(c) != quote && c != '\n');
                self.advance();
                self.push(Kind::Bytes, start);
            }
            _ if TYPOGRAPHIC.contains(c) => self.typographic(),
            _ if self.begins_number(c) => self.number(),
            _ if c.is_alphabetic() || c == '_' => {
                self.skip_while(|c| c.is_alphanumeric() || c == '_');
                let word = self.written(self.since(start));
                self.push(Kind::Word(word), start);
            }
            _ => self.stranger(c),
        }
    }

    fn single(&mut self, kind: Kind) {
        let start = self.at;
        self.advance();
        self.push(kind, start);
    }

    fn comment(&mut self) {
        let start = self.at;
        self.advance();
        match self.peek(0) {
            Some('/') => self.skip_line(),
            Some('*') => self.block_comment(start),
            _ => self.report(
                self.since(start),
                "a lone / means nothing here",
                "write // before a comment, and text in double quotes",
            ),
        }
    }

    /// Goes to the end of the line; what could steer a terminal is refused in comments too.
    fn skip_line(&mut self) {
        while let Some(c) = self.peek(0).filter(|c| *c != '\n') {
            self.check_shown(c);
            self.advance();
        }
    }

    fn block_comment(&mut self, start: Pos) {
        let mut depth = 0_usize;
        // Past the star that opens it, which must not close it as well.
        self.advance();
        loop {
            let pair = (self.peek(0), self.peek(1));
            match pair {
                (Some('*'), Some('/')) if depth == 0 => {
                    self.advance();
                    self.advance();
                    return;
                }
                (Some('*'), Some('/')) => {
                    depth -= 1;
                    self.advance();
                }
                (Some('/'), Some('*')) => {
                    depth += 1;
                    self.advance();
                }
                (Some(c), _) => self.check_shown(c),
                (None, _) => {
                    let open = self.since(start).first();
                    self.report(open, "this comment is not closed", "write */ where it ends");
                    self.problems.lost = true;
                    return;
                }
            }
            self.advance();
        }
    }

    fn hash(&mut self) {
        let start = self.at;
        self.advance();
        if self.peek(0) == Some('!') {
            self.skip_while(|c| c != ']' && c != '\n');
            self.advance();
            return;
        }
        let at = self.since(start);
        self.report(at, "comments do not start with #", "write // in its place");
        self.skip_line();
    }

    fn stranger(&mut self, c: char) {
        let start = self.at;
        self.advance();
        let at = self.since(start);
        match c {
            ';' => {
                self.report(at, "a semicolon separates nothing here", "write a comma");
                self.push(Kind::Comma, start);
            }
            '=' => {
                self.report(at, "a field's value does not follow =", "write a colon");
                self.push(Kind::Colon, start);
            }
            '，' | '、' => {
                self.report(at, "this is not the plain comma", "write ,");
                self.push(Kind::Comma, start);
            }
            _ if c.is_whitespace() && !c.is_control() => {
                let message = format!("this blank (U+{:04X}) is not a plain one", u32::from(c));
                self.report(at, &message, "delete it and type a space");
            }
            _ if is_unsafe(c) => self.refuse_hidden(at, c),
            _ => {
                let message = format!("the character {c} means nothing here");
                self.report(at, &message, "delete it, or write text in double quotes");
            }
        }
    }

    /// Reports a character that does not show, or that would steer a terminal.
    pub(super) fn check_shown(&mut self, c: char) {
        if is_unsafe(c) && !matches!(c, '\n' | '\r' | '\t') {
            let pos = self.at;
            let at = Stretch {
                start: pos,
                end: pos,
            };
            self.refuse_hidden(at.first(), c);
        }
    }

    pub(super) fn refuse_hidden(&mut self, at: Stretch, c: char) {
        let message = format!(
            "a character that does not show (U+{:04X}) stands here",
            u32::from(c)
        );
        self.report(
            at,
            &message,
            "delete it; if you cannot see it, type the line anew",
        );
    }
}
