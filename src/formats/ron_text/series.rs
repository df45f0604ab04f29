//! What stands between two brackets: fields, or items, with commas between them.

use super::node::{Field, Node, Shape};
use super::token::{Bracket, Kind, Stretch, Token};
use super::tree::Tree;

/// How the reading of a series goes on.
enum Go {
    On,
    Stop,
}

impl Tree<'_, '_> {
    /// Fields up to the closing bracket; up to the end of the text where none was opened.
    pub(super) fn fields(&mut self, bracket: Option<Bracket>) -> Vec<Field> {
        let mut fields: Vec<Field> = Vec::new();
        while let Go::On = self.end_of(bracket) {
            let Some(token) = self.peek() else { break };
            let (Kind::Word(name) | Kind::Text(name)) = &token.kind else {
                self.not_a_field(token, fields.last_mut());
                continue;
            };
            if matches!(token.kind, Kind::Text(_)) {
                self.quoted_name(token.at, name, bracket == Some(Bracket::Curly));
            }
            self.bump();
            if self.kind(0) == Some(&Kind::Colon) {
                self.bump();
            } else if !self.lacks_colon(name, token.at) {
                continue;
            }
            let twice = fields.iter().any(|f| f.name == *name);
            if twice {
                let message = format!("the field {name} stands here for the second time");
                self.report(token.at, &message, "keep one of the two");
            }
            fields.extend(self.field(name, token.at).filter(|_| !twice));
            self.comma(Self::begins_field);
        }
        fields
    }

    /// Whether the missing colon behind a name could be put in; else the name is left out.
    fn lacks_colon(&mut self, name: &str, at: Stretch) -> bool {
        let message = format!("a colon is missing behind {name}");
        let advice = format!("write {name}: and its value");
        self.report(at, &message, &advice);
        let valued = matches!(
            self.kind(0),
            Some(Kind::Open(_) | Kind::Word(_) | Kind::Number(_) | Kind::Text(_) | Kind::Char(_))
        );
        if !valued && self.kind(0) == Some(&Kind::Comma) {
            self.bump();
        }
        valued
    }

    /// Something that is no field where one should begin.
    fn not_a_field(&mut self, token: &Token, before: Option<&mut Field>) {
        let at = token.at;
        match (&token.kind, before.map(|f| &mut f.value)) {
            (
                Kind::Number(decimals),
                Some(Node {
                    at: whole, shape, ..
                }),
            ) if matches!(shape, Shape::Number(_)) && at.start.offset == whole.end.offset + 1 => {
                let Shape::Number(digits) = shape else { return };
                let number = format!("{digits}.{decimals}");
                *shape = Shape::Number(number.clone());
                let both = whole.to(at);
                self.bump();
                let advice = format!("write {number}");
                self.report(both, "decimals stand behind a point, not a comma", &advice);
                self.comma(Self::begins_field);
            }
            (Kind::Comma, _) => {
                self.bump();
                self.report(
                    at,
                    "a field is missing before this comma",
                    "delete the comma",
                );
            }
            (Kind::Open(_), _) if !self.open.is_empty() => self.unclosed(Some(token)),
            _ => self.give_up(
                at,
                "a field's name is wanted here",
                "write name: value, with a comma behind the field before",
            ),
        }
    }

    /// Items up to the closing bracket.
    pub(super) fn items(&mut self, bracket: Bracket) -> Vec<Node> {
        let mut items = Vec::new();
        while let Go::On = self.end_of(Some(bracket)) {
            let Some(token) = self.peek() else { break };
            if self.begins_field() {
                self.unclosed(Some(token));
                break;
            }
            match self.value() {
                Some(item) => items.push(item),
                None if self.problems.lost => break,
                None => {
                    self.bump();
                    self.report(token.at, "an item is missing before this", "delete it");
                    continue;
                }
            }
            self.comma(Self::begins_value);
        }
        items
    }

    /// Whether the series ends here, and how.
    fn end_of(&mut self, bracket: Option<Bracket>) -> Go {
        match self.peek() {
            None => {
                if !self.problems.lost {
                    self.unclosed(None);
                }
                Go::Stop
            }
            Some(token) => match token.kind {
                Kind::Close(found) if Some(found) == bracket => {
                    self.bump();
                    Go::Stop
                }
                Kind::Close(found) => {
                    let outer = self.open.iter().any(|(open, _)| *open == found);
                    if outer {
                        self.unclosed(Some(token));
                    } else {
                        self.stray(found, token.at);
                    }
                    Go::Stop
                }
                Kind::Open(_)
                | Kind::Comma
                | Kind::Colon
                | Kind::Word(_)
                | Kind::Number(_)
                | Kind::Text(_)
                | Kind::Char(_)
                | Kind::Bytes => Go::On,
            },
        }
    }

    fn begins_field(&self) -> bool {
        matches!(self.kind(0), Some(Kind::Word(_) | Kind::Text(_)))
            && self.kind(1) == Some(&Kind::Colon)
    }

    fn begins_value(&self) -> bool {
        match self.kind(0) {
            Some(
                Kind::Open(_)
                | Kind::Word(_)
                | Kind::Number(_)
                | Kind::Text(_)
                | Kind::Char(_)
                | Kind::Bytes,
            ) => !self.begins_field(),
            Some(Kind::Close(_) | Kind::Comma | Kind::Colon) | None => false,
        }
    }

    /// Takes the comma behind an element, or says where it is missing: at the end of the line
    /// that lacks it.
    fn comma(&mut self, begins: fn(&Self) -> bool) {
        if self.kind(0) == Some(&Kind::Comma) {
            self.bump();
        } else if begins(self) {
            let behind = self.last().map(|t| t.at.behind());
            if let Some(at) = behind {
                self.report(at, "a comma is missing here", "write , behind this");
            }
        }
    }
}
