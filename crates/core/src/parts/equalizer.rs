//! Cable equalizers.

use crate::{Band, Curve, Db, Ohms};

/// An equalizer: loses most where cable loses least.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Equalizer<'s> {
    /// Loss over frequency.
    pub loss: Curve<'s>,
    /// Plus or minus, in dB.
    pub spread: Db,
    /// Its DC resistance, where it passes DC.
    pub dc: Option<Ohms>,
    /// Where its maker vouches for it.
    pub band: Option<Band>,
}
