//! A problem in something that a person wrote: where, what, and what to write instead.

use std::fmt;

/// Whether a problem stops the file from being used.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Severity {
    /// The file cannot be used as it stands.
    Error,
    /// Advice: the file is used.
    Warning,
}

/// A place in a text: line and column count characters from 1.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Span {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// How many characters the carets underline, at least 1.
    pub length: usize,
}

/// One problem, fit to be shown to the person who wrote the text.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Diagnostic {
    /// Whether the file can be used in spite of it.
    pub severity: Severity,
    /// The file, as the person would name it.
    pub path: String,
    /// Where in the file; `None` when it is about the file as a whole.
    pub span: Option<Span>,
    /// The person's own line.
    pub excerpt: Option<String>,
    /// What is wrong, in the person's words.
    pub message: String,
    /// What to write or do instead.
    pub advice: String,
}

impl Diagnostic {
    /// A problem about the file as a whole.
    pub fn about(path: &str, message: impl Into<String>, advice: impl Into<String>) -> Self {
        Self {
            severity: Severity::Error,
            path: path.to_owned(),
            span: None,
            excerpt: None,
            message: message.into(),
            advice: advice.into(),
        }
    }

    /// The same problem, placed in `text`.
    #[must_use]
    pub fn at(mut self, span: Span, text: &str) -> Self {
        self.span = Some(span);
        self.excerpt = text
            .lines()
            .nth(span.line.saturating_sub(1))
            .map(str::to_owned);
        self
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let label = match self.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        };
        write!(f, "{}", neutral(&self.path))?;
        if let Some(span) = self.span {
            write!(f, ":{}:{}", span.line, span.column)?;
        }
        writeln!(f, ": {label}: {}", neutral(&self.message))?;
        if let (Some(span), Some(line)) = (self.span, &self.excerpt) {
            write_excerpt(f, span, line)?;
        }
        write!(f, "  {}", neutral(&self.advice))
    }
}

/// Writes the line and the carets under it. Tabs and control characters become one cell each, so
/// that the carets stand where the eye looks for them.
fn write_excerpt(f: &mut fmt::Formatter<'_>, span: Span, line: &str) -> fmt::Result {
    const WIDEST: usize = 100;
    let cells: Vec<char> = line.chars().map(one_cell).collect();
    let start = span.column.saturating_sub(1).min(cells.len());
    let from = start.saturating_sub(WIDEST / 2);
    let shown: String = cells.iter().skip(from).take(WIDEST).collect();
    let carets = span.length.clamp(1, WIDEST - WIDEST / 2);
    writeln!(f, "  {:>4} | {shown}", span.line)?;
    writeln!(
        f,
        "       | {}{}",
        " ".repeat(start - from),
        "^".repeat(carets)
    )
}

fn one_cell(c: char) -> char {
    if c == '\t' {
        ' '
    } else if is_unsafe(c) {
        '\u{fffd}'
    } else {
        c
    }
}

/// Whether a character could steer a terminal or reorder a text: controls, C1, bidirectional
/// overrides, zero-width marks, fillers that show as nothing, tags.
pub fn is_unsafe(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{00ad}' | '\u{034f}' | '\u{061c}' | '\u{115f}'..='\u{1160}'
            | '\u{17b4}'..='\u{17b5}' | '\u{180e}' | '\u{200b}'..='\u{200f}'
            | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{feff}'
            | '\u{ffa0}' | '\u{fff9}'..='\u{fffb}' | '\u{1d173}'..='\u{1d17a}'
            | '\u{e0000}'..='\u{e0fff}')
}

/// The text with everything unsafe made visible: what every way out but the screen goes through.
pub fn neutral(text: &str) -> String {
    text.chars()
        .map(|c| if c == '\n' { ' ' } else { one_cell(c) })
        .collect()
}
