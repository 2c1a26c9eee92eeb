//! Holding a figure against a limit and a target.

use super::finding::{At, Code, Finding, Verdict, raise};
use super::margins::Findings;
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

    /// Whether any high figure is inside it.
    pub(crate) fn is_none(&self) -> bool {
        self.limit == f32::INFINITY && self.target == f32::INFINITY
    }
}

/// What a finding is about.
#[derive(Clone, Copy)]
pub(crate) struct About {
    code: Code,
    at: At,
    other: Option<At>,
    mhz: Option<f32>,
}

impl About {
    pub(crate) const fn new(code: Code, at: At) -> Self {
        Self { code, at, other: None, mhz: None }
    }

    pub(crate) const fn mhz(mut self, mhz: f32) -> Self {
        self.mhz = Some(mhz);
        self
    }

    pub(crate) const fn other(mut self, other: At) -> Self {
        self.other = Some(other);
        self
    }
}

/// Raises a finding where a figure is above its bound.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn not_above(
    findings: &mut Findings<'_>,
    about: &About,
    figure: &Figure,
    bound: Bound,
) -> Result<(), Error> {
    findings.keep(about.code, about.at, about.mhz, bound.limit - figure.high);
    if figure.high <= bound.limit && figure.nominal <= bound.target {
        return Ok(());
    }
    outside(findings, about, figure.nominal, figure.high, bound, 1.0)
}

/// Raises a finding where a figure is below its bound.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn not_below(
    findings: &mut Findings<'_>,
    about: &About,
    figure: &Figure,
    bound: Bound,
) -> Result<(), Error> {
    findings.keep(about.code, about.at, about.mhz, figure.low - bound.limit);
    if figure.low >= bound.limit && figure.nominal >= bound.target {
        return Ok(());
    }
    outside(findings, about, figure.nominal, figure.low, bound, -1.0)
}

#[cfg_attr(target_os = "none", inline(never))]
fn outside(
    findings: &mut Findings<'_>,
    about: &About,
    nominal: f32,
    extreme: f32,
    bound: Bound,
    side: f32,
) -> Result<(), Error> {
    // A modem that can't send softly or evenly enough is still heard, only not as it should be.
    let gravest = match about.code {
        Code::TransmitLow | Code::TransmitSpread => Verdict::Marginal,
        _ => Verdict::Fail,
    };
    // One body for both sides, without a call through a pointer, so that stack use can be bounded.
    let is_outside = |value: f32, limit: f32| (value - limit) * side > rounding(limit);
    let worst = if is_outside(nominal, bound.limit) { (nominal, gravest) } else { (extreme, Verdict::Marginal) };
    for ((value, verdict), limit) in [(worst, bound.limit), ((nominal, Verdict::Marginal), bound.target)] {
        if is_outside(value, limit) {
            let finding = Finding { other: about.other, mhz: about.mhz, ..Finding::new(about.code, verdict, about.at) };
            raise(findings, &finding.measured(value, limit))?;
        }
    }
    Ok(())
}

/// What f32 sums of a way's losses may be off by: a figure that near its limit is on it.
fn rounding(limit: f32) -> f32 {
    2e-5 + 4e-6 * crate::math::abs(limit)
}
