//! DC powering.
//!
//! DC is a tree of its own: it spreads from a supply both ways through every part that passes
//! it. Each draw is replaced by its tangent, `I = 2P/V₀ - V·P/V₀²` for a constant power, and the
//! tree of resistances with such draws is solved in two sweeps, currents in and voltages out.
//! Begun at the unloaded voltage this is Newton's method from above on a convex system: the
//! voltages fall towards the highest solution and never past it, and where there is none they
//! run into a point at which more current no longer brings more power. Then the feed has collapsed.

use crate::math::{abs, max};
use crate::premises::Supply;
use crate::walk::Node;
use crate::{Amplifier, Case, Draw, Figure, Occupant, PartId, PortId, SupplyId, Tree};

/// What DC does at one port.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct DcPort {
    /// The supply that reaches it: its number plus one; 0 for none, [`JOINED`](Self::JOINED) for several.
    pub(crate) zone: u16,
    /// The port before it on the way from the supply; [`ROOT`](Self::ROOT) at the supply itself.
    toward: u16,
    /// The way out through which that step goes: this port, or the one before it; [`ROOT`](Self::ROOT) at the supply.
    through: u16,
    /// The port that DC reaches as the how-manieth: ports share their places for that list.
    queued: u16,
    /// Volts in the three cases; [`COLLAPSED`] where no voltage carries the load.
    pub(crate) volts: [f32; 3],
    /// From the supply's terminals to here at 20 C, source resistance included.
    pub(crate) ohms: f32,
    /// Resistance of the step from the port before it in the case at work.
    step: f32,
    /// Current drawn here and beyond as `constant + slope·V`.
    constant: f32,
    slope: f32,
}

impl DcPort {
    /// Several supplies reach it: not solved.
    pub(crate) const JOINED: u16 = u16::MAX;
    const ROOT: u16 = u16::MAX;

    /// Whether no case has collapsed.
    pub(crate) fn all_hold(&self) -> bool {
        self.volts.iter().all(|volts| *volts != COLLAPSED)
    }
}

/// Stands for a voltage that does not exist.
pub(crate) const COLLAPSED: f32 = -1.0;

/// Newton's steps: each halves the distance at worst, so these reach f32's end.
const STEPS: usize = 48;

/// Finds every port that DC reaches and solves each supply's feed.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn solve(tree: &Tree<'_, '_>, nodes: &mut [Node]) {
    for (index, supply) in tree.supplies.iter().enumerate() {
        let zone = index as u16 + 1;
        if nodes.get(supply.port as usize).is_none_or(|node| node.power.zone != 0) {
            continue;
        }
        let count = spread(tree, nodes, supply, zone);
        let reached = |supply: &&Supply| nodes.get(supply.port as usize).is_some_and(|node| node.power.zone == zone);
        if tree.supplies.iter().filter(reached).count() > 1 {
            for node in nodes.iter_mut().filter(|node| node.power.zone == zone) {
                node.power.zone = DcPort::JOINED;
            }
            continue;
        }
        for case in Case::ALL {
            settle(tree, nodes, count, supply, case);
        }
    }
}

/// The port that a supply's DC reaches as the how-manieth.
fn queued(nodes: &mut [Node], place: usize) -> Option<&mut DcPort> {
    let port = nodes.get(place)?.power.queued;
    Some(&mut nodes.get_mut(port as usize)?.power)
}

/// Visits every port that a supply's DC reaches, each after the one that it is reached from; says how many.
#[cfg_attr(target_os = "none", inline(never))]
fn spread(tree: &Tree<'_, '_>, nodes: &mut [Node], supply: &Supply, zone: u16) -> usize {
    let mut count = 0;
    visit(nodes, &mut count, zone, supply.port, (DcPort::ROOT, DcPort::ROOT), supply.source.ohms());
    let mut before = 0;
    // Rounds inward, so that a way to the entry is gone at once, until nothing more is reached.
    while before < count {
        before = count;
        for port in (1..nodes.len() as u16).rev() {
            let Some(placed) = tree.above(port) else { continue };
            let ohms =
                |port: u16| nodes.get(port as usize).filter(|node| node.power.zone == zone).map(|node| node.power.ohms);
            let (from, to, before) = match (ohms(port), ohms(placed.after)) {
                (Some(ohms), None) => (port, placed.after, ohms),
                (None, Some(ohms)) => (placed.after, port, ohms),
                _ => continue,
            };
            if let Some(step) = step_ohms(tree, port, Case::Nominal) {
                visit(nodes, &mut count, zone, to, (from, port), before + step);
            }
        }
    }
    count
}

/// Notes that DC reaches a port.
#[cfg_attr(target_os = "none", inline(never))]
fn visit(nodes: &mut [Node], count: &mut usize, zone: u16, port: u16, step: (u16, u16), ohms: f32) {
    if let Some(Node { power, .. }) = nodes.get_mut(port as usize) {
        (power.zone, power.ohms) = (zone, ohms);
        (power.toward, power.through) = step;
    }
    if let Some(slot) = nodes.get_mut(*count) {
        slot.power.queued = port;
        *count += 1;
    }
}

/// Resistance from the input of a part to one of its ways out; [`None`] where DC does not pass, and at a supply.
#[cfg_attr(target_os = "none", inline(never))]
fn step_ohms(tree: &Tree<'_, '_>, through: u16, case: Case) -> Option<f32> {
    let number = tree.ports.get(through as usize)?.number;
    tree.above(through)?.part.dc(number).ohms(tree.climate, case)
}

/// Settles the voltages of one supply's ports in one case.
#[cfg_attr(target_os = "none", inline(never))]
fn settle(tree: &Tree<'_, '_>, nodes: &mut [Node], count: usize, supply: &Supply, case: Case) {
    let source_volts = supply.volts.volts() * (1.0 - case.sign() * supply.spread.percent() * 0.01);
    for place in 0..count {
        let Some(power) = queued(nodes, place) else { continue };
        power.step = step_ohms(tree, power.through, case).unwrap_or(supply.source.ohms());
    }
    set_volts(nodes, count, case, source_volts);
    let mut change = f32::INFINITY;
    for _ in 0..STEPS {
        touch(tree, nodes, count, case);
        change = step_closer(nodes, count, case, source_volts);
        if change <= source_volts * 2e-7 || change == f32::INFINITY {
            break;
        }
    }
    // At the very point of collapse the steps only halve; what is left is f32's rounding.
    if change > source_volts * 1e-4 {
        set_volts(nodes, count, case, COLLAPSED);
    }
}

/// Sets the voltages of all ports that DC reaches.
#[cfg_attr(target_os = "none", inline(never))]
fn set_volts(nodes: &mut [Node], count: usize, case: Case, volts: f32) {
    for place in 0..count {
        if let Some(slot) = queued(nodes, place).and_then(|power| power.volts.get_mut(case as usize)) {
            *slot = volts;
        }
    }
}

/// Lays a tangent to the draws at each port, at its voltage.
#[cfg_attr(target_os = "none", inline(never))]
fn touch(tree: &Tree<'_, '_>, nodes: &mut [Node], count: usize, case: Case) {
    for place in 0..count {
        let port = nodes.get(place).map_or(0, |node| node.power.queued);
        if let Some(Node { power, .. }) = nodes.get_mut(port as usize) {
            (power.constant, power.slope) = drawn(tree, port, in_case(&power.volts, case));
        }
    }
}

/// One of Newton's steps: currents in, voltages out. How far a voltage moved at most; infinitely far where they
/// collapse.
#[cfg_attr(target_os = "none", inline(never))]
fn step_closer(nodes: &mut [Node], count: usize, case: Case, source_volts: f32) -> f32 {
    for place in (0..count).rev() {
        let Some(&mut DcPort { toward, step, constant, slope, .. }) = queued(nodes, place) else { continue };
        let share = 1.0 + slope * step;
        if share <= 0.0 {
            return f32::INFINITY;
        }
        if let Some(before) = nodes.get_mut(toward as usize) {
            before.power.constant += constant / share;
            before.power.slope += slope / share;
        }
    }
    let mut change = 0.0;
    for place in 0..count {
        let Some(&mut DcPort { toward, .. }) = queued(nodes, place) else { continue };
        let before = nodes.get(toward as usize).map_or(source_volts, |node| in_case(&node.power.volts, case));
        let Some(DcPort { step, constant, slope, volts, .. }) = queued(nodes, place) else { continue };
        let Some(volts) = volts.get_mut(case as usize) else { continue };
        let moved = (before - *step * *constant) / (1.0 + *slope * *step);
        if moved <= 0.0 {
            return f32::INFINITY;
        }
        change = max(change, abs(moved - *volts));
        *volts = moved;
    }
    change
}

fn in_case(volts: &[f32; 3], case: Case) -> f32 {
    volts.get(case as usize).copied().unwrap_or(0.0)
}

/// What is drawn at a port as a straight line through what it is at this voltage: amperes, and amperes a volt.
#[cfg_attr(target_os = "none", inline(never))]
fn drawn(tree: &Tree<'_, '_>, port: u16, volts: f32) -> (f32, f32) {
    let (mut constant, mut slope) = (0.0, 0.0);
    for (_, spec) in draws(tree, port) {
        match spec.draw {
            Draw::Power(watts) => {
                let amps = watts.watts() / volts;
                constant += 2.0 * amps;
                slope -= amps / volts;
            }
            Draw::Current(amps) => constant += amps.amps(),
        }
    }
    (constant, slope)
}

/// The amplifiers that draw at a port: the one it belongs to, and the one that hangs on it.
pub(crate) fn draws<'s>(tree: &Tree<'_, 's>, port: u16) -> impl Iterator<Item = (PartId, &'s Amplifier<'s>)> {
    [false, true].into_iter().filter_map(move |hangs| draw(tree, port, hangs))
}

#[cfg_attr(target_os = "none", inline(never))]
fn draw<'s>(tree: &Tree<'_, 's>, port: u16, hangs: bool) -> Option<(PartId, &'s Amplifier<'s>)> {
    let at = tree.ports.get(port as usize)?;
    let part = match at.occupant {
        Occupant::Part(part) if hangs => part,
        _ if hangs => return None,
        _ => PartId(at.owner),
    };
    let spec = tree.part(part)?.amplifier()?;
    let draws = if hangs {
        spec.dc_ports.input
    } else if at.number < spec.outputs {
        (spec.dc_ports.outputs >> at.number) & 1 == 1
    } else {
        !at.signal && spec.dc_ports.power
    };
    draws.then_some((part, spec))
}

/// What an amplifier draws at a voltage, in amperes.
pub(crate) fn amps(spec: &Amplifier<'_>, volts: f32) -> f32 {
    match spec.draw {
        Draw::Power(watts) => watts.watts() / volts,
        Draw::Current(amps) => amps.amps(),
    }
}

/// One amplifier on one supply.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Feed {
    /// The supply.
    pub supply: SupplyId,
    /// The amplifier.
    pub amplifier: PartId,
    /// The port at which it draws.
    pub port: PortId,
    /// Volts at that port; [`None`] where the feed has collapsed.
    pub volts: Option<f32>,
    /// The least volts of the three cases; [`None`] where one of them collapses.
    pub volts_low: Option<f32>,
    /// The greatest volts of the cases that hold.
    pub volts_high: Option<f32>,
    /// What the amplifier draws, in amperes.
    pub amps: Option<f32>,
    /// The most it draws; [`None`] where a case collapses.
    pub amps_high: Option<f32>,
    /// What the supply gives in all, in amperes.
    pub supply_amps: Option<f32>,
    /// The most it gives; [`None`] where a case collapses.
    pub supply_amps_high: Option<f32>,
    /// Resistance from the supply's terminals at 20 C, its own included.
    pub loop_ohms: f32,
    /// What is lost on the way, in volts.
    pub drop_volts: Option<f32>,
}

/// Every feed: supplies in order, for each its amplifiers.
pub(crate) fn feeds<'w, 's>(tree: Tree<'w, 's>, nodes: &'w [Node]) -> impl Iterator<Item = Feed> + use<'w, 's> {
    let ports = move |zone| nodes.iter().enumerate().filter(move |(_, node)| node.power.zone == zone);
    (1..=tree.supplies.len() as u16).flat_map(move |zone| {
        ports(zone).flat_map(move |(port, node)| {
            let feed = move |(part, spec)| feed(&tree, nodes, PortId(port as u16), &node.power, part, spec);
            [false, true].into_iter().filter_map(move |hangs| draw(&tree, port as u16, hangs)).filter_map(feed)
        })
    })
}

/// What a supply gives in all in the three cases, in amperes.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn given(tree: &Tree<'_, '_>, nodes: &[Node], zone: u16) -> [f32; 3] {
    let mut given = [0.0; 3];
    for (port, node) in nodes.iter().enumerate().filter(|(_, node)| node.power.zone == zone) {
        for hangs in [false, true] {
            let Some((_, spec)) = draw(tree, port as u16, hangs) else { continue };
            for (sum, volts) in given.iter_mut().zip(&node.power.volts) {
                *sum += amps(spec, *volts);
            }
        }
    }
    given
}

/// The feed of an amplifier that draws at a port; [`None`] where not just one supply reaches it.
fn feed(
    tree: &Tree<'_, '_>,
    nodes: &[Node],
    port: PortId,
    here: &DcPort,
    amplifier: PartId,
    spec: &Amplifier<'_>,
) -> Option<Feed> {
    let number = here.zone.checked_sub(1)?;
    let supply = tree.supplies.get(number as usize)?;
    let [nominal, ..] = here.volts;
    let volts = (nominal != COLLAPSED).then_some(nominal);
    let all_hold = here.all_hold();
    let across = Figure::of(&here.volts);
    let drawn = Figure::of(&here.volts.map(|volts| amps(spec, volts)));
    let given = Figure::of(&given(tree, nodes, here.zone));
    Some(Feed {
        supply: SupplyId(number),
        amplifier,
        port,
        volts,
        volts_low: all_hold.then_some(across.low),
        // A collapsed case stands below every voltage, so it is never the greatest.
        volts_high: volts.map(|_| across.high),
        amps: volts.map(|_| drawn.nominal),
        amps_high: all_hold.then_some(drawn.high),
        supply_amps: volts.map(|_| given.nominal),
        supply_amps_high: all_hold.then_some(given.high),
        loop_ohms: here.ohms,
        drop_volts: volts.map(|volts| supply.volts.volts() - volts),
    })
}
