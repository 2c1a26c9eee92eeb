//! Outlets that hear each other: disturbance, and the home network.

use serde_json::{Value, json};

use super::{
    between::{self, Band},
    judge::{Finding, Judge, Side, Verdict},
    reverse,
    tree::{Home, Network},
};

/// Adds what modems do to their neighbours.
pub(crate) fn judge_neighbours(home: &Home, judge: &mut Judge) {
    let added = reverse::all_channels(home);
    let devices = home.devices();
    for &victim in &devices {
        let outlet = &home.outlets[victim];
        let of = |all: &std::collections::HashMap<String, super::limits::Limits>| {
            all.get(&outlet.device).and_then(|limits| limits.neighbour)
        };
        let ends = [(of(&home.limits), Verdict::Fail), (of(&home.targets), Verdict::Marginal)];
        for &modem in devices.iter().filter(|&&modem| modem != victim) {
            if !home.outlets[modem].is_modem() {
                continue;
            }
            let (from, to) = (home.way_to_outlet(modem), home.way_to_outlet(victim));
            for mhz in home.return_frequencies() {
                let sent = reverse::transmit(home, &from, mhz);
                let loss = between::loss(home, &from, &to, mhz, Band::Return);
                let Some((sent, loss)) = sent.zip(loss) else {
                    continue;
                };
                let arrives = sent.nominal + added - loss;
                for (limit, verdict) in ends {
                    let Some(limit) = limit else { continue };
                    let finding = Finding::plain("neighbour-transmit", verdict, &outlet.id);
                    let finding = finding.at_mhz(mhz).with(&home.outlets[modem].id);
                    if verdict == Verdict::Fail {
                        judge.leave(&finding, Side::Over, arrives, limit);
                    }
                    judge.hold_nominal(finding, Side::Over, arrives, limit, "dBmV");
                }
            }
        }
    }
}

/// Every pair of members, the first named first.
pub(crate) fn pairs(network: &Network) -> Vec<(usize, usize)> {
    let members = &network.members;
    let mut pairs = Vec::new();
    for (at, &from) in members.iter().enumerate() {
        pairs.extend(members[at + 1..].iter().map(|&to| (from, to)));
    }
    pairs
}

/// The rows of `links`, and what is found in them.
pub(crate) fn judge_network(home: &Home, judge: &mut Judge) -> Vec<Value> {
    let Some(network) = &home.network else {
        return Vec::new();
    };
    let last = home.carriers[home.carriers.len() - 1];
    let edge = last.mhz + last.step / 2.0;
    if edge > network.band.0 + 1e-6 {
        let finding = Finding::plain("bands-overlap", Verdict::Marginal, "entry");
        judge.add(finding.held(edge, network.band.0, "MHz").at_mhz(last.mhz));
    }
    if !has_filter(home, network) {
        judge.add(Finding::plain("entry-filter-missing", Verdict::Marginal, "entry"));
    }
    let mut rows = Vec::new();
    for (from, to) in pairs(network) {
        let ways = (home.way_to_outlet(from), home.way_to_outlet(to));
        let ids = (&home.outlets[from].id, &home.outlets[to].id);
        for mhz in [network.band.0, network.band.1] {
            let loss = between::loss(home, &ways.0, &ways.1, mhz, Band::Network);
            let finding = Finding::plain("home-link-weak", Verdict::Fail, ids.0);
            let finding = finding.at_mhz(mhz).with(ids.1);
            if let Some(loss) = loss {
                judge.leave(&finding, Side::Over, loss, network.max_loss);
            }
            let weak = loss.is_none_or(|loss| judge.beyond(Side::Over, loss, network.max_loss));
            if weak {
                judge.add(Finding { value: loss, limit: Some(network.max_loss), unit: "dB", ..finding });
            }
            let verdict = if weak { Verdict::Fail } else { Verdict::Pass };
            rows.push(json!({
                "from": ids.0, "to": ids.1, "mhz": mhz, "loss_db": loss, "verdict": verdict.word(),
            }));
        }
    }
    rows
}

/// Whether a filter above the meeting part of all members reflects the whole band.
fn has_filter(home: &Home, network: &Network) -> bool {
    let ways: Vec<_> = network.members.iter().map(|&at| home.way_to_outlet(at)).collect();
    let Some((first, rest)) = ways.split_first() else {
        return true;
    };
    let meeting = rest.iter().map(|way| between::shared(first, way)).min();
    let above = &first[..meeting.unwrap_or(first.len())];
    above.iter().any(|step| {
        let reflects = home.parts[step.0].reflects;
        reflects.is_some_and(|(low, high)| low <= network.band.0 && high >= network.band.1)
    })
}
