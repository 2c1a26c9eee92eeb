//! Loss between two outlets.
//!
//! Two ways to the entry meet at a part. What passes from one outlet to the other loses what both
//! legs lose below that part and the part's isolation; or it goes up to a filter that reflects it
//! and comes back down. Losses along a way are differences of the outward pass.

use crate::check::{At, Bound, Code, Desk, Verdict, spread_out};
use crate::math::min;
use crate::premises::Placed;
use crate::walk::{Node, Sense, at, tune};
use crate::{Amplifier, Curve, Figure, Frequency, OutletId, Part, Tree};

/// Stands for the loss of a way that is blocked.
pub(crate) const BLOCKED: f32 = f32::INFINITY;

/// Where the ways from two outlets to the entry meet.
pub(crate) struct Meeting<'a, 's> {
    /// The part at which they do.
    placed: &'a Placed<'s>,
    from: u16,
    to: u16,
    /// Its ways out by which they leave it.
    up: u16,
    down: u16,
    /// The lanes, one bit each, in which a leg is shut.
    shut: u8,
    sense: Sense,
}

/// Finds where the ways from two ports meet; [`None`] where they do not. In the home network's band the ports on the
/// way are marked as linked.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn meet<'a, 's>(
    tree: &Tree<'a, 's>,
    desk: &mut Desk<'_>,
    from: u16,
    to: u16,
    sense: Sense,
) -> Option<Meeting<'a, 's>> {
    let (mut up, mut down, mut shut) = (from, to, 0);
    let (mut part_up, mut part_down) = (tree.above(up)?, tree.above(down)?);
    while !core::ptr::eq(part_up, part_down) {
        // The later port is never on the way of the earlier one, so it is the one to climb from.
        let climbs = up > down;
        let (port, placed) = if climbs { (up, part_up) } else { (down, part_down) };
        // Most parts neither shut a way nor have to be marked.
        if sense == Sense::Network || placed.part.amplifier().is_some() {
            shut |= pass(tree, desk, port, sense, [true; 2], !climbs);
        }
        let above = (placed.after, tree.above(placed.after)?);
        if climbs {
            (up, part_up) = above;
        } else {
            (down, part_down) = above;
        }
    }
    Some(Meeting { placed: part_up, from, to, up, down, shut, sense })
}

impl Meeting<'_, '_> {
    /// Nominal loss in dB from one outlet to the other at one frequency of the batch, [`BLOCKED`] where nothing passes.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn loss(&self, tree: &Tree<'_, '_>, desk: &mut Desk<'_>, lane: usize) -> f32 {
        let mhz = desk.slate.batch.mhz(lane);
        let mut loss = BLOCKED;
        if (self.shut >> lane) & 1 == 0 {
            let across = self.across(tree, mhz);
            loss = lost(desk, self.from, lane) - lost(desk, self.up, lane) + lost(desk, self.to, lane)
                - lost(desk, self.down, lane)
                + across;
        }
        // Above the meeting part only what a filter sends back comes by.
        let sends_back = |part: &Part<'_>| match part {
            Part::Filter(filter) => filter.reflects.is_some_and(|band| band.holds(mhz)),
            _ => false,
        };
        let mut above = tree.way_up(self.placed.after);
        if let Some((_, _, top)) = above.find(|(_, placed, _)| sends_back(&placed.part)) {
            let edge = [lane == 0, lane == 1];
            let mut shut = self.shut | pass(tree, desk, self.down, self.sense, edge, true);
            let (mut port, mut downward) = (self.up, false);
            while port != top {
                shut |= pass(tree, desk, port, self.sense, edge, downward);
                downward = true;
                port = tree.above(port).map_or(top, |placed| placed.after);
            }
            if (shut >> lane) & 1 == 0 {
                let whole = lost(desk, self.from, lane) + lost(desk, self.to, lane);
                loss = min(loss, whole - 2.0 * lost(desk, top, lane));
            }
        }
        loss
    }

    /// What the part lets across between the two ways out.
    #[cfg_attr(target_os = "none", inline(never))]
    fn across(&self, tree: &Tree<'_, '_>, mhz: f32) -> f32 {
        let at = |curve: Option<&Curve<'_>>| curve.map_or(BLOCKED, |curve| curve.at(Frequency::unchecked(mhz)));
        let isolation = at(self.placed.part.isolation());
        match self.placed.part.amplifier() {
            Some(spec) if !(is_amplified(tree, spec, self.up) && is_amplified(tree, spec, self.down)) => {
                isolation + at(spec.network_loss.as_ref())
            }
            _ => isolation,
        }
    }
}

/// What is nominally lost from the entry to a port, at one frequency of the batch.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn lost(desk: &Desk<'_>, port: u16, lane: usize) -> f32 {
    desk.nodes.get(port as usize).map_or(0.0, |Node { plane: [nominal, ..], .. }| at(nominal, lane))
}

/// The lanes, one bit each, in which no signal gets from a way out of a part to its input or, if asked, back; in the
/// home network's band the port is marked as linked, edge by edge.
#[cfg_attr(target_os = "none", inline(never))]
fn pass(
    tree: &Tree<'_, '_>,
    desk: &mut Desk<'_>,
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
    match tree.above(port).and_then(|placed| placed.part.amplifier()) {
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
    let meeting = meet(tree, desk, port(from), port(to), Sense::Network);
    for lane in 0..desk.slate.batch.used {
        let loss = meeting.as_ref().map_or(BLOCKED, |meeting| meeting.loss(tree, desk, lane));
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
