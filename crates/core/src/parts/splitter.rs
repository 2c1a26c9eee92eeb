//! Splitters.

use crate::{Band, Curve, Db, Ohms};

/// What each leg of a splitter loses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Legs<'s> {
    /// This many legs, all alike.
    Alike(u8, Curve<'s>),
    /// One loss a leg.
    Each(&'s [Curve<'s>]),
}

/// A splitter: one way in, several ways out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Splitter<'s> {
    /// The legs and their loss.
    pub legs: Legs<'s>,
    /// Plus or minus, in dB.
    pub spread: Db,
    /// Loss from one leg to another.
    pub isolation: Curve<'s>,
    /// The legs that pass DC to the input: bit 0 is leg 1.
    pub dc_pass: u16,
    /// DC resistance from the input to a leg that passes.
    pub dc_ohms: Ohms,
    /// Where its maker vouches for it.
    pub band: Option<Band>,
}

impl<'s> Splitter<'s> {
    /// The most legs.
    pub const MAX_LEGS: u8 = 16;

    /// How many legs.
    #[must_use]
    pub const fn count(&self) -> u8 {
        let count = match self.legs {
            Legs::Alike(count, _) => count as usize,
            Legs::Each(legs) => legs.len(),
        };
        if count < Self::MAX_LEGS as usize { count as u8 } else { Self::MAX_LEGS }
    }

    /// Loss from the input to a leg; the first is number 0.
    #[must_use]
    pub fn loss(&self, leg: u8) -> Option<&Curve<'s>> {
        match &self.legs {
            Legs::Alike(count, loss) => (leg < *count).then_some(loss),
            Legs::Each(legs) => legs.get(leg as usize),
        }
    }
}
