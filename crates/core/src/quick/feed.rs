//! One draw behind one resistance.

use crate::{Amps, Draw, Error, Ohms, Volts, Watts};

/// What reaches a draw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supplied {
    /// Volts at the draw.
    pub volts: Volts,
    /// What flows.
    pub amps: Amps,
    /// What is lost on the way, in volts.
    pub drop: Volts,
}

/// Volts and current at one draw behind a resistance, or [`None`] where no voltage carries it.
///
/// A constant power P holds at the stable, higher voltage (V + √(V² - 4·R·P))/2; a constant
/// current I at V - I·R.
///
/// ```
/// use legwork::{quick::hold, Draw, Ohms, Volts, Watts};
/// let fed = hold(Volts::constant(18.0), Ohms::constant(3.6), Draw::Power(Watts::constant(3.0))).unwrap();
/// // The power that arrives is the power drawn, and the drop is what the current loses.
/// assert!((fed.volts.volts() * fed.amps.amps() - 3.0).abs() < 1e-5);
/// assert!((18.0 - 3.6 * fed.amps.amps() - fed.volts.volts()).abs() < 1e-5);
/// assert!(hold(Volts::constant(18.0), Ohms::constant(36.0), Draw::Power(Watts::constant(3.0))).is_none());
/// ```
#[must_use]
pub fn hold(supply: Volts, resistance: Ohms, draw: Draw) -> Option<Supplied> {
    let (source, ohms) = (supply.volts(), resistance.ohms());
    let (volts, amps) = match draw {
        Draw::Power(watts) => {
            let under_root = source * source - 4.0 * ohms * watts.watts();
            if under_root < 0.0 {
                return None;
            }
            let volts = 0.5 * (source + libm::sqrtf(under_root));
            (volts, watts.watts() / volts)
        }
        Draw::Current(amps) => (source - ohms * amps.amps(), amps.amps()),
    };
    if volts <= 0.0 {
        return None;
    }
    Some(Supplied { volts: Volts::unchecked(volts), amps: Amps::unchecked(amps), drop: Volts::unchecked(ohms * amps) })
}

/// The largest draw of the same kind that a supply still holds behind a resistance: V²/(4·R) of
/// power, or a current just under V/R.
///
/// # Errors
/// [`Error::OutOfRange`] without resistance: then any draw holds.
pub fn largest_draw(supply: Volts, resistance: Ohms, draw: Draw) -> Result<Draw, Error> {
    let (source, ohms) = (supply.volts(), resistance.ohms());
    match draw {
        Draw::Power(_) => Watts::new(source * source / (4.0 * ohms)).map(Draw::Power),
        Draw::Current(_) => Amps::new(source / ohms).map(Draw::Current),
    }
}

/// The largest resistance behind which a supply still holds a draw: V²/(4·P), or just under V/I.
///
/// # Errors
/// [`Error::OutOfRange`] without a draw: then any resistance holds.
pub fn longest_loop(supply: Volts, draw: Draw) -> Result<Ohms, Error> {
    let source = supply.volts();
    match draw {
        Draw::Power(watts) => Ohms::new(source * source / (4.0 * watts.watts())),
        Draw::Current(amps) => Ohms::new(source / amps.amps()),
    }
}
