//! One value, or a list: a quantity over frequency, or a range.

use std::fmt;
use std::marker::PhantomData;

use serde::de::{Deserialize, Deserializer, Error, SeqAccess, Visitor};

use super::Scalar;
use super::list::items;

/// One value, or a list.
#[derive(Clone, Debug, PartialEq)]
pub enum OneOrMany<'a, T> {
    /// One value.
    One(Scalar<'a>),
    /// A list.
    Many(Vec<T>),
}

/// A quantity over frequency: one value, or points `[frequency, value]`.
pub type Curve<'a> = OneOrMany<'a, [Scalar<'a>; 2]>;

/// A range `[lowest, highest]`, or one word.
pub type Window<'a> = OneOrMany<'a, Scalar<'a>>;

struct Either<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for Either<T> {
    type Value = OneOrMany<'de, T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("one value, or a list")
    }

    fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Self::Value, E> {
        Ok(OneOrMany::One(Scalar::Borrowed(text)))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Self::Value, E> {
        Ok(OneOrMany::One(Scalar::Owned(text.into())))
    }

    fn visit_string<E: Error>(self, text: String) -> Result<Self::Value, E> {
        Ok(OneOrMany::One(Scalar::Owned(text.into())))
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Self::Value, E> {
        Ok(OneOrMany::One(Scalar::Number(number as f64)))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Self::Value, E> {
        Ok(OneOrMany::One(Scalar::Number(number as f64)))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Self::Value, E> {
        Ok(OneOrMany::One(Scalar::Number(number)))
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Self::Value, E> {
        Ok(OneOrMany::One(Scalar::Bool(value)))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, seq: A) -> Result<Self::Value, A::Error> {
        items(seq).map(OneOrMany::Many)
    }
}

impl<'de: 'a, 'a, T: Deserialize<'de>> Deserialize<'de> for OneOrMany<'a, T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Either(PhantomData))
    }
}
