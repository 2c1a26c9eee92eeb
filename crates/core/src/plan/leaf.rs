//! How well each outlet would do at a way out of the panel, whatever stands at the others.
//!
//! An outlet's own figures depend on the parts between the entry and it, and on nothing else. So a way out is tried
//! once with every outlet's run behind it, through a divider that loses nothing and lets nothing across; what
//! [`check`](crate::Workspace::check) says of each is kept for all ways out with the same parts before them.

use super::bench::Build;
use super::design::{lead_in, stocked};
use super::need::{Item, Need};
use crate::math::min;
use crate::{At, Code, Curve, Error, Finding, Legs, Margin, Ohms, OutletId, Part, PartId, Splitter, Verdict};

/// The most parts on the way to a way out.
pub(super) const DEPTH: usize = 13;

/// The parts on a way: place in the stock and way out, from the entry on.
pub(super) type Path = heapless::Vec<(u16, u8), { DEPTH + 2 }>;

/// The smallest margin of each outlet behind a way out, in dB; minus infinity where something else is wrong with it.
pub(super) type Row<const OUTLETS: usize> = [f32; OUTLETS];

/// Rows that were worked out, by the parts on the way. A newer one takes an older one's place.
#[derive(Debug)]
pub(super) struct Cache<const OUTLETS: usize, const ROWS: usize> {
    rows: [(u128, Row<OUTLETS>); ROWS],
}

impl<const OUTLETS: usize, const ROWS: usize> Cache<OUTLETS, ROWS> {
    pub(super) const fn new() -> Self {
        Self { rows: [(0, [0.0; OUTLETS]); ROWS] }
    }

    pub(super) fn clear(&mut self) {
        for (key, _) in &mut self.rows {
            *key = 0;
        }
    }

    /// The row of a way out. `key` is the same for ways with the same parts, and never nought.
    ///
    /// # Errors
    /// As [`try_out`].
    pub(super) fn row(
        &mut self,
        key: u128,
        work: impl FnOnce(&mut Row<OUTLETS>) -> Result<(), Error>,
    ) -> Result<Row<OUTLETS>, Error> {
        // The Fibonacci multiplier spreads keys that differ in few bits.
        let folded = (key as u64 ^ (key >> 64) as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15) >> 32;
        let place = (folded as usize).checked_rem(ROWS).unwrap_or(0);
        let Some((known, row)) = self.rows.get_mut(place) else {
            let mut row = [0.0; OUTLETS];
            work(&mut row)?;
            return Ok(row);
        };
        if *known != key {
            *known = 0;
            work(row)?;
            *known = key;
        }
        Ok(*row)
    }
}

/// What counts against an outlet besides its margins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rules {
    /// Whatever a check finds.
    All,
    /// All but limits and targets: to find what comes closest.
    Wiring,
    /// Nothing: to find out what is wrong with any plan at all.
    Nothing,
}

/// Whether a plan may not have a finding: all but those of verdict pass, and those about the bond, the entry's readings
/// and the service's band, which no plan changes.
///
/// ```
/// # use legwork::{At, Code, Finding, Verdict, plan};
/// let finding = |code| Finding {
///     code, verdict: Verdict::Marginal, at: At::Entry, other: None, mhz: None, value: None, limit: None, unit: "",
/// };
/// assert!(plan::is_in_the_way(&finding(Code::OpenPort)));
/// assert!(!plan::is_in_the_way(&finding(Code::BondMissing)));
/// ```
#[must_use]
pub const fn is_in_the_way(finding: &Finding) -> bool {
    !matches!(finding.verdict, Verdict::Pass) && !is_aside(finding.code)
}

impl Rules {
    /// Whether a plan may not have this finding.
    pub(crate) const fn forbid(self, finding: &Finding) -> bool {
        match self {
            Self::All => is_in_the_way(finding),
            Self::Wiring => is_in_the_way(finding) && !is_measured(finding.code),
            Self::Nothing => false,
        }
    }
}

/// Findings that a plan may have: they are about the bond, the readings and the service.
pub(super) const fn is_aside(code: Code) -> bool {
    matches!(code, Code::BondMissing | Code::BondLong | Code::BondThin | Code::BeyondReadings | Code::BandsOverlap)
}

/// Findings that have a margin, or are an operator's target.
pub(crate) const fn is_measured(code: Code) -> bool {
    matches!(
        code,
        Code::ForwardLow
            | Code::ForwardHigh
            | Code::TotalHigh
            | Code::TiltHigh
            | Code::CnrLow
            | Code::TransmitHigh
            | Code::TransmitLow
            | Code::TransmitSpread
            | Code::AmplifierOverdriven
            | Code::OutputOverdriven
            | Code::ReturnOverdriven
            | Code::NeighbourTransmit
            | Code::HomeLinkWeak
    )
}

/// How many runs one divider takes.
const LEGS: usize = Splitter::MAX_LEGS as usize;

static DIVIDER: Splitter<'static> = Splitter {
    legs: Legs::Alike(Splitter::MAX_LEGS, Curve::ZERO),
    spread: crate::Db::ZERO,
    isolation: Curve::flat(250.0),
    dc_pass: 0,
    dc_ohms: Ohms::MIN,
    band: None,
};

/// Works out the row of a way out.
///
/// # Errors
/// [`Error::Full`] where the bench is too small.
pub(super) fn try_out<'s, const OUTLETS: usize>(
    need: &Need<'_, 's>,
    stock: &[Item<'s>],
    path: &Path,
    rules: Rules,
    bench: &mut impl Build<'s>,
    row: &mut Row<OUTLETS>,
) -> Result<(), Error> {
    let mut from = 0;
    while from < need.outlets.len() {
        let some = need.outlets.get(from..).unwrap_or_default();
        let some = some.get(..LEGS).unwrap_or(some);
        bench.clear(None);
        let mut port = lead_in(need, bench, &mut |_| {})?;
        for (item, way) in path {
            let part = bench.add(port, stocked(stock, *item)?)?;
            port = bench.port(part, *way)?;
        }
        let divider = bench.add(port, Part::Splitter(&DIVIDER))?;
        for (leg, wanted) in some.iter().enumerate() {
            let run = bench.add(bench.port(divider, leg as u8)?, wanted.run.part())?;
            bench.add_outlet(bench.port(run, 0)?, wanted.outlet)?;
        }
        let report = bench.check()?;
        let margins = report.margins();
        let further = |index: usize| margins.get(some.len() + index).map_or(f32::INFINITY, |margin: &Margin| margin.db);
        for (index, wanted) in some.iter().enumerate() {
            let Some(slot) = row.get_mut(from + index) else { continue };
            *slot = min(margins.get(index).map_or(f32::INFINITY, |margin| margin.db), further(0));
            if wanted.outlet.device.is_modem() {
                *slot = min(*slot, further(1));
            }
            if report.findings().iter().any(|finding| is_against(finding, divider, index, rules)) {
                *slot = f32::NEG_INFINITY;
            }
        }
        from += LEGS;
    }
    Ok(())
}

/// Whether a finding speaks against the outlet behind a leg of the divider.
fn is_against(finding: &Finding, divider: PartId, leg: usize, rules: Rules) -> bool {
    if !rules.forbid(finding) {
        return false;
    }
    match finding.at {
        At::Outlet(outlet) => outlet == OutletId(leg as u16),
        // A run follows the divider in the order of its leg.
        At::Part(part) if matches!(finding.code, Code::OutOfBand | Code::SplitMismatch) => {
            part.index() < divider.index() || part.index() == divider.index() + 1 + leg
        }
        _ => false,
    }
}
