//! How the amplifiers of a tree are powered: at the panel, or behind an inserter before an outlet.

use heapless::Vec;

use super::bench::Build;
use super::design::{Feeding, MOST_SUPPLIES, Socket};
use super::judge::Ways;
use super::leaf::Rules;
use super::menu::supplies;
use super::search::{Progress, Search, Task};
use super::slots::{NONE, Slot};
use crate::Error;

/// How one amplifier is powered.
struct Choice {
    feeding: Feeding,
    /// The way out of the outlet where the supply stands; [`NONE`] for the panel.
    way: u16,
    /// What supply and inserter cost.
    cost: u32,
}

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// Tries every way of powering: each amplifier's own choice is a digit of a number that counts up.
    pub(super) fn power<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        ways: &Ways<OUTLETS, NODES>,
        amplifiers: &[u16],
        cost: u32,
    ) -> Result<(), Error> {
        let mut digits = [0_u32; MOST_SUPPLIES];
        let most = self.choices(task, ways);
        loop {
            if self.is_over(task) {
                return Ok(());
            }
            let mut feedings: Vec<(Feeding, u16), MOST_SUPPLIES> = Vec::new();
            let mut sum = cost;
            let is_sound = digits.iter().zip(amplifiers).all(|(digit, amplifier)| {
                let Some(digit) = digit.checked_sub(1) else { return true };
                let choice = self.choice(task, ways, *amplifier, digit as usize, &feedings);
                choice.is_some_and(|Choice { feeding, way, cost }| {
                    sum = sum.saturating_add(cost);
                    feedings.push((feeding, way)).is_ok()
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

    /// What a number stands for. [`None`] where there is no such choice, or not after the choices for other amplifiers.
    fn choice<'s, B: Build<'s>, F>(
        &self,
        task: &Task<'_, '_, 's, B, F>,
        ways: &Ways<OUTLETS, NODES>,
        amplifier: u16,
        number: usize,
        others: &[(Feeding, u16)],
    ) -> Option<Choice> {
        let count = supplies(task.stock).count();
        let (supply, place) = (number.checked_rem(count)?, number.checked_div(count)?);
        let (supply, item) = supplies(task.stock).nth(supply)?;
        if others.iter().filter(|(other, _)| other.supply == supply).count() >= usize::from(item.count) {
            return None;
        }
        let spec = self.slots.get(amplifier as usize).and_then(|slot| self.kind_of(slot))?;
        let spec = task.stock.get(spec.item as usize)?.part()?.amplifier()?;
        let Some(place) = place.checked_sub(1) else {
            let stands = task.need.mains && spec.dc_ports.power;
            let feeding = Feeding { supply, socket: Socket::Panel(amplifier) };
            return stands.then_some(Choice { feeding, way: NONE, cost: item.cost });
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
        Some(Choice { feeding, way: way as u16, cost: item.cost.saturating_add(inserter.cost) })
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
}
