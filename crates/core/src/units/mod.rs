//! Quantities: one type for each, so that a loss is never added to a length.
//!
//! Each wraps one `f32` in the unit that its accessor names. Only operators that mean
//! something exist: a [`Level`] moves by a [`Db`], two levels differ by a [`Db`], but two
//! levels have no sum (their powers do: [`Level::power_sum`]).

mod decibel;
mod electric;
mod frequency;
mod length;
mod level;
mod temperature;

pub use decibel::Db;
pub use electric::{Amps, Awg, Ohms, Percent, Volts, Watts};
pub use frequency::Frequency;
pub use length::{Length, METRES_PER_FOOT};
pub use level::Level;
pub use temperature::Temperature;

/// A newtype over `f32` with a checked constructor, a const one for tables, and an accessor.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $what:literal, $min:expr, $max:expr, $get:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        #[must_use]
        #[repr(transparent)]
        #[cfg_attr(feature = "defmt", derive(defmt::Format))]
        #[cfg_attr(feature = "serde", derive(serde::Serialize))]
        pub struct $name(f32);

        impl $name {
            /// The least value that [`new`](Self::new) takes.
            pub const MIN: Self = Self($min);
            /// The greatest value that [`new`](Self::new) takes.
            pub const MAX: Self = Self($max);

            /// Wraps a number in this quantity's unit.
            ///
            /// # Errors
            /// [`Error::OutOfRange`](crate::Error::OutOfRange) outside [`MIN`](Self::MIN) to
            /// [`MAX`](Self::MAX), NaN included.
            pub const fn new(value: f32) -> Result<Self, crate::Error> {
                if value >= $min && value <= $max {
                    Ok(Self(value))
                } else {
                    Err(crate::Error::OutOfRange { what: $what })
                }
            }

            /// Wraps a number for a table: out of range, the table does not compile.
            ///
            /// # Panics
            /// Outside [`MIN`](Self::MIN) to [`MAX`](Self::MAX); in a `const` that is a compile error.
            pub const fn constant(value: f32) -> Self {
                assert!(value >= $min && value <= $max, $what);
                Self(value)
            }

            /// Wraps what a calculation on checked values gave.
            #[allow(dead_code, reason = "not every quantity is calculated")]
            pub(crate) const fn unchecked(value: f32) -> Self {
                Self(value)
            }

            #[doc = concat!("The number: ", $what, ".")]
            #[must_use]
            pub const fn $get(self) -> f32 {
                self.0
            }
        }
    };
}
use quantity;
