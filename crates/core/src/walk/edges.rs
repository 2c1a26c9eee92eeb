//! How the loss at a port follows from the loss at the port its part hangs on.

use super::Sense;
use super::batch::LANES;
use super::pass::Cases;
use crate::check::Desk;
use crate::noise::Excess;
use crate::{Curve, Figure, Tree};

/// What kind of way out of a part a port is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// One that only loses.
    Passive,
    /// An amplifier's output.
    Amplified,
    /// An amplifier's output that lets nothing through in the sense that [`tune`] was called for.
    Blocked,
    /// No signal goes there, nor beyond.
    Silent,
}

/// One port's step from the port its part hangs on: `cases` times a row of a table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Edge {
    /// The port its part hangs on.
    pub(crate) from: u16,
    /// Its row; [`FLAT`](Self::FLAT) where it loses the same at every frequency.
    pub(crate) row: u16,
    /// Factors of the row in the three cases: a cable's for its length, temperature and spread, one for what a row
    /// says as it stands; decibels where there is no row.
    pub(crate) cases: Cases,
    pub(crate) kind: Kind,
}

impl Edge {
    /// No row at all.
    pub(crate) const FLAT: u16 = u16::MAX;
    /// The entry follows from nothing.
    pub(crate) const ENTRY: Self = Self { from: 0, row: Self::FLAT, cases: [0.0; 3], kind: Kind::Passive };
}

/// One amplifier: the rows of its tables, [`Edge::FLAT`] where it is one value or none, and what is worked out for it.
#[derive(Clone, Debug)]
pub(crate) struct Stage {
    pub(crate) part: u16,
    pub(crate) gain: u16,
    pub(crate) back: u16,
    pub(crate) network: u16,
    /// Total power at its input, in dBmV.
    pub(crate) input: Figure,
    pub(crate) excess: Excess,
}

impl Stage {
    /// A part, before more is known.
    pub(crate) const fn new(part: u16) -> Self {
        let (gain, back, network) = (Edge::FLAT, Edge::FLAT, Edge::FLAT);
        Self { part, gain, back, network, input: Figure::alone(0.0), excess: [[0.0; 3]; LANES] }
    }
}

/// Sets what amplified outputs do to a signal of this sense. What an amplifier blocks counts as
/// nothing here; who asks has to look at the way.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn tune(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, sense: Sense) {
    for stage in desk.stages.iter() {
        let Some(placed) = tree.parts.get(stage.part as usize) else { continue };
        let Some(spec) = placed.part.amplifier() else { continue };
        let (row, curve, toward_loss) = match sense {
            Sense::Forward => (stage.gain, Some(&spec.gain), -1.0),
            Sense::Return => (stage.back, spec.return_gain.as_ref(), -1.0),
            Sense::Network => (stage.network, spec.network_loss.as_ref(), 1.0),
        };
        let spread = if sense == Sense::Network { 0.0 } else { spec.spread.db() };
        for node in desk.nodes.iter_mut().skip(placed.first_port as usize).take(spec.outputs as usize) {
            let edge = &mut node.edge;
            edge.row = row;
            (edge.kind, edge.cases) = match curve {
                Some(Curve::Flat(value)) => {
                    let loss = toward_loss * value.db();
                    (Kind::Amplified, [loss, loss + spread, loss - spread])
                }
                Some(Curve::Points(_)) => (Kind::Amplified, [1.0; 3]),
                None => (Kind::Blocked, [0.0; 3]),
            };
        }
    }
}
