//! One value, or a list: a quantity over frequency, or a range.

use std::fmt;
use std::marker::PhantomData;

use serde::de::{Deserialize, Deserializer, Error, IgnoredAny, SeqAccess, Visitor};

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

/// A quantity over frequency: one value, or points.
pub type Curve<'a> = OneOrMany<'a, Pair<'a>>;

/// A point: a frequency and a value. Not an array of two, of which some formats drop the third item.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair<'a> {
    /// The frequency.
    pub at: Scalar<'a>,
    /// The value there.
    pub value: Scalar<'a>,
}

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

struct Two;

impl<'de> Visitor<'de> for Two {
    type Value = Pair<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a pair [\"frequency\", \"value\"]")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Self::Value, A::Error> {
        let at = seq.next_element()?.ok_or_else(|| A::Error::invalid_length(0, &self))?;
        let value = seq.next_element()?.ok_or_else(|| A::Error::invalid_length(1, &self))?;
        match seq.next_element::<IgnoredAny>()? {
            None => Ok(Pair { at, value }),
            Some(_) => Err(A::Error::invalid_length(3, &self)),
        }
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for Pair<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_seq(Two)
    }
}

impl<'de: 'a, 'a, T: Deserialize<'de>> Deserialize<'de> for OneOrMany<'a, T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Either(PhantomData))
    }
}
