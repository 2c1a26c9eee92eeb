//! Lists that stay small.

use std::fmt;
use std::marker::PhantomData;
use std::ops::Deref;

use serde::de::{Deserialize, Deserializer, Error, SeqAccess, Visitor};

/// More items than this make no list of a home, and their structures could be a hundred times
/// larger than their text.
const MOST_ITEMS: usize = 20_000;

/// A list of at most twenty thousand items.
#[derive(Clone, Debug, PartialEq)]
pub struct List<T>(pub Vec<T>);

impl<T> Default for List<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T> Deref for List<T> {
    type Target = [T];
    fn deref(&self) -> &[T] {
        &self.0
    }
}

/// Takes the items of a list.
///
/// # Errors
/// Those of the items, and one for too many of them.
pub(super) fn items<'de, T: Deserialize<'de>, A: SeqAccess<'de>>(mut seq: A) -> Result<Vec<T>, A::Error> {
    // A list of small things begins with room for eight, one of parts with room for a whole home.
    let room = if size_of::<T>() > 128 { 32 } else { 8 };
    let mut list = Vec::new();
    while let Some(item) = seq.next_element()? {
        if list.is_empty() {
            list.reserve_exact(room);
        }
        if list.len() == MOST_ITEMS {
            return Err(A::Error::custom(format_args!("a list holds at most {MOST_ITEMS} items")));
        }
        list.push(item);
    }
    Ok(list)
}

struct Items<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for Items<T> {
    type Value = List<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, seq: A) -> Result<List<T>, A::Error> {
        items(seq).map(List)
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for List<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_seq(Items(PhantomData))
    }
}

impl<'l, T> IntoIterator for &'l List<T> {
    type Item = &'l T;
    type IntoIter = std::slice::Iter<'l, T>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}
