//! The figures of an outlet: noted in the report, and held against what its device takes.

use super::finding::{At, Code};
use super::judge::Bound;
use super::layout::Column;
use super::workspace::Desk;
use crate::math::{abs, max};
use crate::{Figure, OutletId, Tree};

/// Notes a figure of an outlet and holds it against its limits; `lane` is that of its frequency, where it has one.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn note(
    tree: &Tree<'_, '_>,
    desk: &mut Desk<'_>,
    index: usize,
    column: Column,
    lane: usize,
    figure: &Figure,
) {
    let Some(outlet) = tree.outlets.get(index) else { return };
    let findings = desk.findings.about(At::Outlet(OutletId(index as u16)));
    let mut row = 0;
    if !matches!(column, Column::Tilt | Column::Total) {
        row = desk.slate.row + lane;
        findings.mhz(desk.slate.batch.mhz(lane));
    }
    desk.slate.layout.put(desk.cells, index, column, row, figure);
    let (limits, target) = (tree.limits(outlet.device), tree.target(outlet.device));
    let bound = |limit, target| Bound { limit, target };
    match column {
        Column::Tilt => {
            let steepest = max(abs(figure.low), abs(figure.high));
            let figure = Figure { nominal: abs(figure.nominal), low: 0.0, high: steepest };
            findings.hold(Code::TiltHigh, &figure, bound(limits.tilt, target.tilt));
        }
        Column::Total => findings.hold(Code::TotalHigh, figure, bound(limits.total, target.total)),
        Column::Forward => {
            findings.hold(Code::ForwardLow, figure, bound(limits.forward.0, target.forward.0));
            findings.hold(Code::ForwardHigh, figure, bound(limits.forward.1, target.forward.1));
        }
        Column::Cnr => findings.hold(Code::CnrLow, figure, bound(limits.cnr, target.cnr)),
        Column::Transmit => {
            findings.hold(Code::TransmitHigh, figure, bound(limits.transmit.1, target.transmit.1));
            findings.hold(Code::TransmitLow, figure, bound(limits.transmit.0, target.transmit.0));
        }
    }
}
