//! Judging whole trees: which outlet goes to which way out, how the amplifiers are powered, and what a check says.

use heapless::Vec;

use super::bench::Build;
use super::design::{Design, Feeding, Fill, MOST_SUPPLIES, Node, Socket};
use super::leaf::{Row, Rules};
use super::matching::{Assignment, assign, widest};
use super::search::{Best, Progress, Search, Task};
use super::slots::NONE;
use crate::math::min;
use crate::{Code, Error};

/// Margins that differ by less are the same.
pub(super) const STEP: f32 = 1e-4;

/// What a check says of a candidate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Said {
    /// It is good, with this smallest margin.
    Good(f32),
    /// It would be good, but for what passes between two outlets.
    Between,
    /// It is not good.
    Bad,
}

/// The ways out at which outlets can stand.
pub(super) struct Ways<const OUTLETS: usize, const NODES: usize> {
    /// Their slots.
    pub(super) slots: Vec<u16, NODES>,
    /// How each outlet does there.
    pub(super) rows: Vec<Row<OUTLETS>, NODES>,
}

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// Judges a whole tree in every way in which its amplifiers can be powered.
    ///
    /// # Errors
    /// [`Error::Full`] where a candidate finds no room on the bench.
    pub(super) fn judge<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        cost: u32,
    ) -> Result<(), Error> {
        let mut ways = Ways { slots: Vec::new(), rows: Vec::new() };
        let mut amplifiers: Vec<u16, MOST_SUPPLIES> = Vec::new();
        let mut hopes: Vec<Row<OUTLETS>, NODES> = Vec::new();
        for index in 0..self.slots.len() {
            let (Some(slot), Some(row)) = (self.slots.get(index).copied(), self.rows.get(index).copied()) else {
                continue;
            };
            if slot.choice == 0 && self.served(&row, task.need.outlets.len()) != 0 {
                let _ = ways.slots.push(index as u16);
                let _ = ways.rows.push(self.row(task, &self.links(index))?);
                let _ = hopes.push(row);
            } else if self.kind_of(&slot).is_some_and(|kind| kind.is_amplifier) {
                let _ = amplifiers.push(index as u16);
            }
        }
        if amplifiers.is_empty() || task.rules == Rules::Nothing {
            return self.seat(task, &ways, cost, &[]);
        }
        if assign::<OUTLETS, NODES>(&hopes, task.need.outlets.len(), self.least).is_none() {
            return Ok(());
        }
        self.power(task, &ways, &amplifiers, cost)
    }

    /// Finds out which outlet goes where, builds that and has it checked.
    pub(super) fn seat<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        ways: &Ways<OUTLETS, NODES>,
        cost: u32,
        feedings: &[(Feeding, u16)],
    ) -> Result<(), Error> {
        if cost > self.limit {
            self.beyond(cost);
            return Ok(());
        }
        if self.done.is_some_and(|done| cost <= done) || (self.by_margin && cost < self.limit) {
            return Ok(());
        }
        let mut rows = ways.rows.clone();
        for (feeding, way) in feedings {
            let Socket::Outlet { outlet, inserter } = feeding.socket else { continue };
            let Some(slot) = ways.slots.get(*way as usize).copied() else { return Ok(()) };
            let kind = self.menu.kinds.iter().find(|kind| kind.is_inserter && kind.item == inserter).copied();
            let mut links = self.links(slot as usize);
            let is_long = kind.is_none_or(|kind| links.push((kind, 0)).is_err());
            if is_long {
                return Ok(());
            }
            let with = self.row(task, &links)?;
            let margin = with.get(outlet as usize).copied().unwrap_or(f32::NEG_INFINITY);
            if margin < self.least {
                return Ok(());
            }
            for (index, row) in rows.iter_mut().enumerate() {
                if index == *way as usize {
                    row.fill(f32::NEG_INFINITY);
                }
                if let Some(cell) = row.get_mut(outlet as usize) {
                    *cell = if index == *way as usize { margin } else { f32::NEG_INFINITY };
                }
            }
        }
        let count = task.need.outlets.len();
        let found = if self.by_margin {
            widest::<OUTLETS, NODES>(&rows, count, self.least)
        } else {
            assign::<OUTLETS, NODES>(&rows, count, self.least).map(|found| (found, f32::INFINITY))
        };
        let Some((goes, hoped)) = found else { return Ok(()) };
        self.write(ways, &goes, count, feedings);
        let said = self.ask(task)?;
        let missed = match said {
            Said::Good(margin) => {
                self.keep(task, cost, margin);
                self.by_margin && margin < hoped - 10.0 * STEP
            }
            Said::Between => true,
            Said::Bad => false,
        };
        if missed {
            self.try_all(task, ways, &rows, cost, feedings)?;
        }
        Ok(())
    }

    /// Writes the candidate down.
    pub(super) fn write(
        &mut self,
        ways: &Ways<OUTLETS, NODES>,
        goes: &Assignment<OUTLETS>,
        count: usize,
        feedings: &[(Feeding, u16)],
    ) {
        let mut design = Design::new();
        for slot in &self.slots {
            let fill = self.kind_of(slot).map_or(Fill::Closed, |kind| Fill::Part(kind.item));
            let _ = design.nodes.push(Node { fill, owner: slot.owner, way: slot.way });
        }
        for (outlet, way) in goes.iter().take(count).enumerate() {
            let slot = ways.slots.get(*way as usize).copied().unwrap_or(NONE);
            if let Some(node) = design.nodes.get_mut(slot as usize) {
                node.fill = Fill::Run(outlet as u16);
            }
        }
        for (feeding, _) in feedings {
            let _ = design.feedings.push(*feeding);
        }
        self.candidate = design;
    }

    /// Builds the candidate and has it checked.
    ///
    /// # Errors
    /// [`Error::Full`] where it finds no room on the bench.
    pub(super) fn ask<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
    ) -> Result<Said, Error> {
        self.steps = self.steps.wrapping_add(1);
        self.candidate.build(task.need, task.stock, task.bench, |_| {})?;
        let report = task.bench.check()?;
        let margin = report.margins().iter().map(|margin| margin.db).fold(f32::INFINITY, min);
        let between = task.need.outlets.len() + 2;
        let between = report.margins().get(between).map_or(f32::INFINITY, |margin| margin.db);
        let mut said = if margin >= self.least { Said::Good(margin) } else { Said::Bad };
        if between < self.least {
            said = Said::Between;
        }
        for finding in report.findings().iter().filter(|finding| task.rules.forbid(finding)) {
            match finding.code {
                Code::NeighbourTransmit | Code::HomeLinkWeak | Code::EntryFilterMissing => said = Said::Between,
                _ => return Ok(Said::Bad),
            }
        }
        if task.rules == Rules::Nothing {
            said = Said::Good(margin);
        }
        if !(task.go_on)(&self.progress()) {
            self.stopped = true;
        }
        Ok(said)
    }

    /// Keeps the candidate if it is the best so far.
    pub(super) fn keep<'s, B: Build<'s>, F>(&mut self, task: &Task<'_, '_, 's, B, F>, cost: u32, margin: f32) {
        let is_better =
            self.best.as_ref().is_none_or(|best| cost < best.cost || (cost == best.cost && margin > best.margin));
        if is_better {
            let design = self.candidate.clone();
            self.best = Some(Best { design, amplifiers: self.amplifiers, cost, margin });
        }
        if self.by_margin {
            if let Some(best) = &self.best {
                let margin = best.margin + STEP;
                self.want(task, margin);
            }
        } else {
            // Only what is cheaper is of interest now.
            self.limit = cost.saturating_sub(1).min(self.limit);
            if cost == 0 {
                self.done = Some(0);
            }
        }
    }
}
