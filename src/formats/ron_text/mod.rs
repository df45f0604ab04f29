//! Reads the RON files that people write: into a serde type, or into everything that is wrong
//! with the text, each problem with its place and what to write instead.
//!
//! The RON library decides what a right text is and what it says. Only where it refuses one, or
//! where a text holds what no file of ours should (hidden characters, numbers without end), does
//! the tree of this module say why, in a person's words and for all problems at once.

mod access;
mod any;
mod explain;
mod lexer;
mod mend;
mod near;
mod node;
mod number;
#[cfg(test)]
mod punctuation_tests;
mod quoted;
mod series;
#[cfg(test)]
mod tests;
mod token;
mod tree;
mod walk;

pub use near::{listed, near};
pub use token::Source;

use crate::domain::diagnostic::{Diagnostic, Severity, Span};
use mend::{Mended, Trouble, Wrong};
use node::Node;
use serde::de::DeserializeOwned;
use token::{Problems, Stretch};

/// What to write for a field: asked by the kind of thing (its serde name) and the field's name,
/// answered with an example and its bounds ("3 (sets, 1 to 20)").
pub type Hints = fn(&str, &str) -> Option<&'static str>;

/// No hints.
pub fn no_hints(_: &str, _: &str) -> Option<&'static str> {
    None
}

/// More problems than anyone mends in one go.
const MOST: usize = 200;

/// A text that has been read, whose values are still to be looked at.
#[derive(Debug)]
pub struct Draft<'a, T> {
    /// What the text says; a part that could not be read stands for any value.
    pub value: T,
    source: Source<'a>,
    tree: Option<Node>,
    mended: Mended,
    problems: Vec<Diagnostic>,
}

/// A place in a draft: a part of the text, or the nearest part around one that is not there.
#[derive(Clone, Copy, Debug)]
pub struct Place<'d> {
    node: Option<&'d Node>,
    mended: bool,
    all: &'d Mended,
}

impl<'d> Place<'d> {
    /// The value of that field.
    #[must_use]
    pub fn field(self, name: &str) -> Self {
        let made_up = self.node.map(Node::bare).is_some_and(|node| {
            let supplied = self.all.supplied.get(&node.id);
            supplied.is_some_and(|names| names.contains(&name))
        });
        let field = self.step(|node| node.field(name).map(|f| &f.value));
        Self {
            mended: field.mended || made_up,
            ..field
        }
    }

    /// The item of that number, from 0.
    #[must_use]
    pub fn item(self, index: usize) -> Self {
        self.step(|node| node.items().get(index))
    }

    fn step(self, to: impl Fn(&'d Node) -> Option<&'d Node>) -> Self {
        let next = self.node.map(Node::bare).and_then(to);
        Self {
            node: next.or(self.node),
            mended: self.mended || next.is_some_and(|n| self.all.muted.contains(&n.id)),
            all: self.all,
        }
    }

    /// Whether the value there is not what the person wrote.
    pub const fn is_made_up(self) -> bool {
        self.mended
    }

    fn mark(self) -> Option<Stretch> {
        self.node.map(Node::mark)
    }

    /// Line of the place, from 1.
    pub fn line(self) -> Option<usize> {
        self.mark().map(|m| m.start.line)
    }
}

impl<'a, T> Draft<'a, T> {
    /// The whole text.
    pub fn root(&self) -> Place<'_> {
        Place {
            node: self.tree.as_ref(),
            mended: false,
            all: &self.mended,
        }
    }

    /// A problem at that place; `None` where the value there is not what the person wrote.
    pub fn problem(
        &self,
        place: Place<'_>,
        message: impl Into<String>,
        advice: impl Into<String>,
    ) -> Option<Diagnostic> {
        if place.mended {
            return None;
        }
        Some(match place.mark() {
            Some(mark) => self.source.problem(mark, message, advice),
            None => Diagnostic::about(self.source.path, message, advice),
        })
    }

    /// The value made of the draft, with warnings, or all problems in the order of the text.
    pub fn finish<U>(
        mut self,
        made: U,
        found: Vec<Diagnostic>,
    ) -> Result<(U, Vec<Diagnostic>), Vec<Diagnostic>> {
        self.problems.extend(found);
        let problems = in_order(self.problems);
        if problems.iter().any(|p| p.severity == Severity::Error) {
            Err(problems)
        } else {
            Ok((made, problems))
        }
    }
}

/// Reads a text whose values need no further look.
pub fn parse<T: DeserializeOwned>(path: &str, text: &str) -> Result<T, Vec<Diagnostic>> {
    let draft = draft::<T>(Source::new(path, text), no_hints)?;
    if draft.problems.is_empty() {
        Ok(draft.value)
    } else {
        Err(in_order(draft.problems))
    }
}

/// Reads a text as far as it goes. Refuses it only where nothing can be made of it.
pub fn draft<T: DeserializeOwned>(
    source: Source<'_>,
    hints: Hints,
) -> Result<Draft<'_, T>, Vec<Diagnostic>> {
    let (tokens, mut problems) = lexer::lex(source);
    if tokens.is_empty() && problems.list.is_empty() {
        return Err(vec![Diagnostic::about(
            source.path,
            "the file is empty",
            hints("file", "").unwrap_or("write its fields between ( and )"),
        )]);
    }
    let tree = tree::grow(source, &tokens, &mut problems);
    let Some(tree) = tree.filter(|_| !problems.lost) else {
        return Err(in_order(problems.list));
    };
    let reader =
        ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
    let mut mended = Mended::default();
    let value = match reader.from_str::<T>(source.text) {
        Ok(value) if problems.list.is_empty() => Some(value),
        Ok(_) => made_up(source, &tree, &mut mended, (hints, &mut problems)),
        Err(error) => {
            let value = made_up(source, &tree, &mut mended, (hints, &mut problems));
            if problems.list.is_empty() {
                problems.list.push(explain::translate(source, &error));
            }
            value
        }
    };
    match value {
        Some(value) => Ok(Draft {
            value,
            source,
            tree: Some(tree),
            mended,
            problems: problems.list,
        }),
        None => Err(in_order(problems.list)),
    }
}

/// Reads the tree again and again, each time around one problem more, until it reads.
fn made_up<T: DeserializeOwned>(
    source: Source<'_>,
    tree: &Node,
    mended: &mut Mended,
    (hints, problems): (Hints, &mut Problems),
) -> Option<T> {
    let told: Vec<Span> = problems.list.iter().filter_map(|p| p.span).collect();
    let mut value = None;
    for _ in 0..MOST {
        mended.within.borrow_mut().clear();
        let trouble = match T::deserialize(walk::Walk { node: tree, mended }) {
            Ok(read) => {
                value = Some(read);
                break;
            }
            Err(trouble) => trouble,
        };
        let Some(part) = &trouble.part else { break };
        let problem = explain::explain(source, &trouble, part, hints);
        let before = problems
            .list
            .iter_mut()
            .find(|told| begins_there(told, &problem));
        if let (Some(before), true) = (before, trouble.is_of_value()) {
            // What was told of its spelling stands; what to write, its field knows better.
            if part.is_number() && problem.advice.contains('(') {
                before.advice = problem.advice;
            }
        } else if !(told.contains(&part.at.span()) && trouble.is_of_value()) {
            problems.list.push(problem);
        }
        if !mend(tree, mended, &trouble) {
            break;
        }
    }
    if let Some(at) = mended.curly.get() {
        problems.list.push(source.problem(
            at,
            "fields stand in round brackets, not in { }",
            "write ( and ), here and wherever else; names stand without quotes",
        ));
    }
    value
}

fn begins_there(told: &Diagnostic, problem: &Diagnostic) -> bool {
    let begin = |d: &Diagnostic| d.span.map(|span| (span.line, span.column));
    told.span.is_some() && begin(told) == begin(problem)
}

/// Leaves out or makes up what is wrong; false where that has been tried before.
fn mend(tree: &Node, mended: &mut Mended, trouble: &Trouble) -> bool {
    let Some(part) = &trouble.part else {
        return false;
    };
    match &trouble.wrong {
        Wrong::UnknownField { found, known } => {
            let offset = part.at.start.offset;
            let beside = tree.names_beside(offset);
            match near(found, known.iter().copied()).and_then(|n| known.iter().find(|k| **k == n)) {
                Some(name) if !beside.contains(name) => {
                    mended.renamed.insert(offset, name).is_none()
                }
                _ => mended.ignored.insert(offset),
            }
        }
        Wrong::DuplicateField(_) => mended.ignored.insert(part.at.start.offset),
        Wrong::MissingField(name) => {
            let supplied = mended.supplied.entry(part.id).or_default();
            let new = !supplied.contains(name);
            supplied.push(name);
            new
        }
        Wrong::Type { .. } | Wrong::Variant { .. } | Wrong::Value(_) => {
            mended.muted.insert(part.id)
        }
    }
}

/// Problems in the order of the text, each once.
pub fn in_order(mut problems: Vec<Diagnostic>) -> Vec<Diagnostic> {
    problems.sort_by(|a, b| {
        let place = |d: &Diagnostic| d.span.map_or((0, 0), |s| (s.line, s.column));
        (place(a), &a.message).cmp(&(place(b), &b.message))
    });
    problems.dedup();
    problems
}
