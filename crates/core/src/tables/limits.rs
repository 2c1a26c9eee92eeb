//! What devices take.
//!
//! Only limits that were read in a published text stand here; what is merely practice, an
//! operator's aim or recalled is no built-in limit. A premises file sets others.

use super::source::{Source, Trust};
use crate::Limits;

/// The limits of a modem, a voice modem, a set-top box and a TV, in that order:
/// [`Device::WITH_LIMITS`](crate::Device::WITH_LIMITS).
///
/// ```
/// use legwork::{Device, tables};
/// for (device, limits) in Device::WITH_LIMITS.iter().zip(tables::LIMITS) {
///     assert_eq!(limits.sends(), device.is_modem());
/// }
/// ```
pub const LIMITS: [Limits; 4] = [MODEM, MODEM, TELEVISION, TELEVISION];

/// With a telephone or without: the same radio.
const MODEM: Limits = Limits {
    forward: (-15.0, 15.0),
    total: 30.0,
    tilt: 16.0,
    cnr: 35.0,
    transmit: (17.0, 51.0),
    window: 12.0,
    neighbour: None,
};

/// 54 to 74 dBuV in 75 ohm.
const TELEVISION: Limits = Limits { forward: (54.0 - DBUV, 74.0 - DBUV), ..Limits::NONE };

/// 0 dBmV is 60 dBuV.
const DBUV: f32 = 60.0;

const ELECTRICAL_INPUT: &str = "DOCSIS RFI, electrical input to CM, one channel; quoted in \"Broadband: Total Power\", \
     cablefax.com/archives/broadband-total-power";
const TOTAL_INPUT: &str = "DOCSIS RFI, electrical input to CM, total from 40 to 900 MHz; quoted in \"Broadband: Total \
     Power\", cablefax.com/archives/broadband-total-power";
const SLOPE: &str = "DOCSIS 1.x, level slope from 50 to 750 MHz; a headend interface card's specification, page 8";
const CARRIER_TO_NOISE: &str = "DOCSIS 1.0 RFI, RF channel transmission, downstream carrier to noise; quoted in a router \
     hardware guide, appendix B";
const LEAST_SENT: &str = "DOCS-IF31-MIB, docsIf31CmUsOfdmaChanTxPower: the lowest reported, per 1.6 MHz";
const MOST_SENT: &str = "DOCSIS 3.0, 64-QAM, three or four channels, per channel; \"Total Power and Channel Bonding: a \
     follow-up lesson\", cablefax.com";
const WINDOW: &str = "DOCSIS 3.0, dynamic range window, cmBondedUsDRWBottom; oid-base.com";
const OUTLET: &str = "EN 60728-1, 256-QAM at the outlet, 54 to 74 dBuV; quoted in a page on measurement key figures";

const fn row(name: &'static str, what: &'static str, source: &'static str) -> Source {
    Source::new("limit", name, what, source, Trust::Seen)
}

/// Where the limits come from.
pub(super) static SOURCES: [Source; 16] = [
    row("modem", "forward", ELECTRICAL_INPUT),
    row("modem", "total", TOTAL_INPUT),
    row("modem", "tilt", SLOPE),
    row("modem", "cnr", CARRIER_TO_NOISE),
    row("modem", "transmit, lowest", LEAST_SENT),
    row("modem", "transmit, highest", MOST_SENT),
    row("modem", "window", WINDOW),
    row("voice-modem", "forward", ELECTRICAL_INPUT),
    row("voice-modem", "total", TOTAL_INPUT),
    row("voice-modem", "tilt", SLOPE),
    row("voice-modem", "cnr", CARRIER_TO_NOISE),
    row("voice-modem", "transmit, lowest", LEAST_SENT),
    row("voice-modem", "transmit, highest", MOST_SENT),
    row("voice-modem", "window", WINDOW),
    row("set-top", "forward", OUTLET),
    row("tv", "forward", OUTLET),
];

#[cfg(test)]
#[allow(clippy::expect_used, reason = "a test may panic")]
mod tests {
    use super::*;
    use crate::{Device, Level};

    fn of(device: Device) -> Limits {
        let mut rows = Device::WITH_LIMITS.into_iter().zip(LIMITS);
        rows.find(|(known, _)| *known == device).expect("it has limits").1
    }

    #[test]
    fn modems_take_what_the_published_rows_say() {
        for device in [Device::Modem, Device::VoiceModem] {
            let limits = of(device);
            assert_eq!(limits.forward, (-15.0, 15.0));
            assert_eq!((limits.total, limits.tilt, limits.cnr), (30.0, 16.0, 35.0));
            assert_eq!((limits.transmit, limits.window), ((17.0, 51.0), 12.0));
            assert_eq!(limits.neighbour, None);
        }
    }

    #[test]
    fn the_most_a_modem_sends_agrees_with_its_total_over_four_channels() {
        // DOCSIS 3.0, 64-QAM: 57 dBmV on one channel, less 10*log10(N), N = 4; printed as 51.
        let per_channel = 57.0 - 10.0 * libm::log10f(4.0);
        assert!((of(Device::Modem).transmit.1 - per_channel).abs() <= 0.5);
    }

    #[test]
    fn televisions_take_54_to_74_dbuv_and_nothing_else_is_held_against_them() {
        for device in [Device::SetTop, Device::Tv] {
            let limits = of(device);
            let bound = |dbuv: f32| Level::from_dbuv(dbuv).expect("in range").dbmv();
            assert_eq!(limits.forward, (bound(54.0), bound(74.0)));
            assert_eq!(Limits { forward: Limits::NONE.forward, ..limits }, Limits::NONE);
        }
    }

    #[test]
    fn every_window_is_the_right_way_round() {
        for limits in LIMITS {
            assert!(limits.forward.0 < limits.forward.1 && limits.transmit.0 < limits.transmit.1);
        }
    }
}
