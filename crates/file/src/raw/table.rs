//! Tables that are read from tables alone.
//!
//! serde takes a list for a structure, its items in the order of the fields: `["57 MHz", "861 MHz", "6 MHz"]`
//! would be a block of carriers. In a premises file a table is a table.

use std::fmt;
use std::marker::PhantomData;

use serde::de::value::MapAccessDeserializer;
use serde::de::{Deserializer, Error, MapAccess, Visitor};
use serde::forward_to_deserialize_any;

use crate::tree::{Fault, FaultKind};

/// A structure with the reading that serde derives for it.
pub(super) trait Table<'de>: Sized {
    /// Reads its keys.
    ///
    /// # Errors
    /// Those of serde.
    fn read<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error>;
}

struct Only<T>(PhantomData<T>);

impl<'de, T: Table<'de>> Visitor<'de> for Only<T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match T::read(Asked) {
            Err(Fault { kind: FaultKind::UnknownKey(keys), .. }) => write!(f, "a table of {}", keys.join(", ")),
            _ => f.write_str("a table"),
        }
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<T, A::Error> {
        T::read(MapAccessDeserializer::new(map))
    }
}

/// Has nothing to read: who asks is answered with the keys asked for, so that there is no second list of them.
struct Asked;

impl<'de> Deserializer<'de> for Asked {
    type Error = Fault;

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        keys: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Fault> {
        Err(Fault::unknown_field("", keys))
    }

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        visitor.visit_none()
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit
        unit_struct newtype_struct seq tuple tuple_struct map enum identifier ignored_any
    }
}

/// Reads a table, and nothing but a table.
///
/// # Errors
/// Those of its keys, and one for anything else.
pub(super) fn only<'de, T: Table<'de>, D: Deserializer<'de>>(deserializer: D) -> Result<T, D::Error> {
    deserializer.deserialize_map(Only(PhantomData))
}

/// Lets structures that derive `Deserialize` with `remote = "Self"` be read from tables alone.
macro_rules! tables {
    ($($name:ident),* $(,)?) => { $(
        impl<'de: 'a, 'a> $crate::raw::table::Table<'de> for $name<'a> {
            fn read<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                // The derived function: it goes before the trait's below.
                Self::deserialize(deserializer)
            }
        }

        impl<'de: 'a, 'a> serde::Deserialize<'de> for $name<'a> {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                $crate::raw::table::only(deserializer)
            }
        }
    )* };
}
pub(super) use tables;
