//! Temperatures.

super::quantity!(
    /// A temperature in degrees Celsius.
    Temperature, "temperature (C)", -100.0, 200.0, celsius
);

impl Temperature {
    /// Where cable tables and resistances are given: 20 C, 68 F.
    pub const REFERENCE: Self = Self(20.0);

    /// From degrees Fahrenheit, (F - 32)/1.8.
    ///
    /// ```
    /// # use legwork::Temperature;
    /// assert_eq!(Temperature::from_fahrenheit(68.0)?.celsius(), 20.0);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`new`](Self::new), after the conversion.
    pub const fn from_fahrenheit(fahrenheit: f32) -> Result<Self, crate::Error> {
        Self::new((fahrenheit - 32.0) / 1.8)
    }
}
