//! Findings about DC.

use super::finding::{At, Code, Verdict};
use super::judge::{Bound, Findings};
use super::workspace::Desk;
use crate::feed::{COLLAPSED, DcPort, draw_at, draws, given};
use crate::walk::{Node, Stage};
use crate::{Amplifier, Figure, Occupant, PartId, PortId, SupplyId, Tree};

/// Judges every supply, every feed and every place that DC reaches.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    for (index, (node, port)) in desk.nodes.iter().zip(tree.ports).enumerate() {
        if node.power.zone == 0 {
            continue;
        }
        let at = match port.occupant {
            Occupant::Outlet(outlet) => Some(At::Outlet(outlet)),
            Occupant::Terminator => Some(At::Port(PortId(index as u16))),
            _ => None,
        };
        if let Some(at) = at {
            desk.findings.about(at).note(Code::DcAtDevice);
        }
        if index == 0 {
            desk.findings.about(At::Entry).note(Code::DcLeavesHome);
        }
    }
    for (index, node) in desk.nodes.iter().enumerate() {
        for (part, spec) in draws(tree, desk.stages, index as u16) {
            let given = given(tree, desk.stages, desk.nodes, node.power.zone);
            judge_feed(tree, &mut desk.findings, &node.power, part, spec, &given);
        }
    }
    for (index, supply) in tree.supplies.iter().enumerate() {
        let zone = desk.nodes.get(supply.port as usize).map_or(0, |node| node.power.zone);
        let findings = desk.findings.about(At::Supply(SupplyId(index as u16)));
        if zone == DcPort::JOINED {
            findings.note(Code::TwoSupplies);
        }
        // Joined supplies share what they reach.
        if !desk.stages.iter().any(|stage| zones(tree, desk.nodes, stage).any(|reached| reached == zone)) {
            findings.note(Code::SupplyIdle);
        }
    }
    for stage in desk.stages.iter() {
        judge_amplifier(tree, &mut desk.findings, desk.nodes, stage);
    }
}

/// The supplies that reach an amplifier, one for each port at which it draws.
fn zones(tree: &Tree<'_, '_>, nodes: &[Node], stage: &Stage) -> impl Iterator<Item = u16> {
    let drawing = nodes.iter().enumerate().filter(|(port, _)| draw_at(tree, stage, *port as u16).is_some());
    drawing.map(|(_, node)| node.power.zone).filter(|zone| *zone != 0)
}

/// An amplifier that no supply reaches, or that two reach.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_amplifier(tree: &Tree<'_, '_>, findings: &mut Findings<'_>, nodes: &[Node], stage: &Stage) {
    let mut zones = zones(tree, nodes, stage);
    let Some(first) = zones.next() else {
        return findings.about(At::Part(PartId(stage.part))).note(Code::AmplifierUnpowered);
    };
    for other in zones {
        for zone in [first, other] {
            if zone != DcPort::JOINED {
                findings.about(At::Supply(SupplyId(zone - 1))).note(Code::TwoSupplies);
            }
        }
    }
}

/// Raises what is wrong with the feed of an amplifier where it draws, from a supply that gives so many amperes in
/// the three cases: at most four findings, none where not just one supply reaches it.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn judge_feed(
    tree: &Tree<'_, '_>,
    findings: &mut Findings<'_>,
    here: &DcPort,
    amplifier: PartId,
    spec: &Amplifier<'_>,
    given: &[f32; 3],
) {
    let number = here.zone.wrapping_sub(1);
    let Some(supply) = tree.supplies.get(number as usize) else { return };
    findings.about(At::Supply(SupplyId(number))).other(At::Part(amplifier));
    let ([volts, ..], [amps, ..]) = (here.volts, *given);
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
    let most = if all_hold { Figure::of(given).high } else { amps };
    let given = Figure { nominal: amps, low: amps, high: most };
    let (lowest, highest) = spec.runs_on;
    let lowest = Bound { limit: lowest.volts(), target: f32::NEG_INFINITY };
    findings.hold(Code::FeedStarved, &across, lowest);
    findings.hold(Code::FeedOverVoltage, &across, Bound::at_most(highest.volts()));
    findings.hold(Code::FeedOverCurrent, &given, Bound::at_most(supply.amps.amps()));
}
