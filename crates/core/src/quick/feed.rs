//! One draw behind one resistance.
//!
//! Ohm's law: V = Vs - R·I. A constant power P takes I = P/V, so V² - Vs·V + R·P = 0, whose
//! higher root is the stable one: more current there lowers the power that arrives. Beyond
//! P = Vs²/(4·R) there is none: the feed has collapsed.

use crate::{Amps, Draw, Error, Ohms, Volts, Watts};

/// What reaches a draw.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Supplied {
    /// Volts at the draw.
    pub volts: Volts,
    /// What flows.
    pub amps: Amps,
    /// What is lost on the way, in volts.
    pub drop: Volts,
}

/// A part of Vs² that f32's rounding takes: a draw at the very point of collapse still holds.
const ROUNDING: f32 = 4.0 * f32::EPSILON;
/// By this part a current must stay short of Vs/R.
const SHORT: f32 = 1e-6;

/// Volts and current at one draw behind a resistance, or [`None`] where no voltage carries it:
/// the feed has collapsed.
///
/// A constant power P holds at the stable, higher voltage (Vs + √(Vs² - 4·R·P))/2, a sum, so no
/// digit is lost; a constant current I at Vs - R·I, as long as that is above zero.
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
            let squared = source * source;
            let under_root = squared - 4.0 * ohms * watts.watts();
            if under_root < -ROUNDING * squared {
                return None;
            }
            let volts = 0.5 * (source + libm::sqrtf(crate::math::max(under_root, 0.0)));
            (volts, watts.watts() / volts)
        }
        Draw::Current(amps) => (source - ohms * amps.amps(), amps.amps()),
    };
    if volts <= 0.0 {
        return None;
    }
    Some(Supplied { volts: Volts::unchecked(volts), amps: Amps::unchecked(amps), drop: Volts::unchecked(ohms * amps) })
}

/// The largest draw of the same kind that a supply still holds behind a resistance: Vs²/(4·R) of
/// power, or a current a millionth short of Vs/R. How much `draw` itself is does not matter.
///
/// ```
/// use legwork::{quick::{hold, largest_draw}, Draw, Ohms, Volts, Watts};
/// let (supply, resistance) = (Volts::constant(18.0), Ohms::constant(3.6));
/// let most = largest_draw(supply, resistance, Draw::Power(Watts::constant(0.0)))?;
/// assert_eq!(most, Draw::Power(Watts::constant(22.5)));
/// // Half the voltage is left then.
/// assert_eq!(hold(supply, resistance, most).map(|fed| fed.volts.volts()), Some(9.0));
/// # Ok::<(), legwork::Error>(())
/// ```
///
/// # Errors
/// [`Error::OutOfRange`] without resistance, or nearly so: then any draw holds.
pub fn largest_draw(supply: Volts, resistance: Ohms, draw: Draw) -> Result<Draw, Error> {
    let (source, ohms) = (supply.volts(), resistance.ohms());
    match draw {
        Draw::Power(_) => Watts::new(source * source / (4.0 * ohms)).map(Draw::Power),
        Draw::Current(_) => Amps::new(source / ohms * (1.0 - SHORT)).map(Draw::Current),
    }
}

/// The largest resistance behind which a supply still holds a draw: Vs²/(4·P), or a millionth
/// short of Vs/I. By the loop resistance of a cable's length it is the longest run.
///
/// ```
/// use legwork::{quick::longest_loop, Draw, Volts, Watts};
/// let most = longest_loop(Volts::constant(18.0), Draw::Power(Watts::constant(3.0)))?;
/// assert_eq!(most.ohms(), 27.0);
/// # Ok::<(), legwork::Error>(())
/// ```
///
/// # Errors
/// [`Error::OutOfRange`] without a draw, or nearly so: then any resistance holds.
pub fn longest_loop(supply: Volts, draw: Draw) -> Result<Ohms, Error> {
    let source = supply.volts();
    match draw {
        Draw::Power(watts) => Ohms::new(source * source / (4.0 * watts.watts())),
        Draw::Current(amps) => Ohms::new(source / amps.amps() * (1.0 - SHORT)),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may panic")]
mod tests {
    use super::*;

    const VOLTS: [f32; 6] = [0.5, 5.0, 12.0, 15.3, 18.0, 90.0];
    const OHMS: [f32; 6] = [0.01, 0.4, 3.6, 7.77, 36.0, 1000.0];

    const fn power(watts: f32) -> Draw {
        Draw::Power(Watts::constant(watts))
    }

    const fn current(amps: f32) -> Draw {
        Draw::Current(Amps::constant(amps))
    }

    fn held(volts: f32, ohms: f32, draw: Draw) -> Option<Supplied> {
        hold(Volts::constant(volts), Ohms::constant(ohms), draw)
    }

    #[test]
    fn a_current_drops_what_published_examples_print() {
        // A cable sizing guide: 1500 ft of 18 AWG at 6.51 ohm per 1000 ft (one conductor), 0.3 A: 2.9295 V, which
        // it prints as 2.91; from 24 and from 12 V to 21.09 and 9.09 V as printed.
        for (supply, printed) in [(24.0, 21.09), (12.0, 9.09)] {
            let fed = held(supply, 6.51 * 1.5, current(0.3)).unwrap();
            assert!((fed.drop.volts() - 2.9295).abs() <= 5e-5 + 5e-7);
            // Half the printed digit, and what the guide dropped of its own figure.
            assert!((fed.volts.volts() - printed).abs() <= 0.005 + (2.9295 - 2.91));
            assert_eq!(fed.amps.amps(), 0.3);
        }
        // A lesson on loop resistance: 60 V over 75 ohm, 0.80 A: nothing is left.
        let short = largest_draw(Volts::constant(60.0), Ohms::constant(75.0), current(0.0)).unwrap();
        assert!(matches!(short, Draw::Current(amps) if (amps.amps() - 0.80).abs() <= 0.005));
        assert!(held(60.0, 75.0, current(0.80)).is_none());
    }

    #[test]
    fn a_power_takes_the_higher_root_worked_out_in_f64() {
        for (volts, ohms, watts) in [
            (18.0_f32, 3.6_f32, 3.0_f32),
            (12.0, 7.7, 2.6),
            (15.0, 0.01, 0.001),
            (90.0, 1.0, 1900.0),
            (18.0, 26.9, 3.0),
        ] {
            let fed = held(volts, ohms, power(watts)).unwrap();
            let (source, product) = (f64::from(volts), f64::from(ohms) * f64::from(watts));
            let want = (source + libm::sqrt(source * source - 4.0 * product)) / 2.0;
            // 2 ulp, and near the collapse, where the root is of a small difference, that of Vs².
            let slack = 3e-7 * source / libm::sqrt(1.0 - 4.0 * product / (source * source));
            assert!((f64::from(fed.volts.volts()) - want).abs() <= slack, "{fed:?} against {want}");
            assert!(fed.volts.volts() >= volts / 2.0);
        }
    }

    #[test]
    fn what_the_supply_gives_arrives_or_is_lost_on_the_way() {
        for volts in VOLTS {
            for ohms in OHMS {
                let Draw::Power(most) = largest_draw(Volts::constant(volts), Ohms::constant(ohms), power(0.0)).unwrap()
                else {
                    continue;
                };
                for share in [0.0, 0.001, 0.5, 0.99] {
                    let watts = share * most.watts();
                    let fed = held(volts, ohms, power(watts)).unwrap();
                    let (left, amps, drop) = (fed.volts.volts(), fed.amps.amps(), fed.drop.volts());
                    assert!((left + drop - volts).abs() <= 2e-6 * volts, "{volts} V {ohms} ohm: {fed:?}");
                    assert!((left * amps - watts).abs() <= 5e-7 * watts, "{volts} V {ohms} ohm: {fed:?}");
                    assert!((drop - ohms * amps).abs() <= 5e-7 * volts);
                }
            }
        }
    }

    #[test]
    fn the_largest_draw_holds_and_a_little_more_collapses() {
        for volts in VOLTS {
            for ohms in OHMS {
                for kind in [power(0.0), current(0.0)] {
                    let most = largest_draw(Volts::constant(volts), Ohms::constant(ohms), kind).unwrap();
                    let more = match most {
                        Draw::Power(watts) => power(watts.watts() * 1.00001),
                        Draw::Current(amps) => current(amps.amps() * 1.00001),
                    };
                    assert!(held(volts, ohms, most).is_some(), "{volts} V {ohms} ohm {most:?}");
                    assert!(held(volts, ohms, more).is_none(), "{volts} V {ohms} ohm {more:?}");
                }
            }
        }
    }

    #[test]
    fn the_longest_loop_holds_and_a_little_more_collapses() {
        for volts in VOLTS {
            for draw in [power(0.37), power(3.0), current(0.21), current(1.7)] {
                let most = longest_loop(Volts::constant(volts), draw).unwrap().ohms();
                assert!(held(volts, most, draw).is_some(), "{volts} V {draw:?}");
                assert!(held(volts, most * 1.00001, draw).is_none(), "{volts} V {draw:?}");
            }
        }
    }

    #[test]
    fn without_resistance_or_draw_nothing_is_lost_and_nothing_bounds_it() {
        assert_eq!(held(15.3, 0.0, power(3.0)).unwrap().volts.volts(), 15.3);
        let idle = held(15.3, 7.7, power(0.0)).unwrap();
        assert_eq!((idle.volts.volts(), idle.amps.amps(), idle.drop.volts()), (15.3, 0.0, 0.0));
        for draw in [power(3.0), current(0.2)] {
            assert!(largest_draw(Volts::constant(18.0), Ohms::constant(0.0), draw).is_err());
        }
        for draw in [power(0.0), current(0.0)] {
            assert!(longest_loop(Volts::constant(18.0), draw).is_err());
            assert!(held(0.0, 1.0, draw).is_none());
        }
        assert!(held(0.0, 1.0, power(1.0)).is_none());
    }
}
