//! The tree that is being written down: its ways out, in the order in which they are filled.
//!
//! Each way out is followed by everything behind it. Of two ways alike the later may carry no larger tree than the one
//! before it, its *twin*: a tree is the sequence of what is placed, closed being least, and sequences are compared from
//! their first place on.

use super::grow::Step;
use super::menu::{COLUMNS, Kind, Losses};
use super::relaxed::{NOTHING, Value};
use super::routes::{PANEL, is_on_routes};
use super::search::Search;
use super::shares::Shares;
use crate::math::max;

/// A way out in the tree that is being written down.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slot {
    /// The slot of the part it is a way out of.
    pub(super) owner: u16,
    pub(super) way: u8,
    /// The slot of the way before it, where that is alike.
    pub(super) twin: u16,
    /// The slot at which this way's tree became smaller than its twin's.
    pub(super) differs: u16,
    /// What is there: 0 for closed, else a kind and one.
    pub(super) choice: u8,
    /// What is tried next.
    pub(super) next: u8,
    pub(super) is_chosen: bool,
    /// The outlets that would keep the margin right here, one bit each: at a closed way with an inserter if need be, at a
    /// part without.
    pub(super) served: u64,
    pub(super) so_far: SoFar,
}

/// What is known of a tree before a slot is filled.
#[derive(Clone, Copy, Debug)]
pub(super) struct SoFar {
    /// What is lost on the way to the slot.
    pub(super) losses: Losses,
    /// The share that arrives there.
    pub(super) share: Shares,
    /// The shares of all ways out that come after it, as far as these are known of.
    pub(super) pending: Shares,
    /// The route to it.
    pub(super) route: u16,
    /// What can be had at all ways out that come after it.
    pub(super) after: Value,
    /// The scarcity of what was placed, less what was earned at closed ways.
    pub(super) paid: f32,
    pub(super) cost: u32,
    pub(super) amplifiers: u8,
    pub(super) has_mirror: bool,
    pub(super) depth: u8,
}

/// No slot.
pub(super) const NONE: u16 = u16::MAX;

impl SoFar {
    /// Nothing yet: one slot, at the panel, up to which nothing is lost.
    pub(super) const START: Self = Self {
        losses: [0.0; COLUMNS],
        share: [1.0; COLUMNS],
        pending: [0.0; COLUMNS],
        route: PANEL,
        after: NOTHING,
        paid: 0.0,
        cost: 0,
        amplifiers: 0,
        has_mirror: false,
        depth: 0,
    };
}

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    pub(super) fn push(&mut self, owner: u16, way: u8, so_far: SoFar) {
        let twin = self.twin(owner, way);
        let slot = Slot { owner, way, twin, differs: NONE, choice: 0, next: 0, is_chosen: false, served: 0, so_far };
        self.cramped |= self.slots.push(slot).is_err();
    }

    /// The slot of the way before, where it is alike.
    pub(super) fn twin(&self, owner: u16, way: u8) -> u16 {
        let Some(before) = way.checked_sub(1) else { return NONE };
        let Some(kind) = self.slots.get(owner as usize).and_then(|slot| self.kind_of(slot)) else { return NONE };
        if !self.menu.alike(kind, before, way) {
            return NONE;
        }
        let found = self.slots.iter().rposition(|slot| slot.owner == owner && slot.way == before);
        found.map_or(NONE, |found| found as u16)
    }

    pub(super) fn kind_of(&self, slot: &Slot) -> Option<&Kind> {
        self.menu.kinds.get(usize::from(slot.choice.checked_sub(1)?))
    }

    /// Takes back what was chosen at a slot.
    pub(super) fn take_back(&mut self, at: usize) {
        let Some(slot) = self.slots.get_mut(at) else { return };
        if !core::mem::replace(&mut slot.is_chosen, false) {
            return;
        }
        let kind = slot.choice.wrapping_sub(1);
        if let Some(used) = self.used.get_mut(usize::from(kind)) {
            *used -= 1;
        }
    }

    /// The largest choice that a slot may have, so that no tree is larger than its twin.
    pub(super) fn bound(&self, at: usize) -> usize {
        let mut bound = self.menu.kinds.len();
        let mut slot = at;
        while let Some(here) = self.slots.get(slot) {
            if here.twin != NONE && here.differs as usize >= at {
                let same = here.twin as usize + (at - slot);
                bound = bound.min(self.slots.get(same).map_or(bound, |same| usize::from(same.choice)));
            }
            slot = here.owner as usize;
        }
        bound
    }

    /// Notes where a tree becomes smaller than its twin.
    pub(super) fn mark(&mut self, at: usize, choice: u8) {
        let mut slot = at;
        while let Some(here) = self.slots.get(slot).copied() {
            if here.twin != NONE && here.differs as usize >= at {
                let same = here.twin as usize + (at - slot);
                let differs = self.slots.get(same).is_some_and(|same| choice < same.choice);
                if let Some(here) = self.slots.get_mut(slot) {
                    here.differs = if differs { at as u16 } else { NONE };
                }
            }
            slot = here.owner as usize;
        }
    }

    /// Makes a way out the next slot.
    pub(super) fn open(&self, owner: u16, way: u8, mut so_far: SoFar) -> Step {
        let Some((slot, kind)) = self.slots.get(owner as usize).and_then(|slot| Some((slot, self.kind_of(slot)?)))
        else {
            return Step::Cut;
        };
        so_far.depth = slot.so_far.depth + 1;
        so_far.losses = slot.so_far.losses;
        for (loss, more) in so_far.losses.iter_mut().zip(self.menu.losses(kind, way)) {
            *loss += more;
        }
        so_far.share = self.division.behind(&slot.so_far.share, kind, way);
        for (pending, share) in so_far.pending.iter_mut().zip(so_far.share) {
            *pending = max(*pending - share, 0.0);
        }
        so_far.route = self.route_behind(slot, kind, way);
        so_far.after = (way + 1..kind.ways).fold(slot.so_far.after, |after, way| {
            self.relaxed.both(&after, &self.relaxed.value(self.route_behind(slot, kind, way)))
        });
        Step::Next(owner, way, so_far)
    }

    /// The route to a way out of the part in a slot.
    pub(super) fn route_behind(&self, slot: &Slot, kind: &Kind, way: u8) -> u16 {
        let number = usize::from(slot.choice.wrapping_sub(1));
        self.route_on(slot.so_far.route, number, kind, way)
    }

    /// The route to a way out of a part of this kind at the end of a route.
    pub(super) fn route_on(&self, route: u16, number: usize, kind: &Kind, way: u8) -> u16 {
        if is_on_routes(kind) { self.relaxed.routes.behind(route, number, self.menu.turn_of(kind, way)) } else { route }
    }

    /// The way out that comes after one that is closed.
    pub(super) fn after(&self, mut owner: u16, mut way: u8) -> Option<(u16, u8)> {
        loop {
            let slot = self.slots.get(owner as usize)?;
            if way + 1 < self.kind_of(slot)?.ways {
                return Some((owner, way + 1));
            }
            (owner, way) = (slot.owner, slot.way);
        }
    }
}
