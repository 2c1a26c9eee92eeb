//! Filters.

use crate::{Band, Curve, Db, Ohms};

/// A filter, such as the one at the entry that keeps a home network in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Filter<'s> {
    /// Loss over frequency.
    pub loss: Curve<'s>,
    /// Plus or minus, in dB.
    pub spread: Db,
    /// The band it sends back to where it came from.
    pub reflects: Option<Band>,
    /// Its DC resistance, where it passes DC.
    pub dc: Option<Ohms>,
    /// Where its maker vouches for it.
    pub band: Option<Band>,
}
