//! What the outlets need of what comes in at the panel, and what they can bear of each other.

use super::bench::Build;
use super::leaf::Rules;
use super::menu::COLUMNS;
use super::need::Need;
use super::search::{Search, Task};
use crate::math::{max, min};
use crate::{Case, Error, Frequency, PortId, Tree};

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// What each outlet needs of what comes in at the panel.
    pub(super) fn read_needs<'s, B: Build<'s>, F>(&mut self, task: &mut Task<'_, '_, 's, B, F>) -> Result<(), Error> {
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
            if let Some(needs) = self.needs.get_mut(index) {
                *needs = match task.rules {
                    Rules::Nothing => [0.0; COLUMNS],
                    rules => self.menu.needed(&*task.bench, task.margin, rules == Rules::All),
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

    /// Ranks the outlets by what they need, the most demanding first, column by column.
    pub(super) fn rank(&mut self, outlets: usize) {
        for (column, ranked) in self.ranked.iter_mut().enumerate() {
            let need = |outlet: u8| self.needs.get(usize::from(outlet)).and_then(|needs| needs.get(column)).copied();
            for (outlet, slot) in ranked.iter_mut().enumerate() {
                *slot = outlet as u8;
            }
            // Few outlets, once a search: each takes its place among those before it.
            for last in 1..outlets.min(OUTLETS) {
                let mut place = last;
                while let Some(before) = place.checked_sub(1)
                    && let (Some(a), Some(b)) = (ranked.get(before).copied(), ranked.get(place).copied())
                    && need(a) < need(b)
                {
                    if let (Some(upper), Some(lower)) = (ranked.get(before).copied(), ranked.get_mut(place)) {
                        *lower = upper;
                    }
                    if let Some(slot) = ranked.get_mut(before) {
                        *slot = b;
                    }
                    place = before;
                }
            }
        }
    }

    /// Wants this margin from now on: what is needed grows with it.
    pub(super) fn want<'s, B: Build<'s>, F>(&mut self, task: &Task<'_, '_, 's, B, F>, margin: f32) {
        self.least = margin;
        self.growth = self.menu.growth(margin - task.margin);
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
