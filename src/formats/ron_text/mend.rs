//! What has been found wrong in a tree, and how the reading goes on in spite of it: a part that
//! cannot be read stands for any value of its type, so that the other problems of the file come
//! to light as well.

use super::node::Node;
use super::token::Stretch;
use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// What the walk over a tree leaves out or makes up.
#[derive(Debug, Default)]
pub struct Mended {
    /// Parts that stand for any value, by number.
    pub muted: BTreeSet<usize>,
    /// Fields that are made up, by the number of the part that lacks them.
    pub supplied: BTreeMap<usize, Vec<&'static str>>,
    /// Fields that are left out, by where their name begins.
    pub ignored: BTreeSet<usize>,
    /// Fields that go by the name that was most likely meant, by where their name begins.
    pub renamed: BTreeMap<usize, &'static str>,
    /// The first curly bracket around fields.
    pub curly: Cell<Option<Stretch>>,
    /// The field whose value is read now.
    pub within: RefCell<Vec<(&'static str, String)>>,
}

/// What is wrong with a part.
#[derive(Clone, PartialEq, Debug)]
pub enum Wrong {
    /// A value of another type.
    Type {
        /// What was wanted, in words.
        wanted: String,
    },
    /// A name that is none of these.
    Variant {
        /// What is there.
        found: String,
        /// What could be.
        known: &'static [&'static str],
    },
    /// A field that is none of these.
    UnknownField {
        /// What is there.
        found: String,
        /// What could be.
        known: &'static [&'static str],
    },
    /// A field is missing.
    MissingField(&'static str),
    /// A field stands twice.
    DuplicateField(&'static str),
    /// A value that its type refuses.
    Value(String),
}

/// A problem on its way out, with its place.
#[derive(Clone, PartialEq, Debug)]
pub struct Trouble {
    /// What is wrong.
    pub wrong: Wrong,
    /// The part, once it is known.
    pub part: Option<Box<Part>>,
}

/// The place of a problem.
#[derive(Clone, PartialEq, Debug)]
pub struct Part {
    /// The part's number.
    pub id: usize,
    /// Where it is shown.
    pub at: Stretch,
    /// What it is, in words.
    pub found: String,
    /// What a person would call it.
    pub label: Option<String>,
    /// The kind of thing that it is itself, where it has fields.
    pub thing: Option<&'static str>,
    /// The kind of thing and the field whose value it is or is in.
    pub within: Option<(&'static str, String)>,
}

impl Part {
    /// Whether a number stands there, of whatever kind.
    pub fn is_number(&self) -> bool {
        self.found.starts_with("the number")
    }
}

impl Trouble {
    /// Of a type other than wanted.
    pub fn wanted(wanted: impl Into<String>) -> Self {
        Self::of(Wrong::Type {
            wanted: wanted.into(),
        })
    }

    const fn of(wrong: Wrong) -> Self {
        Self { wrong, part: None }
    }

    /// The same, in that part unless a smaller one was named before.
    #[must_use]
    pub fn in_part(mut self, node: &Node, at: Stretch, mended: &Mended) -> Self {
        self.part.get_or_insert_with(|| {
            Box::new(Part {
                id: node.id,
                at,
                found: node.described(),
                label: node.label().map(str::to_owned),
                thing: None,
                within: mended.within.borrow().last().cloned(),
            })
        });
        self
    }

    /// Whether the value is wrong, not a name.
    pub const fn is_of_value(&self) -> bool {
        match self.wrong {
            Wrong::Type { .. } | Wrong::Variant { .. } | Wrong::Value(_) => true,
            Wrong::UnknownField { .. } | Wrong::MissingField(_) | Wrong::DuplicateField(_) => false,
        }
    }

    /// The same, where it is about a part with fields: what kind of thing that is.
    #[must_use]
    pub fn in_thing(mut self, node: &Node, name: &'static str) -> Self {
        if let Some(part) = self.part.as_mut().filter(|p| p.id == node.id) {
            part.thing = Some(name).filter(|n| !n.is_empty());
        }
        self
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?}", self.wrong)
    }
}

impl std::error::Error for Trouble {}

impl serde::de::Error for Trouble {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self::of(Wrong::Value(message.to_string()))
    }

    fn invalid_type(_: serde::de::Unexpected<'_>, wanted: &dyn serde::de::Expected) -> Self {
        Self::wanted(wanted.to_string())
    }

    fn invalid_value(_: serde::de::Unexpected<'_>, wanted: &dyn serde::de::Expected) -> Self {
        Self::wanted(wanted.to_string())
    }

    fn unknown_variant(found: &str, known: &'static [&'static str]) -> Self {
        Self::of(Wrong::Variant {
            found: found.to_owned(),
            known,
        })
    }

    fn unknown_field(found: &str, known: &'static [&'static str]) -> Self {
        Self::of(Wrong::UnknownField {
            found: found.to_owned(),
            known,
        })
    }

    fn missing_field(field: &'static str) -> Self {
        Self::of(Wrong::MissingField(field))
    }

    fn duplicate_field(field: &'static str) -> Self {
        Self::of(Wrong::DuplicateField(field))
    }
}
