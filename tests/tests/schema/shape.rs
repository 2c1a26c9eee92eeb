//! Shapes that many keys share: curves, ranges, and words in place of a figure.
#![allow(dead_code, reason = "only their shape is used")]

use schemars::JsonSchema;

use super::quantity::{Frequency, Level};

/// Points over frequency, which rises
#[derive(JsonSchema)]
#[schemars(rename = "{T}Points")]
pub(crate) struct Points<T>(#[schemars(length(min = 1))] Vec<(Frequency, T)>);

/// One value, or points over frequency
#[derive(JsonSchema)]
#[schemars(untagged, rename = "{T}Curve")]
pub(crate) enum Curve<T> {
    /// The same at every frequency
    One(T),
    /// Points [frequency, value], rising in frequency
    Many(Points<T>),
}

/// Lowest and highest
pub(crate) type Range<T> = (T, T);

/// The word that stands for no limit
#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
pub(crate) enum Unchecked {
    /// It is not checked
    None,
}

/// A figure, or "none"
#[derive(JsonSchema)]
#[schemars(untagged, rename = "{T}OrNone")]
pub(crate) enum OrNone<T> {
    Figure(T),
    None(Unchecked),
}

/// Lowest and highest, either of them or both "none"
#[derive(JsonSchema)]
#[schemars(untagged)]
pub(crate) enum Window {
    Ends(Range<OrNone<Level>>),
    None(Unchecked),
}

/// A way out of a part, by its number or its name
#[derive(JsonSchema)]
#[schemars(untagged)]
pub(crate) enum Way {
    Number(#[schemars(range(min = 1))] u16),
    Name(String),
}
