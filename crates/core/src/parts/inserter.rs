//! DC power inserters.

use crate::{Band, Curve, Db, Ohms};

/// A DC power inserter: brings DC onto the coax towards its input and keeps it off its RF way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inserter<'s> {
    /// Loss from the input to the RF way out.
    pub loss: Curve<'s>,
    /// Plus or minus, in dB.
    pub spread: Db,
    /// DC resistance from the DC port to the input.
    pub dc_ohms: Ohms,
    /// Where its maker vouches for it.
    pub band: Option<Band>,
}
