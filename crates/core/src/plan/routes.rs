//! Every route that a signal could take to a way out, were the truck bottomless.
//!
//! What arrives depends on the parts on the way and, to the levels, not on their order. So routes are kept as sets of
//! parts with the ways by which these are left: a few hundred where trees are beyond counting. Parts that do nothing but
//! lose the same at every frequency are left out: whoever needs one is taken to have it.

use heapless::Vec;

use super::design::MOST_SUPPLIES;
use super::leaf::DEPTH;
use super::menu::{COLUMNS, Kind, Losses, Menu, TURNS};
use super::search::ROUNDING;
use super::wants::Bearing;
use crate::math::{max, min};

/// A route to a way out.
#[derive(Clone, Copy, Debug)]
pub(super) struct Route<const KINDS: usize> {
    /// The parts on it with the ways they are left by: a byte each, the greatest first.
    parts: u128,
    losses: Losses,
    length: u8,
    amplifiers: u8,
    is_amplified: bool,
    /// The route that was found before in the same place of the index.
    before: u16,
    /// The outlets that could stand at its end, one bit each.
    pub(super) can: u64,
    /// Those that could stand somewhere behind it, with so many further amplifiers.
    reached: [u64; MOST_SUPPLIES + 1],
    /// Where it goes on behind each kind, by turn.
    pub(super) behind: [[u16; TURNS]; KINDS],
}

/// No outlet can stand behind it.
pub(super) const DEAD: u16 = u16::MAX;
/// There was no room for it.
pub(super) const UNKNOWN: u16 = u16::MAX - 1;
/// There is no such route: there are too few of a kind for it.
pub(super) const NONE: u16 = u16::MAX - 2;
/// The one to the panel.
pub(super) const PANEL: u16 = 0;

/// All routes, and where to find them.
#[derive(Debug)]
pub(super) struct Routes<const KINDS: usize, const ROUTES: usize> {
    /// Every route comes after those that it goes on from.
    pub(super) all: Vec<Route<KINDS>, ROUTES>,
    index: [u16; ROUTES],
}

/// What outlets bear, and what helps them.
pub(super) struct Asked<'a> {
    pub(super) bearings: &'a [Bearing],
    /// What a wider margin takes from that.
    pub(super) wider: Losses,
    /// The most that pads can lose, and filters that send the home network's band back, at any frequency.
    pub(super) pads: f32,
    pub(super) mirrors: f32,
    /// What inserters lose, and the outlets that one may stand before, one bit each.
    pub(super) inserters: &'a [Losses],
    pub(super) hosts: u64,
}

impl Asked<'_> {
    /// The outlets that could stand where so much is lost, one bit each.
    fn can(&self, losses: &Losses) -> u64 {
        let bear = |index: usize, bearing: &Bearing| {
            self.is_borne(bearing, losses, &[0.0; COLUMNS])
                || ((self.hosts >> index) & 1 == 1
                    && self.inserters.iter().any(|inserter| self.is_borne(bearing, losses, inserter)))
        };
        let all = self.bearings.iter().enumerate();
        all.fold(0, |can, (index, bearing)| can | u64::from(bear(index, bearing)) << index)
    }

    /// Whether an outlet bears these losses, and more right before it, with pads where something is too high.
    fn is_borne(&self, bearing: &Bearing, losses: &Losses, more: &Losses) -> bool {
        let (mut missing, mut left) = (0.0, f32::INFINITY);
        let columns = bearing.most.iter().zip(bearing.least).zip(self.wider).zip(losses).zip(more);
        for ((((most, least), wider), loss), more) in columns {
            left = min(left, most - wider - loss - more);
            missing = max(missing, least - loss - more);
        }
        max(missing - self.mirrors, 0.0) <= min(left, self.pads) + ROUNDING
    }

    /// Whether anybody bears these losses, or would with pads and with so much gain.
    fn is_any_left(&self, losses: &Losses, gain: &Losses) -> bool {
        self.bearings.iter().any(|bearing| {
            let columns = bearing.most.iter().zip(self.wider).zip(losses).zip(gain);
            columns.into_iter().all(|(((most, wider), loss), gain)| loss + gain <= most - wider + ROUNDING)
        })
    }
}

impl<const KINDS: usize, const ROUTES: usize> Routes<KINDS, ROUTES> {
    pub(super) const fn new() -> Self {
        Self { all: Vec::new(), index: [NONE; ROUTES] }
    }

    /// Goes through all routes with at most so many amplifiers.
    pub(super) fn find<const LEGS: usize>(
        &mut self,
        menu: &Menu<KINDS, LEGS>,
        (amplifiers, counts): (u8, &[u16; KINDS]),
        asked: &Asked<'_>,
    ) {
        self.all.clear();
        self.index.fill(NONE);
        let nothing = [0.0; COLUMNS];
        self.route(Route {
            parts: 0,
            losses: nothing,
            length: 0,
            amplifiers: 0,
            is_amplified: false,
            before: NONE,
            // Where more than one thing is to come, no outlet stands at the panel itself.
            can: if asked.bearings.len() > 1 || amplifiers > 0 { 0 } else { asked.can(&nothing) },
            reached: [0; MOST_SUPPLIES + 1],
            behind: [[NONE; TURNS]; KINDS],
        });
        let gain = menu.most_gain();
        let mut at = 0;
        while let Some(from) = self.all.get(at).copied() {
            for ((number, kind), count) in menu.kinds.iter().enumerate().zip(counts) {
                let is_there = is_on_routes(kind)
                    && from.count(number) < *count
                    && usize::from(from.length) < DEPTH
                    && !(kind.is_amplifier && from.amplifiers >= amplifiers);
                if !is_there {
                    continue;
                }
                for (turn, leg) in menu.turns(number).iter().enumerate().filter(|(_, turn)| turn.times > 0) {
                    let mut next = from;
                    next.add(number * TURNS + turn);
                    next.amplifiers += u8::from(kind.is_amplifier);
                    next.is_amplified |= leg.is_amplified;
                    for (loss, more) in next.losses.iter_mut().zip(leg.losses) {
                        *loss += more;
                    }
                    let may_gain = !next.is_amplified && next.amplifiers < amplifiers;
                    let behind = if leg.is_mixed || number * TURNS + turn >= usize::from(u8::MAX) {
                        UNKNOWN
                    } else if leg.is_amplified && from.is_amplified {
                        // Nobody stands behind two amplified outputs.
                        DEAD
                    } else if asked.is_any_left(&next.losses, if may_gain { &gain } else { &nothing }) {
                        next.can = asked.can(&next.losses);
                        next.behind = [[NONE; TURNS]; KINDS];
                        self.route(next)
                    } else {
                        DEAD
                    };
                    let turns = self.all.get_mut(at).and_then(|from| from.behind.get_mut(number));
                    if let Some(slot) = turns.and_then(|turns| turns.get_mut(turn)) {
                        *slot = behind;
                    }
                }
            }
            at += 1;
        }
        self.reach(menu);
    }

    /// Works out who could stand somewhere behind each route.
    fn reach<const LEGS: usize>(&mut self, menu: &Menu<KINDS, LEGS>) {
        for at in (0..self.all.len()).rev() {
            let Some(route) = self.all.get(at) else { continue };
            let mut reached = [route.can; MOST_SUPPLIES + 1];
            for (kind, turns) in menu.kinds.iter().zip(&route.behind) {
                let taken = usize::from(kind.is_amplifier);
                for next in turns.iter().filter(|next| **next != NONE) {
                    for (left, reached) in reached.iter_mut().enumerate().skip(taken) {
                        *reached |= self.reached(*next, (left - taken) as u8);
                    }
                }
            }
            if let Some(route) = self.all.get_mut(at) {
                route.reached = reached;
            }
        }
    }

    /// Who could stand somewhere behind a route, with so many amplifiers more.
    pub(super) fn reached(&self, route: u16, amplifiers: u8) -> u64 {
        match route {
            DEAD | NONE => 0,
            UNKNOWN => u64::MAX,
            known => {
                let route = self.all.get(known as usize);
                route.and_then(|route| route.reached.get(usize::from(amplifiers))).copied().unwrap_or(u64::MAX)
            }
        }
    }

    /// The number of a route, known or new.
    fn route(&mut self, mut route: Route<KINDS>) -> u16 {
        // The Fibonacci multiplier spreads keys that differ in few bits.
        let folded = (route.parts as u64 ^ (route.parts >> 64) as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15) >> 32;
        let Some(first) = self.index.get_mut((folded as usize).checked_rem(ROUTES).unwrap_or(0)) else {
            return UNKNOWN;
        };
        let mut at = *first;
        while let Some(known) = self.all.get(at as usize) {
            if known.parts == route.parts {
                return at;
            }
            at = known.before;
        }
        let number = self.all.len() as u16;
        route.before = *first;
        if number >= NONE || self.all.push(route).is_err() {
            return UNKNOWN;
        }
        *first = number;
        number
    }

    /// Where a route goes on behind a way out of a kind.
    pub(super) fn behind(&self, route: u16, kind: usize, turn: u8) -> u16 {
        let Some(route) = self.all.get(route as usize) else { return route };
        route.behind.get(kind).and_then(|turns| turns.get(usize::from(turn))).copied().unwrap_or(UNKNOWN)
    }
}

impl<const KINDS: usize> Route<KINDS> {
    /// How many of a kind are on it.
    fn count(&self, kind: usize) -> u16 {
        let parts = self.parts.to_le_bytes();
        let of_kind = |part: &&u8| part.checked_sub(1).is_some_and(|part| usize::from(part) / TURNS == kind);
        parts.iter().filter(of_kind).count() as u16
    }

    /// Adds a part.
    fn add(&mut self, part: usize) {
        let part = part as u128 + 1;
        let mut place = 0;
        while place < 120 && (self.parts >> place) & 0xff > part {
            place += 8;
        }
        let below = self.parts & ((1 << place) - 1);
        self.parts = (self.parts >> place << place << 8) | (part << place) | below;
        self.length += 1;
    }
}

/// Whether a kind counts on routes: it divides, gains, or loses more at some frequencies than at others.
pub(super) const fn is_on_routes(kind: &Kind) -> bool {
    !kind.is_inserter && !kind.is_pad && !kind.is_mirror
}
