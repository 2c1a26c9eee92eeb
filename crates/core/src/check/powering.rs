//! Findings about DC.

use heapless::VecView;

use super::finding::{At, Code, Finding, Verdict, note, raise};
use super::judge::{About, Bound, not_above, not_below};
use super::margins::Findings;
use super::workspace::Desk;
use crate::feed::{DcPort, Feed, draws, feed};
use crate::{Error, Figure, Occupant, PartId, PortId, SupplyId, Tree};

/// Judges every supply, every feed and every place that DC reaches.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    let power = desk.power.as_slice();
    for (index, (here, port)) in power.iter().zip(tree.ports).enumerate() {
        if here.zone == 0 {
            continue;
        }
        let at = match port.occupant {
            Occupant::Outlet(outlet) => Some(At::Outlet(outlet)),
            Occupant::Terminator => Some(At::Port(PortId(index as u16))),
            _ => None,
        };
        if let Some(at) = at {
            note(&mut desk.findings, Code::DcAtDevice, Verdict::Fail, at)?;
        }
        if index == 0 {
            note(&mut desk.findings, Code::DcLeavesHome, Verdict::Fail, At::Entry)?;
        }
    }
    for (index, here) in power.iter().enumerate() {
        for (part, _) in draws(tree, index as u16) {
            if let Some(feed) = feed(tree, power, PortId(index as u16), here, part) {
                judge_feed(tree, &mut desk.findings, &feed)?;
            }
        }
    }
    for (index, supply) in tree.supplies.iter().enumerate() {
        let zone = power.get(supply.port as usize).map_or(0, |port| port.zone);
        let at = At::Supply(SupplyId(index as u16));
        if zone == DcPort::JOINED {
            note(&mut desk.findings, Code::TwoSupplies, Verdict::Fail, at)?;
        }
        if reaches_none(tree, power, zone) {
            note(&mut desk.findings, Code::SupplyIdle, Verdict::Fail, at)?;
        }
    }
    for (index, placed) in tree.parts.iter().enumerate() {
        if placed.part.amplifier().is_some() {
            judge_amplifier(tree, &mut desk.findings, power, PartId(index as u16))?;
        }
    }
    Ok(())
}

/// Whether no amplifier draws where a supply's DC reaches. Joined supplies share what they reach.
fn reaches_none(tree: &Tree<'_, '_>, power: &[DcPort], zone: u16) -> bool {
    !power.iter().enumerate().any(|(index, port)| port.zone == zone && draws(tree, index as u16).next().is_some())
}

/// An amplifier that no supply reaches, or that two reach.
fn judge_amplifier(
    tree: &Tree<'_, '_>,
    findings: &mut VecView<Finding>,
    power: &[DcPort],
    part: PartId,
) -> Result<(), Error> {
    let drawn_at = |(index, port): (usize, &DcPort)| {
        (port.zone != 0 && draws(tree, index as u16).any(|(drawing, _)| drawing == part)).then_some(port.zone)
    };
    let mut zones = power.iter().enumerate().filter_map(drawn_at);
    let Some(first) = zones.next() else {
        return note(findings, Code::AmplifierUnpowered, Verdict::Fail, At::Part(part));
    };
    for other in zones {
        for zone in [first, other] {
            if zone != DcPort::JOINED {
                let at = At::Supply(SupplyId(zone - 1));
                note(findings, Code::TwoSupplies, Verdict::Fail, at)?;
            }
        }
    }
    Ok(())
}

/// Raises what is wrong with one feed: at most four findings.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn judge_feed(tree: &Tree<'_, '_>, findings: &mut Findings<'_>, feed: &Feed) -> Result<(), Error> {
    let (Some(supply), Some(spec)) =
        (tree.supplies.get(feed.supply.index()), tree.part(feed.amplifier).and_then(|part| part.amplifier()))
    else {
        return Ok(());
    };
    let (at, other) = (At::Supply(feed.supply), At::Part(feed.amplifier));
    if feed.volts_low.is_none() {
        let verdict = if feed.volts.is_none() { Verdict::Fail } else { Verdict::Marginal };
        raise(findings, &Finding::new(Code::FeedCollapsed, verdict, at).other(other))?;
    }
    let (Some(volts), Some(amps)) = (feed.volts, feed.supply_amps) else { return Ok(()) };
    let figure = |nominal: f32, low: Option<f32>, high: Option<f32>| Figure {
        nominal,
        low: low.unwrap_or(nominal),
        high: high.unwrap_or(nominal),
    };
    let volts = figure(volts, feed.volts_low, feed.volts_high);
    let amps = figure(amps, None, feed.supply_amps_high);
    let about = |code| About::new(code, at).other(other);
    let (lowest, highest) = spec.runs_on;
    let lowest = Bound { limit: lowest.volts(), target: f32::NEG_INFINITY };
    not_below(findings, &about(Code::FeedStarved), &volts, lowest)?;
    not_above(findings, &about(Code::FeedOverVoltage), &volts, Bound::at_most(highest.volts()))?;
    not_above(findings, &about(Code::FeedOverCurrent), &amps, Bound::at_most(supply.amps.amps()))
}
