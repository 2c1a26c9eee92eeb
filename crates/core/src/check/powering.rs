//! Findings about DC.

use super::finding::{At, Code, Verdict};
use super::judge::{Bound, Findings};
use super::workspace::Desk;
use crate::feed::{COLLAPSED, DcPort, draws, given};
use crate::walk::Node;
use crate::{Amplifier, Figure, Occupant, PartId, PortId, SupplyId, Tree};

/// Judges every place that DC reaches, every feed, every supply and every amplifier.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    let Desk { findings, nodes, .. } = desk;
    for (port, at) in tree.ports.iter().enumerate() {
        let id = PortId(port as u16);
        if zone(nodes, id.0) != 0 {
            match at.occupant {
                Occupant::Outlet(outlet) => findings.about(At::Outlet(outlet)).note(Code::DcAtDevice),
                Occupant::Terminator => findings.about(At::Port(id)).note(Code::DcAtDevice),
                _ => {}
            }
            if port == 0 {
                findings.about(At::Entry).note(Code::DcLeavesHome);
            }
        }
        for (part, spec) in draws(tree, id.0) {
            judge_feed(tree, findings, nodes, id, part, spec);
        }
    }
    for (index, supply) in tree.supplies.iter().enumerate() {
        findings.about(At::Supply(SupplyId(index as u16)));
        let own = zone(nodes, supply.port);
        if own == DcPort::JOINED {
            findings.note(Code::TwoSupplies);
        }
        // Joined supplies share what they reach.
        let feeds = |port| zone(nodes, port) == own && draws(tree, port).next().is_some();
        if !(0..nodes.len() as u16).any(feeds) {
            findings.note(Code::SupplyIdle);
        }
    }
    for stage in desk.stages.iter() {
        judge_amplifier(tree, findings, nodes, PartId(stage.part));
    }
}

/// The supply that reaches a port.
fn zone(nodes: &[Node], port: u16) -> u16 {
    nodes.get(port as usize).map_or(0, |node| node.power.zone)
}

/// An amplifier that no supply reaches, or that two reach, each at a port of its own.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_amplifier(tree: &Tree<'_, '_>, findings: &mut Findings<'_>, nodes: &[Node], amplifier: PartId) {
    let mut first = 0;
    for port in 0..nodes.len() as u16 {
        let here = zone(nodes, port);
        if here == 0 || !draws(tree, port).any(|(part, _)| part == amplifier) {
            continue;
        }
        if first == 0 {
            first = here;
            continue;
        }
        for zone in [first, here] {
            if zone != DcPort::JOINED {
                findings.about(At::Supply(SupplyId(zone - 1))).note(Code::TwoSupplies);
            }
        }
    }
    if first == 0 {
        findings.about(At::Part(amplifier)).note(Code::AmplifierUnpowered);
    }
}

/// Raises what is wrong with the feed of an amplifier at a port where it draws: at most four findings, none where not
/// just one supply reaches it.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn judge_feed(
    tree: &Tree<'_, '_>,
    findings: &mut Findings<'_>,
    nodes: &[Node],
    port: PortId,
    amplifier: PartId,
    spec: &Amplifier<'_>,
) {
    let Some(Node { power: here, .. }) = nodes.get(port.index()) else { return };
    let number = here.zone.wrapping_sub(1);
    let Some(supply) = tree.supplies.get(number as usize) else { return };
    let given = given(tree, nodes, here.zone);
    findings.about(At::Supply(SupplyId(number))).other(At::Part(amplifier));
    let ([volts, ..], [amps, ..]) = (here.volts, given);
    let all_hold = here.all_hold();
    if !all_hold {
        let verdict = if volts == COLLAPSED { Verdict::Fail } else { Verdict::Marginal };
        findings.raise_as(Code::FeedCollapsed, verdict, f32::INFINITY, f32::INFINITY);
        if volts == COLLAPSED {
            return;
        }
    }
    // A collapsed case stands below every voltage, so it is never the greatest.
    let across = Figure::of(&here.volts);
    let low = if all_hold { across.low } else { volts };
    let across = Figure { low, ..across };
    let most = if all_hold { Figure::of(&given).high } else { amps };
    let given = Figure { nominal: amps, low: amps, high: most };
    let (lowest, highest) = spec.runs_on;
    let lowest = Bound { limit: lowest.volts(), target: f32::NEG_INFINITY };
    findings.hold(Code::FeedStarved, &across, lowest);
    findings.hold(Code::FeedOverVoltage, &across, Bound::at_most(highest.volts()));
    findings.hold(Code::FeedOverCurrent, &given, Bound::at_most(supply.amps.amps()));
}
