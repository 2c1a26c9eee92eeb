//! Loss between two outlets.
//!
//! Two ways to the entry meet at a part. What passes from one outlet to the other loses what both
//! legs lose below that part and the part's isolation; or it goes up to a filter that reflects it
//! and comes back down. Losses along a way are differences of the outward pass.

use crate::check::{At, Bound, Code, Desk, Verdict, spread_out};
use crate::math::min;
use crate::premises::Placed;
use crate::walk::{LANES, Lanes, Node, Sense, at, tune};
use crate::{Amplifier, Figure, Frequency, OutletId, Part, Tree};

/// Stands for the loss of a way that is blocked.
pub(crate) const BLOCKED: f32 = f32::INFINITY;

/// Nominal loss in dB from the outlet at one port to that at another, at the frequencies of the batch,
/// [`BLOCKED`] where nothing passes. In the home network's band the ports on the way are marked as linked.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn loss_between(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, from: u16, to: u16, sense: Sense) -> Lanes {
    let mut losses = [BLOCKED; LANES];
    find(tree, desk, from, to, sense, &mut losses);
    losses
}

/// Finds where two ways meet, and what passes there and at a mirror above; [`None`] where they do not meet.
fn find(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, from: u16, to: u16, sense: Sense, losses: &mut Lanes) -> Option<()> {
    let (mut up, mut down, mut shut) = (from, to, 0);
    let meeting = loop {
        let (part_up, part_down) = (tree.above(up)?, tree.above(down)?);
        if core::ptr::eq(part_up, part_down) {
            break part_up;
        }
        // The later port is never on the way of the earlier one, so it is the one to climb from.
        let climbs = up > down;
        let (port, placed) = if climbs { (&mut up, part_up) } else { (&mut down, part_down) };
        // Most parts neither shut a way nor have to be marked.
        if sense == Sense::Network || placed.part.amplifier().is_some() {
            shut |= pass(tree, desk, placed, *port, sense, [true; 2], !climbs);
        }
        *port = placed.after;
    };
    for (lane, loss) in (0..desk.slate.batch.used).zip(losses) {
        let mhz = desk.slate.batch.mhz(lane);
        let lost = |desk: &Desk<'_>, port: u16| -> Option<f32> {
            let Node { plane: [nominal, ..], .. } = desk.nodes.get(port as usize)?;
            Some(at(nominal, lane))
        };
        let (a, b) = (lost(desk, from)?, lost(desk, to)?);
        if (shut >> lane) & 1 == 0 {
            let across = across(tree, meeting, up, down, mhz).unwrap_or(BLOCKED);
            *loss = a - lost(desk, up)? + b - lost(desk, down)? + across;
        }
        // Above the meeting part only what a filter sends back comes by.
        let sends_back = |part: &Part<'_>| match part {
            Part::Filter(filter) => filter.reflects.is_some_and(|band| band.holds(mhz)),
            _ => false,
        };
        let mirror = tree.way_up(meeting.after).find(|(_, placed, _)| sends_back(&placed.part));
        let Some((_, _, top)) = mirror else { continue };
        let (mut port, edge) = (meeting.after, [lane == 0, lane == 1]);
        let mut shut = shut | pass(tree, desk, meeting, up, sense, edge, false);
        shut |= pass(tree, desk, meeting, down, sense, edge, true);
        while port != top {
            let placed = tree.above(port)?;
            shut |= pass(tree, desk, placed, port, sense, edge, true);
            port = placed.after;
        }
        if (shut >> lane) & 1 == 0 {
            *loss = min(*loss, a + b - 2.0 * lost(desk, top)?);
        }
    }
    Some(())
}

/// The lanes, one bit each, in which no signal gets from a way out of a part to its input or, if asked, back; in the
/// home network's band the port is marked as linked, edge by edge.
#[cfg_attr(target_os = "none", inline(never))]
fn pass(
    tree: &Tree<'_, '_>,
    desk: &mut Desk<'_>,
    placed: &Placed<'_>,
    port: u16,
    sense: Sense,
    [at_low, at_high]: [bool; 2],
    downward: bool,
) -> u8 {
    if sense == Sense::Network
        && let Some(node) = desk.nodes.get_mut(port as usize)
    {
        let [low, high] = &mut node.spot.linked;
        *low |= at_low;
        *high |= at_high;
    }
    match placed.part.amplifier() {
        Some(spec) if is_amplified(tree, spec, port) => match (sense, &spec.return_gain) {
            (Sense::Network, _) if spec.network_loss.is_some() => 0,
            // Nothing goes backwards through gain.
            (Sense::Return, Some(gain)) => desk.slate.batch.frequencies().fold(0, |shut, (lane, mhz)| {
                shut | u8::from(downward && gain.at(Frequency::unchecked(mhz)) > 0.0) << lane
            }),
            _ => u8::MAX,
        },
        _ => 0,
    }
}

/// Whether a way out of an amplifier is an amplified one.
fn is_amplified(tree: &Tree<'_, '_>, spec: &Amplifier<'_>, port: u16) -> bool {
    tree.ports.get(port as usize).is_some_and(|port| port.number < spec.outputs)
}

/// What a part lets across between two of its ways out.
#[cfg_attr(target_os = "none", inline(never))]
fn across(tree: &Tree<'_, '_>, meeting: &Placed<'_>, a: u16, b: u16, mhz: f32) -> Option<f32> {
    let frequency = Frequency::unchecked(mhz);
    let isolation = meeting.part.isolation()?.at(frequency);
    match meeting.part.amplifier() {
        Some(spec) if !(is_amplified(tree, spec, a) && is_amplified(tree, spec, b)) => {
            Some(isolation + spec.network_loss.as_ref()?.at(frequency))
        }
        _ => Some(isolation),
    }
}

/// Works out every link of the home network at both edges of its band.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge_links(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    let Some(network) = tree.home_network else { return };
    tune(tree, desk.nodes, desk.stages, Sense::Network);
    desk.slate.batch.used = 0;
    desk.slate.batch.push(network.band.low.mhz());
    desk.slate.batch.push(network.band.high.mhz());
    spread_out(tree, desk, Sense::Network);
    let mut place = 0;
    for (index, from) in tree.members.iter().enumerate() {
        for to in tree.members.iter().skip(index + 1) {
            judge_link(tree, desk, network.max_loss, (*from, *to), place);
            place += desk.slate.batch.used;
        }
    }
}

/// Works out one link; `place` is that of its first figure.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_link(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, limit: f32, (from, to): (OutletId, OutletId), place: usize) {
    let port = |outlet: OutletId| tree.outlets.get(outlet.index()).map_or(0, |outlet| outlet.port);
    let losses = loss_between(tree, desk, port(from), port(to), Sense::Network);
    for (lane, loss) in (0..desk.slate.batch.used).zip(losses) {
        let figure = Figure::alone(loss);
        if let Some(cell) = desk.slate.layout.links_mut(desk.cells).get_mut(place + lane) {
            *cell = figure;
        }
        let findings = desk.findings.about(At::Outlet(from)).other(At::Outlet(to)).mhz(desk.slate.batch.mhz(lane));
        if limit == f32::INFINITY {
            continue;
        }
        if loss == BLOCKED {
            findings.raise(Code::HomeLinkWeak, Verdict::Fail, BLOCKED, limit);
        } else {
            findings.not_above(Code::HomeLinkWeak, &figure, Bound::at_most(limit));
        }
    }
}
