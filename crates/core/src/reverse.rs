//! Transmit levels: what a modem has to send to be heard at the entry.

use crate::check::{About, At, Bound, Code, Desk, Finding, Verdict, not_above, not_below, raise};
use crate::curve::Between;
use crate::walk::Batch;
use crate::{Device, Error, Figure, OutletId, PortId, Tree, between, math};

/// The frequencies at which transmit levels are reported, in MHz: those of the entry.
pub(crate) fn frequencies<'s>(tree: &Tree<'_, 's>) -> impl Iterator<Item = f32> + use<'s> {
    tree.entry.transmit.map_or(&[][..], |points| points.as_slice()).iter().map(|point| point.mhz)
}

/// Transmit levels at every outlet, at the frequencies of a batch, what arrives at amplifiers,
/// and what modems bring to their neighbours.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, batch: &Batch, row: usize) -> Result<(), Error> {
    let Some(points) = tree.entry.transmit else { return Ok(()) };
    let sent = batch.read(&points, Between::Linear);
    let spread = tree.entry.spread;
    let together = math::decibels(f32::from(tree.service.channels_sent()));
    for (index, outlet) in tree.outlets.iter().enumerate() {
        let (limits, target) = (tree.limits(outlet.device), tree.target(outlet.device));
        let hidden = desk.spots.get(outlet.port as usize).is_none_or(|spot| spot.no_return);
        let Some([nominal, most, least]) = desk.planes.get(outlet.port as usize).copied() else { continue };
        if outlet.device == Device::Unused || hidden {
            continue;
        }
        let at = At::Outlet(OutletId(index as u16));
        for (lane, mhz) in batch.frequencies() {
            let (Some(sent), Some(nominal), Some(most), Some(least)) =
                (sent.get(lane), nominal.get(lane), most.get(lane), least.get(lane))
            else {
                continue;
            };
            let figure = Figure::of([sent + nominal, sent + spread + most, sent - spread + least]);
            desk.layout.put_transmit(desk.cells, index, row + lane, figure);
            let high = Bound { limit: limits.transmit.1, target: target.transmit.1 };
            let low = Bound { limit: limits.transmit.0, target: target.transmit.0 };
            not_above(desk.findings, About::new(Code::TransmitHigh, at, "dBmV").mhz(mhz), figure, high)?;
            // A modem that can't send softly enough is still heard, only louder than it should be.
            let about = About::new(Code::TransmitLow, at, "dBmV").mhz(mhz).at_worst(Verdict::Marginal);
            not_below(desk.findings, about, figure, low)?;
            if outlet.device.is_modem() {
                let loudest = sent + nominal + together;
                neighbours(tree, desk, index, lane, mhz, loudest)?;
            }
        }
    }
    for (index, port) in tree.ports.iter().enumerate() {
        let Some(spec) = tree.parts.get(port.owner as usize).and_then(|placed| placed.part.amplifier()) else {
            continue;
        };
        let modem = desk.spots.get(index).is_some_and(|spot| spot.modem_behind);
        let Some([nominal, most, least]) = desk.planes.get(index).copied() else { continue };
        if port.number >= spec.outputs || !modem {
            continue;
        }
        let at = At::Port(PortId(index as u16));
        for (lane, mhz) in batch.frequencies() {
            let (Some(sent), Some(nominal), Some(most), Some(least)) =
                (sent.get(lane), nominal.get(lane), most.get(lane), least.get(lane))
            else {
                continue;
            };
            // Whichever modem sends, what arrives here is what is needed from here on.
            let sent = sent + together;
            let figure = Figure::of([sent + nominal, sent + spread + most, sent - spread + least]);
            let about = About::new(Code::ReturnOverdriven, at, "dBmV").mhz(mhz);
            not_above(desk.findings, about, figure, Bound::at_most(spec.max_return_total))?;
        }
    }
    Ok(())
}

/// What one modem brings to every other device.
fn neighbours(
    tree: &Tree<'_, '_>,
    desk: &mut Desk<'_>,
    modem: usize,
    lane: usize,
    mhz: f32,
    loudest: f32,
) -> Result<(), Error> {
    for (index, outlet) in tree.outlets.iter().enumerate() {
        let limit = tree.limits(outlet.device).from_neighbours();
        let target = tree.target(outlet.device).neighbour.unwrap_or(f32::INFINITY);
        // No loss between outlets is below zero by much; where even none would do, none is worked out.
        if index == modem || outlet.device == Device::Unused || (limit == f32::INFINITY && target == f32::INFINITY) {
            continue;
        }
        let Some(loss) = between::in_return_band(tree, desk, (modem, index), lane, mhz) else { continue };
        let heard = loudest - loss;
        let about = About::new(Code::NeighbourTransmit, At::Outlet(OutletId(index as u16)), "dBmV")
            .mhz(mhz)
            .other(At::Outlet(OutletId(modem as u16)));
        let figure = Figure { nominal: heard, low: heard, high: heard };
        not_above(desk.findings, about, figure, Bound { limit, target })?;
    }
    Ok(())
}

/// Uneven transmit levels, and devices that can't be heard at all.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
pub(crate) fn judge_outlets(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    if tree.entry.transmit.is_none() {
        return Ok(());
    }
    for (index, outlet) in tree.outlets.iter().enumerate() {
        if outlet.device == Device::Unused {
            continue;
        }
        let limits = tree.limits(outlet.device);
        let at = At::Outlet(OutletId(index as u16));
        if desk.spots.get(outlet.port as usize).is_none_or(|spot| spot.no_return) {
            if limits.sends() {
                raise(desk.findings, Finding::new(Code::NoReturn, Verdict::Fail, at))?;
            }
            continue;
        }
        let levels = desk.layout.transmit(desk.cells, index);
        let mut ends: Option<(f32, f32)> = None;
        for level in levels {
            let (low, high) = ends.unwrap_or((level.nominal, level.nominal));
            ends = Some((math::min(low, level.nominal), math::max(high, level.nominal)));
        }
        let Some((low, high)) = ends else { continue };
        let figure = Figure { nominal: high - low, low: high - low, high: high - low };
        let bound = Bound { limit: limits.window, target: tree.target(outlet.device).window };
        let about = About::new(Code::TransmitSpread, at, "dB").at_worst(Verdict::Marginal);
        not_above(desk.findings, about, figure, bound)?;
    }
    Ok(())
}
