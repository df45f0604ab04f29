//! How values stand in a cache: short, in order, without names. A cache is written and read by one
//! and the same program, so nothing here needs to last.

use std::collections::BTreeMap;
use std::sync::Arc;

/// A value that can be kept.
pub trait Kept: Sized {
    /// Appends the value.
    fn put(&self, out: &mut Vec<u8>);

    /// Takes the value from the front; `None` where none stands there.
    fn take(from: &mut Bytes<'_>) -> Option<Self>;
}

/// What is left to be read.
#[derive(Debug)]
pub struct Bytes<'a>(pub &'a [u8]);

impl<'a> Bytes<'a> {
    /// Takes so many bytes.
    pub fn split(&mut self, count: usize) -> Option<&'a [u8]> {
        let (taken, rest) = self.0.split_at_checked(count)?;
        self.0 = rest;
        Some(taken)
    }

    fn byte(&mut self) -> Option<u8> {
        self.split(1)?.first().copied()
    }

    /// How many elements follow: no more than there are bytes.
    fn count(&mut self) -> Option<usize> {
        let count = usize::take(self)?;
        (count <= self.0.len()).then_some(count)
    }
}

impl Kept for u64 {
    fn put(&self, out: &mut Vec<u8>) {
        let mut rest = *self;
        while rest >= 0x80 {
            out.push((rest & 0x7f) as u8 | 0x80);
            rest >>= 7;
        }
        out.push(rest as u8);
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        let mut value = 0;
        for shift in (0..64).step_by(7) {
            let byte = from.byte()?;
            value |= Self::from(byte & 0x7f) << shift;
            if byte < 0x80 {
                return Some(value);
            }
        }
        None
    }
}

/// Whole numbers that are kept as the widest one.
macro_rules! whole {
    ($($type:ty)*) => {
        $(impl Kept for $type {
            fn put(&self, out: &mut Vec<u8>) {
                (*self as u64).put(out);
            }

            fn take(from: &mut Bytes<'_>) -> Option<Self> {
                u64::take(from)?.try_into().ok()
            }
        })*
    };
}

whole! { u8 u16 u32 usize }

impl Kept for i64 {
    /// The sign goes last, so that small numbers stay short.
    fn put(&self, out: &mut Vec<u8>) {
        ((*self << 1) ^ (*self >> 63)).cast_unsigned().put(out);
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        let value = u64::take(from)?;
        Some((value >> 1).cast_signed() ^ -(value & 1).cast_signed())
    }
}

impl Kept for f64 {
    fn put(&self, out: &mut Vec<u8>) {
        out.extend_from_slice(&self.to_le_bytes());
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        let bytes = from.split(size_of::<Self>())?;
        Some(Self::from_le_bytes(bytes.try_into().ok()?))
    }
}

impl Kept for bool {
    fn put(&self, out: &mut Vec<u8>) {
        out.push(u8::from(*self));
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        match from.byte()? {
            0 => Some(false),
            1 => Some(true),
            _ => None,
        }
    }
}

impl Kept for String {
    fn put(&self, out: &mut Vec<u8>) {
        put_text(self, out);
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        take_text(from).map(str::to_owned)
    }
}

/// Appends a text.
pub fn put_text(text: &str, out: &mut Vec<u8>) {
    text.len().put(out);
    out.extend_from_slice(text.as_bytes());
}

/// Takes a text.
pub fn take_text<'a>(from: &mut Bytes<'a>) -> Option<&'a str> {
    let count = from.count()?;
    std::str::from_utf8(from.split(count)?).ok()
}

impl<T: Kept> Kept for Option<T> {
    fn put(&self, out: &mut Vec<u8>) {
        self.is_some().put(out);
        if let Some(value) = self {
            value.put(out);
        }
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        if bool::take(from)? {
            return T::take(from).map(Some);
        }
        Some(None)
    }
}

impl<T: Kept> Kept for Arc<T> {
    fn put(&self, out: &mut Vec<u8>) {
        T::put(self, out);
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        T::take(from).map(Self::new)
    }
}

impl<T: Kept> Kept for Vec<T> {
    fn put(&self, out: &mut Vec<u8>) {
        self.len().put(out);
        for value in self {
            value.put(out);
        }
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        let count = from.count()?;
        (0..count).map(|_| T::take(from)).collect()
    }
}

impl<K: Kept + Ord, V: Kept> Kept for BTreeMap<K, V> {
    fn put(&self, out: &mut Vec<u8>) {
        self.len().put(out);
        for (key, value) in self {
            key.put(out);
            value.put(out);
        }
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        let count = from.count()?;
        let pair = |from: &mut Bytes<'_>| Some((K::take(from)?, V::take(from)?));
        (0..count).map(|_| pair(from)).collect()
    }
}

impl<A: Kept, B: Kept> Kept for (A, B) {
    fn put(&self, out: &mut Vec<u8>) {
        self.0.put(out);
        self.1.put(out);
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        Some((A::take(from)?, B::take(from)?))
    }
}

/// Keeps structs by all of their fields: one that is missing here does not compile.
macro_rules! kept_struct {
    ($($type:ty { $($field:ident),+ $(,)? })+) => {
        $(impl Kept for $type {
            fn put(&self, out: &mut Vec<u8>) {
                let Self { $($field),+ } = self;
                $($field.put(out);)+
            }

            fn take(from: &mut Bytes<'_>) -> Option<Self> {
                Some(Self { $($field: Kept::take(from)?),+ })
            }
        })+
    };
}

/// Keeps enums by the place of the variant in the list here, and what it carries.
macro_rules! kept_enum {
    ($($type:ty { $($tag:literal $variant:ident $body:tt [$($field:ident)*]),+ $(,)? })+) => {
        $(impl Kept for $type {
            fn put(&self, out: &mut Vec<u8>) {
                match self {
                    $(Self::$variant $body => {
                        out.push($tag);
                        $($field.put(out);)*
                    })+
                }
            }

            fn take(from: &mut Bytes<'_>) -> Option<Self> {
                Some(match u8::take(from)? {
                    $($tag => {
                        $(let $field = Kept::take(from)?;)*
                        Self::$variant $body
                    })+
                    _ => return None,
                })
            }
        })+
    };
}

/// Keeps enums that carry nothing.
macro_rules! kept_names {
    ($($type:ty { $($variant:ident),+ $(,)? })+) => {
        $(impl Kept for $type {
            fn put(&self, out: &mut Vec<u8>) {
                let all = [$(Self::$variant),+];
                match self {
                    $(Self::$variant)|+ => {}
                }
                let place = all.iter().position(|one| one == self);
                place.unwrap_or(all.len()).put(out);
            }

            fn take(from: &mut Bytes<'_>) -> Option<Self> {
                let all = [$(Self::$variant),+];
                all.get(usize::take(from)?).copied()
            }
        })+
    };
}

pub(super) use {kept_enum, kept_names, kept_struct};
