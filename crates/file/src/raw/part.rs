//! One `[[part]]`: an id, a port, and a key that says what kind it is.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, MapAccess, Visitor};

use super::{List, Scalar};

/// What kind of part; its name is the key in the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A run of cable.
    Cable,
    /// A splitter.
    Splitter,
    /// A directional coupler.
    Coupler,
    /// An equalizer.
    Equalizer,
    /// A filter.
    Filter,
    /// An amplifier.
    Amplifier,
    /// A DC power inserter.
    Inserter,
    /// A grounding block.
    Bond,
    /// A connector pair or barrel.
    Joint,
    /// A pad.
    Pad,
}

impl Kind {
    /// Every kind with its key.
    pub const ALL: [(Self, &'static str); 10] = [
        (Self::Cable, "cable"),
        (Self::Splitter, "splitter"),
        (Self::Coupler, "coupler"),
        (Self::Equalizer, "equalizer"),
        (Self::Filter, "filter"),
        (Self::Amplifier, "amplifier"),
        (Self::Inserter, "inserter"),
        (Self::Bond, "bond"),
        (Self::Joint, "joint"),
        (Self::Pad, "pad"),
    ];

    /// Its key.
    #[must_use]
    pub fn key(self) -> &'static str {
        Self::ALL.iter().find(|(kind, _)| *kind == self).map_or("part", |(_, key)| key)
    }
}

/// A part as the file has it. The ten kinds exclude each other, so one place keeps the one that
/// stands there: half a kilobyte less to move for each part than a field a kind.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Part<'a> {
    /// Its id.
    pub id: Option<Scalar<'a>>,
    /// The port it hangs on.
    pub after: Option<Scalar<'a>>,
    /// Its kind and spec.
    pub kind: Option<(Kind, Scalar<'a>)>,
    /// A second kind: one too many.
    pub second_kind: Option<Kind>,
    /// A cable's length.
    pub length: Option<Scalar<'a>>,
    /// A cable's place.
    pub place: Option<Scalar<'a>>,
    /// A bond's conductor.
    pub conductor: Option<Scalar<'a>>,
    /// Its length.
    pub conductor_length: Option<Scalar<'a>>,
    /// Ways out with a terminator.
    pub terminated: Option<List<Scalar<'a>>>,
}

/// Every key of a part.
const KEYS: &[&str] = &[
    "id",
    "after",
    "cable",
    "splitter",
    "coupler",
    "equalizer",
    "filter",
    "amplifier",
    "inserter",
    "bond",
    "joint",
    "pad",
    "length",
    "place",
    "conductor",
    "conductor_length",
    "terminated",
];

/// A key of a part.
enum Key {
    Id,
    After,
    Kind(Kind),
    Length,
    Place,
    Conductor,
    ConductorLength,
    Terminated,
}

struct KeyVisitor;

impl Visitor<'_> for KeyVisitor {
    type Value = Key;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a key of a part")
    }

    fn visit_str<E: Error>(self, key: &str) -> Result<Key, E> {
        Ok(match key {
            "id" => Key::Id,
            "after" => Key::After,
            "length" => Key::Length,
            "place" => Key::Place,
            "conductor" => Key::Conductor,
            "conductor_length" => Key::ConductorLength,
            "terminated" => Key::Terminated,
            _ => match Kind::ALL.iter().find(|(_, name)| *name == key) {
                Some((kind, _)) => Key::Kind(*kind),
                None => return Err(E::unknown_field(key, KEYS)),
            },
        })
    }
}

impl<'de> Deserialize<'de> for Key {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_identifier(KeyVisitor)
    }
}

struct PartVisitor;

impl<'de> Visitor<'de> for PartVisitor {
    type Value = Part<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a table")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Part<'de>, A::Error> {
        fn once<T, E: Error>(slot: &mut Option<T>, value: T, key: &'static str) -> Result<(), E> {
            if slot.replace(value).is_some() { Err(E::duplicate_field(key)) } else { Ok(()) }
        }
        let mut part = Part::default();
        while let Some(key) = map.next_key()? {
            match key {
                Key::Id => once(&mut part.id, map.next_value()?, "id")?,
                Key::After => once(&mut part.after, map.next_value()?, "after")?,
                Key::Length => once(&mut part.length, map.next_value()?, "length")?,
                Key::Place => once(&mut part.place, map.next_value()?, "place")?,
                Key::Conductor => once(&mut part.conductor, map.next_value()?, "conductor")?,
                Key::ConductorLength => once(&mut part.conductor_length, map.next_value()?, "conductor_length")?,
                Key::Terminated => once(&mut part.terminated, map.next_value()?, "terminated")?,
                Key::Kind(kind) => match part.kind {
                    None => part.kind = Some((kind, map.next_value()?)),
                    Some((first, _)) if first == kind => return Err(A::Error::duplicate_field(kind.key())),
                    Some(_) => {
                        let _: Scalar<'_> = map.next_value()?;
                        part.second_kind = Some(kind);
                    }
                },
            }
        }
        Ok(part)
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for Part<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_struct("Part", KEYS, PartVisitor)
    }
}
