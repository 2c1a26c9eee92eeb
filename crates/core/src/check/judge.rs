//! Holding figures against limits and targets, and noting what leaves them.

use heapless::VecView;

use super::finding::{At, Code, Finding, Verdict};
use super::margins::{Keeper, Margin};
use crate::Figure;
use crate::math::{abs, is_negative};

/// What a figure must not leave: a limit, and an operator's target inside it.
#[derive(Clone, Copy)]
pub(crate) struct Bound {
    pub(crate) limit: f32,
    pub(crate) target: f32,
}

impl Bound {
    /// A limit without a target on the side of high figures.
    pub(crate) const fn at_most(limit: f32) -> Self {
        Self { limit, target: f32::INFINITY }
    }

    /// Whether any high figure is inside it.
    pub(crate) fn is_none(&self) -> bool {
        self.limit == f32::INFINITY && self.target == f32::INFINITY
    }
}

/// Where findings go, and what the next ones are about.
///
/// Where there is no room for one it is lost, and said so at the end: no step in between has to ask.
pub(crate) struct Findings<'w> {
    known: &'w mut VecView<Finding>,
    pub(super) about: About,
    /// Whether one found no room.
    pub(super) lost: bool,
    /// How near figures come to their limits, where somebody asks.
    keeper: Option<Keeper<'w>>,
}

/// What the next findings are about.
#[derive(Clone, Copy)]
pub(super) struct About {
    pub(super) at: At,
    pub(super) other: Option<At>,
    /// The frequency, in MHz.
    pub(super) mhz: Option<f32>,
}

impl<'w> Findings<'w> {
    /// None yet.
    pub(crate) fn new(known: &'w mut VecView<Finding>, mut keeper: Option<Keeper<'w>>) -> Self {
        known.clear();
        if let Some(keeper) = &mut keeper {
            keeper.clear();
        }
        Self { known, about: About { at: At::Entry, other: None, mhz: None }, lost: false, keeper }
    }

    /// All of them, or [`None`] where one was lost, and the margins.
    pub(crate) fn all(self) -> (&'w [Finding], &'w [Margin]) {
        (self.known, self.keeper.map_or(&[][..], |keeper| keeper.margins))
    }

    /// How many find room.
    pub(super) fn capacity(&self) -> usize {
        self.known.capacity()
    }

    /// The next ones are about a place.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn about(&mut self, at: At) -> &mut Self {
        self.about = About { at, other: None, mhz: None };
        self
    }

    /// And about a second place.
    pub(crate) fn other(&mut self, other: At) -> &mut Self {
        self.about.other = Some(other);
        self
    }

    /// And about this frequency, in MHz.
    pub(crate) fn mhz(&mut self, mhz: f32) -> &mut Self {
        self.about.mhz = Some(mhz);
        self
    }

    /// Raises a finding where a figure leaves its bound, on the side that the code is about.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn hold(&mut self, code: Code, figure: &Figure, bound: Bound) {
        let (sign, extreme) = if code.is_below() { (1 << 31, figure.low) } else { (0, figure.high) };
        // What is left to a limit, on either side: a subtraction and a sign.
        let left = |value: f32, limit: f32| f32::from_bits((limit - value).to_bits() ^ sign);
        let (to_limit, to_target) = (left(extreme, bound.limit), left(figure.nominal, bound.target));
        if let Some(keeper) = &mut self.keeper {
            keeper.keep(code, &self.about, to_limit);
        }
        if is_negative(to_limit) && -to_limit > rounding(bound.limit) {
            let (mut verdict, mut value) = (Verdict::Marginal, extreme);
            if -left(figure.nominal, bound.limit) > rounding(bound.limit) {
                (verdict, value) = (code.gravest(), figure.nominal);
            }
            self.raise_as(code, verdict, value, bound.limit);
        }
        if is_negative(to_target) && -to_target > rounding(bound.target) {
            self.raise_as(code, Verdict::Marginal, figure.nominal, bound.target);
        }
    }

    /// Notes a finding that has no number.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn note(&mut self, code: Code) {
        self.raise(code, f32::INFINITY, f32::INFINITY);
    }

    /// Notes a finding as bad as its code can be.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn raise(&mut self, code: Code, value: f32, limit: f32) {
        self.raise_as(code, code.gravest(), value, limit);
    }

    /// Notes a finding. One stands for each code and place: the gravest, then the furthest beyond
    /// its limit, then the first. An infinite value or limit is none.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn raise_as(&mut self, code: Code, verdict: Verdict, value: f32, limit: f32) {
        let finite = |number: f32| (number != f32::INFINITY).then_some(number);
        let About { at, other, mhz } = self.about;
        let finding =
            Finding { code, verdict, at, other, mhz, value: finite(value), limit: finite(limit), unit: code.unit() };
        // Findings about one place come close together, so the search starts at the end.
        match self.known.iter_mut().rev().find(|known| known.code == code && known.at == at) {
            Some(known) => {
                if verdict > known.verdict || (verdict == known.verdict && finding.beyond() > known.beyond()) {
                    *known = finding;
                }
            }
            None => self.lost |= self.known.push(finding).is_err(),
        }
    }
}

/// What f32 sums of a way's losses may be off by: a figure that near its limit is on it.
fn rounding(limit: f32) -> f32 {
    2e-5 + 4e-6 * abs(limit)
}
