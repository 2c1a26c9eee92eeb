//! The grounding block that bonds the shield.

use crate::{Awg, Band, Curve, Db, Length, Ohms};

/// A grounding block. It passes DC on the centre conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bond<'s> {
    /// Loss over frequency.
    pub loss: Curve<'s>,
    /// Plus or minus, in dB.
    pub spread: Db,
    /// DC resistance, there and back.
    pub dc_ohms: Ohms,
    /// Where its maker vouches for it.
    pub band: Option<Band>,
}

/// The conductor from a grounding block to the building's electrode, as far as it is known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Conductor {
    /// Its size.
    pub size: Option<Awg>,
    /// Its length.
    pub length: Option<Length>,
}
