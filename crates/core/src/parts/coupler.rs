//! Directional couplers.

use crate::{Band, Curve, Db, Ohms};

/// A directional coupler: most goes through, a little to the tap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coupler<'s> {
    /// Loss from the input to the tap.
    pub tap: Curve<'s>,
    /// Loss from the input to the way through.
    pub through: Curve<'s>,
    /// Plus or minus, in dB, on both.
    pub spread: Db,
    /// Loss from the tap to the way through.
    pub isolation: Curve<'s>,
    /// Whether the way through passes DC.
    pub dc_through: bool,
    /// Whether the tap passes DC.
    pub dc_tap: bool,
    /// DC resistance from the input to a way that passes.
    pub dc_ohms: Ohms,
    /// Where its maker vouches for it.
    pub band: Option<Band>,
}
