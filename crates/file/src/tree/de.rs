//! Reads serde's structures from the tree, and says where it failed.
//!
//! Running the same structures as for good files means that there is no second list of keys.

use std::fmt;

use serde::de::{self, DeserializeSeed, Deserializer, IntoDeserializer, Visitor};
use serde::forward_to_deserialize_any;

use super::{Entry, Kind, Node};
use crate::problem::Step;

/// What serde found wrong, and where.
#[derive(Debug)]
pub(crate) struct Fault {
    pub(crate) kind: FaultKind,
    /// From the root, innermost step last.
    pub(crate) path: Vec<Step>,
}

/// What serde found wrong.
#[derive(Debug)]
pub(crate) enum FaultKind {
    /// A key that is not among these.
    UnknownKey(&'static [&'static str]),
    /// A key that stands there twice. serde notices behind the key, so the path does not have it.
    DoubledKey(&'static str),
    /// A value of another shape.
    Shape(String),
}

impl Fault {
    fn new(kind: FaultKind) -> Self {
        Self { kind, path: Vec::new() }
    }

    /// Puts a step in front of the path.
    fn under(mut self, step: Step) -> Self {
        self.path.insert(0, step);
        self
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.kind {
            FaultKind::UnknownKey(_) => f.write_str("unknown key"),
            FaultKind::DoubledKey(_) => f.write_str("this key stands here twice"),
            FaultKind::Shape(says) => f.write_str(says),
        }
    }
}

impl std::error::Error for Fault {}

impl de::Error for Fault {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self::new(FaultKind::Shape(message.to_string()))
    }

    fn unknown_field(_: &str, expected: &'static [&'static str]) -> Self {
        Self::new(FaultKind::UnknownKey(expected))
    }

    fn duplicate_field(key: &'static str) -> Self {
        Self::new(FaultKind::DoubledKey(key))
    }

    fn invalid_type(unexpected: de::Unexpected<'_>, expected: &dyn de::Expected) -> Self {
        let found = match unexpected {
            de::Unexpected::Map => "a table",
            de::Unexpected::Seq => "a list",
            de::Unexpected::Bool(_) => "true or false",
            de::Unexpected::Float(_) => "a number",
            de::Unexpected::Str(_) => "a text",
            de::Unexpected::Option => "null",
            de::Unexpected::Other(what) => what,
            _ => "something else",
        };
        Self::new(FaultKind::Shape(format!("this is {found}, but it takes {expected}")))
    }

    fn invalid_length(length: usize, expected: &dyn de::Expected) -> Self {
        Self::new(FaultKind::Shape(format!("items in this list: {length}, but it takes {expected}")))
    }
}

/// Reads a value from the tree.
pub(crate) fn deserialize<'t, T: de::Deserialize<'t>>(node: &'t Node) -> Result<T, Fault> {
    T::deserialize(node)
}

impl<'de> Deserializer<'de> for &'de Node {
    type Error = Fault;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match &self.kind {
            Kind::Table(entries) => visitor.visit_map(Table { entries: entries.iter(), value: None }),
            Kind::List(items) => {
                let mut list = List { items: items.iter().enumerate() };
                let value = visitor.visit_seq(&mut list)?;
                match list.items.len() {
                    0 => Ok(value),
                    _ => Err(de::Error::invalid_length(items.len(), &"a shorter list")),
                }
            }
            Kind::Text(text) => visitor.visit_borrowed_str(text),
            Kind::Number(number) => visitor.visit_f64(*number),
            Kind::Bool(value) => visitor.visit_bool(*value),
            Kind::Null => visitor.visit_none(),
            Kind::Other(what) => Err(de::Error::invalid_type(de::Unexpected::Other(what), &visitor)),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.kind {
            Kind::Null => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit
        unit_struct newtype_struct seq tuple tuple_struct map struct enum identifier ignored_any
    }
}

struct Table<'t> {
    entries: std::slice::Iter<'t, Entry>,
    value: Option<&'t Entry>,
}

impl<'t> de::MapAccess<'t> for Table<'t> {
    type Error = Fault;

    fn next_key_seed<K: DeserializeSeed<'t>>(&mut self, seed: K) -> Result<Option<K::Value>, Fault> {
        let Some(entry) = self.entries.next() else { return Ok(None) };
        self.value = Some(entry);
        let key = de::value::BorrowedStrDeserializer::<Fault>::new(&entry.key);
        seed.deserialize(key.into_deserializer()).map(Some).map_err(|fault| fault.under(Step::Key(entry.key.clone())))
    }

    fn next_value_seed<V: DeserializeSeed<'t>>(&mut self, seed: V) -> Result<V::Value, Fault> {
        let Some(entry) = self.value.take() else { return Err(de::Error::custom("a key without a value")) };
        seed.deserialize(&entry.value).map_err(|fault| fault.under(Step::Key(entry.key.clone())))
    }
}

struct List<'t> {
    items: std::iter::Enumerate<std::slice::Iter<'t, Node>>,
}

impl<'t> de::SeqAccess<'t> for List<'t> {
    type Error = Fault;

    fn next_element_seed<T: DeserializeSeed<'t>>(&mut self, seed: T) -> Result<Option<T::Value>, Fault> {
        let Some((index, item)) = self.items.next() else { return Ok(None) };
        seed.deserialize(item).map(Some).map_err(|fault| fault.under(Step::Index(index)))
    }
}
