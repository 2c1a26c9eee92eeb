//! What the outlets can bear, between the panel and them and of each other.

use super::bench::Build;
use super::leaf::Rules;
use super::menu::{COLUMNS, Column, Losses, MOST_LOSS};
use super::need::Need;
use super::search::{Search, Task};
use crate::curve::Between;
use crate::math::{max, min};
use crate::{Case, Error, Frequency, PortId, Tree};

/// What an outlet can bear between the panel and its run.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bearing {
    /// The most that may be lost.
    pub(super) most: Losses,
    /// The least that must be lost.
    pub(super) least: Losses,
}

impl Bearing {
    /// Anything.
    pub(super) const ANY: Self = Self { most: [f32::INFINITY; COLUMNS], least: [f32::NEG_INFINITY; COLUMNS] };

    /// Reads what the one outlet on the bench can bear before its run.
    fn read<'s>(columns: &[Column], bench: &impl Build<'s>, margin: f32, with_targets: bool) -> Self {
        let tree = bench.tree();
        let mut bearing = Bearing::ANY;
        let Some(outlet) = tree.outlets().first() else { return bearing };
        let (limits, target) = (tree.limits(outlet.device), tree.target(outlet.device));
        for ((most, least), column) in bearing.most.iter_mut().zip(&mut bearing.least).zip(columns) {
            let (Ok(lost), Ok(level)) = (
                column.lost(&tree, outlet.port()),
                tree.level_at(outlet.port(), Frequency::unchecked(column.mhz), column.case),
            ) else {
                continue;
            };
            let room = |bounds: &crate::Limits, margin: f32, spread: f32| {
                let (from, to) = if column.upward {
                    let sent = tree.entry.transmit.map_or(0.0, |points| points.at(column.mhz, Between::Linear)) + lost;
                    (bounds.transmit.0 - sent, bounds.transmit.1 - sent - spread)
                } else {
                    (level.dbmv() - bounds.forward.1, level.dbmv() - bounds.forward.0)
                };
                (from + margin, to - margin)
            };
            let (from, to) = if column.is_limit {
                // What is too high is too high nominally: that is the other columns' business.
                (f32::NEG_INFINITY, room(limits, margin, tree.entry.spread).1)
            } else if with_targets {
                let (from, to) = room(target, 0.0, 0.0);
                (max(from, room(limits, margin, 0.0).0), to)
            } else {
                (room(limits, margin, 0.0).0, f32::INFINITY)
            };
            *least = from;
            *most = if to < MOST_LOSS { to } else { f32::INFINITY };
        }
        bearing
    }
}

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// What each outlet can bear.
    pub(super) fn read_bearings<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
    ) -> Result<(), Error> {
        for (index, wanted) in task.need.outlets.iter().enumerate() {
            task.bench.clear(None);
            let panel = super::design::lead_in(task.need, task.bench, &mut |_| {})?;
            let run = task.bench.add(panel, wanted.run.part())?;
            let end = task.bench.port(run, 0)?;
            task.bench.add_outlet(end, wanted.outlet)?;
            if let Some(limit) = self.neighbour_limits.get_mut(index) {
                *limit = task.bench.tree().limits(wanted.outlet.device).from_neighbours();
            }
            if let Some(runs) = self.runs.get_mut(index) {
                *runs = run_losses(task.need, &task.bench.tree(), panel, end)?;
            }
            if let Some(bearing) = self.bearings.get_mut(index) {
                *bearing = match task.rules {
                    Rules::Nothing => Bearing::ANY,
                    rules => Bearing::read(&self.menu.columns, &*task.bench, task.margin, rules == Rules::All),
                };
            }
        }
        Ok(())
    }

    /// Which outlets no neighbour's modem and no link of the home network can trouble: those that hear anything, or for
    /// which there is no other modem, and that belong to no network.
    pub(super) fn read_quiet<'s, B: Build<'s>, F>(&mut self, task: &Task<'_, '_, 's, B, F>) {
        self.quiet = 0;
        let modems = |but: usize| {
            let others = task.need.outlets.iter().enumerate().filter(move |(index, _)| *index != but);
            others.filter(|(_, wanted)| wanted.outlet.device.is_modem()).count()
        };
        let is_silent = task.bench.tree().entry.transmit.is_none();
        for (index, wanted) in task.need.outlets.iter().enumerate() {
            let limit = self.neighbour_limits.get(index).copied().unwrap_or(0.0);
            let target = task.bench.tree().target(wanted.outlet.device).neighbour;
            let deaf = limit == f32::INFINITY && target.is_none();
            if (deaf || is_silent || modems(index) == 0) && !(wanted.member && task.need.network.is_some()) {
                self.quiet |= 1 << index;
            }
        }
    }

    /// Wants this margin from now on: less can be borne with a wider one.
    pub(super) fn want<'s, B: Build<'s>, F>(&mut self, task: &Task<'_, '_, 's, B, F>, margin: f32) {
        self.least = margin;
        for (wider, column) in self.wider.iter_mut().zip(&self.menu.columns) {
            *wider = if column.is_limit { margin - task.margin } else { 0.0 };
        }
        self.division.widen(&self.wider);
    }
}

/// What a run loses nominally: the most at the return frequencies, the least at the home network's edges.
fn run_losses(need: &Need<'_, '_>, tree: &Tree<'_, '_>, from: PortId, to: PortId) -> Result<(f32, f32), Error> {
    let lost = |mhz: f32| -> Result<f32, Error> {
        let at = |port| tree.level_at(port, Frequency::unchecked(mhz), Case::Nominal);
        Ok(at(from)?.dbmv() - at(to)?.dbmv())
    };
    let (mut most, mut least) = (0.0, f32::INFINITY);
    for point in tree.entry.transmit.map_or(&[][..], |points| points.as_slice()) {
        most = max(most, lost(point.mhz)?);
    }
    if let Some(network) = &need.network {
        least = min(lost(network.band.low.mhz())?, lost(network.band.high.mhz())?);
    }
    Ok((most, least))
}
