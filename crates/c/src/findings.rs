//! Reading what a report found wrong.

use core::ffi::{CStr, c_char};

use legwork::{At, Code, Finding, Report};

use crate::check::{legwork_workspace, report};
use crate::error::{Fault, legwork_error, number};
use crate::read::port;
use crate::report::{legwork_verdict_id, maybe, verdict};
use crate::stored::{answer, write_text};

/// What is wrong. A number keeps its meaning for good.
pub type legwork_code = u32;
/// A forward level below the device's window.
pub const LEGWORK_CODE_FORWARD_LOW: legwork_code = 1;
/// A forward level above the device's window.
pub const LEGWORK_CODE_FORWARD_HIGH: legwork_code = 2;
/// More total power than the device takes.
pub const LEGWORK_CODE_TOTAL_HIGH: legwork_code = 3;
/// Too much difference between first and last carrier.
pub const LEGWORK_CODE_TILT_HIGH: legwork_code = 4;
/// Too much noise.
pub const LEGWORK_CODE_CNR_LOW: legwork_code = 5;
/// A modem has to send louder than it can.
pub const LEGWORK_CODE_TRANSMIT_HIGH: legwork_code = 6;
/// A modem has to send softer than it can.
pub const LEGWORK_CODE_TRANSMIT_LOW: legwork_code = 7;
/// Transmit levels at two return frequencies differ too much.
pub const LEGWORK_CODE_TRANSMIT_SPREAD: legwork_code = 8;
/// A device that sends stands behind an amplifier without a return path.
pub const LEGWORK_CODE_NO_RETURN: legwork_code = 9;
/// Too much total power at an amplifier's input.
pub const LEGWORK_CODE_AMPLIFIER_OVERDRIVEN: legwork_code = 10;
/// Too much total power at an amplifier's output.
pub const LEGWORK_CODE_OUTPUT_OVERDRIVEN: legwork_code = 11;
/// Too much power from a modem at an amplifier's output.
pub const LEGWORK_CODE_RETURN_OVERDRIVEN: legwork_code = 12;
/// An amplifier's split cuts into the service.
pub const LEGWORK_CODE_SPLIT_MISMATCH: legwork_code = 13;
/// A signal outside what a part is made for.
pub const LEGWORK_CODE_OUT_OF_BAND: legwork_code = 14;
/// An outlet behind two amplifiers.
pub const LEGWORK_CODE_AMPLIFIERS_IN_SERIES: legwork_code = 15;
/// Too little voltage at an amplifier.
pub const LEGWORK_CODE_FEED_STARVED: legwork_code = 16;
/// Too much voltage at an amplifier.
pub const LEGWORK_CODE_FEED_OVER_VOLTAGE: legwork_code = 17;
/// More current than a supply gives.
pub const LEGWORK_CODE_FEED_OVER_CURRENT: legwork_code = 18;
/// No voltage can carry the load.
pub const LEGWORK_CODE_FEED_COLLAPSED: legwork_code = 19;
/// No supply reaches an amplifier.
pub const LEGWORK_CODE_AMPLIFIER_UNPOWERED: legwork_code = 20;
/// A supply reaches no amplifier.
pub const LEGWORK_CODE_SUPPLY_IDLE: legwork_code = 21;
/// Two supplies meet.
pub const LEGWORK_CODE_TWO_SUPPLIES: legwork_code = 22;
/// DC reaches an outlet or a terminator.
pub const LEGWORK_CODE_DC_AT_DEVICE: legwork_code = 23;
/// DC reaches the entry.
pub const LEGWORK_CODE_DC_LEAVES_HOME: legwork_code = 24;
/// A lifeline needs an amplifier's power.
pub const LEGWORK_CODE_LIFELINE_EXPOSED: legwork_code = 25;
/// A modem disturbs a device at another outlet.
pub const LEGWORK_CODE_NEIGHBOUR_TRANSMIT: legwork_code = 26;
/// Too much loss between two members of the home network.
pub const LEGWORK_CODE_HOME_LINK_WEAK: legwork_code = 27;
/// Carriers reach into the home network's band.
pub const LEGWORK_CODE_BANDS_OVERLAP: legwork_code = 28;
/// Nothing keeps the home network in.
pub const LEGWORK_CODE_ENTRY_FILTER_MISSING: legwork_code = 29;
/// A way out with nothing on it.
pub const LEGWORK_CODE_OPEN_PORT: legwork_code = 30;
/// The shield is not bonded.
pub const LEGWORK_CODE_BOND_MISSING: legwork_code = 31;
/// The bonding conductor is too long.
pub const LEGWORK_CODE_BOND_LONG: legwork_code = 32;
/// The bonding conductor is too thin.
pub const LEGWORK_CODE_BOND_THIN: legwork_code = 33;
/// A carrier outside the entry's readings.
pub const LEGWORK_CODE_BEYOND_READINGS: legwork_code = 34;
/// A cable used outside its table.
pub const LEGWORK_CODE_BEYOND_TABLE: legwork_code = 35;

/// Every code with its number and name.
const CODES: [(legwork_code, Code, &CStr); 35] = [
    (LEGWORK_CODE_FORWARD_LOW, Code::ForwardLow, c"forward-low"),
    (LEGWORK_CODE_FORWARD_HIGH, Code::ForwardHigh, c"forward-high"),
    (LEGWORK_CODE_TOTAL_HIGH, Code::TotalHigh, c"total-high"),
    (LEGWORK_CODE_TILT_HIGH, Code::TiltHigh, c"tilt-high"),
    (LEGWORK_CODE_CNR_LOW, Code::CnrLow, c"cnr-low"),
    (LEGWORK_CODE_TRANSMIT_HIGH, Code::TransmitHigh, c"transmit-high"),
    (LEGWORK_CODE_TRANSMIT_LOW, Code::TransmitLow, c"transmit-low"),
    (LEGWORK_CODE_TRANSMIT_SPREAD, Code::TransmitSpread, c"transmit-spread"),
    (LEGWORK_CODE_NO_RETURN, Code::NoReturn, c"no-return"),
    (LEGWORK_CODE_AMPLIFIER_OVERDRIVEN, Code::AmplifierOverdriven, c"amplifier-overdriven"),
    (LEGWORK_CODE_OUTPUT_OVERDRIVEN, Code::OutputOverdriven, c"output-overdriven"),
    (LEGWORK_CODE_RETURN_OVERDRIVEN, Code::ReturnOverdriven, c"return-overdriven"),
    (LEGWORK_CODE_SPLIT_MISMATCH, Code::SplitMismatch, c"split-mismatch"),
    (LEGWORK_CODE_OUT_OF_BAND, Code::OutOfBand, c"out-of-band"),
    (LEGWORK_CODE_AMPLIFIERS_IN_SERIES, Code::AmplifiersInSeries, c"amplifiers-in-series"),
    (LEGWORK_CODE_FEED_STARVED, Code::FeedStarved, c"feed-starved"),
    (LEGWORK_CODE_FEED_OVER_VOLTAGE, Code::FeedOverVoltage, c"feed-over-voltage"),
    (LEGWORK_CODE_FEED_OVER_CURRENT, Code::FeedOverCurrent, c"feed-over-current"),
    (LEGWORK_CODE_FEED_COLLAPSED, Code::FeedCollapsed, c"feed-collapsed"),
    (LEGWORK_CODE_AMPLIFIER_UNPOWERED, Code::AmplifierUnpowered, c"amplifier-unpowered"),
    (LEGWORK_CODE_SUPPLY_IDLE, Code::SupplyIdle, c"supply-idle"),
    (LEGWORK_CODE_TWO_SUPPLIES, Code::TwoSupplies, c"two-supplies"),
    (LEGWORK_CODE_DC_AT_DEVICE, Code::DcAtDevice, c"dc-at-device"),
    (LEGWORK_CODE_DC_LEAVES_HOME, Code::DcLeavesHome, c"dc-leaves-home"),
    (LEGWORK_CODE_LIFELINE_EXPOSED, Code::LifelineExposed, c"lifeline-exposed"),
    (LEGWORK_CODE_NEIGHBOUR_TRANSMIT, Code::NeighbourTransmit, c"neighbour-transmit"),
    (LEGWORK_CODE_HOME_LINK_WEAK, Code::HomeLinkWeak, c"home-link-weak"),
    (LEGWORK_CODE_BANDS_OVERLAP, Code::BandsOverlap, c"bands-overlap"),
    (LEGWORK_CODE_ENTRY_FILTER_MISSING, Code::EntryFilterMissing, c"entry-filter-missing"),
    (LEGWORK_CODE_OPEN_PORT, Code::OpenPort, c"open-port"),
    (LEGWORK_CODE_BOND_MISSING, Code::BondMissing, c"bond-missing"),
    (LEGWORK_CODE_BOND_LONG, Code::BondLong, c"bond-long"),
    (LEGWORK_CODE_BOND_THIN, Code::BondThin, c"bond-thin"),
    (LEGWORK_CODE_BEYOND_READINGS, Code::BeyondReadings, c"beyond-readings"),
    (LEGWORK_CODE_BEYOND_TABLE, Code::BeyondTable, c"beyond-table"),
];

// The numbers run from 1, the names are the core's, and every code of the core is there.
const _: () = {
    let (mut rows, mut next) = (CODES.as_slice(), 1);
    while let [(number, code, name), rest @ ..] = rows {
        assert!(*number == next, "a code's number is not the next");
        assert!(same(name.to_bytes(), code.name().as_bytes()), "a code has another name");
        (rows, next) = (rest, next + 1);
    }
    let mut known = Code::ALL;
    while let [code, rest @ ..] = known {
        assert!(has(code.name()), "a code of the core has no number");
        known = rest;
    }
};

/// Whether a code of this name has a number.
const fn has(name: &str) -> bool {
    let mut rows = CODES.as_slice();
    while let [(_, _, known), rest @ ..] = rows {
        if same(known.to_bytes(), name.as_bytes()) {
            return true;
        }
        rows = rest;
    }
    false
}

/// Whether two names are the same.
const fn same(mut a: &[u8], mut b: &[u8]) -> bool {
    while let ([x, more @ ..], [y, others @ ..]) = (a, b) {
        if *x != *y {
            return false;
        }
        (a, b) = (more, others);
    }
    a.is_empty() && b.is_empty()
}

/// What kind of place is meant.
pub type legwork_at = u32;
/// No place.
pub const LEGWORK_AT_NONE: legwork_at = 0;
/// The point of entry.
pub const LEGWORK_AT_ENTRY: legwork_at = 1;
/// A port.
pub const LEGWORK_AT_PORT: legwork_at = 2;
/// A part.
pub const LEGWORK_AT_PART: legwork_at = 3;
/// An outlet.
pub const LEGWORK_AT_OUTLET: legwork_at = 4;
/// A supply.
pub const LEGWORK_AT_SUPPLY: legwork_at = 5;

/// A place in a home.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_spot {
    /// What kind of place.
    pub kind: legwork_at,
    /// The port, part, outlet or supply.
    pub id: u32,
}

/// One thing that is wrong, with the numbers that say so.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_finding_report {
    /// What.
    pub code: legwork_code,
    /// How bad.
    pub verdict: legwork_verdict_id,
    /// Where.
    pub at: legwork_spot,
    /// The second place, where there are two.
    pub other: legwork_spot,
    /// At which frequency; NAN where there is none.
    pub mhz: f32,
    /// The figure: nominal if that is outside its limit, else the extreme; NAN where there is none.
    pub value: f32,
    /// The limit it left; NAN where there is none.
    pub limit: f32,
    /// The unit of both, with a terminating zero.
    pub unit: [c_char; 8],
}

fn spot(report: &Report<'_, '_>, at: At) -> legwork_spot {
    let (kind, id) = match at {
        At::Entry => (LEGWORK_AT_ENTRY, 0),
        At::Port(id) => (LEGWORK_AT_PORT, port(report, id)),
        At::Part(id) => (LEGWORK_AT_PART, id.index() as u32),
        At::Outlet(id) => (LEGWORK_AT_OUTLET, id.index() as u32),
        At::Supply(id) => (LEGWORK_AT_SUPPLY, id.index() as u32),
    };
    legwork_spot { kind, id }
}

fn code(code: Code) -> legwork_code {
    CODES.iter().find(|(_, known, _)| *known == code).map_or(0, |(number, ..)| *number)
}

fn unit(text: &str) -> [c_char; 8] {
    let mut unit = [0; 8];
    for (to, byte) in unit.iter_mut().take(7).zip(text.bytes()) {
        *to = byte as c_char;
    }
    unit
}

/// One finding of a report.
///
/// # Safety
/// As the header says of `workspace`.
unsafe fn found(
    workspace: *const legwork_workspace,
    index: usize,
) -> Result<(&'static Report<'static, 'static>, &'static Finding), Fault> {
    // SAFETY: as the caller says.
    let report = unsafe { report(workspace) }?;
    let finding = report.findings().get(index).ok_or(Fault::no_such("finding"))?;
    Ok((report, finding))
}

/// One finding, by its place among them: 0 for the first.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_finding(
    workspace: *const legwork_workspace,
    index: usize,
    finding: *mut legwork_finding_report,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    let result = unsafe {
        answer(finding, || {
            let (report, found) = found(workspace, index)?;
            let nowhere = legwork_spot { kind: LEGWORK_AT_NONE, id: 0 };
            Ok(legwork_finding_report {
                code: code(found.code),
                verdict: verdict(found.verdict),
                at: spot(report, found.at),
                other: found.other.map_or(nowhere, |other| spot(report, other)),
                mhz: maybe(found.mhz),
                value: maybe(found.value),
                limit: maybe(found.limit),
                unit: unit(found.unit),
            })
        })
    };
    number(result)
}

/// A finding in at most 32 characters, for a meter's display. LEGWORK_TEXT_SIZE bytes are always enough.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_brief(
    workspace: *const legwork_workspace,
    index: usize,
    text: *mut c_char,
    size: usize,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    number(unsafe { found(workspace, index).and_then(|(_, finding)| write_text(&finding.brief(), text, size)) })
}

/// A code's name, such as "forward-low"; never null, empty for a number that is no code.
#[unsafe(no_mangle)]
pub extern "C" fn legwork_code_name(code: legwork_code) -> *const c_char {
    CODES.iter().find(|(number, ..)| *number == code).map_or(c"", |(_, _, name)| *name).as_ptr()
}

/// A verdict's name: "pass", "marginal" or "fail"; never null, empty for a number that is no verdict.
#[unsafe(no_mangle)]
pub extern "C" fn legwork_verdict_name(verdict: legwork_verdict_id) -> *const c_char {
    const NAMES: [&CStr; 3] = [c"pass", c"marginal", c"fail"];
    NAMES.get(verdict as usize).copied().unwrap_or(c"").as_ptr()
}
