//! What nothing good can come of any more.

use super::bench::Build;
use super::leaf::Rules;
use super::menu::{Kind, Losses};
use super::relaxed::Value;
use super::search::{ROUNDING, Search, Task};
use super::shares::Shares;
use super::slots::{Slot, SoFar};
use crate::math::max;
use crate::parts::DcPath;

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// Whether a tree can still come to what is allowed, with `open` still to be had.
    pub(super) fn can_pay(&mut self, so_far: &SoFar, open: &Value) -> bool {
        let Some(cost) = self.least_cost(so_far, open) else { return false };
        if cost > self.limit {
            self.beyond(cost);
        }
        cost <= self.limit
    }

    /// The least that a tree costs in the end; [`None`] where there can't be one.
    pub(super) fn least_cost(&self, so_far: &SoFar, open: &Value) -> Option<u32> {
        let left = self.amplifiers.checked_sub(so_far.amplifiers)?;
        let parts = self.relaxed.least_cost(so_far.cost as f32 + so_far.paid, open, left);
        if parts > self.relaxed.whole_stock {
            return None;
        }
        let parts = (libm::ceilf(parts) as u32).max(so_far.cost);
        let mirror = if so_far.has_mirror { 0 } else { self.mirror_cost.unwrap_or(0) };
        let power = if self.amplifiers > 0 { self.power_cost } else { 0 };
        let sum = parts.saturating_add(mirror).saturating_add(power);
        // Whatever is bought, sums go by steps of what all prices are multiples of.
        let sum = sum.checked_next_multiple_of(self.coin).unwrap_or(u32::MAX);
        (sum < u32::MAX).then_some(sum)
    }

    /// Whether the shares that are left cover what outlets need.
    pub(super) fn can_cover<'s, B: Build<'s>, F>(
        &self,
        task: &Task<'_, '_, 's, B, F>,
        so_far: &SoFar,
        open: &Shares,
        widest: &Shares,
    ) -> bool {
        let left = self.amplifiers.saturating_sub(so_far.amplifiers);
        self.division.covers(&self.slots, open, widest, (task.need.outlets.len(), left))
    }

    /// Whether the ways that are open let every outlet find one: one that is closed and would do, or one that is open and
    /// behind which enough arrives somewhere.
    pub(super) fn has_place_for_all<'s, B: Build<'s>, F>(&self, task: &Task<'_, '_, 's, B, F>) -> bool {
        let Some(last) = self.slots.last() else { return true };
        let outlets = task.need.outlets.len();
        let left = self.amplifiers.saturating_sub(last.so_far.amplifiers);
        let closed = self.slots.iter().filter(|slot| slot.choice == 0);
        let mut found = closed.fold(0, |found, slot| found | slot.served);
        let mut widest = last.so_far.share;
        let mut open = last.so_far.pending;
        for (open, share) in open.iter_mut().zip(last.so_far.share) {
            *open += share;
        }
        found |= self.relaxed.routes.reached(last.so_far.route, left);
        let (mut owner, mut way) = (last.owner, last.way);
        while let Some(slot) = self.slots.get(owner as usize) {
            let Some(kind) = self.kind_of(slot) else { break };
            for next in way + 1..kind.ways {
                found |= self.relaxed.routes.reached(self.route_behind(slot, kind, next), left);
                for (widest, share) in widest.iter_mut().zip(self.division.behind(&slot.so_far.share, kind, next)) {
                    *widest = max(*widest, share);
                }
            }
            (owner, way) = (slot.owner, slot.way);
        }
        let all = u64::MAX >> (64 - outlets.clamp(1, 64));
        found & all == all && (left == 0 || self.can_cover(task, &last.so_far, &open, &widest))
    }

    /// Whether a part can do nothing for whoever may stand behind it. At most one outlet may, and it would do as well in
    /// the part's place; or the part is a pad, and whoever may stand behind it would do without any further loss: then
    /// they do with less of it, since every figure that loss moves lies between what it is there and here.
    ///
    /// What holds of [`is_idle`](Self::is_idle) holds here: this only says so before anything is built behind the part.
    pub(super) fn is_pointless<'s, B: Build<'s>, F>(
        &self,
        task: &Task<'_, '_, 's, B, F>,
        kind: &Kind,
        slot: &Slot,
        served: u64,
        so_far: &SoFar,
    ) -> bool {
        let may_matter = kind.is_amplifier
            || so_far.amplifiers < self.amplifiers
            || self.mirror_cost.is_some()
            || (self.by_margin && kind.cost == 0);
        if may_matter || self.is_exposed(task, slot.owner, slot.way) {
            return false;
        }
        let behind = (0..kind.ways).fold(0, |behind, way| {
            let mut losses = slot.so_far.losses;
            for (loss, more) in losses.iter_mut().zip(self.menu.losses(kind, way)) {
                *loss += more;
            }
            behind | self.bear(&losses, task.need.outlets.len())
        });
        let is_one = behind & behind.wrapping_sub(1) == 0;
        (is_one || kind.is_pad) && behind & !(served & self.quiet) == 0
    }

    /// The outlets that bear these losses, one bit each.
    fn bear(&self, losses: &Losses, outlets: usize) -> u64 {
        self.bearings.iter().enumerate().take(outlets).fold(0, |bear, (index, bearing)| {
            let columns = bearing.most.iter().zip(self.wider).zip(losses);
            let is_borne = columns.into_iter().all(|((most, wider), loss)| *loss <= most - wider + ROUNDING);
            bear | u64::from(is_borne) << index
        })
    }

    /// Whether a part whose ways out are all closed now might as well not be there: nobody stands behind it, or one
    /// outlet that would do just as well in its place. Then the same tree without it is good too, and cheaper. Where DC
    /// may come from an outlet a part may be there to block it, and where a neighbour's modem may be heard, to weaken
    /// that; such parts stay.
    pub(super) fn is_idle<'s, B: Build<'s>, F>(
        &self,
        task: &Task<'_, '_, 's, B, F>,
        mut owner: u16,
        next: Option<(u16, u8)>,
    ) -> bool {
        // Every part from the closed way up to the one that the next way belongs to is whole now.
        while let Some(part) = self.slots.get(owner as usize) {
            if next.is_some_and(|(next, _)| next == owner) {
                return false;
            }
            let behind = self.slots.get(owner as usize + 1..).unwrap_or_default();
            let has_amplifier = || {
                self.slots
                    .iter()
                    .skip(owner as usize)
                    .any(|slot| self.kind_of(slot).is_some_and(|kind| kind.is_amplifier || kind.is_mirror))
            };
            let live = behind.iter().filter(|slot| slot.choice == 0).fold(0, |live, slot| live | slot.served);
            let is_free = self.by_margin && self.kind_of(part).is_none_or(|kind| kind.cost == 0);
            // At most one outlet can stand behind it, and that could stand here.
            let is_idle = live & live.wrapping_sub(1) == 0 && live & !(part.served & self.quiet) == 0;
            if is_idle && !is_free && !has_amplifier() && !self.is_exposed(task, part.owner, part.way) {
                return true;
            }
            owner = part.owner;
        }
        false
    }

    /// Whether DC may pass a slot, where a part may be there to block it: an outlet may have to power an amplifier, and the
    /// way out lets DC through. Or any tree will do, idle parts and all.
    fn is_exposed<'s, B: Build<'s>, F>(&self, task: &Task<'_, '_, 's, B, F>, owner: u16, way: u8) -> bool {
        let may_host = || task.need.outlets.iter().any(|wanted| wanted.mains);
        let has_inserter = || self.menu.kinds.iter().any(|kind| kind.is_inserter);
        if task.rules == Rules::Nothing || self.amplifiers == 0 || !may_host() || !has_inserter() {
            return task.rules == Rules::Nothing;
        }
        let owner = self.slots.get(owner as usize).and_then(|slot| self.kind_of(slot));
        let part = owner.and_then(|kind| task.stock.get(kind.item as usize)?.part());
        part.is_none_or(|part| match part.amplifier() {
            Some(spec) => (spec.dc_ports.outputs >> way) & 1 == 1,
            None => !matches!(part.dc(way), DcPath::Blocked),
        })
    }
}
