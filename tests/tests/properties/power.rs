//! DC: what a supply gives is what amplifiers draw and cables lose.

use proptest::prelude::*;
use serde_json::{Value, json};

use crate::{for_all, list, near, number, report};

/// A supply at the end of a cable, and two amplifiers that it feeds through a splitter.
fn fed(volts: f64, ohms: [f64; 4], draws: [&str; 2]) -> Value {
    let [source, first, second, third] = ohms;
    let cable = |ohms: f64| json!({"loss": [["5 MHz", "1 dB"], ["1002 MHz", "6 dB"]], "per": "100 ft", "loop": format!("{ohms} ohm"), "velocity": 0.85});
    let amplifier = |draw: &str| {
        json!({
            "outputs": 1, "gain": "10 dB", "noise_figure": "6 dB", "draw": draw, "runs_on": ["1 V", "100 V"], "dc_ports": ["in"],
        })
    };
    json!({
        "format": 1, "name": "fed",
        "service": {"split": "42/54 MHz", "carriers": [{"first": "57 MHz", "last": "63 MHz", "step": "6 MHz"}]},
        "entry": {"forward": [["57 MHz", "9 dBmV"], ["861 MHz", "4 dBmV"]]},
        "part": [
            {"id": "block", "after": "entry", "pad": "1 dB"},
            {"id": "wing", "after": "block", "splitter": "three"},
            {"id": "run 1", "after": "wing.1", "cable": "one", "length": "100 ft"},
            {"id": "run 2", "after": "wing.2", "cable": "two", "length": "100 ft"},
            {"id": "run 3", "after": "wing.3", "cable": "three", "length": "100 ft"},
            {"id": "inserter", "after": "run 1", "inserter": "plain"},
            {"id": "amp 2", "after": "run 2", "amplifier": "two"},
            {"id": "amp 3", "after": "run 3", "amplifier": "three"},
        ],
        "outlet": [{"id": "set", "after": "inserter.rf", "device": "tv"}],
        "supply": [{
            "id": "brick", "after": "inserter.dc", "volts": format!("{volts} V"), "source_ohms": format!("{source} ohm"), "amps": "9 A",
        }],
        "spec": {
            "cable": {"one": cable(first), "two": cable(second), "three": cable(third)},
            "splitter": {"three": {"legs": 3, "loss": "6 dB", "dc_pass": [1, 2, 3], "dc_ohms": "0.25 ohm"}},
            "inserter": {"plain": {"loss": "0.5 dB", "dc_ohms": "0.5 ohm"}},
            "amplifier": {"two": amplifier(draws[0]), "three": amplifier(draws[1])},
        },
    })
}

#[test]
fn the_power_that_goes_in_is_the_power_that_comes_out() {
    let cases = || {
        let tenths = |least: u32, most: u32| (least..most).prop_map(|tenths| f64::from(tenths) / 10.0);
        let draw = || (1u32..60, prop::bool::ANY);
        (tenths(120, 300), [tenths(0, 20), tenths(0, 80), tenths(0, 80), tenths(0, 80)], draw(), draw())
    };
    for_all(cases, |checker, (volts, ohms, one, other)| {
        let draw = |(tenths, power): (u32, bool)| {
            if power { format!("{} W", f64::from(tenths) / 10.0) } else { format!("{} mA", tenths * 5) }
        };
        let report = report(checker, &fed(volts, ohms, [&draw(one), &draw(other)]))?;
        let feeds = list(&report["feeds"]);
        prop_assert_eq!(feeds.len(), 2, "{:#}", report["findings"]);
        let amps = |feed: &Value| number(&feed["amps"]);
        let total = number(&feeds[0]["supply_amps"]);
        if feeds[0]["volts"].is_null() {
            prop_assert!(list(&report["findings"]).iter().any(|finding| finding["code"] == "feed-collapsed"));
            return Ok(());
        }
        near(total, amps(&feeds[0]) + amps(&feeds[1]), 1e-5 * total, "the currents")?;
        // The source, the inserter, the first cable and the splitter's way to its input carry both currents.
        let common = ohms[0] + 0.5 + ohms[1] + 0.25;
        let own = [0.25 + ohms[2], 0.25 + ohms[3]];
        let mut out = total * total * common;
        for ((feed, own), (tenths, power)) in feeds.iter().zip(own).zip([one, other]) {
            let drawn = number(&feed["volts"]) * amps(feed);
            if power {
                near(drawn, f64::from(tenths) / 10.0, 1e-4 * drawn, "what it draws in watts")?;
            } else {
                near(amps(feed), f64::from(tenths) * 5e-3, 1e-5, "what it draws in amperes")?;
            }
            near(number(&feed["loop_ohms"]), common + own, 1e-4, "the loop")?;
            near(number(&feed["drop_volts"]), total * common + amps(feed) * own, 1e-3, "the drop")?;
            out += drawn + amps(feed) * amps(feed) * own;
        }
        near(volts * total, out, 2e-4 * out, "in and out")
    });
}
