//! Tables whose keys are names of the file's own.

use std::fmt;
use std::marker::PhantomData;

use serde::de::{Deserialize, Deserializer, Error, MapAccess, Visitor};

use super::Scalar;

/// More names than a home has parts name nothing.
const MOST_NAMES: usize = 1024;

/// A table from names to values, in the order of the file. A home has a handful, so a list is
/// faster than any map.
#[derive(Clone, Debug, PartialEq)]
pub struct Named<'a, T>(pub Vec<(Scalar<'a>, T)>);

impl<T> Default for Named<'_, T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

struct Entries<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for Entries<T> {
    type Value = Named<'de, T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a table of named specs")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut entries = Vec::new();
        while let Some(name) = map.next_key()? {
            if entries.len() == MOST_NAMES {
                return Err(A::Error::custom(format_args!("a table holds at most {MOST_NAMES} names")));
            }
            entries.push((name, map.next_value()?));
        }
        Ok(Named(entries))
    }
}

impl<'de: 'a, 'a, T: Deserialize<'de>> Deserialize<'de> for Named<'a, T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(Entries(PhantomData))
    }
}
