//! A lean reader of the lines that this program writes. It knows no blanks, no comments and no
//! escapes, and declines whatever else it meets: the general reader then has the word, so that a
//! line means the same whichever of them read it.

use serde::de::value::BorrowedStrDeserializer;
use serde::de::{
    Deserialize, DeserializeSeed, Deserializer, EnumAccess, Error, MapAccess, SeqAccess,
    VariantAccess, Visitor,
};
use serde::forward_to_deserialize_any;
use std::fmt;

/// The value that a whole text stands for; `None` where it is not plainly what would be written.
pub(super) fn read<'de, T: Deserialize<'de>>(text: &'de str) -> Option<T> {
    let mut lean = Lean {
        rest: text,
        is_bare: false,
    };
    let value = T::deserialize(&mut lean).ok()?;
    lean.rest.is_empty().then_some(value)
}

/// What is not read here. Why is for the general reader to say.
#[derive(Debug)]
struct Declined;

impl fmt::Display for Declined {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("not as it would be written")
    }
}

impl std::error::Error for Declined {}

impl Error for Declined {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self
    }
}

/// What is left of a text.
struct Lean<'de> {
    rest: &'de str,
    /// Whether the brackets of the struct that comes are those of the variant around it.
    is_bare: bool,
}

impl<'de> Lean<'de> {
    fn opens_with(&self, byte: u8) -> bool {
        self.rest.as_bytes().first() == Some(&byte)
    }

    /// Takes one ASCII byte.
    fn take(&mut self, byte: u8) -> Result<(), Declined> {
        if !self.opens_with(byte) {
            return Err(Declined);
        }
        self.split(1).map(|_| ())
    }

    /// Takes so many bytes, which must end with a character.
    fn split(&mut self, at: usize) -> Result<&'de str, Declined> {
        let (taken, rest) = self.rest.split_at_checked(at).ok_or(Declined)?;
        self.rest = rest;
        Ok(taken)
    }

    fn take_while(&mut self, belongs: impl Fn(u8) -> bool) -> Result<&'de str, Declined> {
        let bytes = self.rest.as_bytes();
        let length = bytes.iter().position(|byte| !belongs(*byte));
        self.split(length.unwrap_or(bytes.len()))
    }

    fn name(&mut self) -> Result<&'de str, Declined> {
        let name = self.take_while(|byte| byte.is_ascii_alphanumeric() || byte == b'_')?;
        let opens = name.as_bytes().first();
        let is_name = opens.is_some_and(|byte| !byte.is_ascii_digit());
        is_name.then_some(name).ok_or(Declined)
    }

    /// A whole number as it is written: digits alone, none of them in vain.
    fn digits(&mut self) -> Result<&'de str, Declined> {
        let digits = self.take_while(|byte| byte.is_ascii_digit())?;
        let is_plain = !digits.is_empty() && (digits == "0" || !digits.starts_with('0'));
        is_plain.then_some(digits).ok_or(Declined)
    }

    fn number(&mut self) -> Result<u64, Declined> {
        self.digits()?.parse().map_err(|_| Declined)
    }

    fn text(&mut self) -> Result<&'de str, Declined> {
        self.take(b'"')?;
        let text = self.take_while(|byte| byte != b'"' && byte != b'\\')?;
        self.take(b'"')?;
        Ok(text)
    }

    /// Whether another element follows, the comma before it taken.
    fn goes_on(&mut self, is_first: &mut bool, end: u8) -> Result<bool, Declined> {
        if self.opens_with(end) {
            return Ok(false);
        }
        if !std::mem::take(is_first) {
            self.take(b',')?;
        }
        Ok(true)
    }
}

/// Forwards the whole numbers to one reader: the visitor holds them to their bounds.
macro_rules! whole_numbers {
    ($($name:ident)*) => {
        $(fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Declined> {
            visitor.visit_u64(self.number()?)
        })*
    };
}

impl<'de> Deserializer<'de> for &mut Lean<'de> {
    type Error = Declined;

    /// What a value is must be known beforehand: of an unknown field the general reader has the
    /// word.
    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Declined> {
        Err(Declined)
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Declined> {
        match self.name()? {
            "true" => visitor.visit_bool(true),
            "false" => visitor.visit_bool(false),
            _ => Err(Declined),
        }
    }

    whole_numbers! { deserialize_u8 deserialize_u16 deserialize_u32 deserialize_u64 }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Declined> {
        let text = self.rest;
        self.digits()?;
        self.take(b'.')?;
        self.take_while(|byte| byte.is_ascii_digit())?;
        let number = text.get(..text.len() - self.rest.len()).unwrap_or_default();
        visitor.visit_f64(number.parse().map_err(|_| Declined)?)
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Declined> {
        visitor.visit_borrowed_str(self.text()?)
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Declined> {
        self.deserialize_str(visitor)
    }

    fn deserialize_identifier<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Declined> {
        visitor.visit_borrowed_str(self.name()?)
    }

    /// What is there is written as it is, and what is not, not at all.
    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Declined> {
        if self.rest.starts_with("None") || self.rest.starts_with("Some") {
            return Err(Declined);
        }
        visitor.visit_some(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Declined> {
        self.is_bare = false;
        self.take(b'[')?;
        let value = visitor.visit_seq(Elements::of(self))?;
        self.take(b']')?;
        Ok(value)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Declined> {
        if std::mem::take(&mut self.is_bare) {
            return visitor.visit_map(Elements::of(self));
        }
        self.take(b'(')?;
        let value = visitor.visit_map(Elements::of(self))?;
        self.take(b')')?;
        Ok(value)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Declined> {
        self.is_bare = false;
        visitor.visit_enum(Variant(self))
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i64 i128 u128 f32 char bytes byte_buf unit unit_struct newtype_struct tuple
        tuple_struct map ignored_any
    }
}

/// The elements of a list, or the fields of a struct.
struct Elements<'a, 'de> {
    lean: &'a mut Lean<'de>,
    is_first: bool,
}

impl<'a, 'de> Elements<'a, 'de> {
    const fn of(lean: &'a mut Lean<'de>) -> Self {
        let is_first = true;
        Self { lean, is_first }
    }
}

impl<'de> SeqAccess<'de> for Elements<'_, 'de> {
    type Error = Declined;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Declined> {
        if !self.lean.goes_on(&mut self.is_first, b']')? {
            return Ok(None);
        }
        seed.deserialize(&mut *self.lean).map(Some)
    }
}

impl<'de> MapAccess<'de> for Elements<'_, 'de> {
    type Error = Declined;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Declined> {
        if !self.lean.goes_on(&mut self.is_first, b')')? {
            return Ok(None);
        }
        seed.deserialize(&mut *self.lean).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Declined> {
        self.lean.take(b':')?;
        seed.deserialize(&mut *self.lean)
    }
}

/// A variant, its name first.
struct Variant<'a, 'de>(&'a mut Lean<'de>);

impl<'de> EnumAccess<'de> for Variant<'_, 'de> {
    type Error = Declined;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), Declined> {
        let name: BorrowedStrDeserializer<'de, Declined> =
            BorrowedStrDeserializer::new(self.0.name()?);
        Ok((seed.deserialize(name)?, self))
    }
}

impl<'de> VariantAccess<'de> for Variant<'_, 'de> {
    type Error = Declined;

    fn unit_variant(self) -> Result<(), Declined> {
        Ok(())
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Declined> {
        self.0.take(b'(')?;
        self.0.is_bare = true;
        let value = seed.deserialize(&mut *self.0)?;
        self.0.is_bare = false;
        self.0.take(b')')?;
        Ok(value)
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, _: V) -> Result<V::Value, Declined> {
        Err(Declined)
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Declined> {
        self.0.take(b'(')?;
        let value = visitor.visit_map(Elements::of(self.0))?;
        self.0.take(b')')?;
        Ok(value)
    }
}
