//! An amplifier's totals and what is found in them.

use serde_json::{Value, json};

use super::{
    at_outlets::needs_power,
    forward::{self, Figure},
    judge::{Finding, Judge, Side, Verdict},
    part::{Case, Part},
    reverse,
    tree::{Home, Step},
};

/// The parts that are amplifiers.
fn amplifiers(home: &Home) -> impl Iterator<Item = &Part> {
    home.parts.iter().filter(|part| part.amplifier.is_some())
}

/// Adds the findings of every amplifier's signal side.
pub(crate) fn judge(home: &Home, judge: &mut Judge) {
    for part in amplifiers(home) {
        let spec = part.amplifier();
        let input = forward::total(home, &home.way_to(&part.after));
        let finding = Finding::plain("amplifier-overdriven", Verdict::Fail, &part.id);
        let most = spec.max_input_total;
        judge.hold(finding, Side::Over, input, most, "dBmV");
        for way in &part.ways[..spec.outputs] {
            let way_out = home.way_to(&way.port);
            if let Some(most) = spec.max_output_total {
                let finding = Finding::plain("output-overdriven", Verdict::Fail, &way.port);
                let total = forward::total(home, &way_out);
                judge.hold(finding, Side::Over, total, most, "dBmV");
            }
            if let Some(most) = spec.max_return_total {
                judge_return(home, judge, &way_out, &way.port, most);
            }
        }
        if let (Some(own), service) = (spec.split, home.split) {
            let mismatch = |own, service| {
                let finding = Finding::plain("split-mismatch", Verdict::Fail, &part.id);
                finding.held(own, service, "MHz")
            };
            if own.0 < service.0 - 1e-6 {
                judge.add(mismatch(own.0, service.0));
            }
            if own.1 > service.1 + 1e-6 {
                judge.add(mismatch(own.1, service.1));
            }
        }
    }
}

/// What the modems behind an output send into it.
fn judge_return(home: &Home, judge: &mut Judge, way: &[Step], port: &str, most: f64) {
    for at in home.devices() {
        let below = home.way_to_outlet(at);
        if !home.outlets[at].is_modem() || !below.starts_with(way) {
            continue;
        }
        for mhz in home.return_frequencies() {
            let Some(_) = reverse::transmit(home, &below, mhz) else {
                continue;
            };
            let arrives = Figure::of(|case| {
                let moved = match case {
                    Case::Nominal => 0.0,
                    Case::Most => home.spread,
                    Case::Least => -home.spread,
                };
                let sent = home.transmit.as_ref().expect("levels").linear(mhz) + moved;
                let above = reverse::loss(home, way, mhz, case).expect("a return path");
                sent + above + reverse::all_channels(home)
            });
            let finding = Finding::plain("return-overdriven", Verdict::Fail, port).at_mhz(mhz);
            judge.hold(finding, Side::Over, arrives, most, "dBmV");
        }
    }
}

/// The rows of `amplifiers`.
pub(crate) fn rows(home: &Home) -> Vec<Value> {
    let lost = |part: &Part| -> Vec<String> {
        let outlets = home.devices().into_iter();
        outlets
            .filter(|&at| {
                let needed = needs_power(home, &home.way_to_outlet(at));
                needed.iter().any(|&needed| home.parts[needed].id == part.id)
            })
            .map(|at| home.outlets[at].id.clone())
            .collect()
    };
    amplifiers(home)
        .map(|part| {
            let input = forward::total(home, &home.way_to(&part.after));
            json!({
                "id": part.id, "input_total_dbmv": input.nominal,
                "input_total_low": input.low, "input_total_high": input.high,
                "headroom_db": part.amplifier().max_input_total - input.nominal,
                "outlets_lost": lost(part),
            })
        })
        .collect()
}
