//! Signal levels in 75 ohm.

use core::ops::{Add, Sub};

use super::{Db, Volts, Watts};

/// 0 dBmV in 75 ohm is (1 mV)²/75 ohm = 13.333 nW = -48.7506 dBm.
const DBMV_PER_DBM: f32 = 48.750_61;
/// 1 mV = 60 dB above 1 uV.
const DBMV_TO_DBUV: f32 = 60.0;
/// The impedance of the whole trade, in ohm.
const IMPEDANCE: f32 = 75.0;

super::quantity!(
    /// A signal level in dBmV: decibels above one millivolt in 75 ohm.
    ///
    /// ```
    /// use legwork::{Db, Level};
    /// let outlet = Level::new(12.0)? - Db::new(3.5)?;
    /// assert_eq!(outlet.dbmv(), 8.5);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    ///
    /// Two levels have no sum:
    /// ```compile_fail
    /// # use legwork::Level;
    /// let nonsense = Level::constant(3.0) + Level::constant(4.0);
    /// ```
    Level, "level (dBmV)", -300.0, 300.0, dbmv
);

impl Level {
    /// The level in dBuV: 60 more than in dBmV.
    #[must_use]
    pub fn dbuv(self) -> f32 {
        self.0 + DBMV_TO_DBUV
    }

    /// The level in dBm in 75 ohm: 48.7506 less than in dBmV.
    #[must_use]
    pub fn dbm(self) -> f32 {
        self.0 - DBMV_PER_DBM
    }

    /// From dBuV.
    ///
    /// # Errors
    /// As [`new`](Self::new), after the conversion.
    pub const fn from_dbuv(dbuv: f32) -> Result<Self, crate::Error> {
        Self::new(dbuv - DBMV_TO_DBUV)
    }

    /// From dBm in 75 ohm.
    ///
    /// # Errors
    /// As [`new`](Self::new), after the conversion.
    pub const fn from_dbm(dbm: f32) -> Result<Self, crate::Error> {
        Self::new(dbm + DBMV_PER_DBM)
    }

    /// The root-mean-square voltage, 10^(dBmV/20) mV.
    ///
    /// ```
    /// # use legwork::Level;
    /// // +20 dBmV is 10 mV (Broadband Library, "Total power and power spectral density").
    /// assert!((Level::new(20.0)?.volts() - 0.010).abs() < 1e-8);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    #[must_use]
    pub fn volts(self) -> f32 {
        1e-3 * libm::powf(10.0, self.0 / 20.0)
    }

    /// The power in 75 ohm in watts, V²/75.
    #[must_use]
    pub fn watts(self) -> f32 {
        libm::powf(10.0, self.0 / 10.0) * (1e-6 / IMPEDANCE)
    }

    /// The level of a root-mean-square voltage, 20*log10(V / 1 mV).
    ///
    /// # Errors
    /// [`Error::OutOfRange`](crate::Error::OutOfRange) where the voltage is not above zero.
    pub fn from_volts(volts: Volts) -> Result<Self, crate::Error> {
        if volts.volts() > 0.0 {
            Self::new(20.0 * libm::log10f(volts.volts()) + 60.0)
        } else {
            Err(crate::Error::OutOfRange { what: "level (V)" })
        }
    }

    /// The level of a power in 75 ohm, 10*log10(P / 13.333 nW).
    ///
    /// # Errors
    /// [`Error::OutOfRange`](crate::Error::OutOfRange) where the power is not above zero.
    pub fn from_watts(watts: Watts) -> Result<Self, crate::Error> {
        if watts.watts() > 0.0 {
            Self::new(10.0 * libm::log10f(watts.watts()) + 30.0 + DBMV_PER_DBM)
        } else {
            Err(crate::Error::OutOfRange { what: "level (W)" })
        }
    }

    /// The level of two powers together, 10*log10(10^(a/10) + 10^(b/10)).
    ///
    /// Worked from the larger, so it neither overflows nor loses the smaller one.
    ///
    /// ```
    /// # use legwork::Level;
    /// let two = Level::new(10.0)?.power_sum(Level::new(10.0)?);
    /// assert!((two.dbmv() - 13.0103).abs() < 1e-4);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    pub fn power_sum(self, other: Self) -> Self {
        let (high, low) = if self.0 > other.0 { (self.0, other.0) } else { (other.0, self.0) };
        Self(high + 10.0 * libm::log10f(1.0 + libm::powf(10.0, (low - high) / 10.0)))
    }
}

impl Add<Db> for Level {
    type Output = Self;
    fn add(self, gain: Db) -> Self {
        Self(self.0 + gain.db())
    }
}

impl Sub<Db> for Level {
    type Output = Self;
    fn sub(self, loss: Db) -> Self {
        Self(self.0 - loss.db())
    }
}

impl Sub for Level {
    type Output = Db;
    fn sub(self, other: Self) -> Db {
        Db::unchecked(self.0 - other.0)
    }
}
