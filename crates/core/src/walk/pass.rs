//! The pass outward.

use heapless::VecView;

use super::batch::{LANES, Lanes};
use super::edges::{Edge, Kind};
use super::rows::Row;

/// Loss from the entry to one port, in dB: three cases, each at the frequencies of a batch.
pub(crate) type Plane = [Lanes; 3];

/// Adds up losses from the entry to every port. A port stands after the one its part hangs on,
/// so one pass in order is enough.
pub(crate) fn outward(edges: &[Edge], rows: &[Row], planes: &mut VecView<Plane>) {
    for (index, edge) in edges.iter().enumerate() {
        let Some((done, rest)) = planes.split_at_mut_checked(index) else { return };
        let Some(plane) = rest.first_mut() else { return };
        if index == 0 {
            *plane = [[0.0; LANES]; 3];
            continue;
        }
        let Some(from) = done.get(edge.from as usize) else { continue };
        let row = rows.get(edge.row as usize);
        match (edge.kind, row) {
            (Kind::Flat, _) => {
                for ((to, from), loss) in plane.iter_mut().zip(from).zip(edge.cases) {
                    for (to, from) in to.iter_mut().zip(from) {
                        *to = from + loss;
                    }
                }
            }
            (Kind::Scaled, Some(row)) => {
                let [table, ..] = &row.cases;
                for ((to, from), factor) in plane.iter_mut().zip(from).zip(edge.cases) {
                    for ((to, from), table) in to.iter_mut().zip(from).zip(table) {
                        *to = from + factor * table;
                    }
                }
            }
            (Kind::Table, Some(row)) => {
                for ((to, from), table) in plane.iter_mut().zip(from).zip(&row.cases) {
                    for ((to, from), table) in to.iter_mut().zip(from).zip(table) {
                        *to = from + table;
                    }
                }
            }
            _ => *plane = *from,
        }
    }
}
