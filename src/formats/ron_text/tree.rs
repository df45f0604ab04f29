//! From words to a tree; what is wrong is mended where its meaning is plain.

use super::node::{Field, Node, Shape};
use super::token::{Bracket, Kind, Problems, Source, Stretch, Token};

/// Deeper brackets than any file of ours has.
const DEEPEST: usize = 64;

/// The tree of a text, as far as it could be made out.
pub fn grow(source: Source<'_>, tokens: &[Token], problems: &mut Problems) -> Option<Node> {
    let mut tree = Tree {
        source,
        tokens,
        next: 0,
        open: Vec::new(),
        nodes: 0,
        quoted_names: false,
        problems,
    };
    let root = tree.root()?;
    tree.behind_end();
    Some(root)
}

pub(super) struct Tree<'a, 'p> {
    source: Source<'a>,
    tokens: &'a [Token],
    next: usize,
    /// The brackets that are open, outermost first.
    pub(super) open: Vec<(Bracket, Stretch)>,
    nodes: usize,
    quoted_names: bool,
    pub(super) problems: &'p mut Problems,
}

impl<'a> Tree<'a, '_> {
    pub(super) fn peek(&self) -> Option<&'a Token> {
        self.tokens.get(self.next)
    }

    pub(super) fn kind(&self, ahead: usize) -> Option<&'a Kind> {
        self.tokens.get(self.next + ahead).map(|t| &t.kind)
    }

    pub(super) fn bump(&mut self) {
        self.next += 1;
    }

    /// The word before the next one.
    pub(super) fn last(&self) -> Option<&'a Token> {
        self.next.checked_sub(1).and_then(|k| self.tokens.get(k))
    }

    pub(super) fn report(&mut self, at: Stretch, message: &str, advice: &str) {
        self.problems
            .report(|| self.source.problem(at, message, advice));
    }

    /// Reports what hides the meaning of all that follows, and reads no further.
    pub(super) fn give_up(&mut self, at: Stretch, message: &str, advice: &str) {
        if !self.problems.lost {
            self.report(at, message, advice);
        }
        self.problems.lost = true;
        self.next = self.tokens.len();
    }

    pub(super) fn node(&mut self, at: Stretch, shape: Shape) -> Node {
        self.nodes += 1;
        Node {
            id: self.nodes,
            at,
            shape,
        }
    }

    fn root(&mut self) -> Option<Node> {
        let first = self.peek()?;
        let named = matches!(first.kind, Kind::Word(_) | Kind::Text(_));
        if named && self.kind(1) == Some(&Kind::Colon) {
            self.report(
                first.at,
                "the fields of the file stand without brackets",
                "write ( before the first field and ) behind the last",
            );
            let start = first.at;
            let fields = self.fields(None);
            let end = self.last().map_or(start, |t| t.at);
            let shape = Shape::Fields {
                name: None,
                fields,
                curly: false,
            };
            return Some(self.node(start.to(end), shape));
        }
        let value = self.value();
        if value.is_none() {
            let advice = "begin with ( and end with )";
            self.give_up(first.at, "the file begins in the middle", advice);
        }
        value
    }

    fn behind_end(&mut self) {
        let Some(token) = self.peek() else { return };
        match token.kind {
            Kind::Close(bracket) => self.stray(bracket, token.at),
            _ => self.give_up(
                token.at,
                "the file goes on behind its last bracket",
                "move this inside the outer ( ), or delete it",
            ),
        }
    }

    /// A closing bracket that closes nothing.
    pub(super) fn stray(&mut self, bracket: Bracket, at: Stretch) {
        let message = format!("this {} closes nothing", bracket.close());
        let advice = match self.open.last() {
            Some((open, place)) => format!(
                "the {} of line {} is open here: write {}, or delete this one",
                open.open(),
                place.start.line,
                open.close(),
            ),
            None => "delete it, or look for a bracket closed too early above".to_owned(),
        };
        self.give_up(at, &message, &advice);
    }

    /// The innermost open bracket was never closed: something else came first.
    pub(super) fn unclosed(&mut self, met: Option<&Token>) {
        let Some((bracket, place)) = self.open.last().copied() else {
            return;
        };
        let close = bracket.close();
        let message = format!("this {} is not closed", bracket.open());
        let advice = match met {
            Some(token) => format!(
                "write {close} before line {}, column {}", //
                token.at.start.line, token.at.start.column
            ),
            None => format!("write {close} where it ends; the file ends first"),
        };
        self.give_up(place, &message, &advice);
    }

    /// The value that begins here; a word of its own where none does.
    pub(super) fn value(&mut self) -> Option<Node> {
        let token = self.peek()?;
        let at = token.at;
        match &token.kind {
            Kind::Open(bracket) => self.bracketed(None, at, *bracket),
            Kind::Word(word) => {
                self.bump();
                match self.kind(0) {
                    Some(Kind::Open(Bracket::Round)) => {
                        self.bracketed(Some(word.clone()), at, Bracket::Round)
                    }
                    _ => Some(self.word(word, at)),
                }
            }
            Kind::Number(number) => self.leaf(at, Shape::Number(number.clone())),
            Kind::Text(text) => self.leaf(at, Shape::Text(text.clone())),
            Kind::Char(c) => self.leaf(at, Shape::Char(*c)),
            Kind::Bytes => self.leaf(at, Shape::Bytes),
            Kind::Close(_) | Kind::Comma | Kind::Colon => None,
        }
    }

    fn leaf(&mut self, at: Stretch, shape: Shape) -> Option<Node> {
        self.bump();
        Some(self.node(at, shape))
    }

    /// A bare word; several in a row are text that lacks its quotes.
    fn word(&mut self, word: &str, at: Stretch) -> Node {
        if matches!(word, "inf" | "NaN") {
            self.report(
                at,
                &format!("{word} is not a finite number"),
                "write a number with digits, such as 62.5",
            );
            return self.node(at, Shape::Number(word.to_owned()));
        }
        let mut end = at;
        let mut text = word.to_owned();
        while let Some(Token { kind, at: more }) = self.peek() {
            let next_is_field = self.kind(1) == Some(&Kind::Colon);
            if more.start.line != at.start.line || next_is_field {
                break;
            }
            let (Kind::Word(piece) | Kind::Number(piece)) = kind else {
                break;
            };
            text = format!("{text} {piece}");
            end = *more;
            self.bump();
        }
        if end == at {
            return self.node(at, Shape::Word(word.to_owned()));
        }
        let advice = format!("write \"{text}\"");
        self.report(at.to(end), "text stands in double quotes", &advice);
        self.node(at.to(end), Shape::Text(text))
    }

    fn bracketed(&mut self, name: Option<String>, at: Stretch, bracket: Bracket) -> Option<Node> {
        let open = self.peek().map_or(at, |t| t.at);
        self.bump();
        if self.open.len() >= DEEPEST {
            self.give_up(
                open,
                "brackets are nested deeper than any file needs",
                "close some of them before this one",
            );
            return None;
        }
        self.open.push((bracket, open));
        let shape = self.inside(name, bracket);
        self.open.pop();
        let end = self.last().map_or(open, |t| t.at);
        Some(self.node(at.to(end), shape))
    }

    fn inside(&mut self, name: Option<String>, bracket: Bracket) -> Shape {
        let names_first = matches!(self.kind(0), Some(Kind::Word(_) | Kind::Text(_)))
            && self.kind(1) == Some(&Kind::Colon);
        match bracket {
            Bracket::Square => Shape::List(self.items(bracket)),
            Bracket::Round if names_first => Shape::Fields {
                name,
                fields: self.fields(Some(bracket)),
                curly: false,
            },
            Bracket::Round => Shape::Items {
                name,
                items: self.items(bracket),
            },
            Bracket::Curly => Shape::Fields {
                name,
                fields: self.fields(Some(bracket)),
                curly: true,
            },
        }
    }

    /// A field's name in quotes, once a file: a habit from elsewhere.
    pub(super) fn quoted_name(&mut self, at: Stretch, name: &str, curly: bool) {
        if !curly && !self.quoted_names {
            self.quoted_names = true;
            let advice = format!("write {name}: without them, here and wherever else");
            self.report(at, "a field's name stands without quotes", &advice);
        }
    }

    pub(super) fn field(&mut self, name: &str, at: Stretch) -> Option<Field> {
        match self.value() {
            Some(value) => Some(Field {
                name: name.to_owned(),
                at,
                value,
            }),
            None if self.problems.lost => None,
            None => {
                let message = format!("{name} has no value");
                self.report(
                    at,
                    &message,
                    "write one behind the colon, or delete the field",
                );
                None
            }
        }
    }
}
