//! The pass outward.

use super::batch::{LANES, Lanes, each};
use super::edges::Kind;
use super::node::Node;
use super::rows::Row;

/// Loss from the entry to one port, in dB: three cases, each at the frequencies of a batch.
pub(crate) type Plane = [Lanes; 3];

/// The number in a case and a lane.
pub(crate) fn number(plane: &Plane, case: usize, lane: usize) -> f32 {
    plane.get(case).and_then(|lanes| lanes.get(lane)).copied().unwrap_or(0.0)
}

/// Adds up losses from the entry to every port. A port stands after the one its part hangs on,
/// so one pass in order is enough. Where no signal goes, nothing is worked out.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn outward(nodes: &mut [Node], rows: &[Row]) {
    for index in 0..nodes.len() {
        let Some((done, [Node { edge, plane, .. }, ..])) = nodes.split_at_mut_checked(index) else { return };
        let row = rows.get(edge.row as usize);
        match (edge.kind, done.get(edge.from as usize), row) {
            (Kind::Entry, ..) => *plane = [[0.0; LANES]; 3],
            (Kind::Flat, Some(from), _) => {
                for ((to, from), loss) in plane.iter_mut().zip(&from.plane).zip(edge.cases) {
                    *to = each(from, from, |from, _| from + loss);
                }
            }
            (Kind::Scaled, Some(from), Some(row)) => {
                let [table, ..] = &row.cases;
                for ((to, from), factor) in plane.iter_mut().zip(&from.plane).zip(edge.cases) {
                    *to = each(from, table, |from, table| from + factor * table);
                }
            }
            (Kind::Table, Some(from), Some(row)) => {
                for ((to, from), table) in plane.iter_mut().zip(&from.plane).zip(&row.cases) {
                    *to = each(from, table, |from, table| from + table);
                }
            }
            _ => {}
        }
    }
}
