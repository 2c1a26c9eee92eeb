//! Forward levels: from the entry to the outlets.

use crate::check::{Column, Desk, note};
use crate::math::{is_below, min};
use crate::{Device, Figure, Tree, noise};

/// The frequencies at which forward figures are reported, in MHz: the entry's readings, the
/// first and the last carrier; rising, none twice.
pub(crate) fn frequencies<'s>(tree: &Tree<'_, 's>) -> impl Iterator<Item = f32> + use<'s> {
    let readings = tree.entry.forward.as_slice();
    let carriers = [tree.service.first_carrier(), tree.service.last_carrier()];
    let after = move |mhz: &f32| next(readings, carriers, *mhz);
    core::iter::successors(after(&0.0), after)
}

/// The least of these frequencies above another.
pub(crate) fn after(tree: &Tree<'_, '_>, mhz: f32) -> Option<f32> {
    let carriers = [tree.service.first_carrier(), tree.service.last_carrier()];
    next(tree.entry.forward.as_slice(), carriers, mhz)
}

#[cfg_attr(target_os = "none", inline(never))]
fn next(readings: &[crate::Point], carriers: [f32; 2], after: f32) -> Option<f32> {
    let is_next = |mhz: &f32| is_below(after, *mhz);
    let reading = readings.iter().map(|point| point.mhz).find(is_next);
    let carrier = carriers.into_iter().find(is_next);
    match (reading, carrier) {
        (Some(reading), Some(carrier)) => Some(min(reading, carrier)),
        (reading, carrier) => reading.or(carrier),
    }
}

/// Levels, tilt and carrier-to-noise ratios at every outlet, at the frequencies of the batch; `row`
/// is the place of its first frequency among those reported.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, row: usize) {
    noise::spread_out(tree, desk);
    for (index, outlet) in tree.outlets.iter().enumerate() {
        if outlet.device == Device::Unused {
            continue;
        }
        for lane in 0..desk.slate.batch.used {
            judge_level(tree, desk, index, outlet.port, row, lane);
            if tree.entry.cnr.is_some() {
                let figure = noise::ratio_at(desk, outlet.port, lane);
                note(tree, desk, index, (Column::Cnr, row + lane), Some(desk.slate.batch.mhz(lane)), &figure);
            }
        }
    }
}

/// The level at an outlet; at the last carrier the tilt, too.
#[cfg_attr(target_os = "none", inline(never))]
fn judge_level(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, index: usize, port: u16, row: usize, lane: usize) {
    let mhz = desk.slate.batch.mhz(lane);
    let mut cases = desk.at(port, lane).map(|below| -below);
    note(tree, desk, index, (Column::Forward, row + lane), Some(mhz), &Figure::of(&cases));
    let Some(node) = desk.nodes.get_mut(port as usize) else { return };
    if mhz == tree.service.first_carrier() {
        // Until the totals are worked out, their place keeps the first carrier's level.
        node.total = cases;
    }
    if mhz == tree.service.last_carrier() {
        for (level, first) in cases.iter_mut().zip(node.total) {
            *level -= first;
        }
        note(tree, desk, index, (Column::Tilt, 0), None, &Figure::of(&cases));
    }
}
