//! Feeds, the ports that carry direct current, and what is found there.

use serde_json::{Value, json};

use super::{
    dc::{self, Solution},
    judge::{Finding, Judge, Side, Verdict},
    reach::{Load, Reach},
    tree::{Home, Supply},
};

/// What all supplies together give to the report.
#[derive(Debug, Default)]
pub(crate) struct Powering {
    pub(crate) feeds: Vec<Value>,
    pub(crate) dc: Vec<Value>,
}

/// Works every supply out and adds the findings.
pub(crate) fn judge(home: &Home, judge: &mut Judge) -> Powering {
    let reaches: Vec<Reach> = home.supplies.iter().map(|s| Reach::of(home, s)).collect();
    for (at, part) in home.parts.iter().enumerate() {
        let draws = |reach: &Reach| reach.loads.iter().any(|load| load.amplifier == at);
        if part.amplifier.is_some() && !reaches.iter().any(draws) {
            judge.add(Finding::plain("amplifier-unpowered", Verdict::Fail, &part.id));
        }
    }
    let mut powering = Powering::default();
    for (at, (supply, reach)) in home.supplies.iter().zip(&reaches).enumerate() {
        strays(home, judge, reach);
        if reach.loads.is_empty() {
            judge.add(Finding::plain("supply-idle", Verdict::Fail, &supply.id));
        }
        let joined = !dc::joined(home, at, reach).is_empty();
        let shared = reach.loads.iter().any(|load| {
            let mut others = reaches.iter().enumerate().filter(|other| other.0 != at);
            others.any(|other| other.1.loads.iter().any(|l| l.amplifier == load.amplifier))
        });
        if joined || shared {
            judge.add(Finding::plain("two-supplies", Verdict::Fail, &supply.id));
        }
        if joined {
            continue;
        }
        let solutions = dc::solutions(supply, reach);
        edge(judge, supply, reach);
        for load in &reach.loads {
            powering.feeds.push(feed(home, judge, supply, reach, load, &solutions));
        }
        ports(&mut powering.dc, supply, reach, solutions[0].as_ref());
    }
    powering
}

/// Direct current where none should be.
fn strays(home: &Home, judge: &mut Judge, reach: &Reach) {
    for node in &reach.nodes {
        if node.port == "entry" {
            judge.add(Finding::plain("dc-leaves-home", Verdict::Fail, "entry"));
        }
        if let Some(outlet) = home.outlets.iter().find(|outlet| outlet.after == node.port) {
            judge.add(Finding::plain("dc-at-device", Verdict::Fail, &outlet.id));
        }
        let step = home.step(&node.port);
        if step.is_some_and(|(part, way)| home.parts[part].ways[way].terminated) {
            judge.add(Finding::plain("dc-at-device", Verdict::Fail, &node.port));
        }
    }
}

/// Counts a feed that nearly collapses, or nearly does not, as near its limit.
fn edge(judge: &mut Judge, supply: &Supply, reach: &Reach) {
    for weather in [dc::Weather::Nominal, dc::Weather::Hot, dc::Weather::Cold] {
        let holds = |factor| dc::solve(supply, reach, weather, factor).is_some();
        if holds(0.995) != holds(1.005) {
            judge.nearest = 0.0;
        }
    }
}

/// One row of `feeds`, and its findings.
fn feed(
    home: &Home,
    judge: &mut Judge,
    supply: &Supply,
    reach: &Reach,
    load: &Load,
    solutions: &[Option<Solution>; 3],
) -> Value {
    let place = reach.loads.iter().position(|l| l.amplifier == load.amplifier).expect("a load");
    let part = &home.parts[load.amplifier];
    let spec = part.amplifier();
    let mut own = Judge::new();
    let finding = |code| Finding::plain(code, Verdict::Fail, &supply.id).with(&part.id);
    let [nominal, hot, _] = solutions;
    let loop_ohms = reach.ohms_to(load.node);
    let mut row = json!({
        "supply": supply.id, "amplifier": part.id, "loop_ohms": loop_ohms,
        "volts": null, "volts_low": null, "volts_high": null, "amps": null, "amps_high": null,
        "supply_amps": null, "supply_amps_high": null, "drop_volts": null,
    });
    if let Some(nominal) = nominal {
        let all = || solutions.iter().flatten();
        let volts = all().map(|s| s.volts[load.node]);
        let least = hot.as_ref().map(|_| volts.clone().fold(f64::INFINITY, f64::min));
        let most = volts.fold(f64::NEG_INFINITY, f64::max);
        let amps = all().map(|s| s.amps[place]).fold(0.0, f64::max);
        let total = all().map(Solution::supply_amps).fold(0.0, f64::max);
        let at = nominal.volts[load.node];
        row["volts"] = json!(at);
        row["volts_low"] = json!(least);
        row["volts_high"] = json!(most);
        row["amps"] = json!(nominal.amps[place]);
        row["amps_high"] = json!(hot.as_ref().map(|_| amps));
        row["supply_amps"] = json!(nominal.supply_amps());
        row["supply_amps_high"] = json!(hot.as_ref().map(|_| total));
        row["drop_volts"] = json!(supply.volts - at);
        let mut hold = |code, side, nominal, extreme: Option<f64>, limit, unit| {
            let extreme = extreme.unwrap_or(nominal);
            let figure = super::forward::Figure { nominal, low: extreme, high: extreme };
            own.hold(finding(code), side, figure, limit, unit);
        };
        hold("feed-starved", Side::Under, at, least, spec.runs_on.0, "V");
        hold("feed-over-voltage", Side::Over, at, Some(most), spec.runs_on.1, "V");
        let given = nominal.supply_amps();
        let high = hot.as_ref().map(|_| total);
        hold("feed-over-current", Side::Over, given, high, supply.amps, "A");
        if solutions.iter().any(Option::is_none) {
            own.add(Finding { verdict: Verdict::Marginal, ..finding("feed-collapsed") });
        }
    } else {
        own.add(finding("feed-collapsed"));
    }
    row["verdict"] = json!(own.worst(|_| true).word());
    judge.nearest = judge.nearest.min(own.nearest);
    own.findings.into_iter().for_each(|found| judge.add(found));
    row
}

/// The rows of `dc` of one supply.
fn ports(rows: &mut Vec<Value>, supply: &Supply, reach: &Reach, nominal: Option<&Solution>) {
    for (at, node) in reach.nodes.iter().enumerate() {
        rows.push(json!({
            "at": node.port, "supply": supply.id,
            "volts": nominal.map(|nominal| nominal.volts[at]),
            "volts_unloaded": supply.volts, "loop_ohms": reach.ohms_to(at),
        }));
    }
}
