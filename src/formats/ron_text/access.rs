//! What a part of the tree holds, one piece after the other, as serde asks for it.

use super::any::Any;
use super::mend::Trouble;
use super::node::{Field, Node, Shape};
use super::walk::Walk;
use serde::de::value::StrDeserializer;
use serde::de::{DeserializeSeed, EnumAccess, MapAccess, SeqAccess, VariantAccess, Visitor};

/// Items in a row.
pub struct Series<'n> {
    walk: Walk<'n>,
    items: std::slice::Iter<'n, Node>,
}

impl<'n> Series<'n> {
    /// These items.
    pub fn new(walk: Walk<'n>, items: &'n [Node]) -> Self {
        Self {
            walk,
            items: items.iter(),
        }
    }
}

impl<'n> SeqAccess<'n> for Series<'n> {
    type Error = Trouble;

    fn next_element_seed<T: DeserializeSeed<'n>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Trouble> {
        self.items
            .next()
            .map(|node| seed.deserialize(self.walk.to(node)))
            .transpose()
    }
}

enum Value<'n> {
    None,
    Written(&'n Field),
    Supplied,
}

/// Fields with their values, then those that are made up.
pub struct Entries<'n> {
    walk: Walk<'n>,
    name: &'static str,
    fields: std::slice::Iter<'n, Field>,
    supplied: std::slice::Iter<'n, &'static str>,
    value: Value<'n>,
}

impl<'n> Entries<'n> {
    /// These fields of a thing of that name.
    pub fn new(walk: Walk<'n>, name: &'static str, fields: &'n [Field]) -> Self {
        let supplied = walk.mended.supplied.get(&walk.node.id);
        Self {
            walk,
            name,
            fields: fields.iter(),
            supplied: supplied.map_or(&[][..], Vec::as_slice).iter(),
            value: Value::None,
        }
    }
}

impl<'n> MapAccess<'n> for Entries<'n> {
    type Error = Trouble;

    fn next_key_seed<K: DeserializeSeed<'n>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Trouble> {
        let mended = self.walk.mended;
        let field = self
            .fields
            .by_ref()
            .find(|f| !mended.ignored.contains(&f.at.start.offset));
        if let Some(field) = field {
            self.value = Value::Written(field);
            let meant = mended.renamed.get(&field.at.start.offset);
            let key = StrDeserializer::<Trouble>::new(meant.map_or(&field.name, |name| name));
            let named = seed.deserialize(key);
            mended
                .within
                .borrow_mut()
                .push((self.name, field.name.clone()));
            let placed = named.map_err(|t| t.in_part(&field.value, field.at, mended));
            mended.within.borrow_mut().pop();
            return placed.map(Some);
        }
        self.value = Value::Supplied;
        self.supplied
            .next()
            .map(|name| seed.deserialize(StrDeserializer::<Trouble>::new(name)))
            .transpose()
    }

    fn next_value_seed<V: DeserializeSeed<'n>>(&mut self, seed: V) -> Result<V::Value, Trouble> {
        let Value::Written(field) = std::mem::replace(&mut self.value, Value::None) else {
            return seed.deserialize(Any::value());
        };
        let mended = self.walk.mended;
        mended
            .within
            .borrow_mut()
            .push((self.name, field.name.clone()));
        let value = seed.deserialize(self.walk.to(&field.value));
        mended.within.borrow_mut().pop();
        value
    }
}

/// The variant that a part names.
pub struct Choice<'n> {
    /// The part.
    pub walk: Walk<'n>,
    /// The name.
    pub name: &'n str,
}

impl<'n> EnumAccess<'n> for Choice<'n> {
    type Error = Trouble;
    type Variant = Walk<'n>;

    fn variant_seed<V: DeserializeSeed<'n>>(
        self,
        seed: V,
    ) -> Result<(V::Value, Walk<'n>), Trouble> {
        let name = seed.deserialize(StrDeserializer::<Trouble>::new(self.name));
        Ok((self.walk.place(name)?, self.walk))
    }
}

impl<'n> VariantAccess<'n> for Walk<'n> {
    type Error = Trouble;

    fn unit_variant(self) -> Result<(), Trouble> {
        match &self.node.shape {
            Shape::Word(_) => Ok(()),
            _ => self.wants("the word alone, without brackets"),
        }
    }

    fn newtype_variant_seed<T: DeserializeSeed<'n>>(self, seed: T) -> Result<T::Value, Trouble> {
        match self.node.items() {
            [only] => seed.deserialize(self.to(only)),
            _ => self.wants("one value in ( ) behind the word"),
        }
    }

    fn tuple_variant<V: Visitor<'n>>(self, length: usize, visitor: V) -> Result<V::Value, Trouble> {
        let items = self.node.items();
        if items.len() != length {
            return self.wants(&format!("{length} values in ( ) behind the word"));
        }
        self.items(visitor, items)
    }

    fn struct_variant<V: Visitor<'n>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        match &self.node.shape {
            Shape::Fields { fields, .. } => self.entries("", visitor, fields),
            _ => self.wants("fields in ( ) behind the word"),
        }
    }
}
