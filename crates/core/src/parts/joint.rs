//! Connector pairs and barrels.

use crate::{Band, Curve, Db, Ohms};

/// A joint: a connector pair or a barrel. It passes DC.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint<'s> {
    /// Loss over frequency.
    pub loss: Curve<'s>,
    /// Plus or minus, in dB.
    pub spread: Db,
    /// DC resistance, there and back.
    pub dc_ohms: Ohms,
    /// Where its maker vouches for it.
    pub band: Option<Band>,
}
