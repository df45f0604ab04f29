//! Reads a serde type from a tree, so that a problem knows the part that it is about.

use super::access::{Choice, Entries, Series};
use super::any::Any;
use super::mend::{Mended, Trouble};
use super::node::{Field, Node, Shape};
use super::number::number_value;
use serde::de::Visitor;
use serde::{Deserializer, forward_to_deserialize_any};

/// A part that is to become a value.
#[derive(Clone, Copy)]
pub struct Walk<'n> {
    /// The part.
    pub node: &'n Node,
    /// What is left out or made up.
    pub mended: &'n Mended,
}

impl<'n> Walk<'n> {
    pub(super) const fn to(self, node: &'n Node) -> Self {
        Self {
            node,
            mended: self.mended,
        }
    }

    fn muted(self) -> bool {
        self.mended.muted.contains(&self.node.id)
    }

    pub(super) fn place<T>(self, result: Result<T, Trouble>) -> Result<T, Trouble> {
        result.map_err(|t| t.in_part(self.node, self.node.mark(), self.mended))
    }

    pub(super) fn wants<T>(self, what: &str) -> Result<T, Trouble> {
        self.place(Err(Trouble::wanted(what)))
    }

    fn whole<'de, V: Visitor<'de>>(
        self,
        visitor: V,
        bounds: (i128, i128),
    ) -> Result<V::Value, Trouble> {
        if self.muted() {
            return visitor.visit_u64(1);
        }
        let wanted = || {
            if bounds.0 < 0 {
                "a whole number".to_owned()
            } else if bounds.1 < 1_000_000 {
                format!("a whole number from {} to {}", bounds.0, bounds.1)
            } else {
                "a whole number, 0 or more".to_owned()
            }
        };
        let value = match &self.node.shape {
            Shape::Number(written) => whole_value(written),
            _ => None,
        };
        match value.filter(|v| *v >= bounds.0 && *v <= bounds.1) {
            Some(v) => self.place(match u64::try_from(v) {
                Ok(v) => visitor.visit_u64(v),
                Err(_) => visitor.visit_i64(v as i64),
            }),
            None => self.wants(&wanted()),
        }
    }

    pub(super) fn items<V: Visitor<'n>>(
        self,
        visitor: V,
        items: &'n [Node],
    ) -> Result<V::Value, Trouble> {
        self.place(visitor.visit_seq(Series::new(self, items)))
    }

    pub(super) fn entries<V: Visitor<'n>>(
        self,
        name: &'static str,
        visitor: V,
        fields: &'n [Field],
    ) -> Result<V::Value, Trouble> {
        let read = visitor.visit_map(Entries::new(self, name, fields));
        self.place(read).map_err(|t| t.in_thing(self.node, name))
    }
}

fn whole_value(written: &str) -> Option<i128> {
    let plain: i128 = match written.replace('_', "").parse() {
        Ok(value) => return Some(value),
        Err(_) => number_value(written).filter(|v| v.fract() == 0.0)? as i128,
    };
    written.contains(['x', 'o', 'b']).then_some(plain)
}

macro_rules! whole_numbers {
    ($($method:ident: $type:ty),*) => {$(
        fn $method<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
            self.whole(visitor, (<$type>::MIN as i128, <$type>::MAX as i128))
        }
    )*};
}

impl<'n> Deserializer<'n> for Walk<'n> {
    type Error = Trouble;

    fn deserialize_any<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        if self.muted() {
            return visitor.visit_str("");
        }
        match &self.node.shape {
            Shape::Number(written) => match whole_value(written) {
                Some(v) => self.place(match (u64::try_from(v), i64::try_from(v)) {
                    (Ok(v), _) => visitor.visit_u64(v),
                    (_, Ok(v)) => visitor.visit_i64(v),
                    (Err(_), Err(_)) => Err(Trouble::wanted("a smaller number")),
                }),
                None => self.deserialize_f64(visitor),
            },
            Shape::Text(text) => self.place(visitor.visit_borrowed_str(text)),
            Shape::Char(c) => self.place(visitor.visit_char(*c)),
            Shape::Word(word) if word == "true" || word == "false" => {
                self.place(visitor.visit_bool(word == "true"))
            }
            Shape::Word(word) if word == "None" => self.place(visitor.visit_none()),
            Shape::Word(_) => self.place(Err(Trouble::wanted("text in double quotes"))),
            Shape::List(items) | Shape::Items { items, .. } => self.items(visitor, items),
            Shape::Fields { fields, .. } => self.entries("", visitor, fields),
            Shape::Bytes => self.wants("text in double quotes"),
        }
    }

    whole_numbers! {
        deserialize_u8: u8, deserialize_u16: u16, deserialize_u32: u32, deserialize_u64: u64,
        deserialize_i8: i8, deserialize_i16: i16, deserialize_i32: i32, deserialize_i64: i64
    }

    fn deserialize_f32<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        self.deserialize_f64(visitor)
    }

    fn deserialize_f64<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        match &self.node.shape {
            _ if self.muted() => visitor.visit_f64(1.0),
            Shape::Number(written) => match number_value(written) {
                Some(value) => self.place(visitor.visit_f64(value)),
                None => self.wants("a number"),
            },
            _ => self.wants("a number"),
        }
    }

    fn deserialize_bool<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        match &self.node.shape {
            _ if self.muted() => visitor.visit_bool(false),
            Shape::Word(word) if word == "true" => visitor.visit_bool(true),
            Shape::Word(word) if word == "false" => visitor.visit_bool(false),
            _ => self.wants("true or false"),
        }
    }

    fn deserialize_str<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        match &self.node.shape {
            _ if self.muted() => visitor.visit_str(""),
            Shape::Text(text) => self.place(visitor.visit_borrowed_str(text)),
            _ => self.wants("text in double quotes"),
        }
    }

    fn deserialize_string<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        self.deserialize_str(visitor)
    }

    fn deserialize_char<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        match &self.node.shape {
            _ if self.muted() => visitor.visit_char(' '),
            Shape::Char(c) => visitor.visit_char(*c),
            _ => self.wants("one character in single quotes"),
        }
    }

    fn deserialize_option<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        if self.muted() {
            return visitor.visit_none();
        }
        match &self.node.shape {
            Shape::Word(word) if word == "None" => visitor.visit_none(),
            _ => visitor.visit_some(self.to(self.node.bare())),
        }
    }

    fn deserialize_unit<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_unit()
    }

    fn deserialize_newtype_struct<V: Visitor<'n>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        match &self.node.shape {
            Shape::Items { items, .. } if items.len() == 1 && !self.muted() => {
                let inner = items.first().unwrap_or(self.node);
                self.place(visitor.visit_newtype_struct(self.to(inner)))
            }
            _ => self.place(visitor.visit_newtype_struct(self)),
        }
    }

    fn deserialize_seq<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        match &self.node.shape {
            _ if self.muted() => self.items(visitor, &[]),
            Shape::List(items) => self.items(visitor, items),
            _ => self.wants("a list in [ ]"),
        }
    }

    fn deserialize_tuple<V: Visitor<'n>>(
        self,
        length: usize,
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        match &self.node.shape {
            _ if self.muted() => visitor.visit_seq(Any::series(length)),
            Shape::Items { items, .. } if items.len() == length => self.items(visitor, items),
            _ => self.wants(&format!("{length} values in ( )")),
        }
    }

    fn deserialize_map<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        match &self.node.shape {
            _ if self.muted() => self.entries("", visitor, &[]),
            Shape::Fields { fields, curly, .. } if *curly => self.entries("", visitor, fields),
            Shape::Items { items, .. } if items.is_empty() => self.entries("", visitor, &[]),
            _ => self.wants("entries in { }"),
        }
    }

    fn deserialize_struct<V: Visitor<'n>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        if self.muted() {
            return visitor.visit_map(Any::fields(fields));
        }
        match &self.node.shape {
            Shape::Fields { fields, curly, .. } => {
                if *curly && self.mended.curly.get().is_none() {
                    self.mended.curly.set(Some(self.node.mark()));
                }
                self.entries(name, visitor, fields)
            }
            Shape::Items { items, .. } if items.is_empty() => self.entries(name, visitor, &[]),
            _ => self.wants(&format!("the fields of {} in ( )", with_article(name))),
        }
    }

    fn deserialize_enum<V: Visitor<'n>>(
        self,
        _: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        if self.muted() {
            let first = variants.first().copied().unwrap_or_default();
            return visitor.visit_enum(Any::variant(first));
        }
        let named = match &self.node.shape {
            Shape::Word(name) => Some(name),
            Shape::Items { name, .. } | Shape::Fields { name, .. } => name.as_ref(),
            Shape::List(_) | Shape::Number(_) | Shape::Text(_) | Shape::Char(_) | Shape::Bytes => {
                None
            }
        };
        match named {
            Some(name) => self.place(visitor.visit_enum(Choice { walk: self, name })),
            None => match &self.node.shape {
                Shape::Text(text) => {
                    let unknown = serde::de::Error::unknown_variant(text, variants);
                    self.place(Err(unknown))
                }
                _ => self.wants(&format!("one of {}", variants.join(", "))),
            },
        }
    }

    fn deserialize_identifier<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        self.deserialize_str(visitor)
    }

    fn deserialize_ignored_any<V: Visitor<'n>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_unit()
    }

    forward_to_deserialize_any! { <V: Visitor<'n>> bytes byte_buf unit_struct tuple_struct }
}

/// The name of a kind of thing with its article.
pub fn with_article(name: &str) -> String {
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) {
        "an"
    } else {
        "a"
    };
    format!("{article} {name}")
}
