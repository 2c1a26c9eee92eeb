//! The contract in `f64`: a premises in, its report out.

mod amplifier;
mod at_amplifiers;
mod at_outlets;
mod at_pairs;
mod at_parts;
mod at_supplies;
mod between;
mod dc;
mod forward;
pub(crate) mod judge;
mod limits;
mod locate;
mod noise;
pub(crate) mod part;
pub(crate) mod quantity;
mod reach;
mod reverse;
mod tables;
pub(crate) mod tree;
mod wiring;

use serde_json::{Value, json};

use judge::Judge;
use tree::Home;

pub use locate::{Line, locate};
pub use wiring::Wiring;

/// The nearest to a limit, in the limit's unit, that a figure may come and still be judged alike in `f32`.
pub(crate) const EDGE: f64 = 1e-3;

/// The report of a valid premises, with every key of the contract; `says` and `brief` stay empty.
///
/// A finding has one key more, `alike`: pairs of `mhz` and `other` that are as bad, any of which may stand in it.
///
/// # Panics
///
/// Where the premises is not valid, or names a spec that it does not hold itself.
#[must_use]
pub fn check(premises: &Value) -> Value {
    work_out(premises).0
}

/// Whether some figure of a premises is so near its limit that rounding decides.
///
/// # Panics
///
/// As [`check`].
#[must_use]
pub fn on_the_edge(premises: &Value) -> bool {
    work_out(premises).1 < EDGE
}

/// Findings and margins of a home; every finding stays, the worst of a code and place is not picked yet.
pub(crate) fn judge(home: &Home) -> Judge {
    judge_all(home).0
}

/// Findings and margins, and the rows of feeds, ports with direct current, and links.
fn judge_all(home: &Home) -> (Judge, at_supplies::Powering, Vec<Value>) {
    let mut judge = Judge::new();
    at_outlets::judge(home, &mut judge);
    at_amplifiers::judge(home, &mut judge);
    let powering = at_supplies::judge(home, &mut judge);
    at_pairs::judge_neighbours(home, &mut judge);
    let links = at_pairs::judge_network(home, &mut judge);
    at_parts::judge(home, &mut judge);
    (judge, powering, links)
}

/// The report, and the least distance of a figure from its limit.
pub(crate) fn work_out(premises: &Value) -> (Value, f64) {
    let home = Home::read(premises);
    let (mut judge, powering, links) = judge_all(&home);
    judge.settle();
    let report = json!({
        "format": 1, "name": home.name, "verdict": judge.worst(|_| true).word(),
        "outlets": at_outlets::rows(&home, &judge),
        "amplifiers": at_amplifiers::rows(&home),
        "feeds": powering.feeds, "dc": powering.dc, "links": links,
        "findings": judge.findings.iter().map(judge::Finding::row).collect::<Vec<_>>(),
    });
    (report, judge.nearest)
}
