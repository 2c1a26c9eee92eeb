//! How losses divide what comes in: whatever is built, what is left has to do for all.
//!
//! At one frequency, a way that loses `l` decibels passes on the *share* `2^(-s·l)` of what comes in, with `s` chosen so
//! that the shares of no passive kind's ways add up to more than one. So the shares of all ways out never add up to more
//! than the share that went in; an outlet that can bear at most `a` decibels needs the share `2^(-s·a)` at least, and
//! where all outlets together need more than is left, nothing that can still be built will serve them. This is Kraft's
//! inequality of prefix codes, with losses for code lengths.

use super::menu::{COLUMNS, Kind, Losses, MOST_LOSS, Menu};
use super::search::ROUNDING;
use super::slots::Slot;
use super::wants::Bearing;
use crate::math::{exp2, is_below, max, min};

/// One number for each column.
pub(super) type Shares = [f32; COLUMNS];

/// What ways out pass on, and what outlets need.
#[derive(Debug)]
pub(super) struct Division<const LEGS: usize, const OUTLETS: usize> {
    /// The factors from decibels to powers of two.
    scales: [f32; COLUMNS],
    /// What each leg of the menu passes on.
    legs: [Shares; LEGS],
    /// What each outlet needs.
    needs: [Shares; OUTLETS],
    /// The outlets by what they need, the most demanding first, column by column.
    ranked: [[u8; OUTLETS]; COLUMNS],
    /// By how much needs have grown with the best margin so far.
    growth: Shares,
    /// The greatest sum of shares that an amplifier makes of one.
    amplified: Shares,
}

/// A scale at which a hundredth of a decibel halves a share: what would need more creates power.
const MOST_SCALE: f32 = 20.0;

impl<const LEGS: usize, const OUTLETS: usize> Division<LEGS, OUTLETS> {
    pub(super) const fn new() -> Self {
        Self {
            scales: [0.0; COLUMNS],
            legs: [[0.0; COLUMNS]; LEGS],
            needs: [[0.0; COLUMNS]; OUTLETS],
            ranked: [[0; OUTLETS]; COLUMNS],
            growth: [1.0; COLUMNS],
            amplified: [0.0; COLUMNS],
        }
    }

    /// Finds the scales, and what every outlet needs.
    pub(super) fn read<const KINDS: usize>(&mut self, menu: &Menu<KINDS, LEGS>, bearings: &[Bearing]) {
        for column in 0..COLUMNS {
            let (mut low, mut high) = (0.0, MOST_SCALE);
            // Where some way out of some passive kind creates power, shares bound nothing: all are one, and nobody needs any.
            let is_bounded = adds_up(menu, column, high);
            for _ in 0..24 {
                let middle = 0.5 * (low + high);
                if adds_up(menu, column, middle) {
                    high = middle;
                } else {
                    low = middle;
                }
            }
            if let Some(scale) = self.scales.get_mut(column) {
                *scale = if is_bounded { high } else { 0.0 };
            }
        }
        for (shares, losses) in self.legs.iter_mut().zip(menu.all_losses()) {
            *shares = passed(&self.scales, losses);
        }
        for (needs, bearing) in self.needs.iter_mut().zip(bearings) {
            for (((need, share), most), scale) in
                needs.iter_mut().zip(passed(&self.scales, &bearing.most)).zip(bearing.most).zip(self.scales)
            {
                *need = if most < MOST_LOSS && scale > 0.0 { share } else { 0.0 };
            }
        }
        self.rank(bearings.len());
    }

    /// Ranks the outlets by what they need, the most demanding first, column by column.
    fn rank(&mut self, outlets: usize) {
        for (column, ranked) in self.ranked.iter_mut().enumerate() {
            let need = |outlet: u8| self.needs.get(usize::from(outlet)).and_then(|needs| needs.get(column)).copied();
            for (outlet, place) in ranked.iter_mut().enumerate() {
                *place = outlet as u8;
            }
            // Few outlets, once a search: each takes its place among those before it.
            for last in 1..outlets.min(OUTLETS) {
                let mut place = last;
                while let Some(before) = place.checked_sub(1)
                    && let (Some(a), Some(b)) = (ranked.get(before).copied(), ranked.get(place).copied())
                    && need(a) < need(b)
                {
                    if let (Some(upper), Some(lower)) = (ranked.get(before).copied(), ranked.get_mut(place)) {
                        *lower = upper;
                    }
                    if let Some(slot) = ranked.get_mut(before) {
                        *slot = b;
                    }
                    place = before;
                }
            }
        }
    }

    /// From now on that much less can be borne.
    pub(super) fn widen(&mut self, wider: &Losses) {
        for ((growth, scale), wider) in self.growth.iter_mut().zip(self.scales).zip(wider) {
            *growth = exp2(scale * min(*wider, MOST_LOSS));
        }
    }

    /// Which amplifiers there are.
    pub(super) fn amplify<const KINDS: usize>(&mut self, menu: &Menu<KINDS, LEGS>, counts: &[u16; KINDS]) {
        let mut amplified = [0.0; COLUMNS];
        for (kind, _) in menu.kinds.iter().zip(counts).filter(|(kind, count)| kind.is_amplifier && **count > 0) {
            for (index, most) in amplified.iter_mut().enumerate() {
                let sum = (0..kind.ways).map(|way| self.of(kind, way).get(index).copied().unwrap_or(0.0)).sum();
                *most = max(*most, sum);
            }
        }
        self.amplified = amplified;
    }

    /// The shares that a way out passes on.
    pub(super) fn of(&self, kind: &Kind, way: u8) -> Shares {
        self.legs.get(kind.first_leg as usize + usize::from(way)).copied().unwrap_or([1.0; COLUMNS])
    }

    /// What arrives behind a way out.
    pub(super) fn behind(&self, share: &Shares, kind: &Kind, way: u8) -> Shares {
        let mut arrives = *share;
        for (arrives, leg) in arrives.iter_mut().zip(self.of(kind, way)) {
            *arrives *= leg;
        }
        arrives
    }

    /// Whether the shares that are left cover what so many outlets need: all of them, and, column by column, the most
    /// demanding ones, for whom fewer closed ways will do. A closed way is worth what arrives there, and no more than the
    /// most demanding outlet needs that would do there.
    ///
    /// `widest` is no less than what arrives at any one way that is open, `amplifiers` how many are still to come.
    pub(super) fn covers(
        &self,
        slots: &[Slot],
        pending: &Shares,
        widest: &Shares,
        (outlets, amplifiers): (usize, u8),
    ) -> bool {
        let left = f32::from(amplifiers);
        (0..COLUMNS).all(|column| {
            let number = |shares: &Shares| shares.get(column).copied().unwrap_or(0.0);
            let growth = number(&self.growth);
            let need = |outlet: u8| self.needs.get(usize::from(outlet)).map_or(0.0, |needs| number(needs) * growth);
            let Some(ranked) = self.ranked.get(column).and_then(|ranked| ranked.get(..outlets)) else { return true };
            let mut worth = [0.0; OUTLETS];
            for slot in slots.iter().filter(|slot| slot.choice == 0 && slot.served != 0) {
                let first = ranked.iter().enumerate().find(|(_, outlet)| (slot.served >> **outlet) & 1 == 1);
                let Some((rank, outlet)) = first else { continue };
                if let Some(worth) = worth.get_mut(rank) {
                    *worth += min(number(&slot.so_far.share), need(*outlet));
                }
            }
            let open = number(pending);
            // An amplifier that is still to come takes one way that is open, and gives what it makes of that.
            let more = left * max(number(&self.amplified) - 1.0, 0.0);
            let mut arrives = open + more * min(open, number(widest));
            let mut needed = 0.0;
            ranked.iter().zip(worth).all(|(outlet, worth)| {
                arrives += worth;
                needed += need(*outlet);
                !is_below(arrives, needed * (1.0 - ROUNDING))
            })
        })
    }
}

/// What is passed on of one where this is lost.
fn passed(scales: &[f32; COLUMNS], losses: &Losses) -> Shares {
    let mut shares = [0.0; COLUMNS];
    for ((share, scale), loss) in shares.iter_mut().zip(scales).zip(losses) {
        *share = exp2(-scale * loss);
    }
    shares
}

/// Whether at this scale no passive kind passes on more than it takes in.
fn adds_up<const KINDS: usize, const LEGS: usize>(menu: &Menu<KINDS, LEGS>, column: usize, scale: f32) -> bool {
    menu.kinds.iter().filter(|kind| !kind.is_amplifier).all(|kind| {
        let losses = (0..kind.ways).map(|way| menu.losses(kind, way).get(column).copied().unwrap_or(0.0));
        let sum: f32 = losses.map(|loss| exp2(-scale * loss)).sum();
        sum <= 1.0 + 1e-4
    })
}
