//! Numbers that stand for one of a few things, and the numbers of parts, ports, outlets and supplies.

use legwork::{Device, Place, Way};

use crate::error::Fault;

/// What stands at an outlet.
pub type legwork_device = u32;
/// A cable modem.
pub const LEGWORK_MODEM: legwork_device = 0;
/// A cable modem that carries the telephone.
pub const LEGWORK_VOICE_MODEM: legwork_device = 1;
/// A set-top box.
pub const LEGWORK_SET_TOP: legwork_device = 2;
/// A television set with its own tuner.
pub const LEGWORK_TV: legwork_device = 3;
/// Nothing: a jack on the wall.
pub const LEGWORK_UNUSED: legwork_device = 4;

/// Where a part lies.
pub type legwork_place = u32;
/// In a heated room.
pub const LEGWORK_INDOOR: legwork_place = 0;
/// In the open.
pub const LEGWORK_OUTDOOR: legwork_place = 1;
/// Under the roof.
pub const LEGWORK_ATTIC: legwork_place = 2;

/// A way out of a part.
pub type legwork_way = u32;
/// The only way out of a part that has one.
pub const LEGWORK_ONLY: legwork_way = 0;
/// A splitter's leg or an amplifier's output, which have numbers; the first is number 1.
pub const LEGWORK_OUTPUT: legwork_way = 1;
/// A coupler's way through.
pub const LEGWORK_THROUGH: legwork_way = 2;
/// A coupler's tap.
pub const LEGWORK_TAP: legwork_way = 3;
/// An amplifier's passive port.
pub const LEGWORK_PASSIVE: legwork_way = 4;
/// An amplifier's port for DC alone.
pub const LEGWORK_POWER: legwork_way = 5;
/// An inserter's way out for the signal.
pub const LEGWORK_RF: legwork_way = 6;
/// An inserter's port for DC alone.
pub const LEGWORK_DC: legwork_way = 7;

/// A kind of built-in spec.
pub type legwork_kind = u32;
/// Splitters: "2-way", "3-way", "3-way-unequal", "4-way", "6-way", "8-way".
pub const LEGWORK_SPLITTER: legwork_kind = 0;
/// Couplers: "6-dB", "9-dB", "12-dB", "16-dB".
pub const LEGWORK_COUPLER: legwork_kind = 1;
/// Filters: "entry-filter".
pub const LEGWORK_FILTER: legwork_kind = 2;
/// Inserters: "inserter".
pub const LEGWORK_INSERTER: legwork_kind = 3;
/// Connector pairs: "joint".
pub const LEGWORK_JOINT: legwork_kind = 4;

/// A part: 0 for the first that was added.
pub type legwork_part_id = u32;
/// An outlet: 0 for the first that was added.
pub type legwork_outlet_id = u32;
/// A supply: 0 for the first that was added.
pub type legwork_supply_id = u32;

/// A port: LEGWORK_ENTRY, or what legwork_port_of said of a part's way out.
pub type legwork_port_id = u32;
/// The point of entry, on the house side.
pub const LEGWORK_ENTRY: legwork_port_id = 0;

pub(crate) fn device(number: legwork_device) -> Result<Device, Fault> {
    Ok(match number {
        LEGWORK_MODEM => Device::Modem,
        LEGWORK_VOICE_MODEM => Device::VoiceModem,
        LEGWORK_SET_TOP => Device::SetTop,
        LEGWORK_TV => Device::Tv,
        LEGWORK_UNUSED => Device::Unused,
        _ => return Err(Fault::choice("device")),
    })
}

pub(crate) fn place(number: legwork_place) -> Result<Place, Fault> {
    Ok(match number {
        LEGWORK_INDOOR => Place::Indoor,
        LEGWORK_OUTDOOR => Place::Outdoor,
        LEGWORK_ATTIC => Place::Attic,
        _ => return Err(Fault::choice("place")),
    })
}

pub(crate) fn way(name: legwork_way, number: u32) -> Result<Way, Fault> {
    Ok(match name {
        LEGWORK_ONLY => Way::Only,
        LEGWORK_OUTPUT => Way::Output(u8::try_from(number).map_err(|_| Fault::no_such("port"))?),
        LEGWORK_THROUGH => Way::Through,
        LEGWORK_TAP => Way::Tap,
        LEGWORK_PASSIVE => Way::Passive,
        LEGWORK_POWER => Way::Power,
        LEGWORK_RF => Way::Rf,
        LEGWORK_DC => Way::Dc,
        _ => return Err(Fault::choice("way out")),
    })
}

/// The name of a way out for C, and its number where it has one.
pub(crate) const fn way_out(way: Way) -> (legwork_way, u32) {
    match way {
        Way::Only => (LEGWORK_ONLY, 0),
        Way::Output(number) => (LEGWORK_OUTPUT, number as u32),
        Way::Through => (LEGWORK_THROUGH, 0),
        Way::Tap => (LEGWORK_TAP, 0),
        Way::Passive => (LEGWORK_PASSIVE, 0),
        Way::Power => (LEGWORK_POWER, 0),
        Way::Rf => (LEGWORK_RF, 0),
        Way::Dc => (LEGWORK_DC, 0),
    }
}
