//! Text between quotes of every kind, the right ones and the wrong ones.

use super::lexer::Lexer;
use super::token::{Kind, Pos, Stretch};
use crate::domain::diagnostic::is_unsafe;

impl Lexer<'_> {
    /// Text between double quotes.
    pub(super) fn text(&mut self) {
        let start = self.here();
        let met = self.problems.list.len();
        self.advance();
        let first_line = self.line_end();
        let mut value = String::new();
        loop {
            match self.peek(0) {
                None => {
                    self.problems.list.truncate(met);
                    return self.unclosed(start, first_line);
                }
                Some('"') => break,
                Some('\\') => value.extend(self.escape()),
                Some(c) => {
                    self.check_shown(c);
                    value.push(c);
                    self.advance();
                }
            }
        }
        self.advance();
        if self.here().line > start.line && !self.is_followed_well() {
            self.problems.list.truncate(met);
            return self.unclosed(start, first_line);
        }
        self.push(Kind::Text(value), start);
    }

    /// Where the current line ends.
    fn line_end(&mut self) -> Pos {
        let here = self.here();
        self.skip_while(|c| c != '\n' && c != '\r');
        let end = self.here();
        self.back_to(here);
        end
    }

    /// Whether what stands behind a closing quote can stand there: if not, the quote opened
    /// another text, and this one was never closed.
    fn is_followed_well(&self) -> bool {
        let mut ahead = 0;
        while self.peek(ahead).is_some_and(|c| c == ' ' || c == '\t') {
            ahead += 1;
        }
        match self.peek(ahead) {
            None => true,
            Some(c) => matches!(c, ',' | ':' | ')' | ']' | '}' | '\n' | '\r' | '/'),
        }
    }

    /// Reports a text without end, and takes it to have ended with its first line.
    fn unclosed(&mut self, start: Pos, end: Pos) {
        self.back_to(end);
        let whole = Stretch { start, end };
        let written = self.written(whole);
        let rest = written.trim_end_matches([' ', '\t', ',', ')', ']', '}']);
        let advice = match rest.chars().last() {
            Some(c @ ('”' | '“' | '»' | '’' | '″')) => {
                format!("it ends with the typographic quote {c}: write \" in its place")
            }
            _ => "write \" where the text ends".to_owned(),
        };
        self.report(whole.first(), "this text is not closed", &advice);
        let kept = rest.chars().count();
        let cut = Pos {
            offset: start.offset + kept,
            line: start.line,
            column: start.column + kept,
        };
        self.back_to(cut);
        let value = rest.trim_matches(['"', '”', '“', '»', '’', '″']).to_owned();
        self.push(Kind::Text(value), start);
    }

    /// One escape; nothing where it is wrong.
    fn escape(&mut self) -> Option<char> {
        let start = self.here();
        self.advance();
        let c = self.advance()?;
        let value = match c {
            'n' => Some('\n'),
            't' => Some('\t'),
            'r' => Some('\r'),
            '0' => Some('\0'),
            '"' | '\\' | '\'' => Some(c),
            'x' => {
                let digits: String = (0..2).filter_map(|_| self.advance()).collect();
                u32::from_str_radix(&digits, 16)
                    .ok()
                    .and_then(char::from_u32)
            }
            'u' => {
                self.skip_while(|c| c == '{');
                let from = self.here();
                self.skip_while(|c| c.is_ascii_hexdigit());
                let digits = self.written(self.since(from));
                self.skip_while(|c| c == '}');
                u32::from_str_radix(&digits, 16)
                    .ok()
                    .and_then(char::from_u32)
            }
            _ => None,
        };
        let at = self.since(start);
        match value {
            None => {
                let message = format!("{} stands for no character", self.written(at));
                self.report(at, &message, "write \\\\ for a backslash itself");
            }
            Some(c) if is_unsafe(c) && !matches!(c, '\n' | '\t' | '\r') => {
                self.refuse_hidden(at, c);
            }
            Some(_) => {}
        }
        value
    }

    /// Text between single quotes: a habit from elsewhere, unless it is one character.
    pub(super) fn single_quoted(&mut self) {
        let start = self.here();
        self.advance();
        let from = self.here();
        self.skip_while(|c| c != '\'' && c != '\n' && c != '\r');
        let value = self.written(self.since(from));
        let closed = self.peek(0) == Some('\'');
        if closed {
            self.advance();
        }
        let mut chars = value.chars();
        if let (Some(c), None, true) = (chars.next(), chars.next(), closed) {
            return self.push(Kind::Char(c), start);
        }
        let at = self.since(start);
        self.report(
            at,
            "text does not stand in single quotes",
            "write double quotes: \" before and behind it",
        );
        self.push(Kind::Text(value), start);
    }

    /// Text between quotes that a word processor set.
    pub(super) fn typographic(&mut self) {
        let start = self.here();
        let quote = self.advance().unwrap_or('“');
        let from = self.here();
        let ends = |c: char| "“”„‟«»‘’‚″\"".contains(c);
        self.skip_while(|c| !ends(c) && c != '\n' && c != '\r');
        let value = self.written(self.since(from));
        if self.peek(0).is_some_and(ends) {
            self.advance();
        }
        let message = format!("{quote} is a typographic quote");
        self.report(
            self.since(start),
            &message,
            "write the plain quote \" before and behind the text",
        );
        self.push(Kind::Text(value), start);
    }

    /// Whether raw text (`r"..."`, `r#"..."#`) begins here.
    pub(super) fn is_raw_text(&self) -> bool {
        let mut ahead = 1;
        while self.peek(ahead) == Some('#') {
            ahead += 1;
        }
        self.peek(ahead) == Some('"')
    }

    /// Text without escapes.
    pub(super) fn raw_text(&mut self) {
        let start = self.here();
        self.advance();
        let hashes_from = self.here();
        self.skip_while(|c| c == '#');
        let hashes = self.here().offset - hashes_from.offset;
        self.advance();
        let from = self.here();
        loop {
            let closes = self.peek(0) == Some('"')
                && (1..=hashes).all(|ahead| self.peek(ahead) == Some('#'));
            if closes {
                break;
            }
            let Some(c) = self.peek(0) else {
                let open = self.since(start).first();
                let advice = format!("write \"{} where it ends", "#".repeat(hashes));
                self.report(open, "this text is not closed", &advice);
                self.problems.lost = true;
                return;
            };
            self.check_shown(c);
            self.advance();
        }
        let value = self.written(self.since(from));
        for _ in 0..=hashes {
            self.advance();
        }
        self.push(Kind::Text(value), start);
    }
}
