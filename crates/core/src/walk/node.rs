//! One port, and all that is worked out for it.

use super::Edge;
use super::batch::LANES;
use super::pass::{Cases, Plane};
use crate::check::Spot;
use crate::feed::DcPort;

/// A port on the way outward. One store for all of it: steps that need two of these need no second look.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) edge: Edge,
    pub(crate) plane: Plane,
    /// The total power in the three cases, as power ratios.
    pub(crate) total: Cases,
    pub(crate) spot: Spot,
    pub(crate) power: DcPort,
}

impl Node {
    /// The entry, or any port before more is known.
    #[inline(always)]
    pub(crate) fn new() -> Self {
        let plane = [[0.0; 3]; LANES];
        Self { edge: Edge::ENTRY, plane, total: [0.0; 3], spot: Spot::default(), power: DcPort::default() }
    }

    /// Forgets what the wiring says of it, and that DC reaches it.
    #[inline(always)]
    pub(crate) fn clear(&mut self) {
        (self.edge, self.spot, self.power.zone) = (Edge::ENTRY, Spot::default(), 0);
    }

    /// The plane at one frequency of the batch.
    #[inline(always)]
    pub(crate) fn at(&self, lane: usize) -> Cases {
        self.plane.get(lane).copied().unwrap_or_default()
    }

    /// Its nominal case.
    #[inline(always)]
    pub(crate) fn nominal(&self, lane: usize) -> f32 {
        self.plane.get(lane).map_or(0.0, |[nominal, ..]| *nominal)
    }
}
