//! Loss between two outlets.
//!
//! Two ways to the entry meet at a part. What passes from one outlet to the other loses what both
//! legs lose below that part and the part's isolation; or it goes up to a filter that reflects it
//! and comes back down. Losses along a way are differences of the outward pass.

use crate::check::{At, Bound, Code, Desk, mirrors, spread_out};
use crate::math::{is_negative, min};
use crate::premises::Placed;
use crate::walk::{Kind, Sense, tune};
use crate::{Curve, Device, Figure, Frequency, OutletId, Tree};

/// Stands for the loss of a way that is blocked.
pub(crate) const BLOCKED: f32 = f32::INFINITY;

/// Where the ways from two outlets to the entry meet.
struct Meeting {
    from: u16,
    to: u16,
    /// The ways out by which they leave the part at which they do.
    up: u16,
    down: u16,
    /// The lanes, one bit each, in which a leg is shut.
    shut: u8,
}

/// Works out what passes between two outlets, in the network's band or from a modem at the second to the first, and
/// holds it against its bound.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, sense: Sense, at: OutletId, other: OutletId) {
    let (Some(to), Some(from)) = (tree.outlets.get(at.index()), tree.outlets.get(other.index())) else { return };
    let bound = bound(tree, sense, to.device);
    // Where any level would do, none is worked out; but of a link the loss is reported.
    if sense == Sense::Return && bound.is_none() {
        return;
    }
    let meeting = meet(tree, desk, sense, from.port, to.port);
    for lane in 0..desk.slate.batch.used {
        let direct = direct(tree, desk, &meeting, lane);
        let loss = reflected(tree, desk, sense, &meeting, lane, direct);
        let (mut code, mut value) = (Code::HomeLinkWeak, loss);
        if sense == Sense::Return {
            // Through a blocked way comes infinitely little.
            (code, value) = (Code::NeighbourTransmit, below(desk, meeting.from, lane) + desk.slate.together - loss);
        } else {
            desk.slate.layout.put_link(desk.cells, loss);
        }
        let findings = desk.findings.about(At::Outlet(at)).other(At::Outlet(other)).mhz(desk.slate.batch.mhz(lane));
        if value != BLOCKED {
            findings.hold(code, &Figure::alone(value), bound);
        } else if !bound.is_none() {
            findings.raise(code, BLOCKED, bound.limit);
        }
    }
}

/// What a device must not hear of a modem, or what a link must not lose.
fn bound(tree: &Tree<'_, '_>, sense: Sense, device: Device) -> Bound {
    if sense == Sense::Network {
        return Bound::at_most(tree.home_network.map_or(f32::INFINITY, |network| network.max_loss));
    }
    let target = tree.target(device).neighbour.unwrap_or(f32::INFINITY);
    Bound { limit: tree.limits(device).from_neighbours(), target }
}

/// Finds where the ways from two ports meet; all is shut where they do not. In the home network's band the ports on the
/// way are marked as linked.
#[cfg_attr(target_os = "none", inline(never))]
fn meet(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, sense: Sense, from: u16, to: u16) -> Meeting {
    let owner = |port: u16| tree.ports.get(port as usize).map(|port| port.owner);
    let mut meeting = Meeting { from, to, up: from, down: to, shut: 0 };
    while owner(meeting.up) != owner(meeting.down) {
        // The later port is never on the way of the earlier one, so it is the one to climb from.
        let climbs = meeting.up > meeting.down;
        let port = if climbs { &mut meeting.up } else { &mut meeting.down };
        meeting.shut |= pass(desk, sense, *port, u8::MAX, !climbs);
        *port = before(desk, *port);
    }
    if meeting.up == 0 {
        // At the entry's own port there is no part to meet at.
        meeting.shut = u8::MAX;
    }
    meeting
}

/// Nominal loss in dB from one outlet to the other, through the part where their ways meet, at one frequency of the
/// batch; [`BLOCKED`] where nothing passes.
#[cfg_attr(target_os = "none", inline(never))]
fn direct(tree: &Tree<'_, '_>, desk: &Desk<'_>, meeting: &Meeting, lane: usize) -> f32 {
    let Some(placed) = tree.above(meeting.up) else { return BLOCKED };
    if (meeting.shut >> lane) & 1 != 0 {
        return BLOCKED;
    }
    let across = across(desk, placed, meeting, lane);
    below(desk, meeting.from, lane) - below(desk, meeting.up, lane) + below(desk, meeting.to, lane)
        - below(desk, meeting.down, lane)
        + across
}

/// The same, or what is lost by way of a filter above that part that sends it back, if that is less.
#[cfg_attr(target_os = "none", inline(never))]
fn reflected(
    tree: &Tree<'_, '_>,
    desk: &mut Desk<'_>,
    sense: Sense,
    meeting: &Meeting,
    lane: usize,
    direct: f32,
) -> f32 {
    let (mhz, over) = (desk.slate.batch.mhz(lane), before(desk, meeting.up));
    let mirror = mirrors(tree, desk.nodes, over).find(|(_, band)| band.holds(mhz));
    let Some((top, _)) = mirror else { return direct };
    let bit = 1 << lane;
    let mut shut = meeting.shut | pass(desk, sense, meeting.down, bit, true);
    let (mut port, mut downward) = (meeting.up, false);
    while port != top {
        shut |= pass(desk, sense, port, bit, downward);
        downward = true;
        port = before(desk, port);
    }
    if shut & bit != 0 {
        return direct;
    }
    min(direct, below(desk, meeting.from, lane) + below(desk, meeting.to, lane) - 2.0 * below(desk, top, lane))
}

/// What the part at which two ways meet lets across between them.
fn across(desk: &Desk<'_>, placed: &Placed<'_>, meeting: &Meeting, lane: usize) -> f32 {
    let mhz = Frequency::unchecked(desk.slate.batch.mhz(lane));
    let at = |curve: Option<&Curve<'_>>| curve.map_or(BLOCKED, |curve| curve.at(mhz));
    let is_passive = |port: u16| desk.nodes.get(port as usize).is_none_or(|node| node.edge.kind == Kind::Passive);
    let mut isolation = at(placed.part.isolation());
    if let Some(spec) = placed.part.amplifier()
        && (is_passive(meeting.up) || is_passive(meeting.down))
    {
        isolation += at(spec.network_loss.as_ref());
    }
    isolation
}

/// The port that a port's part hangs on.
fn before(desk: &Desk<'_>, port: u16) -> u16 {
    desk.nodes.get(port as usize).map_or(0, |node| node.edge.from)
}

/// The nominal plane at a port, at one frequency of the batch.
#[cfg_attr(target_os = "none", inline(never))]
fn below(desk: &Desk<'_>, port: u16, lane: usize) -> f32 {
    desk.nodes.get(port as usize).map_or(0.0, |node| node.nominal(lane))
}

/// The lanes, one bit each, in which no signal gets from a way out of a part to its input or, if asked, back; in the
/// home network's band the port is marked as linked in the lanes that are looked at.
#[cfg_attr(target_os = "none", inline(never))]
fn pass(desk: &mut Desk<'_>, sense: Sense, port: u16, lanes: u8, downward: bool) -> u8 {
    let Some(node) = desk.nodes.get_mut(port as usize) else { return 0 };
    if sense == Sense::Network {
        node.spot.linked |= lanes;
    }
    match node.edge.kind {
        Kind::Blocked => u8::MAX,
        // Nothing goes backwards through gain.
        Kind::Amplified if downward && sense == Sense::Return => {
            let row = desk.rows.get(node.edge.row as usize);
            let [gain, ..] = node.edge.cases;
            let mut shut = 0;
            for lane in 0..desk.slate.batch.used {
                let loss = row.map_or(gain, |row| row.nominal(lane));
                shut |= u8::from(is_negative(loss)) << lane;
            }
            shut
        }
        _ => 0,
    }
}

/// Works out every link of the home network at both edges of its band.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge_links(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    let Some(network) = tree.home_network else { return };
    tune(tree, desk, Sense::Network);
    desk.slate.batch.used = 0;
    desk.slate.batch.push(network.band.low.mhz());
    desk.slate.batch.push(network.band.high.mhz());
    spread_out(tree, desk, Sense::Network);
    let mut members = tree.members;
    while let [at, others @ ..] = members {
        for other in others {
            judge(tree, desk, Sense::Network, *at, *other);
        }
        members = others;
    }
}
