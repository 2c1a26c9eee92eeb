//! One step of writing a tree down: a way out is closed, or a part is placed there.

use super::bench::Build;
use super::leaf::DEPTH;
use super::menu::{COLUMNS, Kind};
use super::rows::{Links, TOO_DEEP};
use super::search::{Search, Task};
use super::slots::SoFar;
use crate::Error;

/// What a filled slot leads to.
pub(super) enum Step {
    /// Nothing that could be good.
    Cut,
    /// The next slot: owner, way, and what is known.
    Next(u16, u8, SoFar),
    /// A whole tree of this cost.
    Whole(u32),
}

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// Closes a slot.
    ///
    /// # Errors
    /// [`Error::Full`] where the way there finds no room on the bench.
    pub(super) fn close<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        at: usize,
    ) -> Result<Step, Error> {
        let row = self.best_row(task, self.links(at))?;
        let served = self.served(&row, task.need.outlets.len());
        let (Some(slot), Some(kept)) = (self.slots.get_mut(at), self.rows.get_mut(at)) else { return Ok(Step::Cut) };
        *kept = row;
        slot.served = served;
        let slot = *slot;
        let mut so_far = slot.so_far;
        so_far.live += u16::from(served != 0);
        let next = self.after(slot.owner, slot.way);
        let goes_on = !self.is_idle(task, slot.owner, next)
            && self.can_pay(task, &so_far, next.is_none())
            && self.can_cover(task, &so_far, &[1.0; COLUMNS])
            && self.may_be_powered(task);
        Ok(match next {
            _ if !goes_on => Step::Cut,
            None => Step::Whole(so_far.cost),
            Some((owner, way)) => self.open(owner, way, so_far),
        })
    }

    /// Places a part at a slot.
    ///
    /// # Errors
    /// As [`close`](Self::close).
    pub(super) fn place<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        at: usize,
        number: u8,
    ) -> Result<Step, Error> {
        let found = self.slots.get(at).zip(self.menu.kinds.get(usize::from(number)));
        let Some((slot, kind)) = found.map(|(slot, kind)| (*slot, *kind)) else { return Ok(Step::Cut) };
        if !self.is_at_hand(&kind, number) || self.is_out_of_order(&kind, slot.owner, number) {
            return Ok(Step::Cut);
        }
        let mut so_far = slot.so_far;
        if usize::from(so_far.depth) >= DEPTH || self.slots.len() + usize::from(kind.ways) > NODES {
            self.cramped = true;
            return Ok(Step::Cut);
        }
        so_far.amplifiers += u8::from(kind.is_amplifier);
        if so_far.amplifiers > self.amplifiers {
            return Ok(Step::Cut);
        }
        so_far.has_mirror |= kind.is_mirror;
        so_far.cost = so_far.cost.saturating_add(kind.cost);
        so_far.pending_count += u16::from(kind.ways);
        for way in 0..kind.ways {
            let legs = self.menu.shares(&kind, way);
            for ((pending, share), leg) in so_far.pending.iter_mut().zip(slot.so_far.share).zip(legs) {
                *pending += share * leg;
            }
        }
        // The quick questions first: as if an outlet could stand at each of its ways.
        let hopeful = SoFar { pending_live: so_far.pending_live + u16::from(kind.ways), ..so_far };
        if !self.can_pay(task, &hopeful, false) || !self.can_cover(task, &so_far, &[1.0; COLUMNS]) {
            return Ok(Step::Cut);
        }
        let links = self.links(at);
        let here = self.best_row(task, links.clone())?;
        let served = self.served(&here, task.need.outlets.len());
        if let Some(slot) = self.slots.get_mut(at) {
            slot.served = served;
        }
        if self.is_pointless(task, &kind, &slot, served, &so_far) {
            return Ok(Step::Cut);
        }
        let live_ways = self.live_ways(task, links, &kind)?;
        so_far.pending_live += live_ways.count_ones() as u16;
        if !self.can_pay(task, &so_far, false) || !self.may_be_powered(task) {
            return Ok(Step::Cut);
        }
        if let (Some(slot), Some(used)) = (self.slots.get_mut(at), self.used.get_mut(usize::from(number))) {
            slot.is_chosen = true;
            slot.live_ways = live_ways;
            *used += 1;
        }
        Ok(self.open(at as u16, 0, so_far))
    }

    /// Whether there is one more of a kind that can stand in a panel.
    fn is_at_hand(&self, kind: &Kind, number: u8) -> bool {
        !kind.is_inserter && self.used.get(usize::from(number)).is_some_and(|used| *used < kind.count)
    }

    /// Whether a part stands behind one that it commutes with, the wrong way round.
    fn is_out_of_order(&self, kind: &Kind, owner: u16, number: u8) -> bool {
        let Some(above) = self.slots.get(owner as usize) else { return false };
        kind.commutes && self.kind_of(above).is_some_and(|above| above.commutes) && above.choice < number + 1
    }

    /// The ways out of a part at which some outlet keeps the margin, one bit each.
    ///
    /// # Errors
    /// As [`close`](Self::close).
    fn live_ways<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        mut links: Links,
        kind: &Kind,
    ) -> Result<u32, Error> {
        let mut live_ways = 0_u32;
        for way in 0..kind.ways {
            let before = way.checked_sub(1).filter(|before| self.menu.alike(kind, *before, way));
            let is_live = match before {
                Some(before) => (live_ways >> before) & 1 == 1,
                None => {
                    links.push((*kind, way)).map_err(|_| TOO_DEEP)?;
                    let row = self.best_row(task, links.clone())?;
                    links.pop();
                    self.served(&row, task.need.outlets.len()) != 0
                }
            };
            live_ways |= u32::from(is_live) << way;
        }
        Ok(live_ways)
    }
}
