//! From what is wrong to what a person is told.

use super::Hints;
use super::mend::{Part, Trouble, Wrong};
use super::near::{listed, near};
use super::token::Source;
use super::walk::with_article;
use crate::domain::diagnostic::{Diagnostic, Span};
use ron::error::{Error, SpannedError};

/// The problem that a part of the tree has.
pub fn explain(source: Source<'_>, trouble: &Trouble, part: &Part, hints: Hints) -> Diagnostic {
    let (thing, field) = match &part.within {
        Some((thing, field)) => (*thing, field.as_str()),
        None => ("file", ""),
    };
    let hint = hints(thing, field);
    let (message, advice) = match &trouble.wrong {
        Wrong::Type { wanted } => mistyped(field, &part.found, wanted, hint),
        Wrong::Variant { found, known } => misnamed(field, found, known),
        Wrong::UnknownField { found, known } => unknown_field(thing, found, known),
        Wrong::MissingField(name) => missing_field(part, name, hints),
        Wrong::DuplicateField(name) => (
            format!("the field {name} stands here for the second time"),
            "keep one of the two".to_owned(),
        ),
        Wrong::Value(message) => (
            message.clone(),
            hint.map_or_else(|| "write another value".to_owned(), write_hint),
        ),
    };
    source.problem(part.at, message, advice)
}

/// What a text is, where one is wanted.
const TEXT: &str = "text in double quotes";

fn write_hint(hint: &'static str) -> String {
    format!("write {hint}")
}

fn mistyped(
    field: &str,
    found: &str,
    wanted: &str,
    hint: Option<&'static str>,
) -> (String, String) {
    let message = if field.is_empty() {
        format!("this is {found}, not {wanted}")
    } else {
        format!("{field} is {found}, not {wanted}")
    };
    let advice = match (hint, found.split_once(' ')) {
        (Some(hint), _) => write_hint(hint),
        (None, Some(("the", leaf))) if wanted == TEXT => match leaf.split_once(' ') {
            Some(("word" | "number", written)) => format!("write \"{written}\""),
            _ => format!("write {wanted}"),
        },
        (None, _) => format!("write {wanted}"),
    };
    (message, advice)
}

fn misnamed(field: &str, found: &str, known: &[&str]) -> (String, String) {
    let message = if field.is_empty() {
        format!("{found} is not a word known here")
    } else {
        format!("{field} cannot be {found}")
    };
    (message, choose(found, known))
}

fn choose(found: &str, known: &[&str]) -> String {
    match near(found, known.iter().copied()) {
        Some(name) => format!("did you mean {name}? It can be {}", listed(known)),
        None => format!("it can be {}", listed(known)),
    }
}

fn unknown_field(thing: &str, found: &str, known: &[&str]) -> (String, String) {
    let message = format!("{} has no field {found}", with_article(thing));
    let advice = match near(found, known.iter().copied()) {
        Some(name) => format!("did you mean {name}?"),
        None => format!("it can have {}", listed(known)),
    };
    (message, advice)
}

fn missing_field(part: &Part, name: &'static str, hints: Hints) -> (String, String) {
    let message = match (&part.label, &part.thing) {
        (Some(label), Some(thing)) => format!("the {thing} \"{label}\" has no {name}"),
        (None, Some(thing)) => format!("this {thing} has no {name}"),
        (Some(label), None) => format!("\"{label}\" has no {name}"),
        (None, None) => format!("the field {name} is missing here"),
    };
    let hint = part.thing.and_then(|thing| hints(thing, name));
    let advice = match hint {
        Some(hint) => format!("add {name}: {hint}"),
        None => format!("add {name}: and its value"),
    };
    (message, advice)
}

/// The problem that the RON reader has with a text whose tree looked right.
pub fn translate(source: Source<'_>, error: &SpannedError) -> Diagnostic {
    let span = Span {
        line: error.span.start.line,
        column: error.span.start.col,
        length: 1,
    };
    let (message, advice) = match &error.code {
        Error::Message(message) => (message.clone(), "write another value"),
        Error::InvalidEscape(_) => (
            "this escape stands for no character".to_owned(),
            "write \\\\ for a backslash itself",
        ),
        Error::IntegerOutOfBounds => (
            "this number is too large or too small".to_owned(),
            "write a number of the size that is meant",
        ),
        Error::ExpectedDifferentStructName { found, .. } => (
            format!("the name {found} does not stand before this bracket"),
            "write ( without a name",
        ),
        other => (
            format!("this cannot be read: {other}"),
            "compare it with an example",
        ),
    };
    Diagnostic::about(source.path, message, advice).at(span, source.text)
}
