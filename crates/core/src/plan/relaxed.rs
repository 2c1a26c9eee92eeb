//! What a tree costs at the least, from prices for what is scarce.
//!
//! Two rules make trees hard to count: each outlet is hung once, and there are only so many of each kind. Instead, let
//! each outlet that is hung earn a reward, as often as it is hung, and each part cost something for its scarcity. Then
//! what is best behind one way out does not depend on any other, and is worked out route by route, from the longest
//! back to the panel. Whatever the rewards and scarcities are, the best tree of that game costs no more than any that
//! keeps both rules: this is Lagrange's relaxation (Geoffrion, "Lagrangean relaxation for integer programming",
//! Mathematical Programming Study 2, 1974). `prices` finds those that say the most.

use super::design::MOST_SUPPLIES;
use super::menu::Menu;
use super::prices::Prices;
use super::routes::{Asked, DEAD, NONE, PANEL, Route, Routes, UNKNOWN};
use crate::math::{max, min};

/// What comes in behind a way out, less what is paid there, by the number of amplifiers.
pub(super) type Value = [f32; MOST_SUPPLIES + 1];

/// No value at all.
pub(super) const NEVER: f32 = -1e30;

/// Nothing stands there.
pub(super) const NOTHING: Value = {
    let mut value = [NEVER; MOST_SUPPLIES + 1];
    value[0] = 0.0;
    value
};

/// The relaxed search: its prices and what they make of each route.
#[derive(Debug)]
pub(super) struct Relaxed<const KINDS: usize, const OUTLETS: usize, const ROUTES: usize> {
    pub(super) routes: Routes<KINDS, ROUTES>,
    values: [Value; ROUTES],
    pub(super) prices: Prices<KINDS, OUTLETS>,
    /// How many of each kind a tree may take.
    pub(super) counts: [u16; KINDS],
    pub(super) amplifiers: u8,
    /// What all parts that a tree may take cost together.
    pub(super) whole_stock: f32,
    /// What is earned where no outlet can stand, and where nothing is known.
    dead: Value,
    unknown: Value,
    /// All rewards, less all scarcities.
    base: f32,
    /// What rounding may have added to a bound.
    slack: f32,
}

impl<const KINDS: usize, const OUTLETS: usize, const ROUTES: usize> Relaxed<KINDS, OUTLETS, ROUTES> {
    pub(super) const fn new() -> Self {
        Self {
            routes: Routes::new(),
            values: [NOTHING; ROUTES],
            prices: Prices::NONE,
            counts: [0; KINDS],
            amplifiers: 0,
            whole_stock: 0.0,
            dead: NOTHING,
            unknown: NOTHING,
            base: 0.0,
            slack: 0.0,
        }
    }

    /// Goes through every route to outlets that ask for this, with at most so many amplifiers and of each kind.
    pub(super) fn find<const LEGS: usize>(
        &mut self,
        menu: &Menu<KINDS, LEGS>,
        (amplifiers, counts): (u8, [u16; KINDS]),
        asked: &Asked<'_>,
    ) {
        (self.amplifiers, self.counts) = (amplifiers, counts);
        let costs = menu.kinds.iter().zip(counts).map(|(kind, count)| kind.cost as f32 * f32::from(count));
        self.whole_stock = costs.sum();
        self.routes.find(menu, (amplifiers, &counts), asked);
    }

    /// Works out the value of every route; what a tree costs at the least.
    pub(super) fn evaluate<const LEGS: usize>(&mut self, menu: &Menu<KINDS, LEGS>) -> f32 {
        let rewards: f32 = self.prices.rewards.iter().sum();
        let stock = menu.kinds.iter().zip(self.prices.scarcities);
        let scarcities: f32 =
            self.counts.iter().zip(self.prices.scarcities).map(|(count, scarcity)| scarcity * f32::from(*count)).sum();
        self.base = rewards - scarcities;
        self.slack = 0.5 + 1e-5 * (rewards + scarcities) + 1e-6 * self.whole_stock;
        let amplifiers = stock.filter(|(kind, _)| kind.is_amplifier);
        let cheapest = amplifiers.map(|(kind, scarcity)| kind.cost as f32 + scarcity).fold(f32::INFINITY, min);
        self.unknown = [rewards; MOST_SUPPLIES + 1];
        self.dead = NOTHING;
        for (count, dead) in self.dead.iter_mut().enumerate().take(usize::from(self.amplifiers) + 1).skip(1) {
            *dead = max(-cheapest * count as f32, NEVER);
        }
        for at in (0..self.routes.all.len()).rev() {
            let Some(route) = self.routes.all.get(at) else { continue };
            let mut value = NOTHING;
            if let Some(none) = value.first_mut() {
                *none = self.leaf(route.can).0;
            }
            for kind in 0..menu.kinds.len() {
                if let Some(with) = self.with(menu, route, kind) {
                    for (value, with) in value.iter_mut().zip(with) {
                        *value = max(*value, with);
                    }
                }
            }
            if let Some(slot) = self.values.get_mut(at) {
                *slot = value;
            }
        }
        self.least_cost(0.0, &self.value(PANEL), self.amplifiers)
    }

    /// The least that a tree costs where this was paid, or earned, so far, and this is still to be had.
    pub(super) fn least_cost(&self, paid: f32, open: &Value, amplifiers: u8) -> f32 {
        let open = open.get(usize::from(amplifiers)).copied().unwrap_or(NEVER);
        self.base + paid - open - self.slack
    }

    /// What can be had behind a way out.
    pub(super) fn value(&self, route: u16) -> Value {
        match route {
            DEAD | NONE => self.dead,
            UNKNOWN => self.unknown,
            known => self.values.get(known as usize).copied().unwrap_or(self.unknown),
        }
    }

    /// What can be had where a part of this kind stands, if one can.
    pub(super) fn with<const LEGS: usize>(
        &self,
        menu: &Menu<KINDS, LEGS>,
        route: &Route<KINDS>,
        kind: usize,
    ) -> Option<Value> {
        let behind = route.behind.get(kind).filter(|behind| behind.first() != Some(&NONE))?;
        let known = menu.kinds.get(kind)?;
        let mut value = [NEVER; MOST_SUPPLIES + 1];
        *value.get_mut(usize::from(known.is_amplifier))? = -(known.cost as f32) - self.prices.scarcities.get(kind)?;
        for (turn, behind) in menu.turns(kind).iter().zip(behind) {
            let more = self.value(*behind);
            for _ in 0..turn.times {
                value = self.both(&value, &more);
            }
        }
        Some(value)
    }

    /// What two ways out come to together.
    pub(super) fn both(&self, one: &Value, other: &Value) -> Value {
        let mut both = [NEVER; MOST_SUPPLIES + 1];
        let most = usize::from(self.amplifiers) + 1;
        for (here, a) in one.iter().enumerate().take(most) {
            for (sum, b) in both.iter_mut().take(most).skip(here).zip(other) {
                *sum = max(*sum, a + b);
            }
        }
        both
    }

    /// The outlet that earns the most of these, and what.
    pub(super) fn leaf(&self, mut can: u64) -> (f32, Option<usize>) {
        let mut best = (0.0, None);
        while can != 0 {
            let outlet = can.trailing_zeros() as usize;
            can &= can - 1;
            let reward = self.prices.rewards.get(outlet).copied().unwrap_or(0.0);
            if reward > best.0 {
                best = (reward, Some(outlet));
            }
        }
        best
    }
}
