//! Findings that follow from the wiring alone: what is open, exposed, unbonded or out of place.

use super::finding::{At, Code};
use super::spots::{is_open, mirrors};
use super::workspace::Desk;
use crate::premises::Placed;
use crate::walk::Node;
use crate::{Band, Curve, Device, OutletId, Part, PartId, PortId, Tree};

/// NEC 800.100 and 820.100 (before 2020): the bonding conductor is at most 20 ft long ...
const BOND_MAX_FEET: f32 = 20.0;
/// ... and not thinner than 14 AWG.
const BOND_MAX_AWG: f32 = 14.0;

/// Judges outlets, ports and parts as they are wired.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    judge_outlets(tree, desk);
    for (index, port) in tree.ports.iter().enumerate() {
        if is_open(tree, port) {
            desk.findings.about(At::Port(PortId(index as u16))).note(Code::OpenPort);
        }
    }
    let mut bonded = tree.entry.bonded;
    for (index, placed) in tree.parts.iter().enumerate() {
        desk.findings.about(At::Part(PartId(index as u16)));
        if let Part::Bond(_, conductor) = &placed.part {
            bonded = true;
            judge_conductor(desk, conductor);
        }
        if let Some(spec) = placed.part.amplifier()
            && let Some(own) = &spec.split
        {
            judge_split(tree, desk, own);
        }
        judge_bands(tree, desk, placed);
    }
    desk.findings.about(At::Entry);
    if !bonded {
        desk.findings.note(Code::BondMissing);
    }
    judge_readings(tree, desk);
    judge_network(tree, desk);
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_outlets(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    for (index, outlet) in tree.outlets.iter().enumerate() {
        let amplified = desk.nodes.get(outlet.port as usize).map_or(0, |node| node.spot.amplified);
        if outlet.device == Device::Unused {
            continue;
        }
        let findings = desk.findings.about(At::Outlet(OutletId(index as u16)));
        if outlet.lifeline && amplified > 0 {
            findings.note(Code::LifelineExposed);
        }
        if amplified > 1 {
            findings.note(Code::AmplifiersInSeries);
        }
    }
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_conductor(desk: &mut Desk<'_>, conductor: &crate::Conductor) {
    if let Some(length) = conductor.length {
        // A foot is 0.3048 m; the thousandth forgives the rounding of that.
        let feet = length.feet();
        if feet > BOND_MAX_FEET + 1e-3 {
            desk.findings.raise(Code::BondLong, feet, BOND_MAX_FEET);
        }
    }
    if let Some(size) = conductor.size
        && size.number() > BOND_MAX_AWG
    {
        desk.findings.raise(Code::BondThin, size.number(), BOND_MAX_AWG);
    }
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_split(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, own: &crate::Split) {
    let service = &tree.service.split;
    let (top, bottom) = (own.return_top, own.forward_bottom);
    if top < service.return_top {
        desk.findings.raise(Code::SplitMismatch, top.mhz(), service.return_top.mhz());
    }
    if bottom > service.forward_bottom {
        desk.findings.raise(Code::SplitMismatch, bottom.mhz(), service.forward_bottom.mhz());
    }
}

/// Signals outside what a part is made for, or outside its cable's table.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_bands(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, placed: &Placed<'_>) {
    let service = (tree.service.first_carrier(), tree.service.last_carrier());
    let sent = tree.entry.transmit.map_or(service, |points| points.ends());
    let read = tree.entry.forward.ends();
    let signals = [service.0, service.1, sent.0, sent.1, read.0, read.1];
    let [carried @ .., _, _] = &signals;
    let served = desk.nodes.get(placed.after as usize).is_some_and(|node| node.spot.device_behind);
    if served && let Some(band) = placed.part.vouched() {
        hold_inside(desk, Code::OutOfBand, carried, (band.low.mhz(), band.high.mhz()));
    }
    let Part::Cable { spec, .. } = placed.part else { return };
    let Curve::Points(points) = spec.loss else { return };
    if served {
        hold_inside(desk, Code::BeyondTable, &signals, points.ends());
    }
    if let (Some(network), Some(node)) = (tree.home_network, desk.nodes.get(placed.first_port as usize)) {
        let edges = [network.band.low.mhz(), network.band.high.mhz()];
        let linked = node.spot.linked;
        for (number, edge) in edges.iter().enumerate() {
            if (linked >> number) & 1 != 0 {
                hold_inside(desk, Code::BeyondTable, core::slice::from_ref(edge), points.ends());
            }
        }
    }
}

/// Raises a finding where frequencies are outside a range.
#[cfg_attr(target_os = "none", inline(never))]
fn hold_inside(desk: &mut Desk<'_>, code: Code, frequencies: &[f32], (low, high): (f32, f32)) {
    for mhz in frequencies {
        if *mhz < low {
            desk.findings.mhz(*mhz).raise(code, *mhz, low);
        } else if *mhz > high {
            desk.findings.mhz(*mhz).raise(code, *mhz, high);
        }
    }
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_readings(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    let (low, high) = tree.entry.forward.ends();
    for block in tree.service.blocks() {
        for mhz in [block.first(), block.last()] {
            if mhz < low - block.step() || mhz > high + block.step() {
                hold_inside(desk, Code::BeyondReadings, &[mhz], (low, high));
            }
        }
    }
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_network(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    let Some(network) = tree.home_network else { return };
    if let Some(block) = tree.service.blocks().last() {
        let reach = block.last() + 0.5 * block.step();
        let low = network.band.low.mhz();
        if reach > low {
            let findings = desk.findings.about(At::Entry).mhz(block.last());
            findings.raise(Code::BandsOverlap, reach, low);
        }
    }
    if !is_kept_in(tree, desk.nodes, &network.band) {
        desk.findings.about(At::Entry).note(Code::EntryFilterMissing);
    }
}

/// Whether a filter above the part where the members' ways part sends their band back.
fn is_kept_in(tree: &Tree<'_, '_>, nodes: &[Node], band: &Band) -> bool {
    let outlets = tree.members.iter().filter_map(|member| tree.outlets.get(member.index()));
    // The port that the meeting part hangs on; with one member, the outlet's own.
    let top = outlets.map(|outlet| outlet.port).reduce(|a, b| common_input(nodes, a, b));
    top.is_none_or(|top| mirrors(tree, nodes, top).any(|(_, reflects)| reflects.encloses(band)))
}

/// The nearest port that lies on the ways from both ports to the entry.
fn common_input(nodes: &[Node], mut a: u16, mut b: u16) -> u16 {
    // A later port is never on the way of an earlier one.
    while a != b {
        let later = if a > b { &mut a } else { &mut b };
        *later = nodes.get(*later as usize).map_or(0, |node| node.edge.from);
    }
    a
}
