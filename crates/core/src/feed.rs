//! DC powering.
//!
//! DC is a tree of its own: it spreads from a supply both ways through every part that passes
//! it. Each draw is replaced by its tangent, `I = 2P/V₀ - V·P/V₀²` for a constant power, and the
//! tree of resistances with such draws is solved in two sweeps, currents in and voltages out.
//! Begun at the unloaded voltage this is Newton's method from above on a convex system: the
//! voltages fall towards the highest solution and never past it, and where there is none they
//! run into a point at which more current no longer brings more power. Then the feed has collapsed.

use crate::premises::Supply;
use crate::walk::{Node, Stage};
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
pub(crate) fn solve(tree: &Tree<'_, '_>, stages: &[Stage], nodes: &mut [Node]) {
    for (index, supply) in tree.supplies.iter().enumerate() {
        let zone = index as u16 + 1;
        if nodes.get(supply.port as usize).is_none_or(|node| node.power.zone != 0) {
            continue;
        }
        let (count, joined) = spread(tree, nodes, supply, zone);
        if joined {
            for place in 0..count {
                if let Some(port) = queued(nodes, place) {
                    port.zone = DcPort::JOINED;
                }
            }
            continue;
        }
        for case in Case::ALL {
            settle(tree, stages, nodes, count, supply, case);
        }
    }
}

/// The port that a supply's DC reaches as the how-manieth.
fn queued(nodes: &mut [Node], place: usize) -> Option<&mut DcPort> {
    let port = nodes.get(place)?.power.queued;
    Some(&mut nodes.get_mut(port as usize)?.power)
}

/// Visits every port that a supply's DC reaches, nearest first; how many, and whether another supply is met.
#[cfg_attr(target_os = "none", inline(never))]
fn spread(tree: &Tree<'_, '_>, nodes: &mut [Node], supply: &Supply, zone: u16) -> (usize, bool) {
    let (mut count, mut joined) = (0, false);
    visit(nodes, &mut count, zone, supply.port, (DcPort::ROOT, DcPort::ROOT), supply.source.ohms());
    let mut next = 0;
    while next < count {
        let here = nodes.get(next).map_or(0, |node| node.power.queued);
        next += 1;
        let Some(port) = tree.ports.get(here as usize) else { continue };
        let before = nodes.get(here as usize).map_or(0.0, |node| node.power.ohms);
        let mut go = |to: u16, through: u16| {
            if let Some(step) = step_ohms(tree, through, Case::Nominal) {
                visit(nodes, &mut count, zone, to, (here, through), before + step);
            }
        };
        if let Some(placed) = tree.above(here) {
            go(placed.after, here);
        }
        match port.occupant {
            Occupant::Part(part) => {
                let Some(placed) = tree.parts.get(part.index()) else { continue };
                for way in placed.first_port..placed.first_port + u16::from(placed.part.ways()) {
                    go(way, way);
                }
            }
            Occupant::Supply(other) => joined |= other.0 + 1 != zone,
            _ => {}
        }
    }
    (count, joined)
}

/// Notes that DC reaches a port, the first time.
#[cfg_attr(target_os = "none", inline(never))]
fn visit(nodes: &mut [Node], count: &mut usize, zone: u16, port: u16, step: (u16, u16), ohms: f32) {
    let Some(node) = nodes.get_mut(port as usize).filter(|node| node.power.zone == 0) else { return };
    (node.power.zone, node.power.ohms) = (zone, ohms);
    (node.power.toward, node.power.through) = step;
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
fn settle(tree: &Tree<'_, '_>, stages: &[Stage], nodes: &mut [Node], count: usize, supply: &Supply, case: Case) {
    let source_volts = supply.volts.volts() * (1.0 - case.sign() * supply.spread.percent() * 0.01);
    for place in 0..count {
        let port = nodes.get(place).map_or(0, |node| node.power.queued);
        if let Some(node) = nodes.get_mut(port as usize) {
            let step = step_ohms(tree, node.power.through, case);
            node.power.step = step.unwrap_or(supply.source.ohms());
        }
        put_volts(tree, stages, nodes, port, case, source_volts);
    }
    let mut change = f32::INFINITY;
    for _ in 0..STEPS {
        match step_closer(tree, stages, nodes, count, case, source_volts) {
            Some(step) => change = step,
            None => {
                change = f32::INFINITY;
                break;
            }
        }
        if change <= source_volts * 2e-7 {
            return;
        }
    }
    // At the very point of collapse the steps only halve; what is left is f32's rounding.
    if change <= source_volts * 1e-4 {
        return;
    }
    for place in 0..count {
        if let Some(slot) = queued(nodes, place).and_then(|port| port.volts.get_mut(case as usize)) {
            *slot = COLLAPSED;
        }
    }
}

/// One of Newton's steps: currents in, voltages out. How far a voltage moved at most, or [`None`] where they collapse.
#[cfg_attr(target_os = "none", inline(never))]
fn step_closer(
    tree: &Tree<'_, '_>,
    stages: &[Stage],
    nodes: &mut [Node],
    count: usize,
    case: Case,
    source_volts: f32,
) -> Option<f32> {
    for place in (0..count).rev() {
        let port = *queued(nodes, place)?;
        let share = 1.0 + port.slope * port.step;
        if share <= 0.0 {
            return None;
        }
        if let Some(before) = nodes.get_mut(port.toward as usize) {
            before.power.constant += port.constant / share;
            before.power.slope += port.slope / share;
        }
    }
    let mut change = 0.0;
    for place in 0..count {
        let here = nodes.get(place)?.power.queued;
        let port = nodes.get(here as usize)?.power;
        let before = nodes.get(port.toward as usize).map_or(source_volts, |node| volts_of(&node.power, case));
        let volts = (before - port.step * port.constant) / (1.0 + port.slope * port.step);
        if volts <= 0.0 {
            return None;
        }
        change = crate::math::max(change, crate::math::abs(volts - volts_of(&port, case)));
        put_volts(tree, stages, nodes, here, case, volts);
    }
    Some(change)
}

fn volts_of(port: &DcPort, case: Case) -> f32 {
    port.volts.get(case as usize).copied().unwrap_or(0.0)
}

/// Sets the voltage at a port, and the draws there as a straight line through what they take at that voltage.
#[cfg_attr(target_os = "none", inline(never))]
fn put_volts(tree: &Tree<'_, '_>, stages: &[Stage], nodes: &mut [Node], port: u16, case: Case, volts: f32) {
    let Some(node) = nodes.get_mut(port as usize) else { return };
    if let Some(slot) = node.power.volts.get_mut(case as usize) {
        *slot = volts;
    }
    (node.power.constant, node.power.slope) = (0.0, 0.0);
    for (_, spec) in draws(tree, stages, port) {
        match spec.draw {
            Draw::Power(watts) => {
                let amps = watts.watts() / volts;
                node.power.constant += 2.0 * amps;
                node.power.slope -= amps / volts;
            }
            Draw::Current(amps) => node.power.constant += amps.amps(),
        }
    }
}

/// The amplifiers that draw at a port: the one it belongs to, and the one that hangs on it.
pub(crate) fn draws<'t, 's>(
    tree: &'t Tree<'_, 's>,
    stages: &'t [Stage],
    port: u16,
) -> impl Iterator<Item = (PartId, &'s Amplifier<'s>)> + use<'t, 's> {
    stages.iter().filter_map(move |stage| Some((PartId(stage.part), draw_at(tree, stage, port)?)))
}

/// The amplifier, if it draws at a port.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn draw_at<'s>(tree: &Tree<'_, 's>, stage: &Stage, port: u16) -> Option<&'s Amplifier<'s>> {
    let placed = tree.parts.get(stage.part as usize)?;
    let spec = placed.part.amplifier()?;
    let at = tree.ports.get(port as usize)?;
    let draws = if placed.after == port {
        spec.dc_ports.input
    } else if at.owner != stage.part {
        false
    } else if at.number < spec.outputs {
        (spec.dc_ports.outputs >> at.number) & 1 == 1
    } else {
        !at.signal && spec.dc_ports.power
    };
    draws.then_some(spec)
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
pub(crate) fn feeds<'w, 's>(
    tree: Tree<'w, 's>,
    stages: &'w [Stage],
    nodes: &'w [Node],
) -> impl Iterator<Item = Feed> + use<'w, 's> {
    let ports = move |zone| nodes.iter().enumerate().filter(move |(_, node)| node.power.zone == zone);
    let drawing = move |port: usize| {
        stages.iter().filter_map(move |stage| Some((PartId(stage.part), draw_at(&tree, stage, port as u16)?)))
    };
    (1..=tree.supplies.len() as u16).flat_map(move |zone| {
        ports(zone).flat_map(move |(port, node)| {
            drawing(port).filter_map(move |(part, spec)| {
                feed(&tree, stages, nodes, PortId(port as u16), &node.power, part, spec)
            })
        })
    })
}

/// What a supply gives in all in the three cases, in amperes.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn given(tree: &Tree<'_, '_>, stages: &[Stage], nodes: &[Node], zone: u16) -> [f32; 3] {
    let mut given = [0.0; 3];
    for (port, node) in nodes.iter().enumerate().filter(|(_, node)| node.power.zone == zone) {
        for (_, spec) in draws(tree, stages, port as u16) {
            for (sum, volts) in given.iter_mut().zip(node.power.volts) {
                *sum += amps(spec, volts);
            }
        }
    }
    given
}

/// The feed of an amplifier that draws at a port; [`None`] where not just one supply reaches it.
fn feed(
    tree: &Tree<'_, '_>,
    stages: &[Stage],
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
    let given = Figure::of(&given(tree, stages, nodes, here.zone));
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
