//! Holding figures against limits and targets, and noting what leaves them.

use heapless::VecView;

use super::finding::{At, Code, Finding, Verdict};
use super::margins::{Keeper, Margin};
use crate::Figure;

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
    at: At,
    other: Option<At>,
    /// The frequency they are about, in MHz.
    pub(super) mhz: Option<f32>,
    lost: bool,
    /// How near figures come to their limits, where somebody asks.
    keeper: Option<Keeper<'w>>,
}

impl<'w> Findings<'w> {
    /// None yet.
    pub(crate) fn new(known: &'w mut VecView<Finding>) -> Self {
        known.clear();
        Self { known, at: At::Entry, other: None, mhz: None, lost: false, keeper: None }
    }

    /// With a place for margins.
    pub(crate) fn with_margins(mut self, mut keeper: Keeper<'w>) -> Self {
        keeper.clear();
        self.keeper = Some(keeper);
        self
    }

    /// All of them, or [`None`] where one was lost, and the margins.
    pub(crate) fn all(self) -> Option<(&'w [Finding], &'w [Margin])> {
        let margins = self.keeper.map_or(&[][..], |keeper| keeper.margins);
        (!self.lost).then_some((self.known, margins))
    }

    /// The next ones are about a place.
    pub(crate) fn about(&mut self, at: At) -> &mut Self {
        (self.at, self.other, self.mhz) = (at, None, None);
        self
    }

    /// And about a second place.
    pub(crate) fn other(&mut self, other: At) -> &mut Self {
        self.other = Some(other);
        self
    }

    /// And about this frequency, in MHz.
    pub(crate) fn mhz(&mut self, mhz: f32) -> &mut Self {
        self.mhz = Some(mhz);
        self
    }

    /// Raises a finding where a figure is above its bound.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn not_above(&mut self, code: Code, figure: &Figure, bound: Bound) {
        if let Some(keeper) = &mut self.keeper {
            keeper.keep(code, (self.at, self.other), self.mhz, bound.limit - figure.high);
        }
        if !(figure.high <= bound.limit && figure.nominal <= bound.target) {
            self.hold(code, figure.nominal, figure.high, bound, 1.0);
        }
    }

    /// Raises a finding where a figure is below its bound.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn not_below(&mut self, code: Code, figure: &Figure, bound: Bound) {
        if let Some(keeper) = &mut self.keeper {
            keeper.keep(code, (self.at, self.other), self.mhz, figure.low - bound.limit);
        }
        if !(figure.low >= bound.limit && figure.nominal >= bound.target) {
            self.hold(code, figure.nominal, figure.low, bound, -1.0);
        }
    }

    #[cfg_attr(target_os = "none", inline(never))]
    fn hold(&mut self, code: Code, nominal: f32, extreme: f32, bound: Bound, side: f32) {
        // A modem that can't send softly or evenly enough is still heard, only not as it should be.
        let gravest = match code {
            Code::TransmitLow | Code::TransmitSpread => Verdict::Marginal,
            _ => Verdict::Fail,
        };
        // One body for both sides, without a call through a pointer, so that stack use can be bounded.
        let is_outside = |value: f32, limit: f32| (value - limit) * side > rounding(limit);
        if is_outside(nominal, bound.limit) {
            self.raise(code, gravest, nominal, bound.limit);
        } else if is_outside(extreme, bound.limit) {
            self.raise(code, Verdict::Marginal, extreme, bound.limit);
        }
        if is_outside(nominal, bound.target) {
            self.raise(code, Verdict::Marginal, nominal, bound.target);
        }
    }

    /// Notes a finding that has no number.
    pub(crate) fn note(&mut self, code: Code, verdict: Verdict) {
        self.raise(code, verdict, f32::INFINITY, f32::INFINITY);
    }

    /// Notes a finding. One stands for each code and place: the gravest, then the furthest beyond
    /// its limit, then the first. An infinite value or limit is none.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn raise(&mut self, code: Code, verdict: Verdict, value: f32, limit: f32) {
        let finite = |number: f32| (number < f32::INFINITY).then_some(number);
        let finding = Finding {
            code,
            verdict,
            at: self.at,
            other: self.other,
            mhz: self.mhz,
            value: finite(value),
            limit: finite(limit),
            unit: code.unit(),
        };
        // Findings about one place come close together, so the search starts at the end.
        let same = self.known.iter_mut().rev().find(|known| known.code == code && known.at == self.at);
        if let Some(known) = same {
            if verdict > known.verdict || (verdict == known.verdict && finding.beyond() > known.beyond()) {
                *known = finding;
            }
        } else if self.known.is_full() {
            self.lost = true;
        } else {
            let _ = self.known.push(finding);
        }
    }
}

/// What f32 sums of a way's losses may be off by: a figure that near its limit is on it.
fn rounding(limit: f32) -> f32 {
    2e-5 + 4e-6 * crate::math::abs(limit)
}
