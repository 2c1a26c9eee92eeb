//! Transmit levels: what a modem has to send to be heard at the entry.

use crate::check::{At, Bound, Code, Column, Desk, note};
use crate::math::{self, is_below};
use crate::walk::Sense;
use crate::{Device, Figure, OutletId, PortId, Tree, between};

/// The frequencies at which transmit levels are reported, in MHz: those of the entry.
pub(crate) fn frequencies<'s>(tree: &Tree<'_, 's>) -> impl Iterator<Item = f32> + use<'s> {
    tree.entry.transmit.map_or(&[][..], |points| points.as_slice()).iter().map(|point| point.mhz)
}

/// The least of these frequencies above another.
pub(crate) fn after(tree: &Tree<'_, '_>, mhz: f32) -> Option<f32> {
    frequencies(tree).find(|next| is_below(mhz, *next))
}

/// Transmit levels at every outlet, at the frequencies of the batch, what arrives at amplifiers,
/// and what modems bring to their neighbours.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    desk.slate.together = math::decibels(f32::from(tree.service.channels_sent()));
    for (index, outlet) in tree.outlets.iter().enumerate() {
        let heard = desk.nodes.get(outlet.port as usize).is_some_and(|node| !node.spot.no_return);
        if outlet.device == Device::Unused || !heard {
            continue;
        }
        judge_sent(tree, desk, index, outlet.port);
        if outlet.device.is_modem() {
            for (disturbed, outlet) in tree.outlets.iter().enumerate() {
                if disturbed != index && outlet.device != Device::Unused {
                    between::judge(tree, desk, Sense::Return, OutletId(disturbed as u16), OutletId(index as u16));
                }
            }
        }
    }
    judge_arriving(tree, desk);
}

/// What a device at an outlet has to send.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_sent(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, index: usize, port: u16) {
    for lane in 0..desk.slate.batch.used {
        let figure = Figure::of(&desk.at(port, lane));
        note(tree, desk, index, Column::Transmit, lane, &figure);
    }
}

/// What modems bring to the outputs of amplifiers.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_arriving(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    for (index, port) in tree.ports.iter().enumerate() {
        let Some(spec) = tree.parts.get(port.owner as usize).and_then(|placed| placed.part.amplifier()) else {
            continue;
        };
        if port.number >= spec.outputs || !desk.nodes.get(index).is_some_and(|node| node.spot.modem_behind) {
            continue;
        }
        for lane in 0..desk.slate.batch.used {
            // Whichever modem sends, what arrives here is what is needed from here on.
            let figure = Figure::of(&desk.at(index as u16, lane).map(|needed| needed + desk.slate.together));
            let findings = desk.findings.about(At::Port(PortId(index as u16))).mhz(desk.slate.batch.mhz(lane));
            findings.hold(Code::ReturnOverdriven, &figure, Bound::at_most(spec.max_return_total));
        }
    }
}

/// Uneven transmit levels, and devices that can't be heard at all.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge_outlets(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    if tree.entry.transmit.is_none() {
        return;
    }
    for (index, outlet) in tree.outlets.iter().enumerate() {
        if outlet.device == Device::Unused {
            continue;
        }
        let limits = tree.limits(outlet.device);
        let findings = desk.findings.about(At::Outlet(OutletId(index as u16)));
        if desk.nodes.get(outlet.port as usize).is_none_or(|node| node.spot.no_return) {
            if limits.sends() {
                findings.note(Code::NoReturn);
            }
            continue;
        }
        let mut levels = desk.slate.layout.get(desk.cells, index, Column::Transmit).iter().map(|level| level.nominal);
        let Some(first) = levels.next() else { continue };
        let (low, high) =
            levels.fold((first, first), |(low, high), level| (math::min(low, level), math::max(high, level)));
        let bound = Bound { limit: limits.window, target: tree.target(outlet.device).window };
        findings.hold(Code::TransmitSpread, &Figure::alone(high - low), bound);
    }
}
