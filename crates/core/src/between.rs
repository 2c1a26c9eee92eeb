//! Loss between two outlets.
//!
//! Two ways to the entry meet at a part. What passes from one outlet to the other loses what both
//! legs lose below that part and the part's isolation; or it goes up to a filter that reflects it
//! and comes back down. Losses along a way are differences of the outward pass.

use crate::check::{About, At, Bound, Code, Desk, Finding, Verdict, not_above, raise};
use crate::premises::{Placed, Port};
use crate::walk::{Sense, outward};
use crate::{Error, Figure, Frequency, OutletId, Part, Tree};

/// The signal's way from one outlet to another.
struct Pair<'t, 'a, 's> {
    tree: &'t Tree<'a, 's>,
    desk: &'t Desk<'t>,
    lane: usize,
    mhz: f32,
    sense: Sense,
}

/// Nominal loss in dB from an outlet to another in the return band; [`None`] where it is blocked.
pub(crate) fn in_return_band(
    tree: &Tree<'_, '_>,
    desk: &Desk<'_>,
    outlets: (usize, usize),
    lane: usize,
    mhz: f32,
) -> Option<f32> {
    loss(tree, desk, outlets, lane, mhz, Sense::Return)
}

/// Nominal loss in dB from an outlet to another in the home network's band.
pub(crate) fn in_network_band(
    tree: &Tree<'_, '_>,
    desk: &Desk<'_>,
    outlets: (usize, usize),
    lane: usize,
    mhz: f32,
) -> Option<f32> {
    loss(tree, desk, outlets, lane, mhz, Sense::Network)
}

fn loss(
    tree: &Tree<'_, '_>,
    desk: &Desk<'_>,
    (from, to): (usize, usize),
    lane: usize,
    mhz: f32,
    sense: Sense,
) -> Option<f32> {
    let from = tree.outlets.get(from)?.port;
    let to = tree.outlets.get(to)?.port;
    Pair { tree, desk, lane, mhz, sense }.loss(from, to)
}

impl<'a, 's> Pair<'_, 'a, 's> {
    fn loss(&self, from: u16, to: u16) -> Option<f32> {
        let (mut up, mut down) = (from, to);
        let mut open = true;
        // The later port is never on the way of the earlier one, so it is the one to climb from.
        while self.port(up)?.owner != self.port(down)?.owner {
            if up > down {
                open &= self.passes_up(up);
                up = self.placed(up)?.after;
            } else {
                open &= self.passes_down(down);
                down = self.placed(down)?.after;
            }
        }
        if up == down {
            return None;
        }
        let legs = self.lost(from)? - self.lost(up)? + self.lost(to)? - self.lost(down)?;
        let meeting = self.placed(up)?;
        let direct = self.meet(meeting, up, down).filter(|_| open).map(|isolation| legs + isolation);
        let reflected = if open && self.passes_up(up) && self.passes_down(down) {
            self.reflected(meeting.after).and_then(|top| Some(self.lost(from)? + self.lost(to)? - 2.0 * top))
        } else {
            None
        };
        match (direct, reflected) {
            (Some(direct), Some(reflected)) => Some(crate::math::min(direct, reflected)),
            (direct, reflected) => direct.or(reflected),
        }
    }

    /// The loss from the entry down to the way out of the nearest reflecting filter above a port.
    fn reflected(&self, port: u16) -> Option<f32> {
        for (_, placed, through) in self.tree.way_up(port) {
            if let Part::Filter(filter) = placed.part
                && filter.reflects.is_some_and(|band| band.holds(self.mhz))
            {
                return self.lost(through);
            }
            if !self.passes_up(through) || !self.passes_down(through) {
                return None;
            }
        }
        None
    }

    /// What a part lets across between two of its ways out.
    fn meet(&self, meeting: &Placed<'_>, a: u16, b: u16) -> Option<f32> {
        let frequency = Frequency::unchecked(self.mhz);
        let isolation = meeting.part.isolation()?.at(frequency);
        match meeting.part.amplifier() {
            Some(spec) => {
                let outputs = self.is_output(a) && self.is_output(b);
                if outputs { Some(isolation) } else { Some(isolation + spec.network_loss.as_ref()?.at(frequency)) }
            }
            None => Some(isolation),
        }
    }

    /// Whether a signal gets from a way out of a part to its input.
    fn passes_up(&self, port: u16) -> bool {
        let Some(spec) = self.placed(port).and_then(|placed| placed.part.amplifier()) else { return true };
        !self.is_output(port)
            || match self.sense {
                Sense::Network => spec.network_loss.is_some(),
                _ => spec.return_gain.is_some(),
            }
    }

    /// Whether a signal gets from a part's input to a way out.
    fn passes_down(&self, port: u16) -> bool {
        let Some(placed) = self.placed(port) else { return true };
        let Some(spec) = placed.part.amplifier() else { return true };
        !self.is_output(port)
            || match (self.sense, &spec.return_gain) {
                (Sense::Network, _) => spec.network_loss.is_some(),
                // Nothing goes backwards through gain.
                (_, Some(gain)) => gain.at(Frequency::unchecked(self.mhz)) <= 0.0,
                (_, None) => false,
            }
    }

    /// Whether a port is an amplified output.
    fn is_output(&self, port: u16) -> bool {
        let number = self.port(port).map_or(0, |port| port.number);
        self.placed(port).and_then(|placed| placed.part.amplifier()).is_some_and(|spec| number < spec.outputs)
    }

    fn lost(&self, port: u16) -> Option<f32> {
        let [nominal, ..] = self.desk.planes.get(port as usize)?;
        nominal.get(self.lane).copied()
    }

    fn port(&self, port: u16) -> Option<&'a Port> {
        self.tree.ports.get(port as usize)
    }

    fn placed(&self, port: u16) -> Option<&'a Placed<'s>> {
        self.tree.parts.get(self.port(port)?.owner as usize)
    }
}

/// Marks every port through which two members of the home network talk, edge by edge.
pub(crate) fn mark_links(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    let Some(network) = tree.home_network else { return };
    let owner = |port: u16| tree.ports.get(port as usize).map_or(Port::NOBODY, |port| port.owner);
    let outlet_port = |outlet: &OutletId| tree.outlets.get(outlet.index()).map(|outlet| outlet.port);
    let spots = &mut *desk.spots;
    let mut step_up = |port: &mut u16, edges: [bool; 2]| {
        if let Some(spot) = spots.get_mut(*port as usize) {
            for (linked, edge) in spot.linked.iter_mut().zip(edges) {
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
///
/// # Errors
/// [`Error::Full`] where findings or links find no room.
pub(crate) fn judge_links(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    let Some(network) = tree.home_network else { return Ok(()) };
    crate::walk::tune(tree, desk.edges, desk.amplifiers, Sense::Network);
    let mut batch = crate::walk::Batch::default();
    batch.take(&mut [network.band.low.mhz(), network.band.high.mhz()].into_iter());
    crate::walk::evaluate(tree, desk.rows, &batch, Sense::Network);
    outward(desk.edges, desk.rows, desk.planes);
    for (index, from) in tree.members.iter().enumerate() {
        for to in tree.members.iter().skip(index + 1) {
            for (lane, mhz) in batch.frequencies() {
                let loss = in_network_band(tree, desk, (from.index(), to.index()), lane, mhz);
                desk.layout.put_link(desk.cells, loss)?;
                judge_link(desk, network.max_loss, (*from, *to), mhz, loss)?;
            }
        }
    }
    Ok(())
}

fn judge_link(
    desk: &mut Desk<'_>,
    limit: f32,
    (from, to): (OutletId, OutletId),
    mhz: f32,
    loss: Option<f32>,
) -> Result<(), Error> {
    if limit == f32::INFINITY {
        return Ok(());
    }
    let (at, other) = (At::Outlet(from), At::Outlet(to));
    match loss {
        Some(loss) => {
            let about = About::new(Code::HomeLinkWeak, at, "dB").other(other).mhz(mhz);
            let figure = Figure { nominal: loss, low: loss, high: loss };
            not_above(desk.findings, about, figure, Bound::at_most(limit))
        }
        None => {
            let blocked = Finding {
                limit: Some(limit),
                unit: "dB",
                ..Finding::new(Code::HomeLinkWeak, Verdict::Fail, at).other(other).mhz(mhz)
            };
            raise(desk.findings, blocked)
        }
    }
}
