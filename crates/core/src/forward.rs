//! Forward levels: from the entry to the outlets.

use crate::check::{About, At, Bound, Code, Desk, not_above, not_below};
use crate::curve::Between;
use crate::math::{abs, max};
use crate::walk::{Batch, Lanes, at};
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
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, batch: &Batch, row: usize) -> Result<(), Error> {
    let levels = entry_levels(tree, batch);
    let floor = noise::Floor::of(tree, batch);
    noise::at_amplifiers(tree, desk, batch, &levels, &floor);
    for (index, outlet) in tree.outlets.iter().enumerate() {
        if outlet.device == Device::Unused {
            continue;
        }
        for (lane, mhz) in batch.frequencies() {
            let place = Place { outlet: index, row: row + lane, lane, mhz };
            judge_lane(tree, desk, &place, at(&levels, lane), floor.as_ref())?;
        }
    }
    Ok(())
}

/// One outlet at one frequency.
struct Place {
    outlet: usize,
    row: usize,
    lane: usize,
    mhz: f32,
}

#[cfg_attr(target_os = "none", inline(never))]
fn judge_lane(
    tree: &Tree<'_, '_>,
    desk: &mut Desk<'_>,
    place: &Place,
    level: f32,
    floor: Option<&noise::Floor>,
) -> Result<(), Error> {
    let Place { outlet: index, row, lane, mhz } = *place;
    let Some(outlet) = tree.outlets.get(index) else { return Ok(()) };
    let (limits, target) = (tree.limits(outlet.device), tree.target(outlet.device));
    let port = outlet.port as usize;
    let (Some(plane), Some(spot)) = (desk.planes.get(port), desk.spots.get(port)) else { return Ok(()) };
    let spread = tree.entry.spread;
    let [nominal, most, least] = plane.each_ref().map(|lost| at(lost, lane));
    let cases = [level - nominal, level - spread - most, level + spread - least];
    let figure = Figure::of(cases);
    let about = |code| About::new(code, At::Outlet(OutletId(index as u16))).mhz(mhz);
    desk.layout.put_forward(desk.cells, index, row, figure);
    let low = Bound { limit: limits.forward.0, target: target.forward.0 };
    let high = Bound { limit: limits.forward.1, target: target.forward.1 };
    not_below(&mut desk.findings, &about(Code::ForwardLow), &figure, low)?;
    not_above(&mut desk.findings, &about(Code::ForwardHigh), &figure, high)?;
    if mhz == tree.service.first_carrier()
        && let Some(start) = desk.totals.get_mut(port)
    {
        // Until the totals are worked out, their place keeps the first carrier's level.
        *start = cases;
    }
    if mhz == tree.service.last_carrier()
        && let Some(start) = desk.totals.get(port)
    {
        let mut tilts = cases;
        for (tilt, first) in tilts.iter_mut().zip(*start) {
            *tilt -= first;
        }
        let tilt = Figure::of(tilts);
        desk.layout.put_tilt(desk.cells, index, tilt);
        let steepest = max(abs(tilt.low), abs(tilt.high));
        let figure = Figure { nominal: abs(tilt.nominal), low: 0.0, high: steepest };
        let about = About::new(Code::TiltHigh, At::Outlet(OutletId(index as u16)));
        not_above(&mut desk.findings, &about, &figure, Bound { limit: limits.tilt, target: target.tilt })?;
    }
    if let Some(floor) = floor {
        let cnr = floor.ratio_at(lane, desk.excess.as_slice(), spot.above, level, spread, cases);
        desk.layout.put_cnr(desk.cells, index, row, cnr);
        not_below(&mut desk.findings, &about(Code::CnrLow), &cnr, Bound { limit: limits.cnr, target: target.cnr })?;
    }
    Ok(())
}
