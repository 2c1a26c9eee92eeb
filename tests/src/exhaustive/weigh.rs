//! Whether a home is good, by the contract's words on a plan.

use serde_json::Value;

use crate::model::{
    judge::{Judge, Verdict},
    tree::Home,
};

/// A figure nearer than this to a limit, or to the margin wanted, may be judged either way in `f32`.
pub(crate) const DOUBT: f64 = 2e-3;

/// Findings that no plan can help: about the bond, the readings and the service.
const ASIDE: [&str; 5] = ["bond-missing", "bond-long", "bond-thin", "beyond-readings", "bands-overlap"];

/// What a home is worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Worth {
    /// No finding of fail or marginal, and the margin kept: its smallest margin in dB.
    Good(f64),
    /// Good or not, as rounding will have it.
    Doubtful(f64),
    /// Not good.
    Bad,
}

/// Weighs what was found in a home; `counts` picks the findings and margins by their code.
pub(crate) fn weigh(judge: &Judge, wanted: f64, counts: impl Fn(&str) -> bool) -> Worth {
    let margins = judge.margins.iter().filter(|margin| counts(margin.code));
    let least = margins.map(|margin| margin.db).fold(f64::INFINITY, f64::min);
    let mut doubtful = judge.nearest < DOUBT || least < wanted + DOUBT;
    if least < wanted - DOUBT {
        return Worth::Bad;
    }
    for finding in &judge.findings {
        if finding.verdict == Verdict::Pass || ASIDE.contains(&finding.code) || !counts(finding.code) {
            continue;
        }
        let clear = match finding.value.zip(finding.limit) {
            Some((value, limit)) => (value - limit).abs() >= DOUBT,
            // The model says by a distance of nothing that a feed nearly holds.
            None => finding.code != "feed-collapsed" || judge.nearest > 0.0,
        };
        if clear {
            return Worth::Bad;
        }
        doubtful = true;
    }
    if doubtful { Worth::Doubtful(least) } else { Worth::Good(least) }
}

/// Weighs a whole home.
pub(crate) fn weigh_home(home: &Home, wanted: f64) -> Worth {
    weigh(&crate::model::judge(home), wanted, |_| true)
}

/// The smallest margin of a premises that is good, or may be for all that rounding tells; none where it is not. `wanted` is
/// the margin it has to keep, in dB.
///
/// # Panics
///
/// Where the premises is not valid, or names a spec that it does not hold itself.
#[must_use]
pub fn good(premises: &Value, wanted: f64) -> Option<f64> {
    match weigh_home(&Home::read(premises), wanted) {
        Worth::Good(margin) | Worth::Doubtful(margin) => Some(margin),
        Worth::Bad => None,
    }
}
