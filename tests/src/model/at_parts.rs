//! What is found in the parts themselves: bands, tables, open ports and the bond.

use super::{
    at_pairs::pairs,
    between,
    judge::{Finding, Judge, Verdict},
    part::Part,
    tree::{Home, Step},
};

/// Adds all of it.
pub(crate) fn judge(home: &Home, judge: &mut Judge) {
    let mut on_the_way: Vec<usize> = Vec::new();
    for at in home.devices() {
        on_the_way.extend(home.way_to_outlet(at).iter().map(|step| step.0));
    }
    on_the_way.sort_unstable();
    on_the_way.dedup();
    let carriers: Vec<f64> = home.carriers.iter().map(|carrier| carrier.mhz).collect();
    let sent = home.return_frequencies();
    for &at in &on_the_way {
        let part = &home.parts[at];
        if let Some(band) = part.band {
            for &mhz in carriers.iter().chain(&sent) {
                outside(judge, "out-of-band", Verdict::Marginal, &part.id, mhz, band);
            }
        }
        for &mhz in carriers.iter().chain(&sent).chain(&home.forward.frequencies()) {
            beyond_table(judge, part, mhz);
        }
    }
    network_tables(home, judge);
    open_ports(home, judge);
    bonds(home, judge);
    readings(home, judge);
}

/// Adds a finding where a frequency is outside two ends.
fn outside(judge: &mut Judge, code: &'static str, verdict: Verdict, at: &str, mhz: f64, ends: (f64, f64)) {
    let end = if mhz < ends.0 - 1e-6 {
        ends.0
    } else if mhz > ends.1 + 1e-6 {
        ends.1
    } else {
        return;
    };
    let finding = Finding::plain(code, verdict, at).at_mhz(mhz);
    judge.add(finding.held(mhz, end, "MHz"));
}

/// Adds a cable whose table does not reach a frequency.
fn beyond_table(judge: &mut Judge, part: &Part, mhz: f64) {
    if let Some(cable) = &part.cable {
        let ends = cable.loss.ends();
        outside(judge, "beyond-table", Verdict::Pass, &part.id, mhz, ends);
    }
}

/// The cables between the members of the home network, at the edges of its band.
fn network_tables(home: &Home, judge: &mut Judge) {
    let Some(network) = &home.network else {
        return;
    };
    for (from, to) in pairs(network) {
        let ways = [home.way_to_outlet(from), home.way_to_outlet(to)];
        let meeting = between::shared(&ways[0], &ways[1]);
        for mhz in [network.band.0, network.band.1] {
            let mirror = between::mirrors(home, &ways[0], meeting, mhz).pop();
            let start = mirror.map_or(meeting + 1, |mirror| mirror + 1);
            let steps = ways.iter().flat_map(|way| way.iter().skip(start));
            steps.for_each(|step: &Step| beyond_table(judge, &home.parts[step.0], mhz));
        }
    }
}

/// Ways out with nothing on them, and unused jacks.
fn open_ports(home: &Home, judge: &mut Judge) {
    let open = |port: &str| Finding::plain("open-port", Verdict::Marginal, port);
    for way in home.parts.iter().flat_map(|part| &part.ways) {
        let mut taken = home.parts.iter().map(|part| &part.after);
        let taken = taken.any(|after| *after == way.port)
            || home.outlets.iter().any(|outlet| outlet.after == way.port)
            || home.supplies.iter().any(|supply| supply.after == way.port);
        if !taken && !way.terminated && !home.is_dc_only(&way.port) {
            judge.add(open(&way.port));
        }
    }
    for outlet in home.outlets.iter().filter(|outlet| outlet.device == "unused") {
        judge.add(open(&outlet.after));
    }
}

/// The shield's bond.
fn bonds(home: &Home, judge: &mut Judge) {
    if !home.bonded && !home.parts.iter().any(|part| part.is_bond) {
        judge.add(Finding::plain("bond-missing", Verdict::Marginal, "entry"));
    }
    for part in home.parts.iter().filter(|part| part.is_bond) {
        let feet = part.conductor_length.map(|metres| metres / 0.3048);
        if let Some(feet) = feet.filter(|feet| *feet > 20.0 + 1e-6) {
            let finding = Finding::plain("bond-long", Verdict::Marginal, &part.id);
            judge.add(finding.held(feet, 20.0, "ft"));
        }
        if let Some(gauge) = part.conductor.filter(|gauge| *gauge > 14.0) {
            let finding = Finding::plain("bond-thin", Verdict::Marginal, &part.id);
            judge.add(finding.held(gauge, 14.0, "AWG"));
        }
    }
}

/// Carriers by more than one step outside what was read at the entry.
fn readings(home: &Home, judge: &mut Judge) {
    let ends = home.forward.ends();
    for carrier in &home.carriers {
        let wide = (ends.0 - carrier.step, ends.1 + carrier.step);
        if carrier.mhz < wide.0 - 1e-6 || carrier.mhz > wide.1 + 1e-6 {
            outside(judge, "beyond-readings", Verdict::Marginal, "entry", carrier.mhz, ends);
        }
    }
}
