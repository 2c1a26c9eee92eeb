//! In which order trees are gone through: by the number of amplifiers, then by cost, then by margin.
//!
//! A round goes through the trees with one set of amplifiers that cost no more than allowed. What is allowed is the least
//! that the relaxed search leaves possible, and rises until a tree is found: so the first cost at which there is one is
//! the lowest. Where the least is more than the whole stock costs there is no tree, and nothing to go through.

use heapless::Vec;

use super::bench::Build;
use super::fleets::fleets;
use super::judge::STEP;
use super::leaf::Rules;
use super::menu::Losses;
use super::routes::{Asked, PANEL};
use super::search::{Progress, ROUNDING, Search, Task};
use super::slots::SoFar;
use crate::Error;

/// How often prices change before they are made use of at first.
const FEW_TURNS: u32 = 8;
/// How often they change where that is worth its while.
const TURNS: u32 = 100;
/// It is after a round of so many steps.
const MANY_STEPS: u32 = 500;

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// Looks for the best tree with exactly so many amplifiers: the lowest cost, then the largest smallest margin.
    ///
    /// # Errors
    /// [`Error::Full`] where a candidate finds no room on the bench.
    pub(super) fn run<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        amplifiers: u8,
    ) -> Result<(), Error> {
        self.amplifiers = amplifiers;
        self.by_margin = false;
        let before = self.steps;
        self.want(task, task.margin - ROUNDING);
        if !self.can_serve(task)? {
            return Ok(());
        }
        fleets(&self.menu, amplifiers, &mut self.fleets);
        for index in 0..self.fleets.len() {
            self.relax(task, index, FEW_TURNS);
        }
        while let Some(index) = self.next_fleet() {
            self.go_through(task, index)?;
            if self.stopped {
                return Ok(());
            }
        }
        if self.best.is_none() || task.rules == Rules::Nothing {
            return Ok(());
        }
        self.by_margin = true;
        let turns = if self.steps.wrapping_sub(before) > MANY_STEPS { TURNS } else { 0 };
        for index in 0..self.fleets.len() {
            let Some((cost, margin)) = self.best.as_ref().map(|best| (best.cost, best.margin)) else { break };
            (self.limit, self.done) = (cost, None);
            self.want(task, margin + STEP);
            self.relax(task, index, turns);
            if self.fleets.get(index).and_then(|fleet| fleet.next).is_some_and(|least| least <= cost) {
                self.pass(task)?;
            }
            if self.stopped {
                break;
            }
        }
        Ok(())
    }

    /// The set of amplifiers that may do at the lowest cost, if that is lower than the best so far.
    fn next_fleet(&self) -> Option<usize> {
        let most = self.best.as_ref().map_or(u32::MAX, |best| best.cost);
        let hopeful = self.fleets.iter().enumerate().filter_map(|(index, fleet)| Some((fleet.next?, index)));
        hopeful.filter(|(next, _)| *next < most).min().map(|(_, index)| index)
    }

    /// Goes through the trees with these amplifiers at the lowest cost that was not looked at yet.
    fn go_through<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        index: usize,
    ) -> Result<(), Error> {
        let Some(mut fleet) = self.fleets.get(index).copied() else { return Ok(()) };
        let Some(limit) = fleet.next else { return Ok(()) };
        if self.relaxed.counts != fleet.counts(&self.menu) {
            self.relax(task, index, 0);
        }
        let most = self.best.as_ref().map_or(u32::MAX, |best| best.cost.saturating_sub(1));
        (self.limit, self.done, self.beyond) = (limit.min(most), fleet.done, u32::MAX);
        let before = self.steps;
        self.pass(task)?;
        fleet.first = if fleet.passes == 0 { limit } else { fleet.first };
        fleet.done = Some(limit);
        fleet.passes += 1;
        // The next cost and no further: overshooting costs far more than looking again at what is below. But where
        // there seems to be no tree at all, each cost is not worth a round of its own.
        let stride = match fleet.passes {
            0..16 => 0,
            16..32 => (limit - fleet.first) / 16,
            _ => (limit - fleet.first) / 4,
        };
        fleet.next = (self.beyond < u32::MAX).then_some(self.beyond.max(limit.saturating_add(stride)));
        let (next, is_settled) = (fleet.next, fleet.prices.are_settled());
        if let Some(slot) = self.fleets.get_mut(index) {
            *slot = fleet;
        }
        if self.steps.wrapping_sub(before) > MANY_STEPS && !is_settled && next.is_some() {
            self.relax(task, index, TURNS);
            if let Some(fleet) = self.fleets.get_mut(index) {
                fleet.next = fleet.next.zip(next).map(|(least, next)| least.max(next));
            }
        }
        Ok(())
    }

    /// Works out what trees with these amplifiers cost at the least, after so many more changes of prices.
    fn relax<'s, B: Build<'s>, F>(&mut self, task: &Task<'_, '_, 's, B, F>, index: usize, turns: u32) {
        let Some(fleet) = self.fleets.get(index) else { return };
        let outlets = task.need.outlets.len();
        let counts = fleet.counts(&self.menu);
        // Who may power an amplifier from behind an inserter.
        let mains = task.need.outlets.iter().enumerate().filter(|(_, wanted)| wanted.mains && self.amplifiers > 0);
        let hosts = mains.fold(0, |hosts, (index, _)| hosts | 1 << index);
        let mut inserters: Vec<Losses, KINDS> = Vec::new();
        for kind in self.menu.kinds.iter().filter(|kind| kind.is_inserter) {
            // There is room for every kind.
            let _ = inserters.push(self.menu.losses(kind, 0));
        }
        let asked = Asked {
            bearings: self.bearings.get(..outlets).unwrap_or_default(),
            wider: self.wider,
            pads: self.menu.all_pads(),
            mirrors: self.menu.all_mirrors(),
            inserters: &inserters,
            hosts,
        };
        self.division.amplify(&self.menu, &counts);
        self.relaxed.find(&self.menu, (self.amplifiers, counts), &asked);
        self.relaxed.prices = fleet.prices;
        self.relaxed.settle(&self.menu, outlets, turns);
        let least = self.least_cost(&SoFar::START, &self.relaxed.value(PANEL));
        if let Some(fleet) = self.fleets.get_mut(index) {
            fleet.prices = self.relaxed.prices;
            fleet.next = least;
        }
    }
}
