//! How each outlet would do behind the parts on a way, worked out once for all ways with the same parts.

use heapless::Vec;

use super::bench::Build;
use super::leaf::{DEPTH, Path, Row, try_out};
use super::menu::Kind;
use super::search::{Search, Task};
use crate::Error;
use crate::math::max;

/// What is said of a way with more parts than there is room for.
pub(super) const TOO_DEEP: Error = Error::Full { what: "parts on a way", capacity: DEPTH + 2 };

/// The parts on a way, from the entry on: kinds, and the ways out by which they are left.
pub(super) type Links = Vec<(Kind, u8), { DEPTH + 2 }>;

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// The parts from the entry to a slot.
    pub(super) fn links(&self, at: usize) -> Links {
        let mut links = Links::new();
        let mut slot = self.slots.get(at);
        while let Some(here) = slot {
            let owner = self.slots.get(here.owner as usize);
            if let Some(kind) = owner.and_then(|owner| self.kind_of(owner)) {
                // A tree is never deeper than there is room for.
                let _ = links.push((*kind, here.way));
            }
            slot = owner;
        }
        links.reverse();
        links
    }

    /// How each outlet would do behind these parts.
    ///
    /// # Errors
    /// [`Error::Full`] where they find no room on the bench.
    pub(super) fn row<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        links: &[(Kind, u8)],
    ) -> Result<Row<OUTLETS>, Error> {
        let mut path = Path::new();
        for (kind, way) in links {
            path.push((kind.item, *way)).map_err(|_| TOO_DEEP)?;
        }
        let key = self.key(links);
        let (need, stock, rules) = (task.need, task.stock, task.rules);
        let bench = &mut *task.bench;
        self.cache.row(key, |row| try_out(need, stock, &path, rules, bench, row))
    }

    /// The best that each outlet could do there: where an amplifier is to be powered, an inserter may stand before it.
    ///
    /// # Errors
    /// As [`row`](Self::row).
    pub(super) fn best_row<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        mut links: Links,
    ) -> Result<Row<OUTLETS>, Error> {
        let mut row = self.row(task, &links)?;
        if self.amplifiers == 0 {
            return Ok(row);
        }
        for number in 0..self.menu.kinds.len() {
            let Some(inserter) = self.menu.kinds.get(number).copied().filter(|kind| kind.is_inserter) else { continue };
            links.push((inserter, 0)).map_err(|_| TOO_DEEP)?;
            let with = self.row(task, &links)?;
            links.pop();
            for ((margin, with), wanted) in row.iter_mut().zip(with).zip(task.need.outlets) {
                if wanted.mains {
                    *margin = max(*margin, with);
                }
            }
        }
        Ok(row)
    }

    /// The outlets that keep the margin by a row, one bit each.
    pub(super) fn served(&self, row: &Row<OUTLETS>, outlets: usize) -> u64 {
        let kept = row.iter().take(outlets).enumerate().filter(|(_, margin)| **margin >= self.least);
        kept.fold(0, |served, (index, _)| served | 1_u64.wrapping_shl(index as u32))
    }

    /// A key that ways with the same parts share.
    fn key(&self, links: &[(Kind, u8)]) -> u128 {
        let mut key = 1_u128;
        let mut add = |code: u8| key = (key << 8) | u128::from(code);
        // What is passive commutes, but not across an amplifier, its passive port included: what stands before it
        // decides what it has to take. So each stretch goes in with its codes rising.
        for stretch in links.split_inclusive(|(kind, _)| kind.is_amplifier) {
            let passive =
                || stretch.iter().filter(|(kind, _)| !kind.is_amplifier).map(|(kind, way)| self.menu.code(kind, *way));
            let mut last = 0;
            while let Some(next) = passive().filter(|code| *code > last).min() {
                passive().filter(|code| *code == next).for_each(&mut add);
                last = next;
            }
            let amplifier = stretch.iter().filter(|(kind, _)| kind.is_amplifier);
            amplifier.for_each(|(kind, way)| add(self.menu.code(kind, *way)));
        }
        key
    }
}
