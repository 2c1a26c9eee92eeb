//! Forward levels: from the entry to the outlets.

use heapless::VecView;

use crate::check::{About, At, Bound, Code, Desk, Finding, Layout, not_above, not_below};
use crate::curve::Between;
use crate::math::{abs, max};
use crate::walk::{Batch, Lanes};
use crate::{Device, Error, Figure, OutletId, Tree, noise};

/// The frequencies at which forward figures are reported, in MHz: the entry's readings, the
/// first and the last carrier; rising, none twice.
pub(crate) fn frequencies<'s>(tree: &Tree<'_, 's>) -> impl Iterator<Item = f32> + use<'s> {
    let mut readings = tree.entry.forward.as_slice().iter().map(|point| point.mhz).peekable();
    let mut carriers = [tree.service.first_carrier(), tree.service.last_carrier()].into_iter().peekable();
    let mut last = 0.0;
    core::iter::from_fn(move || {
        loop {
            let next = match (readings.peek(), carriers.peek()) {
                (Some(a), Some(b)) if a <= b => readings.next(),
                (_, Some(_)) => carriers.next(),
                (_, None) => readings.next(),
            }?;
            if next > last {
                last = next;
                return Some(next);
            }
        }
    })
}

/// The entry's levels at a batch of frequencies, in dBmV.
pub(crate) fn entry_levels(tree: &Tree<'_, '_>, batch: &Batch) -> Lanes {
    batch.read(&tree.entry.forward, Between::SquareRoot)
}

/// Levels, tilt and carrier-to-noise ratios at every outlet, at the frequencies of a batch; `row`
/// is the place of its first frequency among those reported.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, batch: &Batch, row: usize) -> Result<(), Error> {
    let levels = entry_levels(tree, batch);
    let floor = noise::Floor::of(tree, batch);
    noise::at_amplifiers(tree, desk, batch, &levels, &floor);
    let spread = tree.entry.spread;
    let (first, last) = (tree.service.first_carrier(), tree.service.last_carrier());
    for (index, outlet) in tree.outlets.iter().enumerate() {
        let (limits, target) = (tree.limits(outlet.device), tree.target(outlet.device));
        let port = outlet.port as usize;
        let (Some([nominal, most, least]), Some(spot)) = (desk.planes.get(port), desk.spots.get(port)) else {
            continue;
        };
        if outlet.device == Device::Unused {
            continue;
        }
        let behind = spot.above;
        let at = At::Outlet(OutletId(index as u16));
        let lanes = levels.iter().zip(nominal.iter().zip(most).zip(least));
        for ((lane, mhz), (level, ((nominal, most), least))) in batch.frequencies().zip(lanes) {
            let cases = [level - nominal, level - spread - most, level + spread - least];
            let figure = Figure::of(cases);
            desk.layout.put_forward(desk.cells, index, row + lane, figure);
            let low = Bound { limit: limits.forward.0, target: target.forward.0 };
            let high = Bound { limit: limits.forward.1, target: target.forward.1 };
            not_below(desk.findings, About::new(Code::ForwardLow, at, "dBmV").mhz(mhz), figure, low)?;
            not_above(desk.findings, About::new(Code::ForwardHigh, at, "dBmV").mhz(mhz), figure, high)?;
            if mhz == first {
                // Until the totals are worked out, their place keeps the first carrier's level.
                keep_first(desk.totals, port, cases);
            }
            if mhz == last {
                let start = desk.totals.get(port).copied().unwrap_or_default();
                judge_tilt(tree, desk.layout, desk.cells, desk.findings, index, start, cases)?;
            }
            if let Some(floor) = &floor {
                let excess = desk.excess.as_slice();
                let cnr = floor.ratio_at(lane, excess, behind, *level, spread, cases);
                desk.layout.put_cnr(desk.cells, index, row + lane, cnr);
                let bound = Bound { limit: limits.cnr, target: target.cnr };
                not_below(desk.findings, About::new(Code::CnrLow, at, "dB").mhz(mhz), cnr, bound)?;
            }
        }
    }
    Ok(())
}

fn keep_first(totals: &mut VecView<[f32; 3]>, port: usize, cases: [f32; 3]) {
    if let Some(slot) = totals.get_mut(port) {
        *slot = cases;
    }
}

/// Tilt at one outlet, from the levels at the first and the last carrier.
fn judge_tilt(
    tree: &Tree<'_, '_>,
    layout: Layout,
    cells: &mut VecView<Figure>,
    findings: &mut VecView<Finding>,
    outlet: usize,
    [first, first_most, first_least]: [f32; 3],
    [last, last_most, last_least]: [f32; 3],
) -> Result<(), Error> {
    let tilt = Figure::of([last - first, last_most - first_most, last_least - first_least]);
    layout.put_tilt(cells, outlet, tilt);
    let steepest = max(abs(tilt.low), abs(tilt.high));
    let figure = Figure { nominal: abs(tilt.nominal), low: 0.0, high: steepest };
    let device = tree.outlets.get(outlet).map_or(Device::Unused, |outlet| outlet.device);
    let bound = Bound { limit: tree.limits(device).tilt, target: tree.target(device).tilt };
    not_above(findings, About::new(Code::TiltHigh, At::Outlet(OutletId(outlet as u16)), "dB"), figure, bound)
}
