//! Holding a figure against a limit and a target.

use heapless::VecView;

use super::finding::{At, Code, Finding, Verdict, raise};
use crate::{Error, Figure};

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
}

/// What a finding is about.
#[derive(Clone, Copy)]
pub(crate) struct About {
    pub(crate) code: Code,
    pub(crate) at: At,
    pub(crate) other: Option<At>,
    pub(crate) mhz: Option<f32>,
    pub(crate) unit: &'static str,
    /// The gravest verdict that this code gives.
    pub(crate) worst: Verdict,
}

impl About {
    pub(crate) const fn new(code: Code, at: At, unit: &'static str) -> Self {
        Self { code, at, other: None, mhz: None, unit, worst: Verdict::Fail }
    }

    pub(crate) const fn mhz(mut self, mhz: f32) -> Self {
        self.mhz = Some(mhz);
        self
    }

    pub(crate) const fn other(mut self, other: At) -> Self {
        self.other = Some(other);
        self
    }

    pub(crate) const fn at_worst(mut self, worst: Verdict) -> Self {
        self.worst = worst;
        self
    }

    fn finding(&self, verdict: Verdict, value: f32, limit: f32) -> Finding {
        let verdict = verdict.min(self.worst);
        Finding { other: self.other, mhz: self.mhz, ..Finding::new(self.code, verdict, self.at) }
            .measured(value, limit, self.unit)
    }
}

/// Raises a finding where a figure is above its bound.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
#[inline]
pub(crate) fn not_above(
    findings: &mut VecView<Finding>,
    about: About,
    figure: Figure,
    bound: Bound,
) -> Result<(), Error> {
    if figure.high <= bound.limit && figure.nominal <= bound.target {
        return Ok(());
    }
    outside(findings, about, figure.nominal, figure.high, bound, 1.0)
}

/// Raises a finding where a figure is below its bound.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
#[inline]
pub(crate) fn not_below(
    findings: &mut VecView<Finding>,
    about: About,
    figure: Figure,
    bound: Bound,
) -> Result<(), Error> {
    if figure.low >= bound.limit && figure.nominal >= bound.target {
        return Ok(());
    }
    outside(findings, about, figure.nominal, figure.low, bound, -1.0)
}

#[inline(never)]
fn outside(
    findings: &mut VecView<Finding>,
    about: About,
    nominal: f32,
    extreme: f32,
    bound: Bound,
    side: f32,
) -> Result<(), Error> {
    // One body for both sides, without a call through a pointer, so that stack use can be bounded.
    let is_outside = |value: f32, limit: f32| (value - limit) * side > rounding(limit);
    if is_outside(nominal, bound.limit) {
        raise(findings, about.finding(Verdict::Fail, nominal, bound.limit))?;
    } else if is_outside(extreme, bound.limit) {
        raise(findings, about.finding(Verdict::Marginal, extreme, bound.limit))?;
    }
    if is_outside(nominal, bound.target) {
        raise(findings, about.finding(Verdict::Marginal, nominal, bound.target))?;
    }
    Ok(())
}

/// What f32 sums of a way's losses may be off by: a figure that near its limit is on it.
fn rounding(limit: f32) -> f32 {
    2e-5 + 4e-6 * crate::math::abs(limit)
}
