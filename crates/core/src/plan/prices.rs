//! Prices under which a relaxed search says as much as it can of what a tree costs.
//!
//! What is hung too often earns less from now on, what is not hung more; what is used more often than it is there grows
//! dearer. The way to go is shown by a mean of what the best trees so far used, which swings less than the last one
//! alone, and starts from the best prices known (Barahona and Anbil, "The volume algorithm", Mathematical Programming
//! 87, 2000). A step is as long as a rise that is hoped for asks (Held, Wolfe and Crowder, "Validation of subgradient
//! optimization", Mathematical Programming 6, 1974).

use heapless::Vec;

use super::menu::{Menu, TURNS};
use super::relaxed::{NOTHING, Relaxed, Value};
use super::routes::PANEL;
use crate::math::{max, min};

/// Prices of a relaxed search, in hundredths.
#[derive(Clone, Copy, Debug)]
pub(super) struct Prices<const KINDS: usize, const OUTLETS: usize> {
    /// What an outlet earns.
    pub(super) rewards: [f32; OUTLETS],
    /// What a part of a kind costs on top.
    pub(super) scarcities: [f32; KINDS],
    /// By how much the bound is hoped to rise with the next change.
    rise: f32,
}

/// Prices are settled where the bound is not hoped to rise by more.
const LEAST_RISE: f32 = 0.5;
/// How much the last tree counts for in the mean of those before it.
const FRESH: f32 = 0.2;
/// After so many changes in a row that brought nothing, less is hoped for.
const PATIENCE: u32 = 4;
/// The most ways out of one tree that are followed at once.
const FOLLOWED: usize = 160;

/// How often trees use what.
#[derive(Clone, Copy)]
struct Uses<const KINDS: usize, const OUTLETS: usize> {
    outlets: [f32; OUTLETS],
    kinds: [f32; KINDS],
}

impl<const KINDS: usize, const OUTLETS: usize> Prices<KINDS, OUTLETS> {
    pub(super) const NONE: Self = Self { rewards: [0.0; OUTLETS], scarcities: [0.0; KINDS], rise: f32::INFINITY };

    /// Whether nothing more is to be hoped for.
    pub(super) fn are_settled(&self) -> bool {
        self.rise < LEAST_RISE
    }

    /// Changes prices so that the bound might rise by as much as is hoped for; false where nothing is to be gained.
    fn change(&mut self, uses: &Uses<KINDS, OUTLETS>, counts: &[u16; KINDS], outlets: usize) -> bool {
        let rise = self.rise;
        let norm: f32 = self.ways(uses, counts, outlets).map(|(_, way)| way * way).sum();
        if norm <= 0.0 {
            return false;
        }
        for (price, way) in self.ways(uses, counts, outlets) {
            *price = max(*price + rise / norm * way, 0.0);
        }
        true
    }

    /// Each price with the way that it ought to go. A price of nought that would fall stays, and counts for nothing.
    fn ways<'a>(
        &'a mut self,
        uses: &'a Uses<KINDS, OUTLETS>,
        counts: &'a [u16; KINDS],
        outlets: usize,
    ) -> impl Iterator<Item = (&'a mut f32, f32)> {
        let hung = self.rewards.iter_mut().zip(&uses.outlets).take(outlets);
        let hung = hung.map(|(reward, hung)| (reward, 1.0 - hung));
        let used = self.scarcities.iter_mut().zip(&uses.kinds).zip(counts);
        let used = used.map(|((scarcity, used), count)| (scarcity, used - f32::from(*count)));
        hung.chain(used).filter(|(price, way)| *way > 0.0 || **price > 0.0)
    }
}

impl<const KINDS: usize, const OUTLETS: usize> Uses<KINDS, OUTLETS> {
    const NONE: Self = Self { outlets: [0.0; OUTLETS], kinds: [0.0; KINDS] };

    /// Goes so much of the way to other uses.
    fn approach(&mut self, other: &Self, much: f32) {
        let outlets = self.outlets.iter_mut().zip(&other.outlets);
        for (mean, now) in outlets.chain(self.kinds.iter_mut().zip(&other.kinds)) {
            *mean += much * (now - *mean);
        }
    }
}

impl<const KINDS: usize, const OUTLETS: usize, const ROUTES: usize> Relaxed<KINDS, OUTLETS, ROUTES> {
    /// Changes prices for the better, so many times at the most, or until nothing can be paid any more; what a tree with
    /// so many outlets costs at the least.
    pub(super) fn settle<const LEGS: usize>(&mut self, menu: &Menu<KINDS, LEGS>, outlets: usize, turns: u32) -> f32 {
        let mut best = self.evaluate(menu);
        let mut kept = self.prices;
        kept.rise = min(kept.rise, max(self.whole_stock / 20.0, 1.0));
        let (mut mean, mut idle) = (Uses::NONE, 0);
        for turn in 0..turns {
            if best > self.whole_stock || kept.are_settled() {
                break;
            }
            let Some(uses) = self.uses(menu) else { break };
            mean.approach(&uses, if turn == 0 { 1.0 } else { FRESH });
            self.prices = kept;
            if !self.prices.change(&mean, &self.counts, outlets) {
                kept.rise = 0.0;
                break;
            }
            let bound = self.evaluate(menu);
            if bound > best {
                if bound > best + 0.5 * kept.rise {
                    self.prices.rise *= 2.0;
                }
                (best, kept, idle) = (bound, self.prices, 0);
            } else {
                idle += 1;
                if idle % PATIENCE == 0 {
                    kept.rise *= 2.0 / 3.0;
                }
            }
        }
        self.prices = kept;
        self.evaluate(menu)
    }

    /// Follows the best tree; [`None`] where it is too large.
    fn uses<const LEGS: usize>(&self, menu: &Menu<KINDS, LEGS>) -> Option<Uses<KINDS, OUTLETS>> {
        let mut uses = Uses::NONE;
        let mut open: Vec<(u16, u8), FOLLOWED> = Vec::new();
        open.push((PANEL, self.amplifiers)).ok()?;
        let mut left = 16 * FOLLOWED;
        while let Some((at, amplifiers)) = open.pop() {
            left = left.checked_sub(1)?;
            let Some(route) = self.routes.all.get(at as usize) else { continue };
            let of = |value: &Value| value.get(usize::from(amplifiers)).copied();
            let best = of(&self.value(at))?;
            let (reward, outlet) = self.leaf(route.can);
            if amplifiers == 0 && best <= reward {
                if let Some(hung) = outlet.and_then(|outlet| uses.outlets.get_mut(outlet)) {
                    *hung += 1.0;
                }
                continue;
            }
            let does = |kind: &usize| self.with(menu, route, *kind).is_some_and(|with| of(&with) >= Some(best));
            let kind = (0..menu.kinds.len()).find(does)?;
            *uses.kinds.get_mut(kind)? += 1.0;
            // Amplifiers go to the ways out one after the other, each as many as are worth the most there.
            let mut amplifiers = amplifiers.checked_sub(u8::from(menu.kinds.get(kind)?.is_amplifier))?;
            let behind = route.behind.get(kind)?;
            let mut ways: Vec<u16, { TURNS * 32 }> = Vec::new();
            for (turn, behind) in menu.turns(kind).iter().zip(behind) {
                for _ in 0..turn.times {
                    ways.push(*behind).ok()?;
                }
            }
            while let Some(way) = ways.pop() {
                let rest = ways.iter().fold(NOTHING, |rest, way| self.both(&rest, &self.value(*way)));
                let value = self.value(way);
                let sum = |here: u8| {
                    let there = rest.get(usize::from(amplifiers.checked_sub(here)?))?;
                    Some(value.get(usize::from(here))? + there)
                };
                let here = (0..=amplifiers).fold(0, |best, here| if sum(here) > sum(best) { here } else { best });
                amplifiers -= here;
                open.push((way, here)).ok()?;
            }
        }
        Some(uses)
    }
}
