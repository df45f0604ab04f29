//! Numbers, and what is often written as if it were one.

use super::lexer::Lexer;
use super::token::Kind;

impl Lexer<'_> {
    /// Whether a number begins with this character here.
    pub(super) fn begins_number(&self, c: char) -> bool {
        let digit_at = |ahead| self.peek(ahead).is_some_and(|c: char| c.is_ascii_digit());
        match c {
            '0'..='9' => true,
            '.' => digit_at(1),
            '-' | '+' => {
                digit_at(1)
                    || self.peek(1) == Some('.') && digit_at(2)
                    || self.peek(1).is_some_and(|c| c == 'i' || c == 'N')
            }
            _ => false,
        }
    }

    /// A number, or a range or a time that should stand in quotes.
    pub(super) fn number(&mut self) {
        let start = self.here();
        self.digits();
        let plain = self.here();
        while self.joins() {
            self.advance();
            self.digits();
        }
        if self.here() == plain {
            let written = self.written(self.since(start));
            self.check_number(&written, start);
            return self.push(Kind::Number(written), start);
        }
        let at = self.since(start);
        let written = self.written(at).replace(['–', '—'], "-");
        let what = if written.contains(':') {
            "a time"
        } else {
            "a range"
        };
        let advice = format!("write \"{written}\"");
        self.report(at, &format!("{what} stands in double quotes"), &advice);
        self.push(Kind::Text(written), start);
    }

    fn digits(&mut self) {
        if self.peek(0).is_some_and(|c| c == '-' || c == '+') {
            self.advance();
        }
        let mut before = ' ';
        while let Some(c) = self.peek(0) {
            let sign_of_exponent = (c == '-' || c == '+') && (before == 'e' || before == 'E');
            if !(c.is_alphanumeric() || c == '.' || c == '_' || c == '%' || sign_of_exponent) {
                return;
            }
            before = c;
            self.advance();
        }
    }

    /// Whether a sign here joins two numbers into a range (`8-12`) or a time (`1:30`).
    fn joins(&self) -> bool {
        let digit_next = self.peek(1).is_some_and(|c| c.is_ascii_digit());
        match self.peek(0) {
            Some('-' | '–' | '—') => digit_next,
            Some(':') => digit_next && self.after_colon(),
            _ => false,
        }
    }

    fn check_number(&mut self, written: &str, start: super::token::Pos) {
        let at = self.since(start);
        match number_value(written) {
            Some(value) if value.is_finite() => {}
            Some(_) => self.report(
                at,
                &format!("{written} is not a finite number"),
                "write a number with digits, such as 62.5",
            ),
            None => {
                let digits: String = written
                    .chars()
                    .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+'))
                    .collect();
                let advice = match number_value(&digits) {
                    Some(_) if written.chars().filter(|c| c.is_alphabetic()).count() <= 3 => {
                        format!("write {digits} alone, or \"{written}\" if text is meant")
                    }
                    _ => format!("write \"{written}\" if text is meant"),
                };
                self.report(at, &format!("{written} is not a number"), &advice);
            }
        }
    }
}

/// The value of a number as RON writes it; not finite where it has no end.
pub(super) fn number_value(written: &str) -> Option<f64> {
    let (negative, rest) = match written.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, written.strip_prefix('+').unwrap_or(written)),
    };
    let value = match rest.get(..2) {
        Some("0x") => radix(rest, 16)?,
        Some("0o") => radix(rest, 8)?,
        Some("0b") => radix(rest, 2)?,
        _ => match rest {
            "inf" | "NaN" => f64::INFINITY,
            _ if !rest.starts_with(|c: char| c.is_ascii_digit() || c == '.') => return None,
            _ => rest.replace('_', "").parse().ok()?,
        },
    };
    Some(if negative { -value } else { value })
}

fn radix(rest: &str, base: u32) -> Option<f64> {
    let digits = rest.get(2..)?.replace('_', "");
    i128::from_str_radix(&digits, base).ok().map(|v| v as f64)
}
