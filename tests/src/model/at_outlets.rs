//! An outlet's figures and what is found in them.

use serde_json::{Value, json};

use super::{
    forward::{self, Figure},
    judge::{Finding, Judge, Side, Verdict},
    limits::Limits,
    noise,
    part::Case,
    reverse,
    tree::{Home, Outlet, Step},
};

/// Limits and target of the device of an outlet.
struct Held<'a> {
    outlet: &'a Outlet,
    limits: Limits,
    target: Limits,
}

impl Held<'_> {
    /// Holds one figure against limit and target, each of which may be none; `like` has code, frequency and unit.
    fn both(&self, judge: &mut Judge, like: Like, side: Side, figure: Figure, ends: [Option<f64>; 2]) {
        let Like(code, mhz, unit) = like;
        let gravest = if code == "transmit-low" { Verdict::Marginal } else { Verdict::Fail };
        let finding = |verdict| Finding { mhz, ..Finding::plain(code, verdict, &self.outlet.id) };
        if let Some(limit) = ends[0] {
            judge.hold(finding(gravest), side, figure, limit, unit);
        }
        if let Some(target) = ends[1] {
            judge.hold_nominal(finding(Verdict::Marginal), side, figure.nominal, target, unit);
        }
    }
}

/// A finding's code, frequency and unit.
struct Like(&'static str, Option<f64>, &'static str);

/// The amplifiers whose loss of power would take down what a way leads to.
pub(crate) fn needs_power(home: &Home, way: &[Step]) -> Vec<usize> {
    let amplified = way.iter().filter(|step| home.parts[step.0].is_amplified(step.1));
    amplified.map(|step| step.0).collect()
}

/// Adds the findings of every outlet with a device.
pub(crate) fn judge(home: &Home, judge: &mut Judge) {
    for at in home.devices() {
        let outlet = &home.outlets[at];
        let of = |all: &std::collections::HashMap<String, Limits>| all.get(&outlet.device).cloned().unwrap_or_default();
        let held = Held { outlet, limits: of(&home.limits), target: of(&home.targets) };
        let way = home.way_to_outlet(at);
        judge_forward(home, judge, &held, &way);
        judge_return(home, judge, &held, &way);
        let amplifiers = needs_power(home, &way).len();
        if amplifiers > 1 {
            judge.add(Finding::plain("amplifiers-in-series", Verdict::Marginal, &outlet.id));
        }
        if outlet.lifeline && amplifiers > 0 {
            judge.add(Finding::plain("lifeline-exposed", Verdict::Fail, &outlet.id));
        }
    }
}

/// Levels, total, tilt and noise.
fn judge_forward(home: &Home, judge: &mut Judge, held: &Held<'_>, way: &[Step]) {
    let (limits, target) = (&held.limits, &held.target);
    let lows = [limits.forward, target.forward].map(|ends| ends.map(|ends| ends.0));
    let highs = [limits.forward, target.forward].map(|ends| ends.map(|ends| ends.1));
    for mhz in home.forward_frequencies() {
        let level = Figure::of(|case| forward::level(home, way, mhz, case));
        held.both(judge, Like("forward-low", Some(mhz), "dBmV"), Side::Under, level, lows);
        held.both(judge, Like("forward-high", Some(mhz), "dBmV"), Side::Over, level, highs);
        if let Some(cnr) = noise::cnr(home, way, mhz) {
            let least = [limits.cnr, target.cnr];
            held.both(judge, Like("cnr-low", Some(mhz), "dB"), Side::Under, cnr, least);
        }
    }
    let total = forward::total(home, way);
    held.both(judge, Like("total-high", None, "dBmV"), Side::Over, total, [limits.total, target.total]);
    let tilt = forward::tilt(home, way);
    let largest = Figure { nominal: tilt.nominal.abs(), low: 0.0, high: tilt.low.abs().max(tilt.high.abs()) };
    held.both(judge, Like("tilt-high", None, "dB"), Side::Over, largest, [limits.tilt, target.tilt]);
}

/// Transmit levels.
fn judge_return(home: &Home, judge: &mut Judge, held: &Held<'_>, way: &[Step]) {
    let (limits, target) = (&held.limits, &held.target);
    let frequencies = home.return_frequencies();
    let sent: Vec<Figure> = frequencies.iter().filter_map(|&mhz| reverse::transmit(home, way, mhz)).collect();
    if sent.is_empty() {
        if !frequencies.is_empty() && limits.transmit.is_some() {
            judge.add(Finding::plain("no-return", Verdict::Fail, &held.outlet.id));
        }
        return;
    }
    let lows = [limits.transmit, target.transmit].map(|ends| ends.map(|ends| ends.0));
    let highs = [limits.transmit, target.transmit].map(|ends| ends.map(|ends| ends.1));
    for (&mhz, &level) in frequencies.iter().zip(&sent) {
        held.both(judge, Like("transmit-low", Some(mhz), "dBmV"), Side::Under, level, lows);
        held.both(judge, Like("transmit-high", Some(mhz), "dBmV"), Side::Over, level, highs);
    }
    let nominal = sent.iter().map(|level| level.nominal);
    let spread = nominal.clone().fold(f64::NEG_INFINITY, f64::max) - nominal.fold(f64::INFINITY, f64::min);
    let finding = Finding::plain("transmit-spread", Verdict::Marginal, &held.outlet.id);
    if let Some(window) = limits.window {
        judge.leave(&finding, Side::Over, spread, window);
    }
    for window in [limits.window, target.window].into_iter().flatten() {
        judge.hold_nominal(finding.clone(), Side::Over, spread, window, "dB");
    }
}

/// The rows of `outlets`.
pub(crate) fn rows(home: &Home, judge: &Judge) -> Vec<Value> {
    home.devices().into_iter().map(|at| row(home, judge, at)).collect()
}

/// One row of `outlets`.
fn row(home: &Home, judge: &Judge, at: usize) -> Value {
    let outlet = &home.outlets[at];
    let way = home.way_to_outlet(at);
    let (tilt, total) = (forward::tilt(home, &way), forward::total(home, &way));
    let frequencies = home.forward_frequencies();
    let levels = frequencies.iter().map(|&mhz| {
        let level = Figure::of(|case| forward::level(home, &way, mhz, case));
        json!({"mhz": mhz, "dbmv": level.nominal, "low": level.low, "high": level.high})
    });
    let cnr = frequencies.iter().filter_map(|&mhz| {
        let cnr = noise::cnr(home, &way, mhz)?;
        Some(json!({"mhz": mhz, "db": cnr.nominal, "low": cnr.low, "high": cnr.high}))
    });
    let sent = home.return_frequencies().into_iter().map(|mhz| {
        let level = reverse::transmit(home, &way, mhz);
        json!({
            "mhz": mhz, "loss_db": reverse::loss(home, &way, mhz, Case::Nominal),
            "transmit_dbmv": level.map(|level| level.nominal),
            "low": level.map(|level| level.low), "high": level.map(|level| level.high),
        })
    });
    let needs = needs_power(home, &way).into_iter().map(|part| home.parts[part].id.clone());
    json!({
        "id": outlet.id, "device": outlet.device, "lifeline": outlet.lifeline,
        "verdict": judge.worst(|finding| finding.at == outlet.id).word(),
        "forward": levels.collect::<Vec<_>>(),
        "tilt_db": tilt.nominal, "tilt_low": tilt.low, "tilt_high": tilt.high,
        "total_dbmv": total.nominal, "total_low": total.low, "total_high": total.high,
        "cnr": home.cnr.as_ref().map(|_| cnr.collect::<Vec<_>>()),
        "return": sent.collect::<Vec<_>>(),
        "needs_power_at": needs.collect::<Vec<_>>(),
    })
}
