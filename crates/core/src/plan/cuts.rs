//! What nothing good can come of any more.

use super::bench::Build;
use super::leaf::Rules;
use super::menu::{COLUMNS, Kind, Shares};
use super::search::{ROUNDING, Search, Task};
use super::slots::{Slot, SoFar};
use crate::math::{is_below, max, min};
use crate::parts::DcPath;

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// Whether a tree can still come to what is allowed: enough ways out, at a cost that is no higher.
    pub(super) fn can_pay<'s, B: Build<'s>, F>(
        &mut self,
        task: &Task<'_, '_, 's, B, F>,
        so_far: &SoFar,
        is_whole: bool,
    ) -> bool {
        let missing = |ways: u16| task.need.outlets.len().saturating_sub(usize::from(ways));
        let further = missing(so_far.live + so_far.pending_count);
        if is_whole && (further > 0 || so_far.amplifiers < self.amplifiers) {
            return false;
        }
        // Whoever finds no way that would do now stands behind a part that is still to come.
        let fresh = missing(so_far.live + so_far.pending_live);
        let Some(cost) = self.least_cost(so_far, further, fresh) else { return false };
        if cost > self.limit {
            self.beyond(cost);
        }
        cost <= self.limit
    }

    /// The least that a tree with so many further ways out, so many of them behind parts that are still to come, costs in
    /// the end.
    pub(super) fn least_cost(&self, so_far: &SoFar, further: usize, fresh: usize) -> Option<u32> {
        let left = usize::from(self.amplifiers.checked_sub(so_far.amplifiers)?);
        let fresh = fresh.min(OUTLETS.saturating_sub(1));
        let mirror = if so_far.has_mirror { 0 } else { self.mirror_cost.unwrap_or(0) };
        // A mirror may be what makes a way fresh, so these do not add up.
        let further = self.cheapest.get(left)?.get(further)?.saturating_add(mirror);
        let further = further.max(self.freshest.get(left)?.get(fresh).copied()?);
        let power = if self.amplifiers > 0 { self.power_cost } else { 0 };
        let sum = so_far.cost.saturating_add(further).saturating_add(power);
        (sum < u32::MAX).then_some(sum)
    }

    /// Whether the shares that are left cover what outlets need: all of them, and, column by column, the most demanding
    /// ones, for whom fewer closed ways will do. A closed way is worth what arrives there, and no more than the most
    /// demanding outlet needs that would do there.
    ///
    /// `widest` is no less than what arrives at any one way that is open.
    pub(super) fn can_cover<'s, B: Build<'s>, F>(
        &self,
        task: &Task<'_, '_, 's, B, F>,
        so_far: &SoFar,
        widest: &Shares,
    ) -> bool {
        let outlets = task.need.outlets.len();
        let left = f32::from(self.amplifiers.saturating_sub(so_far.amplifiers));
        (0..COLUMNS).all(|column| {
            let number = |shares: &Shares| shares.get(column).copied().unwrap_or(0.0);
            let growth = number(&self.growth);
            let need = |outlet: u8| self.needs.get(usize::from(outlet)).map_or(0.0, |needs| number(needs) * growth);
            let Some(ranked) = self.ranked.get(column).and_then(|ranked| ranked.get(..outlets)) else { return true };
            let mut worth = [0.0; OUTLETS];
            for slot in self.slots.iter().filter(|slot| slot.choice == 0 && slot.served != 0) {
                let first = ranked.iter().enumerate().find(|(_, outlet)| (slot.served >> **outlet) & 1 == 1);
                let Some((rank, outlet)) = first else { continue };
                if let Some(worth) = worth.get_mut(rank) {
                    *worth += min(number(&slot.so_far.share), need(*outlet));
                }
            }
            let open = number(&so_far.pending);
            // An amplifier that is still to come takes one way that is open, and gives what it makes of that.
            let more = left * max(number(&self.amplified) - 1.0, 0.0);
            let mut arrives = open + more * min(open, number(widest));
            let mut needed = 0.0;
            ranked.iter().zip(worth).all(|(outlet, worth)| {
                arrives += worth;
                needed += need(*outlet);
                !is_below(arrives, needed * (1.0 - ROUNDING))
            })
        })
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
            let arrives = arriving(&slot.so_far.share, &self.menu.shares(kind, way));
            behind | self.borne(&arrives, task.need.outlets.len())
        });
        let is_one = behind & behind.wrapping_sub(1) == 0;
        (is_one || kind.is_pad) && behind & !(served & self.quiet) == 0
    }

    /// The outlets for which this share is enough, one bit each.
    fn borne(&self, share: &Shares, outlets: usize) -> u64 {
        self.needs.iter().enumerate().take(outlets).fold(0, |borne, (index, needs)| {
            let arrives = share.iter().zip(needs).zip(self.growth);
            let is_enough =
                arrives.into_iter().all(|((share, need), growth)| !is_below(*share, need * growth * (1.0 - ROUNDING)));
            borne | u64::from(is_enough) << index
        })
    }

    /// Whether the ways that are open let every outlet find one: one that is closed and would do, or one that is open and
    /// at which enough arrives. An amplifier that is still to come may stand at any one of them.
    pub(super) fn has_place_for_all<'s, B: Build<'s>, F>(&self, task: &Task<'_, '_, 's, B, F>) -> bool {
        let Some(last) = self.slots.last() else { return true };
        let is_amplified = last.so_far.amplifiers < self.amplifiers;
        let outlets = task.need.outlets.len();
        let closed = self.slots.iter().filter(|slot| slot.choice == 0);
        let mut found = closed.fold(0, |found, slot| found | slot.served);
        let mut widest = [0.0; COLUMNS];
        let mut so_far = last.so_far;
        for (pending, share) in so_far.pending.iter_mut().zip(last.so_far.share) {
            *pending += share;
        }
        self.each_open(|mut share| {
            for ((widest, share), gain) in widest.iter_mut().zip(&mut share).zip(self.amplified) {
                *widest = max(*widest, *share);
                if is_amplified {
                    *share *= max(gain, 1.0);
                }
            }
            found |= self.borne(&share, outlets);
        });
        let all = u64::MAX >> (64 - outlets.clamp(1, 64));
        found & all == all && (!is_amplified || self.can_cover(task, &so_far, &widest))
    }

    /// Hands out what arrives at each way that is open: the last slot, and the ways out that come after it, of its own
    /// part and of every part above.
    fn each_open(&self, mut hand: impl FnMut(Shares)) {
        let Some(last) = self.slots.last() else { return };
        hand(last.so_far.share);
        let (mut owner, mut way) = (last.owner, last.way);
        while let Some(slot) = self.slots.get(owner as usize) {
            let Some(kind) = self.kind_of(slot) else { break };
            for next in way + 1..kind.ways {
                hand(arriving(&slot.so_far.share, &self.menu.shares(kind, next)));
            }
            (owner, way) = (slot.owner, slot.way);
        }
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

/// What arrives behind a way out.
fn arriving(share: &Shares, leg: &Shares) -> Shares {
    let mut arrives = *share;
    for (arrives, leg) in arrives.iter_mut().zip(leg) {
        *arrives *= leg;
    }
    arrives
}
