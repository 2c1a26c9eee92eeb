//! One value that is neither a list nor a table.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, Visitor};

/// A scalar as the file has it. Whether a number was meant as a text or the other way round is
/// for the one who asks to say, so that `length = 85` is answered with the units it lacks.
#[derive(Clone, Debug, PartialEq)]
pub enum Scalar<'a> {
    /// A text that stands in the source as it is.
    Borrowed(&'a str),
    /// A text that had to be unescaped.
    Owned(Box<str>),
    /// A bare number.
    Number(f64),
    /// True or false.
    Bool(bool),
}

impl<'a> Scalar<'a> {
    /// The text, if it is one.
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        match self {
            Self::Borrowed(text) => Some(text),
            Self::Owned(text) => Some(text),
            _ => None,
        }
    }
}

impl fmt::Display for Scalar<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Borrowed(text) => f.write_str(text),
            Self::Owned(text) => f.write_str(text),
            Self::Number(number) => write!(f, "{number}"),
            Self::Bool(value) => write!(f, "{value}"),
        }
    }
}

/// Takes a scalar of any kind.
struct Any;

impl<'de> Visitor<'de> for Any {
    type Value = Scalar<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("one value: a text, a number, true or false")
    }

    fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Self::Value, E> {
        Ok(Scalar::Borrowed(text))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Self::Value, E> {
        Ok(Scalar::Owned(text.into()))
    }

    fn visit_string<E: Error>(self, text: String) -> Result<Self::Value, E> {
        Ok(Scalar::Owned(text.into()))
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Self::Value, E> {
        Ok(Scalar::Number(number as f64))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Self::Value, E> {
        Ok(Scalar::Number(number as f64))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Self::Value, E> {
        Ok(Scalar::Number(number))
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Self::Value, E> {
        Ok(Scalar::Bool(value))
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for Scalar<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Any)
    }
}
