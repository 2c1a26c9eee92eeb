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

/// Levels, tilt and carrier-to-noise ratios at every outlet, at the frequencies of the batch.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    noise::spread_out(tree, desk);
    for (index, outlet) in tree.outlets.iter().enumerate() {
        if outlet.device == Device::Unused {
            continue;
        }
        for lane in 0..desk.slate.batch.used {
            let level = level(tree, desk, outlet.port, lane);
            note(tree, desk, index, Column::Forward, lane, &level);
            if desk.slate.batch.mhz(lane) == tree.service.last_carrier() {
                let tilt = tilt(desk, outlet.port, lane);
                note(tree, desk, index, Column::Tilt, lane, &tilt);
            }
            if tree.entry.cnr.is_some() {
                let ratio = noise::ratio_at(desk, outlet.port, lane);
                note(tree, desk, index, Column::Cnr, lane, &ratio);
            }
        }
    }
}

/// The level at a port. Until the totals are worked out, their place keeps the first carrier's.
#[cfg_attr(target_os = "none", inline(never))]
fn level(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, port: u16, lane: usize) -> Figure {
    let cases = desk.at(port, lane).map(|below| -below);
    if desk.slate.batch.mhz(lane) == tree.service.first_carrier()
        && let Some(node) = desk.nodes.get_mut(port as usize)
    {
        node.total = cases;
    }
    Figure::of(&cases)
}

/// How far the level is above the first carrier's.
#[cfg_attr(target_os = "none", inline(never))]
fn tilt(desk: &Desk<'_>, port: u16, lane: usize) -> Figure {
    let mut cases = desk.nodes.get(port as usize).map_or([0.0; 3], |node| node.total);
    for (first, below) in cases.iter_mut().zip(desk.at(port, lane)) {
        *first = -below - *first;
    }
    Figure::of(&cases)
}
