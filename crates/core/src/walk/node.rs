//! One port, and all that is worked out for it.

use super::batch::{LANES, at};
use super::{Edge, Plane};
use crate::check::Spot;
use crate::feed::DcPort;

/// A port on the way outward. One store for all of it: steps that need two of these need no second look.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) edge: Edge,
    pub(crate) plane: Plane,
    /// The total power in the three cases, as power ratios.
    pub(crate) total: [f32; 3],
    pub(crate) spot: Spot,
    pub(crate) power: DcPort,
}

impl Node {
    /// The entry, or any port before more is known.
    #[inline(always)]
    pub(crate) fn new() -> Self {
        let plane = [[0.0; LANES]; 3];
        Self { edge: Edge::ENTRY, plane, total: [0.0; 3], spot: Spot::default(), power: DcPort::default() }
    }

    /// What is lost on the way here in the three cases, in dB.
    pub(crate) fn lost(&self, lane: usize) -> [f32; 3] {
        let [nominal, most, least] = &self.plane;
        [at(nominal, lane), at(most, lane), at(least, lane)]
    }
}
