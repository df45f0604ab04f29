//! A RON text as a tree in which every part knows its place.

use super::token::Stretch;

/// A part of the text.
#[derive(Clone, PartialEq, Debug)]
pub struct Node {
    /// Its number, unique in its tree.
    pub id: usize,
    /// Where it stands.
    pub at: Stretch,
    /// What it is.
    pub shape: Shape,
}

/// One field with its value.
#[derive(Clone, PartialEq, Debug)]
pub struct Field {
    /// Its name.
    pub name: String,
    /// Where the name stands.
    pub at: Stretch,
    /// Its value.
    pub value: Node,
}

/// What a part is.
#[derive(Clone, PartialEq, Debug)]
pub enum Shape {
    /// `(a: 1)`, `Name(a: 1)`, or, a habit from elsewhere, `{"a": 1}`.
    Fields {
        /// The name before the bracket.
        name: Option<String>,
        /// The fields.
        fields: Vec<Field>,
        /// Whether the brackets are curly.
        curly: bool,
    },
    /// `(1, 2)` or `Name(1, 2)`.
    Items {
        /// The name before the bracket.
        name: Option<String>,
        /// The items.
        items: Vec<Node>,
    },
    /// `[1, 2]`
    List(Vec<Node>),
    /// A bare word.
    Word(String),
    /// A number, as written.
    Number(String),
    /// Text.
    Text(String),
    /// One character.
    Char(char),
    /// A byte string.
    Bytes,
}

impl Node {
    /// The value of a field, where there is one.
    pub fn field(&self, name: &str) -> Option<&Field> {
        match &self.shape {
            Shape::Fields { fields, .. } => fields.iter().find(|f| f.name == name),
            Shape::Items { .. }
            | Shape::List(_)
            | Shape::Word(_)
            | Shape::Number(_)
            | Shape::Text(_)
            | Shape::Char(_)
            | Shape::Bytes => None,
        }
    }

    /// The names of the fields among which one begins at that character of the text.
    pub fn names_beside(&self, offset: usize) -> Vec<&str> {
        let Shape::Fields { fields, .. } = &self.shape else {
            let found = self.items().iter().map(|item| item.names_beside(offset));
            return found
                .into_iter()
                .find(|n| !n.is_empty())
                .unwrap_or_default();
        };
        if fields.iter().any(|f| f.at.start.offset == offset) {
            return fields.iter().map(|f| f.name.as_str()).collect();
        }
        let found = fields.iter().map(|f| f.value.names_beside(offset));
        found
            .into_iter()
            .find(|n| !n.is_empty())
            .unwrap_or_default()
    }

    /// The parts that follow each other in it.
    pub fn items(&self) -> &[Self] {
        match &self.shape {
            Shape::List(items) | Shape::Items { items, .. } => items,
            Shape::Fields { .. }
            | Shape::Word(_)
            | Shape::Number(_)
            | Shape::Text(_)
            | Shape::Char(_)
            | Shape::Bytes => &[],
        }
    }

    /// The part without a `Some( )` around it.
    pub fn bare(&self) -> &Self {
        match &self.shape {
            Shape::Items {
                name: Some(name),
                items,
            } if name == "Some" && items.len() == 1 => items.first().map_or(self, Self::bare),
            Shape::Items { .. }
            | Shape::Fields { .. }
            | Shape::List(_)
            | Shape::Word(_)
            | Shape::Number(_)
            | Shape::Text(_)
            | Shape::Char(_)
            | Shape::Bytes => self,
        }
    }

    /// Where a problem with it is shown: a part in brackets by its opening bracket.
    pub fn mark(&self) -> Stretch {
        match &self.shape {
            Shape::Fields { name, .. } | Shape::Items { name, .. } => {
                let name = name.as_ref().map_or(0, |n| n.chars().count());
                let mut at = self.at.first();
                at.end.offset += name;
                at.end.column += name;
                at
            }
            Shape::List(_) => self.at.first(),
            Shape::Word(_) | Shape::Number(_) | Shape::Text(_) | Shape::Char(_) | Shape::Bytes => {
                self.at
            }
        }
    }

    /// What a person would call it: its id, exercise or name.
    pub fn label(&self) -> Option<&str> {
        ["id", "exercise", "name"]
            .into_iter()
            .filter_map(|field| self.field(field))
            .find_map(|field| match &field.value.shape {
                Shape::Text(text) if !text.is_empty() => Some(text.as_str()),
                _ => None,
            })
    }

    /// What it is, in words.
    pub fn described(&self) -> String {
        match &self.shape {
            Shape::Fields { .. } => "fields in brackets".to_owned(),
            Shape::Items { items, .. } if items.is_empty() => "empty brackets".to_owned(),
            Shape::Items { .. } => "a value in brackets".to_owned(),
            Shape::List(_) => "a list".to_owned(),
            Shape::Word(word) => format!("the word {word}"),
            Shape::Number(number) => format!("the number {number}"),
            Shape::Text(text) if text.chars().count() <= 30 => format!("the text \"{text}\""),
            Shape::Text(_) => "a text".to_owned(),
            Shape::Char(c) => format!("the character '{c}'"),
            Shape::Bytes => "a byte string".to_owned(),
        }
    }
}
