//! How the loss at a port follows from the loss at the port its part hangs on.

use super::batch::LANES;
use super::{Node, Sense};
use crate::noise::Excess;
use crate::{Case, Curve, Figure, Tree};

/// How an edge's loss is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// The entry, where nothing is lost yet.
    Entry,
    /// The same number of decibels at every frequency.
    Flat,
    /// A cable's row times a factor for its length, temperature and spread.
    Scaled,
    /// A row as it stands.
    Table,
    /// An amplified output, before [`tune`] has said for which sense.
    Amplified,
    /// No signal goes there, nor beyond.
    Silent,
}

/// One port's step from the port its part hangs on.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Edge {
    /// The port its part hangs on.
    pub(crate) from: u16,
    /// Its row, for kinds that have one.
    pub(crate) row: u16,
    pub(crate) kind: Kind,
    /// Decibels or factors in the three cases.
    pub(crate) cases: [f32; 3],
}

impl Edge {
    /// The entry follows from nothing.
    pub(crate) const ENTRY: Self = Self { from: 0, row: 0, kind: Kind::Entry, cases: [0.0; 3] };
}

/// One amplifier: the rows of its tables, [`FLAT`](Self::FLAT) where it is one value or none, and what is worked
/// out for it.
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
    pub(crate) const FLAT: u16 = u16::MAX;

    /// A part, before more is known.
    pub(crate) const fn new(part: u16) -> Self {
        let (gain, back, network) = (Self::FLAT, Self::FLAT, Self::FLAT);
        Self { part, gain, back, network, input: Figure::alone(0.0), excess: [[0.0; LANES]; 3] }
    }
}

/// Sets what amplified outputs do to a signal of this sense. What an amplifier blocks counts as
/// nothing here; who asks has to look at the way.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn tune(tree: &Tree<'_, '_>, nodes: &mut [Node], stages: &[Stage], sense: Sense) {
    for stage in stages {
        let Some(placed) = tree.parts.get(stage.part as usize) else { continue };
        let Some(spec) = placed.part.amplifier() else { continue };
        let (row, curve, toward_loss) = match sense {
            Sense::Forward => (stage.gain, Some(&spec.gain), -1.0),
            Sense::Return => (stage.back, spec.return_gain.as_ref(), -1.0),
            Sense::Network => (stage.network, spec.network_loss.as_ref(), 1.0),
        };
        let (kind, cases) = match curve {
            Some(Curve::Flat(value)) => {
                let spread = if sense == Sense::Network { 0.0 } else { spec.spread.db() };
                (Kind::Flat, Case::ALL.map(|case| toward_loss * value.db() + case.sign() * spread))
            }
            Some(Curve::Points(_)) => (Kind::Table, [0.0; 3]),
            None => (Kind::Flat, [0.0; 3]),
        };
        for node in nodes.iter_mut().skip(placed.first_port as usize).take(spec.outputs as usize) {
            node.edge.kind = kind;
            node.edge.row = row;
            node.edge.cases = cases;
        }
    }
}
