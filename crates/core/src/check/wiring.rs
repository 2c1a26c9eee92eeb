//! Findings that follow from the wiring alone: what is open, exposed, unbonded or out of place.

use super::finding::{At, Code, Finding, Verdict, note, raise};
use super::spots::{is_open, leads_to_a_device};
use super::workspace::Desk;
use crate::premises::Placed;
use crate::{Band, Curve, Device, Error, Length, OutletId, Part, PartId, PortId, Tree};

/// NEC 800.100 and 820.100 (before 2020): the bonding conductor is at most 20 ft long ...
const BOND_MAX_FEET: f32 = 20.0;
/// ... and not thinner than 14 AWG.
const BOND_MAX_AWG: f32 = 14.0;

/// Judges outlets, ports and parts as they are wired.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    judge_outlets(tree, desk)?;
    for (index, port) in tree.ports.iter().enumerate() {
        if is_open(tree, port) {
            note(&mut desk.findings, Code::OpenPort, Verdict::Marginal, At::Port(PortId(index as u16)))?;
        }
    }
    let mut bonded = tree.entry.bonded;
    for (index, placed) in tree.parts.iter().enumerate() {
        let at = At::Part(PartId(index as u16));
        if let Part::Bond(_, conductor) = placed.part {
            bonded = true;
            judge_conductor(desk, at, conductor)?;
        }
        if let Some(spec) = placed.part.amplifier()
            && let Some(own) = spec.split
        {
            judge_split(tree, desk, at, own)?;
        }
        judge_bands(tree, desk, index, placed)?;
    }
    if !bonded {
        note(&mut desk.findings, Code::BondMissing, Verdict::Marginal, At::Entry)?;
    }
    judge_readings(tree, desk)?;
    judge_network(tree, desk)
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_outlets(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    for (index, outlet) in tree.outlets.iter().enumerate() {
        let amplified = desk.spots.get(outlet.port as usize).map_or(0, |spot| spot.amplified);
        if outlet.device == Device::Unused {
            continue;
        }
        let at = At::Outlet(OutletId(index as u16));
        if outlet.lifeline && amplified > 0 {
            note(&mut desk.findings, Code::LifelineExposed, Verdict::Fail, at)?;
        }
        if amplified > 1 {
            note(&mut desk.findings, Code::AmplifiersInSeries, Verdict::Marginal, at)?;
        }
    }
    Ok(())
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_conductor(desk: &mut Desk<'_>, at: At, conductor: crate::Conductor) -> Result<(), Error> {
    if let Some(length) = conductor.length {
        // A foot is 0.3048 m; the thousandth forgives the rounding of that.
        let feet = length.metres() / Length::constant(crate::METRES_PER_FOOT).metres();
        if feet > BOND_MAX_FEET + 1e-3 {
            let finding = Finding::new(Code::BondLong, Verdict::Marginal, at).measured(feet, BOND_MAX_FEET);
            raise(&mut desk.findings, &finding)?;
        }
    }
    if let Some(size) = conductor.size
        && size.number() > BOND_MAX_AWG
    {
        let finding = Finding::new(Code::BondThin, Verdict::Marginal, at).measured(size.number(), BOND_MAX_AWG);
        raise(&mut desk.findings, &finding)?;
    }
    Ok(())
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_split(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, at: At, own: crate::Split) -> Result<(), Error> {
    let service = tree.service.split;
    let pairs = [
        (own.return_top.mhz(), service.return_top.mhz(), own.return_top < service.return_top),
        (own.forward_bottom.mhz(), service.forward_bottom.mhz(), own.forward_bottom > service.forward_bottom),
    ];
    for (value, limit, cuts) in pairs {
        if cuts {
            raise(&mut desk.findings, &Finding::new(Code::SplitMismatch, Verdict::Fail, at).measured(value, limit))?;
        }
    }
    Ok(())
}

/// Signals outside what a part is made for, or outside its cable's table.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_bands(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, index: usize, placed: &Placed<'_>) -> Result<(), Error> {
    let at = At::Part(PartId(index as u16));
    let served = leads_to_a_device(tree, desk.spots, index);
    let linked = desk.spots.get(placed.first_port as usize).map_or([false; 2], |spot| spot.linked);
    let service = [tree.service.first_carrier(), tree.service.last_carrier()];
    let (sent_low, sent_high) = tree.entry.transmit.map_or((service[0], service[1]), |points| points.ends());
    if served && let Some(band) = placed.part.band() {
        for mhz in [service[0], service[1], sent_low, sent_high] {
            outside(desk, Finding::new(Code::OutOfBand, Verdict::Marginal, at), mhz, band.low.mhz(), band.high.mhz())?;
        }
    }
    if let Part::Cable { spec, .. } = placed.part
        && let Curve::Points(points) = spec.loss
    {
        let (low, high) = points.ends();
        let beyond = Finding::new(Code::BeyondTable, Verdict::Pass, at);
        if served {
            let (read_low, read_high) = tree.entry.forward.ends();
            for mhz in [service[0], service[1], read_low, read_high, sent_low, sent_high] {
                outside(desk, beyond, mhz, low, high)?;
            }
        }
        if let Some(network) = tree.home_network {
            for (mhz, linked) in [network.band.low.mhz(), network.band.high.mhz()].into_iter().zip(linked) {
                if linked {
                    outside(desk, beyond, mhz, low, high)?;
                }
            }
        }
    }
    Ok(())
}

/// Raises a finding where a frequency is outside a range.
#[cfg_attr(target_os = "none", inline(never))]
fn outside(desk: &mut Desk<'_>, finding: Finding, mhz: f32, low: f32, high: f32) -> Result<(), Error> {
    let limit = if mhz < low {
        low
    } else if mhz > high {
        high
    } else {
        return Ok(());
    };
    raise(&mut desk.findings, &finding.mhz(mhz).measured(mhz, limit))
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_readings(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    let (low, high) = tree.entry.forward.ends();
    for block in tree.service.blocks() {
        for mhz in [block.first(), block.last()] {
            let finding = Finding::new(Code::BeyondReadings, Verdict::Marginal, At::Entry);
            if mhz < low - block.step() || mhz > high + block.step() {
                outside(desk, finding, mhz, low, high)?;
            }
        }
    }
    Ok(())
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_network(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    let Some(network) = tree.home_network else { return Ok(()) };
    if let Some(block) = tree.service.blocks().last() {
        let reach = block.last() + 0.5 * block.step();
        let low = network.band.low.mhz();
        if reach > low {
            let finding = Finding::new(Code::BandsOverlap, Verdict::Marginal, At::Entry).mhz(block.last());
            raise(&mut desk.findings, &finding.measured(reach, low))?;
        }
    }
    if !tree.members.is_empty() && !is_kept_in(tree, &network.band) {
        note(&mut desk.findings, Code::EntryFilterMissing, Verdict::Marginal, At::Entry)?;
    }
    Ok(())
}

/// Whether a filter above the part where the members' ways part sends their band back.
fn is_kept_in(tree: &Tree<'_, '_>, band: &Band) -> bool {
    // The port that the meeting part hangs on; with one member, the outlet's own.
    let mut top: Option<u16> = None;
    for member in tree.members {
        let Some(outlet) = tree.outlets.get(member.index()) else { continue };
        top = Some(match top {
            None => outlet.port,
            Some(port) => common_input(tree, port, outlet.port),
        });
    }
    let Some(top) = top else { return true };
    tree.way_up(top).any(|(_, placed, _)| match placed.part {
        Part::Filter(filter) => filter.reflects.is_some_and(|reflects| reflects.encloses(band)),
        _ => false,
    })
}

/// The nearest port that lies on the ways from both ports to the entry.
fn common_input(tree: &Tree<'_, '_>, mut a: u16, mut b: u16) -> u16 {
    // A later port is never on the way of an earlier one.
    while a != b {
        let later = if a > b { &mut a } else { &mut b };
        let Some((_, placed, _)) = tree.way_up(*later).next() else { return *later };
        *later = placed.after;
    }
    a
}
