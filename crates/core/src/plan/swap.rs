//! Assignments of outlets to ways out where what passes between two outlets decides.
//!
//! A modem is heard at other outlets, and members of the home network have to hear each other: that depends on who
//! stands where. So assignments are gone through outlet by outlet, and one is given up as soon as two outlets in it
//! do not go together; what a check says of a whole one counts.

use super::bench::Build;
use super::design::Feeding;
use super::judge::{Said, Ways};
use super::leaf::Row;
use super::matching::Assignment;
use super::search::{NONE, Progress, Search, Task};
use crate::Error;
use crate::math::min;

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
        let mut goes: Assignment<OUTLETS> = [NONE; OUTLETS];
        let mut outlet = 0;
        loop {
            if self.stopped {
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
            let next = self.next_way(task, rows, &goes, outlet, from.wrapping_add(1));
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
    ) -> Option<u16> {
        let wanted = task.need.outlets.get(outlet)?;
        let before = || task.need.outlets.iter().zip(goes).take(outlet);
        let least = before().filter(|(same, _)| *same == wanted).map(|(_, way)| *way + 1).max().unwrap_or(0);
        // An outlet that hosts a supply is not like another.
        let is_host = rows.iter().filter(|row| row.get(outlet).is_some_and(|margin| *margin > f32::NEG_INFINITY));
        let start = if is_host.count() == 1 { from } else { from.max(least) };
        (start..rows.len() as u16).find(|way| {
            let margin = rows.get(*way as usize).and_then(|row| row.get(outlet)).copied();
            margin.is_some_and(|margin| margin >= self.least) && before().all(|(_, taken)| taken != way)
        })
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
