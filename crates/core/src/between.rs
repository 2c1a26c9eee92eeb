//! Loss between two outlets.
//!
//! Two ways to the entry meet at a part. What passes from one outlet to the other loses what both
//! legs lose below that part and the part's isolation; or it goes up to a filter that reflects it
//! and comes back down. Losses along a way are differences of the outward pass.

use crate::check::{At, Bound, Code, Desk, Verdict, spread_out};
use crate::math::min;
use crate::premises::{Placed, Port};
use crate::walk::{Batch, LANES, Lanes, Node, Sense, at, tune};
use crate::{Amplifier, Figure, Frequency, OutletId, Part, Tree};

/// Stands for the loss of a way that is blocked.
pub(crate) const BLOCKED: f32 = f32::INFINITY;

/// Nominal loss in dB from the outlet at one port to that at another, at the frequencies of the batch,
/// [`BLOCKED`] where nothing passes.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn loss_between(tree: &Tree<'_, '_>, desk: &Desk<'_>, from: u16, to: u16, sense: Sense) -> Lanes {
    let mut losses = [BLOCKED; LANES];
    Ways { tree, nodes: desk.nodes, batch: &desk.slate.batch, sense }.find(from, to, &mut losses);
    losses
}

/// What the ways between outlets are read off: a home after an outward pass.
#[derive(Clone, Copy)]
struct Ways<'t, 'a, 's> {
    tree: &'t Tree<'a, 's>,
    nodes: &'t [Node],
    batch: &'t Batch,
    sense: Sense,
}

impl<'a, 's> Ways<'_, 'a, 's> {
    /// Finds where two ways meet, and what passes there and at a mirror above; [`None`] where
    /// they do not meet.
    fn find(&self, from: u16, to: u16, losses: &mut Lanes) -> Option<()> {
        let (mut up, mut down, mut shut) = (from, to, 0);
        // The later port is never on the way of the earlier one, so it is the one to climb from.
        while self.port(up)?.owner != self.port(down)?.owner {
            let climbs = up > down;
            let port = if climbs { &mut up } else { &mut down };
            let placed = self.placed(*port)?;
            if matches!(placed.part, Part::Amplifier(_)) {
                shut |= self.shut(*port, !climbs);
            }
            *port = placed.after;
        }
        if up == down {
            return None;
        }
        let meeting = self.placed(up)?;
        let [a, b, x, y] = [self.lost(from)?, self.lost(to)?, self.lost(up)?, self.lost(down)?];
        for ((lane, mhz), loss) in self.batch.frequencies().zip(losses.iter_mut()) {
            if (shut >> lane) & 1 == 0 {
                let across = self.across(meeting, up, down, mhz).unwrap_or(BLOCKED);
                *loss = at(a, lane) - at(x, lane) + at(b, lane) - at(y, lane) + across;
            }
        }
        shut |= self.shut(up, false) | self.shut(down, true);
        for (_, placed, through) in self.tree.way_up(meeting.after) {
            if shut == u8::MAX {
                break;
            }
            if let Part::Filter(filter) = placed.part
                && let Some(band) = filter.reflects
            {
                let top = self.lost(through)?;
                for ((lane, mhz), loss) in self.batch.frequencies().zip(losses.iter_mut()) {
                    if (shut >> lane) & 1 == 0 && band.holds(mhz) {
                        *loss = min(*loss, at(a, lane) + at(b, lane) - 2.0 * at(top, lane));
                        shut |= 1 << lane;
                    }
                }
            }
            if matches!(placed.part, Part::Amplifier(_)) {
                shut |= self.shut(through, false) | self.shut(through, true);
            }
        }
        Some(())
    }

    /// What a part lets across between two of its ways out.
    fn across(&self, meeting: &Placed<'_>, a: u16, b: u16, mhz: f32) -> Option<f32> {
        let frequency = Frequency::unchecked(mhz);
        let isolation = meeting.part.isolation()?.at(frequency);
        match meeting.part.amplifier() {
            Some(spec) if self.amplified(a).is_none() || self.amplified(b).is_none() => {
                Some(isolation + spec.network_loss.as_ref()?.at(frequency))
            }
            _ => Some(isolation),
        }
    }

    /// The lanes, one bit each, in which no signal gets from a way out of a part to its input, or
    /// the other way.
    fn shut(&self, port: u16, downward: bool) -> u8 {
        let Some(spec) = self.amplified(port) else { return 0 };
        match self.sense {
            Sense::Network if spec.network_loss.is_some() => 0,
            Sense::Network => u8::MAX,
            _ => match &spec.return_gain {
                None => u8::MAX,
                // Nothing goes backwards through gain.
                Some(gain) if downward => self
                    .batch
                    .frequencies()
                    .fold(0, |shut, (lane, mhz)| shut | (u8::from(gain.at(Frequency::unchecked(mhz)) > 0.0) << lane)),
                Some(_) => 0,
            },
        }
    }

    /// The amplifier whose amplified output a port is.
    fn amplified(&self, port: u16) -> Option<&'s Amplifier<'s>> {
        let spec = self.placed(port)?.part.amplifier()?;
        (self.port(port)?.number < spec.outputs).then_some(spec)
    }

    fn lost(&self, port: u16) -> Option<&Lanes> {
        self.nodes.get(port as usize).map(|Node { plane: [nominal, ..], .. }| nominal)
    }

    fn port(&self, port: u16) -> Option<&'a Port> {
        self.tree.ports.get(port as usize)
    }

    fn placed(&self, port: u16) -> Option<&'a Placed<'s>> {
        self.tree.parts.get(self.port(port)?.owner as usize)
    }
}

/// Marks every port through which two members of the home network talk, edge by edge.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn mark_links(tree: &Tree<'_, '_>, nodes: &mut [Node]) {
    let Some(network) = tree.home_network else { return };
    let owner = |port: u16| tree.ports.get(port as usize).map_or(Port::NOBODY, |port| port.owner);
    let outlet_port = |outlet: &OutletId| tree.outlets.get(outlet.index()).map(|outlet| outlet.port);
    let mut step_up = |port: &mut u16, edges: [bool; 2]| {
        if let Some(node) = nodes.get_mut(*port as usize) {
            for (linked, edge) in node.spot.linked.iter_mut().zip(edges) {
                *linked |= edge;
            }
        }
        if let Some(placed) = tree.parts.get(owner(*port) as usize) {
            *port = placed.after;
        }
    };
    for (index, from) in tree.members.iter().enumerate() {
        for to in tree.members.iter().skip(index + 1) {
            let (Some(mut a), Some(mut b)) = (outlet_port(from), outlet_port(to)) else { continue };
            while owner(a) != owner(b) {
                step_up(if a > b { &mut a } else { &mut b }, [true; 2]);
            }
            // Above the meeting part only what a filter sends back comes by.
            for (edges, mhz) in [([true, false], network.band.low.mhz()), ([false, true], network.band.high.mhz())] {
                let sends_back = |part: &Part<'_>| match part {
                    Part::Filter(filter) => filter.reflects.is_some_and(|band| band.holds(mhz)),
                    _ => false,
                };
                let mirror = tree.way_up(a).find(|(_, placed, _)| sends_back(&placed.part));
                let mut port = a;
                while mirror.is_some_and(|(_, _, top)| port != top) {
                    step_up(&mut port, edges);
                }
            }
        }
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
    let mut row = 0;
    for (index, from) in tree.members.iter().enumerate() {
        for to in tree.members.iter().skip(index + 1) {
            judge_link(tree, desk, network.max_loss, *from, *to, row);
            row += 2;
        }
    }
}

/// Works out one link; `row` is the place of its first figure.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_link(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, limit: f32, from: OutletId, to: OutletId, row: usize) {
    let port = |outlet: OutletId| tree.outlets.get(outlet.index()).map_or(0, |outlet| outlet.port);
    let losses = loss_between(tree, desk, port(from), port(to), Sense::Network);
    for (lane, mhz) in desk.slate.batch.frequencies() {
        let figure = Figure::alone(at(&losses, lane));
        if let Some(cell) = desk.slate.layout.links_mut(desk.cells).get_mut(row + lane) {
            *cell = figure;
        }
        let findings = desk.findings.about(At::Outlet(from)).other(At::Outlet(to)).mhz(mhz);
        if limit == f32::INFINITY {
            continue;
        }
        if figure.nominal == BLOCKED {
            findings.raise(Code::HomeLinkWeak, Verdict::Fail, BLOCKED, limit);
        } else {
            findings.not_above(Code::HomeLinkWeak, &figure, Bound::at_most(limit));
        }
    }
}
