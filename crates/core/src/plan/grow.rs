//! One step of writing a tree down: a way out is closed, or a part is placed there.

use super::bench::Build;
use super::leaf::DEPTH;
use super::menu::{COLUMNS, Kind};
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
        so_far.paid -= self.relaxed.leaf(served).0;
        let next = self.after(slot.owner, slot.way);
        let goes_on = !self.is_idle(task, slot.owner, next)
            && self.can_pay(&so_far, &slot.so_far.after)
            && self.can_cover(task, &so_far, &so_far.pending, &[1.0; COLUMNS])
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
        so_far.paid += self.relaxed.prices.scarcities.get(usize::from(number)).copied().unwrap_or(0.0);
        let open = (0..kind.ways).fold(slot.so_far.after, |open, way| {
            let route = self.route_on(slot.so_far.route, usize::from(number), &kind, way);
            self.relaxed.both(&open, &self.relaxed.value(route))
        });
        for way in 0..kind.ways {
            for (pending, share) in so_far.pending.iter_mut().zip(self.division.behind(&slot.so_far.share, &kind, way))
            {
                *pending += share;
            }
        }
        if !self.can_pay(&so_far, &open) || !self.can_cover(task, &so_far, &so_far.pending, &[1.0; COLUMNS]) {
            return Ok(Step::Cut);
        }
        let links = self.links(at);
        // Without an inserter: there may be none to spare for whoever stands here.
        let here = self.row(task, &links)?;
        let served = self.served(&here, task.need.outlets.len());
        if let Some(slot) = self.slots.get_mut(at) {
            slot.served = served;
        }
        if self.is_pointless(task, &kind, &slot, served, &so_far) {
            return Ok(Step::Cut);
        }
        if !self.may_be_powered(task) {
            return Ok(Step::Cut);
        }
        if let (Some(slot), Some(used)) = (self.slots.get_mut(at), self.used.get_mut(usize::from(number))) {
            slot.is_chosen = true;
            *used += 1;
        }
        Ok(self.open(at as u16, 0, so_far))
    }

    /// Whether there is one more of a kind that can stand in a panel.
    fn is_at_hand(&self, kind: &Kind, number: u8) -> bool {
        let [used, count] = [&self.used, &self.relaxed.counts].map(|all| all.get(usize::from(number)));
        !kind.is_inserter && used < count
    }

    /// Whether a part stands behind one that it commutes with, the wrong way round.
    fn is_out_of_order(&self, kind: &Kind, owner: u16, number: u8) -> bool {
        let Some(above) = self.slots.get(owner as usize) else { return false };
        kind.commutes && self.kind_of(above).is_some_and(|above| above.commutes) && above.choice < number + 1
    }
}
