//! Assignments of outlets to ways out where what passes between two outlets decides.
//!
//! A modem is heard at other outlets, and members of the home network have to hear each other: that depends on who
//! stands where. So assignments are gone through outlet by outlet, and one is given up as soon as two outlets in it
//! do not go together; what a check says of a whole one counts.

use super::bench::Build;
use super::design::{Design, Feeding, Fill, Node, Socket};
use super::judge::{Said, Ways};
use super::leaf::Row;
use super::matching::Assignment;
use super::need::Need;
use super::search::{Progress, ROUNDING, Search, Task};
use super::slots::NONE;
use crate::Error;
use crate::math::min;

/// What passes between two ways out: what the first hears of a modem at the second in dBmV, and the loss between them
/// in dB.
pub(super) type Passes<const NODES: usize> = [[[f32; 2]; NODES]; NODES];

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// Tries every assignment that could be better than the best so far.
    ///
    /// # Errors
    /// [`Error::Full`] where a candidate finds no room on the bench.
    pub(super) fn try_all<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        ways: &Ways<OUTLETS, NODES>,
        rows: &[Row<OUTLETS>],
        cost: u32,
        feedings: &[(Feeding, u16)],
    ) -> Result<(), Error> {
        let count = task.need.outlets.len();
        // What passes between two ways out is copied, since the bench is needed for candidates.
        for cell in self.passes.iter_mut().flatten() {
            *cell = [f32::NEG_INFINITY; 2];
        }
        let count_ways = ways.slots.len();
        if task.bench.pair_room() >= count_ways
            && self.build_bare(task, ways).is_ok()
            && let Some(pairs) = task.bench.pairs()?
        {
            for (row, known) in self.passes.iter_mut().zip(pairs.chunks(count_ways.max(1))) {
                for (cell, pair) in row.iter_mut().zip(known) {
                    *cell = *pair;
                }
            }
        }
        let hosts = feedings.iter().filter_map(|(feeding, _)| match feeding.socket {
            Socket::Outlet { outlet, .. } => Some(outlet),
            Socket::Panel(_) => None,
        });
        let hosts = hosts.fold(0_u64, |hosts, outlet| hosts | 1_u64.wrapping_shl(outlet.into()));
        let mut goes: Assignment<OUTLETS> = [NONE; OUTLETS];
        let mut outlet = 0;
        loop {
            if self.is_over(task) {
                return Ok(());
            }
            if outlet == count {
                if self.is_found(task, ways, rows, &goes, cost, feedings)? {
                    return Ok(());
                }
                outlet -= 1;
                continue;
            }
            let from = goes.get(outlet).copied().unwrap_or(NONE);
            let next = self.next_way(task, rows, &goes, outlet, from.wrapping_add(1), hosts);
            if let Some(slot) = goes.get_mut(outlet) {
                *slot = next.unwrap_or(NONE);
            }
            if next.is_some() {
                outlet += 1;
            } else if outlet == 0 {
                return Ok(());
            } else {
                outlet -= 1;
            }
        }
    }

    /// The next way out for an outlet, from one on: free, with the margin kept, and after those of outlets alike.
    fn next_way<'s, B, F>(
        &self,
        task: &Task<'_, '_, 's, B, F>,
        rows: &[Row<OUTLETS>],
        goes: &Assignment<OUTLETS>,
        outlet: usize,
        from: u16,
        hosts: u64,
    ) -> Option<u16> {
        let wanted = task.need.outlets.get(outlet)?;
        let before = || task.need.outlets.iter().zip(goes).take(outlet);
        // An outlet that hosts a supply is not like another.
        let is_host = |outlet: usize| (hosts >> outlet) & 1 == 1;
        let alike = before().enumerate().filter(|(index, (same, _))| *same == wanted && !is_host(*index));
        let least = alike.map(|(_, (_, way))| *way + 1).max().unwrap_or(0);
        let start = if is_host(outlet) { from } else { from.max(least) };
        (start..rows.len() as u16).find(|way| {
            let margin = rows.get(*way as usize).and_then(|row| row.get(outlet)).copied();
            margin.is_some_and(|margin| margin >= self.least)
                && before().all(|(_, taken)| taken != way)
                && goes.iter().enumerate().take(outlet).all(|(other, taken)| {
                    self.agree(task, (outlet, *way), (other, *taken), hosts)
                        && self.agree(task, (other, *taken), (outlet, *way), hosts)
                })
        })
    }

    /// Whether an outlet may stand at a way out while another stands at another.
    fn agree<'s, B, F>(
        &self,
        task: &Task<'_, '_, 's, B, F>,
        (outlet, way): (usize, u16),
        (other, taken): (usize, u16),
        hosts: u64,
    ) -> bool {
        let (Some(wanted), Some(second)) = (task.need.outlets.get(outlet), task.need.outlets.get(other)) else {
            return true;
        };
        let (Some((run, linked)), Some((_, second_linked))) = (self.runs.get(outlet), self.runs.get(other)) else {
            return true;
        };
        let Some([heard, loss]) = self.passes.get(way as usize).and_then(|row| row.get(taken as usize)) else {
            return true;
        };
        // An inserter before an outlet makes it hear less; how much less is for the check to say.
        let is_host = (hosts >> outlet) & 1 == 1;
        if second.outlet.device.is_modem()
            && !is_host
            && let Some(limit) = self.neighbour_limits.get(outlet)
            && heard - run > limit - self.least + ROUNDING
        {
            return false;
        }
        let most = task.need.network.map_or(f32::INFINITY, |network| network.max_loss);
        !(wanted.member && second.member && loss + linked + second_linked > most - self.least + ROUNDING)
    }

    /// Builds the tree with a modem right at every way out at which an outlet can stand.
    ///
    /// # Errors
    /// [`Error::Full`] where there is no room for so many.
    fn build_bare<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        ways: &Ways<OUTLETS, NODES>,
    ) -> Result<(), Error> {
        let mut design: Design<NODES> = Design::new();
        for slot in &self.slots {
            let fill = self.kind_of(slot).map_or(Fill::Closed, |kind| Fill::Part(kind.item));
            let _ = design.nodes.push(Node { fill, owner: slot.owner, way: slot.way });
        }
        let bare = Need { outlets: &[], ..*task.need };
        design.build_bare(&bare, task.stock, task.bench, &ways.slots)
    }

    /// Has a whole assignment checked; true where no other need be tried.
    fn is_found<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        ways: &Ways<OUTLETS, NODES>,
        rows: &[Row<OUTLETS>],
        goes: &Assignment<OUTLETS>,
        cost: u32,
        feedings: &[(Feeding, u16)],
    ) -> Result<bool, Error> {
        let count = task.need.outlets.len();
        self.write(ways, goes, count, feedings);
        let said = self.ask(task)?;
        let Said::Good(margin) = said else { return Ok(false) };
        self.keep(task, cost, margin);
        let hoped = super::matching::smallest(rows, count, goes);
        Ok(!self.by_margin || min(margin, hoped) == f32::INFINITY)
    }
}
