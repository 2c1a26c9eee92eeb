//! The pass outward.

use super::Sense;
use super::batch::{Batch, LANES};
use super::edges::Kind;
use super::node::Node;
use super::rows::Row;
use crate::Tree;
use crate::curve::Between;

/// The three cases of something, nominal first.
pub(crate) type Cases = [f32; 3];

/// The three cases at each frequency of a batch, in dB. Counted from the entry's own levels they say, forward, how
/// far a level lies below 0 dBmV; of the return, what a modem has to send, in dBmV; in the home network's band,
/// which nobody reads at the entry, what is lost on the way from there.
pub(crate) type Plane = [Cases; LANES];

/// What stands at the entry.
fn begin(tree: &Tree<'_, '_>, batch: &Batch, sense: Sense, plane: &mut Plane) {
    *plane = [[0.0; 3]; LANES];
    let (points, between) = match (sense, &tree.entry.transmit) {
        (Sense::Forward, _) => (&tree.entry.forward, Between::SquareRoot),
        (Sense::Return, Some(points)) => (points, Between::Linear),
        _ => return,
    };
    for (cases, read) in plane.iter_mut().zip(batch.read(points, between)) {
        let read = if sense == Sense::Forward { -read } else { read };
        *cases = [read, read + tree.entry.spread, read - tree.entry.spread];
    }
}

/// Adds up losses from the entry to every port. A port stands after the one its part hangs on,
/// so one pass in order is enough. Where no signal goes, nothing is worked out.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn outward(tree: &Tree<'_, '_>, batch: &Batch, nodes: &mut [Node], rows: &[Row], sense: Sense) {
    if let Some(node) = nodes.first_mut() {
        begin(tree, batch, sense, &mut node.plane);
    }
    for index in 1..nodes.len() {
        let Some((done, [Node { edge, plane, .. }, ..])) = nodes.split_at_mut_checked(index) else { return };
        if edge.kind == Kind::Silent {
            continue;
        }
        let Some(from) = done.get(edge.from as usize) else { return };
        // A loss that is the same at every frequency is a table of ones times the loss: one loop for all of them.
        let table = rows.get(edge.row as usize).map_or(&[[1.0; 3]; LANES], |row| &row.cases);
        let [nominal, most, least] = edge.cases;
        for ((to, from), table) in plane.iter_mut().zip(&from.plane).zip(table) {
            *to = [from[0] + nominal * table[0], from[1] + most * table[1], from[2] + least * table[2]];
        }
    }
}
