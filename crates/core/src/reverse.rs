//! Transmit levels: what a modem has to send to be heard at the entry.

use crate::between::Ways;
use crate::check::{About, At, Bound, Code, Desk, Verdict, not_above, not_below, note};
use crate::curve::Between;
use crate::walk::{Batch, Lanes, Sense, at};
use crate::{Device, Error, Figure, OutletId, PortId, Tree, math};

/// The frequencies at which transmit levels are reported, in MHz: those of the entry.
pub(crate) fn frequencies<'s>(tree: &Tree<'_, 's>) -> impl Iterator<Item = f32> + use<'s> {
    tree.entry.transmit.map_or(&[][..], |points| points.as_slice()).iter().map(|point| point.mhz)
}

/// Transmit levels at every outlet, at the frequencies of a batch, what arrives at amplifiers,
/// and what modems bring to their neighbours; `row` is the place of its first frequency.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, batch: &Batch, row: usize) -> Result<(), Error> {
    let Some(points) = tree.entry.transmit else { return Ok(()) };
    let sent = batch.read(&points, Between::Linear);
    // As many channels at once: what limits on power see.
    let together = math::decibels(f32::from(tree.service.channels_sent()));
    let loudest = sent.map(|sent| sent + together);
    for (index, outlet) in tree.outlets.iter().enumerate() {
        if outlet.device == Device::Unused || desk.spots.get(outlet.port as usize).is_none_or(|spot| spot.no_return) {
            continue;
        }
        judge_outlet(tree, desk, batch, &sent, index, row)?;
        if outlet.device.is_modem() {
            judge_neighbours(tree, desk, batch, &loudest, OutletId(index as u16))?;
        }
    }
    judge_arriving(tree, desk, batch, &loudest)
}

/// What modems bring to the outputs of amplifiers.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_arriving(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, batch: &Batch, loudest: &Lanes) -> Result<(), Error> {
    for (index, port) in tree.ports.iter().enumerate() {
        let Some(spec) = tree.parts.get(port.owner as usize).and_then(|placed| placed.part.amplifier()) else {
            continue;
        };
        if port.number >= spec.outputs || !desk.spots.get(index).is_some_and(|spot| spot.modem_behind) {
            continue;
        }
        let at = At::Port(PortId(index as u16));
        for (lane, mhz) in batch.frequencies() {
            // Whichever modem sends, what arrives here is what is needed from here on.
            let figure = needed(tree, desk, loudest, index, lane);
            let about = About::new(Code::ReturnOverdriven, at).mhz(mhz);
            not_above(&mut desk.findings, &about, &figure, Bound::at_most(spec.max_return_total))?;
        }
    }
    Ok(())
}

/// What has to arrive at a port for this to arrive at the entry.
#[cfg_attr(target_os = "none", inline(never))]
fn needed(tree: &Tree<'_, '_>, desk: &Desk<'_>, sent: &Lanes, port: usize, lane: usize) -> Figure {
    let (sent, spread) = (at(sent, lane), tree.entry.spread);
    let lost = desk.planes.get(port).map_or([0.0; 3], |plane| plane.each_ref().map(|lanes| at(lanes, lane)));
    let [nominal, most, least] = lost;
    Figure::of([sent + nominal, sent + spread + most, sent - spread + least])
}

/// What the modem at one outlet has to send.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_outlet(
    tree: &Tree<'_, '_>,
    desk: &mut Desk<'_>,
    batch: &Batch,
    sent: &Lanes,
    index: usize,
    row: usize,
) -> Result<(), Error> {
    let Some(outlet) = tree.outlets.get(index) else { return Ok(()) };
    let (limits, target) = (tree.limits(outlet.device), tree.target(outlet.device));
    let high = Bound { limit: limits.transmit.1, target: target.transmit.1 };
    let low = Bound { limit: limits.transmit.0, target: target.transmit.0 };
    let at = At::Outlet(OutletId(index as u16));
    for (lane, mhz) in batch.frequencies() {
        let figure = needed(tree, desk, sent, outlet.port as usize, lane);
        desk.layout.put_transmit(desk.cells, index, row + lane, figure);
        not_above(&mut desk.findings, &About::new(Code::TransmitHigh, at).mhz(mhz), &figure, high)?;
        let about = About::new(Code::TransmitLow, at).mhz(mhz);
        not_below(&mut desk.findings, &about, &figure, low)?;
    }
    Ok(())
}

/// What one modem brings to every other device.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_neighbours(
    tree: &Tree<'_, '_>,
    desk: &mut Desk<'_>,
    batch: &Batch,
    loudest: &Lanes,
    modem: OutletId,
) -> Result<(), Error> {
    for (index, outlet) in tree.outlets.iter().enumerate() {
        let bound = Bound {
            limit: tree.limits(outlet.device).from_neighbours(),
            target: tree.target(outlet.device).neighbour.unwrap_or(f32::INFINITY),
        };
        // Where any level would do, none is worked out.
        if index == modem.index() || outlet.device == Device::Unused || bound.is_none() {
            continue;
        }
        let pair = (modem, OutletId(index as u16));
        let losses = Ways { tree, planes: desk.planes, batch, sense: Sense::Return }.loss(pair.0, pair.1);
        judge_heard(tree, desk, batch, loudest, &losses, pair, bound)?;
    }
    Ok(())
}

/// What of one modem arrives at another outlet.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_heard(
    tree: &Tree<'_, '_>,
    desk: &mut Desk<'_>,
    batch: &Batch,
    loudest: &Lanes,
    losses: &Lanes,
    (modem, disturbed): (OutletId, OutletId),
    bound: Bound,
) -> Result<(), Error> {
    let about = About::new(Code::NeighbourTransmit, At::Outlet(disturbed)).other(At::Outlet(modem));
    let sending = tree.outlets.get(modem.index()).map_or(0, |outlet| outlet.port as usize);
    for (lane, mhz) in batch.frequencies() {
        // Through a blocked way comes infinitely little.
        let Some([nominal, ..]) = desk.planes.get(sending) else { continue };
        let heard = at(loudest, lane) + at(nominal, lane) - at(losses, lane);
        not_above(&mut desk.findings, &about.mhz(mhz), &Figure::alone(heard), bound)?;
    }
    Ok(())
}

/// Uneven transmit levels, and devices that can't be heard at all.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
#[cfg_attr(target_os = "none", inline(never))]
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
                note(&mut desk.findings, Code::NoReturn, Verdict::Fail, at)?;
            }
            continue;
        }
        let mut levels = desk.layout.transmit(desk.cells, index).iter().map(|level| level.nominal);
        let Some(first) = levels.next() else { continue };
        let (low, high) =
            levels.fold((first, first), |(low, high), level| (math::min(low, level), math::max(high, level)));
        let figure = Figure::alone(high - low);
        let bound = Bound { limit: limits.window, target: tree.target(outlet.device).window };
        let about = About::new(Code::TransmitSpread, at);
        not_above(&mut desk.findings, &about, &figure, bound)?;
    }
    Ok(())
}
