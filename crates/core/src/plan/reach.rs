//! Whether each outlet can be served at all, whatever becomes of the others.
//!
//! A need with one hopeless outlet is hopeless, and it would be a pity to go through every tree to find that out. What
//! an outlet gets depends on the parts on its way alone, and, but for an amplifier among them, not on their order: so
//! the ways to go through are few.

use heapless::Vec;

use super::bench::Build;
use super::leaf::{DEPTH, Rules};
use super::menu::{COLUMNS, Kind, Losses};
use super::rows::Links;
use super::search::{Progress, ROUNDING, Search, Task};
use crate::Error;

/// After so many ways it is given up: not knowing costs nothing but time.
const MOST_TRIED: u32 = 20_000;

/// One part on a way.
#[derive(Clone, Copy)]
struct Link {
    /// The number of the kind, and the way out.
    kind: u8,
    way: u8,
    /// What is lost up to the end of it.
    losses: Losses,
    is_amplified: bool,
    is_amplifier: bool,
    /// The kind and way that are tried next behind it.
    next: (u8, u8),
}

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// False where with so many amplifiers some outlet can't be served in any way, or a home network not kept in.
    ///
    /// # Errors
    /// [`Error::Full`] where a way finds no room on the bench.
    pub(super) fn can_serve<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
    ) -> Result<bool, Error> {
        if task.rules == Rules::Nothing {
            return Ok(true);
        }
        let is_linked = task.need.network.is_some() && task.need.outlets.iter().any(|wanted| wanted.member);
        if is_linked && self.mirror_cost.is_none() {
            // Nothing in the stock keeps a home network in.
            return Ok(false);
        }
        let mut unserved = u64::MAX >> (64 - task.need.outlets.len().clamp(1, 64));
        let mut links: Vec<Link, DEPTH> = Vec::new();
        let mut start = (0, 0);
        let mut tried = 0;
        self.serve(task, &links, &mut unserved)?;
        while unserved != 0 {
            let (kind, way) = links.last().map_or(start, |link| link.next);
            let Some(found) = self.menu.kinds.get(usize::from(kind)).copied() else {
                if links.pop().is_none() {
                    return Ok(false);
                }
                continue;
            };
            let next = if way + 1 < found.ways { (kind, way + 1) } else { (kind + 1, 0) };
            match links.last_mut() {
                Some(link) => link.next = next,
                None => start = next,
            }
            let Some(link) = self.link(&links, kind, &found, way) else { continue };
            if !self.is_hopeful(&link, unserved) || links.push(link).is_err() {
                continue;
            }
            tried += 1;
            if tried > MOST_TRIED || self.is_over(task) {
                return Ok(true);
            }
            self.serve(task, &links, &mut unserved)?;
        }
        Ok(true)
    }

    /// A way with one more part, if there is one more of it.
    fn link(&self, links: &[Link], number: u8, kind: &Kind, way: u8) -> Option<Link> {
        let is_amplified = self.menu.is_amplified(kind, way);
        let is_second = way.checked_sub(1).is_some_and(|before| self.menu.alike(kind, before, way));
        let behind_amplified = links.iter().any(|link| link.is_amplified);
        let used = links.iter().filter(|link| link.kind == number).count();
        let amplifiers =
            links.iter().filter(|link| self.menu.kinds.get(usize::from(link.kind)).is_some_and(|k| k.is_amplifier));
        let too_many = kind.is_amplifier && amplifiers.count() >= usize::from(self.amplifiers);
        // Of parts that commute one order is tried; behind an amplifier every order begins anew.
        let is_out_of_order = !kind.is_amplifier
            && links.last().is_some_and(|last| !last.is_amplifier && (last.kind, last.way) > (number, way));
        if is_out_of_order
            || kind.is_inserter
            || is_second
            || too_many
            || used >= usize::from(kind.count)
            || (is_amplified && behind_amplified)
        {
            return None;
        }
        let mut losses = links.last().map_or([0.0; COLUMNS], |link| link.losses);
        for (loss, more) in losses.iter_mut().zip(self.menu.losses(kind, way)) {
            *loss += more;
        }
        Some(Link { kind: number, way, losses, is_amplified, is_amplifier: kind.is_amplifier, next: (0, 0) })
    }

    /// Whether some outlet that is not served yet could bear what is lost so far.
    fn is_hopeful(&self, link: &Link, unserved: u64) -> bool {
        let may_gain = !link.is_amplified && self.amplifiers > 0;
        let gain = if may_gain { self.menu.most_gain() } else { [0.0; COLUMNS] };
        self.bearings.iter().enumerate().any(|(index, bearing)| {
            let columns = bearing.most.iter().zip(link.losses).zip(gain);
            (unserved >> index) & 1 == 1
                && columns.into_iter().all(|((most, loss), gain)| loss + gain <= most + ROUNDING)
        })
    }

    /// Strikes off the outlets that would do behind a way.
    fn serve<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        links: &[Link],
        unserved: &mut u64,
    ) -> Result<(), Error> {
        let mut behind = Links::new();
        for link in links {
            if let Some(kind) = self.menu.kinds.get(usize::from(link.kind)) {
                let _ = behind.push((*kind, link.way));
            }
        }
        let row = self.best_row(task, behind)?;
        *unserved &= !self.served(&row, task.need.outlets.len());
        Ok(())
    }
}
