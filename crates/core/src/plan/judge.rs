//! Judging whole trees: which outlet goes to which way out, how the amplifiers are powered, and what a check says.

use heapless::Vec;

use super::bench::Build;
use super::design::{Design, Feeding, Fill, MOST_SUPPLIES, Node, Socket};
use super::leaf::{Row, Rules};
use super::matching::{Assignment, assign, widest};
use super::menu::supplies;
use super::search::{Best, NONE, Progress, Search, Slot, Task};
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
            let row = self.rows.get(index).copied().unwrap_or([f32::NEG_INFINITY; OUTLETS]);
            let is_live = row.iter().take(task.need.outlets.len()).any(|margin| *margin >= self.least);
            let Some(slot) = self.slots.get(index).copied() else { continue };
            if slot.choice == 0 && is_live {
                let _ = ways.slots.push(index as u16);
                let _ = ways.rows.push(self.row(task, index, &[])?);
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

    /// Tries every way of powering: each amplifier's own choice is a digit of a number that counts up.
    fn power<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        ways: &Ways<OUTLETS, NODES>,
        amplifiers: &[u16],
        cost: u32,
    ) -> Result<(), Error> {
        let mut digits = [0_u32; MOST_SUPPLIES];
        let most = self.choices(task, ways);
        loop {
            if self.stopped {
                return Ok(());
            }
            let mut feedings: Vec<(Feeding, u16), MOST_SUPPLIES> = Vec::new();
            let mut sum = cost;
            let is_sound = digits.iter().zip(amplifiers).all(|(digit, amplifier)| {
                self.feeding(task, ways, *amplifier, *digit, &feedings).is_some_and(|feeding| {
                    feeding.is_none_or(|(feeding, way, price)| {
                        sum = sum.saturating_add(price);
                        feedings.push((feeding, way)).is_ok()
                    })
                })
            });
            if is_sound && !feedings.is_empty() {
                self.seat(task, ways, sum, &feedings)?;
            }
            let mut digits = digits.iter_mut().take(amplifiers.len());
            let carried = loop {
                let Some(digit) = digits.next() else { break true };
                *digit += 1;
                if *digit < most {
                    break false;
                }
                *digit = 0;
            };
            if carried {
                return Ok(());
            }
        }
    }

    /// How many choices there are for one amplifier: none of its own, at the panel, or behind an inserter.
    fn choices<'s, B: Build<'s>, F>(&self, task: &Task<'_, '_, 's, B, F>, ways: &Ways<OUTLETS, NODES>) -> u32 {
        let supplies = supplies(task.stock).count();
        let inserters = self.menu.kinds.iter().filter(|kind| kind.is_inserter).count();
        1 + (supplies * (1 + inserters * ways.slots.len() * task.need.outlets.len())) as u32
    }

    /// What a digit stands for: a supply, where it stands, the way out of its outlet and what it costs. [`None`] where
    /// there is no such choice, or not after the choices for other amplifiers.
    #[allow(clippy::type_complexity, reason = "an answer to be taken apart at once")]
    fn feeding<'s, B: Build<'s>, F>(
        &self,
        task: &Task<'_, '_, 's, B, F>,
        ways: &Ways<OUTLETS, NODES>,
        amplifier: u16,
        digit: u32,
        others: &[(Feeding, u16)],
    ) -> Option<Option<(Feeding, u16, u32)>> {
        let Some(digit) = digit.checked_sub(1).map(|digit| digit as usize) else { return Some(None) };
        let count = supplies(task.stock).count();
        let (supply, place) = (digit.checked_rem(count)?, digit.checked_div(count)?);
        let (supply, item) = supplies(task.stock).nth(supply)?;
        if others.iter().filter(|(other, _)| other.supply == supply).count() >= usize::from(item.count) {
            return None;
        }
        let spec = self.slots.get(amplifier as usize).and_then(|slot| self.kind_of(slot))?;
        let spec = task.stock.get(spec.item as usize)?.part()?.amplifier()?;
        let Some(place) = place.checked_sub(1) else {
            let stands = task.need.mains && spec.dc_ports.power;
            return stands.then_some(Some((Feeding { supply, socket: Socket::Panel(amplifier) }, NONE, item.cost)));
        };
        let outlets = task.need.outlets.len();
        let (outlet, rest) = (place.checked_rem(outlets)?, place.checked_div(outlets)?);
        let (way, inserter) = (rest.checked_rem(ways.slots.len())?, rest.checked_div(ways.slots.len())?);
        let inserter = self.menu.kinds.iter().filter(|kind| kind.is_inserter).nth(inserter)?;
        let wanted = task.need.outlets.get(outlet)?;
        let is_host = |outlet: usize| {
            others.iter().any(
                |(other, _)| matches!(other.socket, Socket::Outlet { outlet: host, .. } if host as usize == outlet),
            )
        };
        // Of outlets alike the first does.
        let alike = task.need.outlets.iter().take(outlet).enumerate();
        let is_second = alike.into_iter().any(|(earlier, same)| same == wanted && !is_host(earlier));
        let taken = others.iter().any(|(_, other)| *other as usize == way);
        let inserters = others.iter().filter(
            |(other, _)| matches!(other.socket, Socket::Outlet { inserter: item, .. } if item == inserter.item),
        );
        let is_short = inserters.count() >= usize::from(inserter.count);
        if !wanted.mains || is_second || is_host(outlet) || taken || is_short || !self.may_reach(task, ways, way) {
            return None;
        }
        let feeding = Feeding { supply, socket: Socket::Outlet { outlet: outlet as u16, inserter: inserter.item } };
        Some(Some((feeding, way as u16, item.cost.saturating_add(inserter.cost))))
    }

    /// Whether DC from a way out may come to some amplifier: every part up to one lets it through, or another may
    /// take it in at its input.
    fn may_reach<'s, B, F>(&self, task: &Task<'_, '_, 's, B, F>, ways: &Ways<OUTLETS, NODES>, way: usize) -> bool {
        let mut slot = ways.slots.get(way).and_then(|slot| self.slots.get(*slot as usize));
        let mut is_first = true;
        while let Some(here) = slot {
            let owner = self.slots.get(here.owner as usize);
            let kind = owner.and_then(|owner| self.kind_of(owner));
            let Some(part) = kind.and_then(|kind| task.stock.get(kind.item as usize)?.part()) else { return false };
            if let Some(spec) = part.amplifier() {
                return (spec.dc_ports.outputs >> here.way) & 1 == 1;
            }
            if matches!(part.dc(here.way), crate::parts::DcPath::Blocked) {
                return false;
            }
            // A splitter that lets DC up may let it down again, to the input of an amplifier.
            let by_input = self.slots.iter().any(|slot| {
                let part = self.kind_of(slot).and_then(|kind| task.stock.get(kind.item as usize)?.part());
                part.and_then(|part| part.amplifier()).is_some_and(|spec| spec.dc_ports.input)
            });
            if by_input && !is_first | (kind.is_some_and(|kind| kind.ways > 1)) {
                return true;
            }
            is_first = false;
            slot = owner;
        }
        false
    }

    /// Whether every amplifier of a tree may still be powered. Where the panel has no mains, or the amplifier no port
    /// for that, DC has to come up from an outlet: through parts that let it pass, to an output that takes it.
    pub(super) fn may_be_powered<'s, B, F>(&self, task: &Task<'_, '_, 's, B, F>) -> bool {
        if self.amplifiers == 0 || task.rules == Rules::Nothing {
            return true;
        }
        let part = |slot: &Slot| self.kind_of(slot).and_then(|kind| task.stock.get(kind.item as usize)?.part());
        self.slots.iter().enumerate().all(|(index, slot)| {
            let Some(spec) = part(slot).and_then(|part| part.amplifier()) else { return true };
            (task.need.mains && spec.dc_ports.power) || spec.dc_ports.input || self.may_host(task, index)
        })
    }

    /// Whether some way out behind an amplifier's outputs may take a supply: one that is open still, or at which an
    /// outlet can stand, with nothing but parts that pass DC between.
    fn may_host<'s, B, F>(&self, task: &Task<'_, '_, 's, B, F>, amplifier: usize) -> bool {
        self.slots.iter().enumerate().any(|(owner, slot)| {
            let Some(kind) = self.kind_of(slot) else { return false };
            (0..kind.ways).any(|way| {
                let below = self.slots.iter().position(|slot| slot.owner as usize == owner && slot.way == way);
                let is_taken = below.and_then(|below| self.slots.get(below)).is_some_and(|slot| slot.choice > 0);
                let is_dead = below.is_some_and(|below| {
                    let row = self.rows.get(below).copied().unwrap_or([f32::NEG_INFINITY; OUTLETS]);
                    let mut wanted = task.need.outlets.iter().zip(row);
                    !wanted.any(|(wanted, margin)| wanted.mains && margin >= self.least)
                });
                !is_taken && !is_dead && self.leads_up(task, owner, way, amplifier)
            })
        })
    }

    /// Whether DC gets from a way out up to an amplifier's output that takes it.
    fn leads_up<'s, B, F>(&self, task: &Task<'_, '_, 's, B, F>, owner: usize, way: u8, amplifier: usize) -> bool {
        let (mut owner, mut way) = (owner, way);
        while let Some(slot) = self.slots.get(owner) {
            let kind = self.kind_of(slot);
            let Some(part) = kind.and_then(|kind| task.stock.get(kind.item as usize)?.part()) else { return false };
            if let Some(spec) = part.amplifier() {
                return owner == amplifier && (spec.dc_ports.outputs >> way) & 1 == 1;
            }
            if matches!(part.dc(way), crate::parts::DcPath::Blocked) {
                return false;
            }
            (owner, way) = (slot.owner as usize, slot.way);
        }
        false
    }

    /// Finds out which outlet goes where, builds that and has it checked.
    fn seat<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
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
            let Some(kind) = kind else { return Ok(()) };
            let with = self.row(task, slot as usize, &[(kind, 0)])?;
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
                self.least = best.margin + STEP;
                self.total_needs(task, self.least);
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
