//! Frequencies.

super::quantity!(
    /// A frequency, or a bandwidth, in MHz, above zero.
    ///
    /// ```
    /// # use legwork::Frequency;
    /// assert_eq!(Frequency::new(57.0)?.mhz(), 57.0);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    Frequency, "frequency (MHz)", 1e-6, 1e6, mhz
);
