//! Reading the figures of a report.

use legwork::{Figure, OutletReport, PortId, Report};

use crate::check::{legwork_workspace, report};
use crate::choice::{legwork_outlet_id, legwork_part_id, legwork_port_id, legwork_supply_id};
use crate::error::{Fault, legwork_error, number};
use crate::home::port_number;
use crate::report::{
    figure, legwork_amplifier_report, legwork_counts, legwork_dc_report, legwork_feed_report, legwork_figure,
    legwork_link_report, legwork_outlet_report, legwork_verdict_id, maybe, part, verdict,
};
use crate::stored::{answer, write_row};

/// A report's port as C knows it.
pub(crate) fn port(report: &Report<'_, '_>, port: PortId) -> legwork_port_id {
    port_number(report.tree().owner(port))
}

/// The report on one outlet.
///
/// # Safety
/// As the header says of `workspace`.
unsafe fn outlet(
    workspace: *const legwork_workspace,
    outlet: legwork_outlet_id,
) -> Result<OutletReport<'static>, Fault> {
    // SAFETY: as the caller says.
    let report = unsafe { report(workspace) }?;
    let id = report.tree().outlet_id(outlet as usize);
    id.and_then(|id| report.outlet(id)).ok_or(Fault::no_such("outlet"))
}

/// The worst of all findings.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_verdict(
    workspace: *const legwork_workspace,
    worst: *mut legwork_verdict_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    number(unsafe { answer(worst, || Ok(verdict(report(workspace)?.verdict()))) })
}

/// How many of each the report holds.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_count(
    workspace: *const legwork_workspace,
    counts: *mut legwork_counts,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    let result = unsafe {
        answer(counts, || {
            let report = report(workspace)?;
            Ok(legwork_counts {
                outlets: report.tree().outlets().len(),
                forward: report.forward_frequencies().count(),
                transmit: report.return_frequencies().count(),
                amplifiers: report.amplifiers().count(),
                feeds: report.feeds().count(),
                dc: report.dc().count(),
                links: report.links().count(),
                findings: report.findings().len(),
            })
        })
    };
    number(result)
}

/// The frequencies of forward levels and carrier-to-noise ratios, in MHz, rising, and how many there are. With too
/// little room, those that fit.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_forward_frequencies(
    workspace: *const legwork_workspace,
    mhz: *mut f32,
    room: usize,
    count: *mut usize,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    number(unsafe { report(workspace).and_then(|report| write_row(report.forward_frequencies(), mhz, room, count)) })
}

/// The frequencies of transmit levels, in MHz, rising, and how many there are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_transmit_frequencies(
    workspace: *const legwork_workspace,
    mhz: *mut f32,
    room: usize,
    count: *mut usize,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    number(unsafe { report(workspace).and_then(|report| write_row(report.return_frequencies(), mhz, room, count)) })
}

/// What was worked out for one outlet; LEGWORK_NO_SUCH for an unused jack.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_outlet_figures(
    workspace: *const legwork_workspace,
    of: legwork_outlet_id,
    figures: *mut legwork_outlet_report,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    let result = unsafe {
        answer(figures, || {
            let report = outlet(workspace, of)?;
            Ok(legwork_outlet_report {
                verdict: verdict(report.verdict),
                tilt: figure(report.tilt),
                total: figure(report.total),
            })
        })
    };
    number(result)
}

/// An outlet's forward levels in dBmV, one for each frequency, and how many there are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_outlet_forward(
    workspace: *const legwork_workspace,
    of: legwork_outlet_id,
    levels: *mut legwork_figure,
    room: usize,
    count: *mut usize,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    number(unsafe { outlet(workspace, of).and_then(|report| write_row(figures(report.forward), levels, room, count)) })
}

/// An outlet's carrier-to-noise ratios in dB, one for each forward frequency; none where none was read at the entry.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_outlet_cnr(
    workspace: *const legwork_workspace,
    of: legwork_outlet_id,
    ratios: *mut legwork_figure,
    room: usize,
    count: *mut usize,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    number(unsafe { outlet(workspace, of).and_then(|report| write_row(figures(report.cnr), ratios, room, count)) })
}

/// What a modem at an outlet has to send, in dBmV, one for each frequency; none where an amplifier on the way has no
/// return path.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_outlet_transmit(
    workspace: *const legwork_workspace,
    of: legwork_outlet_id,
    levels: *mut legwork_figure,
    room: usize,
    count: *mut usize,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    number(unsafe {
        outlet(workspace, of)
            .and_then(|report| write_row(figures(report.transmit.unwrap_or_default()), levels, room, count))
    })
}

fn figures(row: &[Figure]) -> impl Iterator<Item = legwork_figure> {
    row.iter().map(|cell| figure(*cell))
}

/// What was worked out for an amplifier, by its place among them: 0 for the first.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_amplifier_figures(
    workspace: *const legwork_workspace,
    index: usize,
    figures: *mut legwork_amplifier_report,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    let result = unsafe {
        answer(figures, || {
            let found = report(workspace)?.amplifiers().nth(index).ok_or(Fault::no_such("amplifier"))?;
            Ok(legwork_amplifier_report {
                part: part(found.part),
                input_total: figure(found.input_total),
                headroom_db: maybe(found.headroom),
            })
        })
    };
    number(result)
}

/// One feed, by its place among them: 0 for the first.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_feed(
    workspace: *const legwork_workspace,
    index: usize,
    feed: *mut legwork_feed_report,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    let result = unsafe {
        answer(feed, || {
            let report = report(workspace)?;
            let (found, worst) = report.feeds().nth(index).ok_or(Fault::no_such("feed"))?;
            Ok(legwork_feed_report {
                supply: found.supply.index() as legwork_supply_id,
                amplifier: part(found.amplifier),
                port: port(report, found.port),
                verdict: verdict(worst),
                volts: maybe(found.volts),
                volts_low: maybe(found.volts_low),
                volts_high: maybe(found.volts_high),
                amps: maybe(found.amps),
                amps_high: maybe(found.amps_high),
                supply_amps: maybe(found.supply_amps),
                supply_amps_high: maybe(found.supply_amps_high),
                loop_ohms: found.loop_ohms,
                drop_volts: maybe(found.drop_volts),
            })
        })
    };
    number(result)
}

/// One port that carries DC, by its place among them: 0 for the first.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_dc(
    workspace: *const legwork_workspace,
    index: usize,
    dc: *mut legwork_dc_report,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    let result = unsafe {
        answer(dc, || {
            let report = report(workspace)?;
            let found = report.dc().nth(index).ok_or(Fault::no_such("port"))?;
            Ok(legwork_dc_report {
                port: port(report, found.port),
                supply: found.supply.index() as legwork_supply_id,
                volts: maybe(found.volts),
                volts_unloaded: found.volts_unloaded,
                loop_ohms: found.loop_ohms,
            })
        })
    };
    number(result)
}

/// One link of the home network, by its place among them: 0 for the first.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_link(
    workspace: *const legwork_workspace,
    index: usize,
    link: *mut legwork_link_report,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    let result = unsafe {
        answer(link, || {
            let found = report(workspace)?.links().nth(index).ok_or(Fault::no_such("link"))?;
            Ok(legwork_link_report {
                from: found.from.index() as legwork_outlet_id,
                to: found.to.index() as legwork_outlet_id,
                mhz: found.mhz,
                loss_db: maybe(found.loss),
                verdict: verdict(found.verdict),
            })
        })
    };
    number(result)
}

/// The amplifiers whose loss of power would take an outlet down, nearest to it first, and how many there are.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_needs_power(
    workspace: *const legwork_workspace,
    of: legwork_outlet_id,
    amplifiers: *mut legwork_part_id,
    room: usize,
    count: *mut usize,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    let result = unsafe {
        report(workspace).and_then(|report| {
            let outlet = report.tree().outlet_id(of as usize).ok_or(Fault::no_such("outlet"))?;
            write_row(report.needs_power_at(outlet).map(part), amplifiers, room, count)
        })
    };
    number(result)
}
