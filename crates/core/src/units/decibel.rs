//! Ratios in decibels.

use core::ops::{Add, Neg, Sub};

super::quantity!(
    /// A power ratio in decibels: positive is gain (or, where a loss is asked, loss).
    ///
    /// ```
    /// use legwork::Db;
    /// let loss = Db::new(3.5)? + Db::new(0.1)?;
    /// assert!((loss.db() - 3.6).abs() < 1e-6);
    /// assert!(Db::new(f32::NAN).is_err());
    /// # Ok::<(), legwork::Error>(())
    /// ```
    Db, "ratio (dB)", -300.0, 300.0, db
);

impl Db {
    /// No gain, no loss.
    pub const ZERO: Self = Self(0.0);

    /// The power ratio 10^(dB/10).
    ///
    /// ```
    /// # use legwork::Db;
    /// assert!((Db::new(10.0)?.power_ratio() - 10.0).abs() < 1e-5);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    #[must_use]
    pub fn power_ratio(self) -> f32 {
        libm::powf(10.0, self.0 / 10.0)
    }

    /// The decibels of a power ratio, 10*log10(ratio).
    ///
    /// # Errors
    /// [`Error::OutOfRange`](crate::Error::OutOfRange) for a ratio that is not above zero or beyond ±300 dB.
    pub fn from_power_ratio(ratio: f32) -> Result<Self, crate::Error> {
        if ratio > 0.0 {
            Self::new(10.0 * libm::log10f(ratio))
        } else {
            Err(crate::Error::OutOfRange { what: "power ratio" })
        }
    }
}

impl Add for Db {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Db {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Db {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
