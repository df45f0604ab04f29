//! Stands for any value of any type, in the place of a part that could not be read.

use super::mend::Trouble;
use serde::de::value::StrDeserializer;
use serde::de::{DeserializeSeed, EnumAccess, MapAccess, SeqAccess, VariantAccess, Visitor};
use serde::{Deserializer, forward_to_deserialize_any};

/// Any value.
pub struct Any {
    fields: std::slice::Iter<'static, &'static str>,
    left: usize,
    variant: &'static str,
}

impl Any {
    /// A value of whatever type is asked for.
    pub fn value() -> Self {
        Self {
            fields: [].iter(),
            left: 0,
            variant: "",
        }
    }

    /// Values for all of these fields.
    pub fn fields(fields: &'static [&'static str]) -> Self {
        Self {
            fields: fields.iter(),
            ..Self::value()
        }
    }

    /// So many values.
    pub fn series(length: usize) -> Self {
        Self {
            left: length,
            ..Self::value()
        }
    }

    /// The variant of that name, with any content.
    pub fn variant(name: &'static str) -> Self {
        Self {
            variant: name,
            ..Self::value()
        }
    }
}

impl<'de> Deserializer<'de> for Any {
    type Error = Trouble;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_str("")
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_bool(false)
    }

    fn deserialize_u8<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_u64(1)
    }

    fn deserialize_u16<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_u64(1)
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_u64(1)
    }

    fn deserialize_u64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_u64(1)
    }

    fn deserialize_i64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_i64(1)
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_f64(1.0)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_none()
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_seq(self)
    }

    fn deserialize_tuple<V: Visitor<'de>>(
        self,
        length: usize,
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        visitor.visit_seq(Self::series(length))
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Trouble> {
        visitor.visit_map(self)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        visitor.visit_map(Self::fields(fields))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        let first = variants.first().copied().unwrap_or_default();
        visitor.visit_enum(Self::variant(first))
    }

    forward_to_deserialize_any! {
        i8 i16 i32 f32 char str string bytes byte_buf unit unit_struct tuple_struct
        identifier ignored_any
    }
}

impl<'de> MapAccess<'de> for Any {
    type Error = Trouble;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Trouble> {
        self.fields
            .next()
            .map(|name| seed.deserialize(StrDeserializer::<Trouble>::new(name)))
            .transpose()
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Trouble> {
        seed.deserialize(Self::value())
    }
}

impl<'de> SeqAccess<'de> for Any {
    type Error = Trouble;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Trouble> {
        if self.left == 0 {
            return Ok(None);
        }
        self.left -= 1;
        seed.deserialize(Self::value()).map(Some)
    }
}

impl<'de> EnumAccess<'de> for Any {
    type Error = Trouble;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), Trouble> {
        let name = StrDeserializer::<Trouble>::new(self.variant);
        Ok((seed.deserialize(name)?, self))
    }
}

impl<'de> VariantAccess<'de> for Any {
    type Error = Trouble;

    fn unit_variant(self) -> Result<(), Trouble> {
        Ok(())
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Trouble> {
        seed.deserialize(self)
    }

    fn tuple_variant<V: Visitor<'de>>(
        self,
        length: usize,
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        visitor.visit_seq(Self::series(length))
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Trouble> {
        visitor.visit_map(Self::fields(fields))
    }
}
