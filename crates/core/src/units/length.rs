//! Lengths.

/// One foot is 0.3048 m exactly (international foot of 1959).
pub const METRES_PER_FOOT: f32 = 0.3048;

super::quantity!(
    /// A length in metres, not negative.
    ///
    /// ```
    /// # use legwork::Length;
    /// assert!((Length::from_feet(100.0)?.metres() - 30.48).abs() < 1e-4);
    /// assert!(Length::new(-1.0).is_err());
    /// # Ok::<(), legwork::Error>(())
    /// ```
    Length, "length (m)", 0.0, 1e6, metres
);

impl Length {
    /// From feet.
    ///
    /// # Errors
    /// As [`new`](Self::new), after the conversion.
    pub const fn from_feet(feet: f32) -> Result<Self, crate::Error> {
        Self::new(feet * METRES_PER_FOOT)
    }

    /// In feet.
    #[must_use]
    pub fn feet(self) -> f32 {
        self.0 / METRES_PER_FOOT
    }
}
