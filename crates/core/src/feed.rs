//! DC powering.
//!
//! DC is a tree of its own: it spreads from a supply both ways through every part that passes
//! it. Each draw is replaced by its tangent, `I = 2P/V₀ - V·P/V₀²` for a constant power, and the
//! tree of resistances with such draws is solved in two sweeps, currents in and voltages out.
//! Begun at the unloaded voltage this is Newton's method from above on a convex system: the
//! voltages fall towards the highest solution and never past it, and where there is none they
//! run into a point at which more current no longer brings more power. Then the feed has collapsed.

use heapless::VecView;

use crate::parts::DcPath;
use crate::premises::Supply;
use crate::{Amplifier, Case, Draw, Error, Figure, Occupant, PartId, PortId, SupplyId, Tree};

/// What DC does at one port.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct DcPort {
    /// The supply that reaches it: its number plus one; 0 for none, [`JOINED`](Self::JOINED) for several.
    pub(crate) zone: u16,
    /// The port before it on the way from the supply.
    toward: u16,
    /// Volts in the three cases; [`COLLAPSED`] where no voltage carries the load.
    pub(crate) volts: [f32; 3],
    /// From the supply's terminals to here at 20 C, source resistance included.
    pub(crate) ohms: f32,
    /// Current drawn here and beyond as `constant + slope·V`.
    constant: f32,
    slope: f32,
}

impl DcPort {
    /// Several supplies reach it: not solved.
    pub(crate) const JOINED: u16 = u16::MAX;
}

/// Stands for a voltage that does not exist.
pub(crate) const COLLAPSED: f32 = -1.0;

/// Newton's steps: each halves the distance at worst, so these reach f32's end.
const STEPS: usize = 48;

/// Finds every port that DC reaches and solves each supply's feed.
///
/// # Errors
/// [`Error::Full`] where ports find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn solve(tree: &Tree<'_, '_>, power: &mut VecView<DcPort>, order: &mut VecView<u16>) -> Result<(), Error> {
    power.clear();
    let capacity = power.capacity();
    power.resize_default(tree.ports.len()).map_err(|_| Error::Full { what: "ports", capacity })?;
    for (index, supply) in tree.supplies.iter().enumerate() {
        let zone = index as u16 + 1;
        if power.get(supply.port as usize).is_none_or(|port| port.zone != 0) {
            continue;
        }
        let joined = spread(tree, power, order, supply, zone);
        for port in order.iter() {
            if let Some(port) = power.get_mut(*port as usize)
                && joined
            {
                port.zone = DcPort::JOINED;
            }
        }
        if joined {
            continue;
        }
        for (number, case) in Case::ALL.into_iter().enumerate() {
            let volts = supply.volts.volts() * (1.0 - case.sign() * supply.spread.percent() * 0.01);
            let holds = settle(tree, power, order, supply.source.ohms(), volts, case, number);
            for port in order.iter() {
                if let Some(slot) = power.get_mut(*port as usize).and_then(|port| port.volts.get_mut(number))
                    && !holds
                {
                    *slot = COLLAPSED;
                }
            }
        }
    }
    Ok(())
}

/// Visits every port that a supply's DC reaches, nearest first; true where another supply is met.
#[cfg_attr(target_os = "none", inline(never))]
fn spread(
    tree: &Tree<'_, '_>,
    power: &mut VecView<DcPort>,
    order: &mut VecView<u16>,
    supply: &Supply,
    zone: u16,
) -> bool {
    let mut joined = false;
    order.clear();
    if let Some(start) = power.get_mut(supply.port as usize) {
        *start = DcPort { zone, toward: supply.port, ohms: supply.source.ohms(), ..DcPort::default() };
        let _ = order.push(supply.port);
    }
    let mut next = 0;
    while let Some(here) = order.get(next).copied() {
        next += 1;
        let Some(port) = tree.ports.get(here as usize) else { continue };
        let ohms = power.get(here as usize).map_or(0.0, |port| port.ohms);
        let mut visit = |to: u16, step: f32| {
            if let Some(port) = power.get_mut(to as usize)
                && port.zone == 0
            {
                *port = DcPort { zone, toward: here, ohms: ohms + step, ..DcPort::default() };
                let _ = order.push(to);
            }
        };
        if let Some(placed) = tree.parts.get(port.owner as usize)
            && let Some(step) = placed.part.dc(port.number).ohms(tree.climate, Case::Nominal)
        {
            visit(placed.after, step);
        }
        match port.occupant {
            Occupant::Part(part) => {
                let Some(placed) = tree.parts.get(part.index()) else { continue };
                for number in 0..placed.part.ways() {
                    if let Some(step) = placed.part.dc(number).ohms(tree.climate, Case::Nominal) {
                        visit(placed.first_port + u16::from(number), step);
                    }
                }
            }
            Occupant::Supply(other) => joined |= other.0 + 1 != zone,
            _ => {}
        }
    }
    joined
}

/// Resistance of the step from a port to the one before it on the way from the supply.
fn step_ohms(tree: &Tree<'_, '_>, port: u16, toward: u16, case: Case) -> f32 {
    let through = |out: u16, input: u16| -> Option<DcPath<'_>> {
        let port = tree.ports.get(out as usize)?;
        let placed = tree.parts.get(port.owner as usize)?;
        (placed.after == input).then(|| placed.part.dc(port.number))
    };
    through(port, toward)
        .or_else(|| through(toward, port))
        .and_then(|path| path.ohms(tree.climate, case))
        .unwrap_or(0.0)
}

/// Settles the voltages of one supply's ports in one case; false where they collapse.
#[cfg_attr(target_os = "none", inline(never))]
fn settle(
    tree: &Tree<'_, '_>,
    power: &mut VecView<DcPort>,
    order: &[u16],
    source_ohms: f32,
    source_volts: f32,
    case: Case,
    number: usize,
) -> bool {
    let set = |power: &mut VecView<DcPort>, port: u16, volts: f32| {
        if let Some(slot) = power.get_mut(port as usize).and_then(|port| port.volts.get_mut(number)) {
            *slot = volts;
        }
    };
    for port in order {
        set(power, *port, source_volts);
    }
    let mut change = 0.0;
    for _ in 0..STEPS {
        for here in order {
            let (constant, slope) = tangent(tree, power, *here, number);
            if let Some(port) = power.get_mut(*here as usize) {
                port.constant = constant;
                port.slope = slope;
            }
        }
        for (index, here) in order.iter().enumerate().rev() {
            let Some(port) = power.get(*here as usize).copied() else { continue };
            let ohms = if index == 0 { source_ohms } else { step_ohms(tree, *here, port.toward, case) };
            let share = 1.0 + port.slope * ohms;
            if share <= 0.0 {
                return false;
            }
            if index > 0
                && let Some(before) = power.get_mut(port.toward as usize)
            {
                before.constant += port.constant / share;
                before.slope += port.slope / share;
            }
        }
        change = 0.0;
        for (index, here) in order.iter().enumerate() {
            let Some(port) = power.get(*here as usize).copied() else { continue };
            let (before, ohms) = if index == 0 {
                (source_volts, source_ohms)
            } else {
                let before = power.get(port.toward as usize).and_then(|port| port.volts.get(number)).copied();
                (before.unwrap_or(0.0), step_ohms(tree, *here, port.toward, case))
            };
            let volts = (before - ohms * port.constant) / (1.0 + port.slope * ohms);
            if volts <= 0.0 {
                return false;
            }
            let old = port.volts.get(number).copied().unwrap_or(0.0);
            change = crate::math::max(change, crate::math::abs(volts - old));
            set(power, *here, volts);
        }
        if change <= source_volts * 2e-7 {
            return true;
        }
    }
    // At the very point of collapse the steps only halve; what is left is f32's rounding.
    change <= source_volts * 1e-4
}

/// The draws at a port as a straight line through what they take at its present voltage.
fn tangent(tree: &Tree<'_, '_>, power: &VecView<DcPort>, port: u16, number: usize) -> (f32, f32) {
    let volts = power.get(port as usize).and_then(|port| port.volts.get(number)).copied().unwrap_or(1.0);
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
pub(crate) fn draws<'s>(tree: &Tree<'_, 's>, port: u16) -> impl Iterator<Item = (PartId, &'s Amplifier<'s>)> + use<'s> {
    drawing(tree, port).into_iter().flatten()
}

#[cfg_attr(target_os = "none", inline(never))]
fn drawing<'s>(tree: &Tree<'_, 's>, port: u16) -> [Option<(PartId, &'s Amplifier<'s>)>; 2] {
    let Some(at) = tree.ports.get(port as usize) else { return [None; 2] };
    let amplifier = |part: u16| Some((PartId(part), tree.parts.get(part as usize)?.part.amplifier()?));
    let own = amplifier(at.owner).filter(|(_, spec)| {
        if at.number < spec.outputs {
            (spec.dc_ports.outputs >> at.number) & 1 == 1
        } else {
            !at.signal && spec.dc_ports.power
        }
    });
    let hanging = match at.occupant {
        Occupant::Part(part) => amplifier(part.0).filter(|(_, spec)| spec.dc_ports.input),
        _ => None,
    };
    [own, hanging]
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
pub(crate) fn feeds<'w, 's>(tree: Tree<'w, 's>, power: &'w [DcPort]) -> impl Iterator<Item = Feed> + use<'w, 's> {
    (1..=tree.supplies.len() as u16).flat_map(move |zone| {
        power.iter().enumerate().filter(move |(_, port)| port.zone == zone).flat_map(move |(port, here)| {
            draws(&tree, port as u16).filter_map(move |(part, _)| feed(&tree, power, PortId(port as u16), here, part))
        })
    })
}

/// The feed of an amplifier that draws at a port; [`None`] where not just one supply reaches it.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn feed(
    tree: &Tree<'_, '_>,
    power: &[DcPort],
    port: PortId,
    here: &DcPort,
    amplifier: PartId,
) -> Option<Feed> {
    let number = here.zone.checked_sub(1)?;
    let supply = tree.supplies.get(number as usize)?;
    let spec = tree.part(amplifier)?.amplifier()?;
    let [nominal, ..] = here.volts;
    let volts = (nominal != COLLAPSED).then_some(nominal);
    let all_hold = here.volts.iter().all(|volts| *volts != COLLAPSED);
    let drawn = here.volts.map(|volts| amps(spec, volts));
    let mut given = [0.0; 3];
    for (index, other) in power.iter().enumerate().filter(|(_, other)| other.zone == here.zone) {
        for (_, spec) in draws(tree, index as u16) {
            for (sum, volts) in given.iter_mut().zip(other.volts) {
                *sum += amps(spec, volts);
            }
        }
    }
    let (across, drawn, given) = (Figure::of(here.volts), Figure::of(drawn), Figure::of(given));
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
