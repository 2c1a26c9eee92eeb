//! The oracle against figures worked out by hand.

use legwork_tests::check;
use serde_json::{Value, json};

/// A pad, a two-way splitter, an amplifier on its first leg with a modem behind it, a set on the other.
fn small_home() -> Value {
    json!({
        "format": 1, "name": "by hand",
        "service": {
            "split": "42/54 MHz", "return_channels": 4, "noise_bandwidth": "4 MHz",
            "carriers": [
                {"first": "64 MHz", "last": "70 MHz", "step": "6 MHz"},
                {"first": "400 MHz", "last": "405 MHz", "step": "6 MHz", "offset": "-3 dB"},
            ],
        },
        "entry": {
            "forward": [["64 MHz", "12 dBmV"], ["400 MHz", "0 dBmV"]], "cnr": "45 dB",
            "transmit": [["16 MHz", "36 dBmV"]], "spread": "1 dB",
        },
        "part": [
            {"id": "two", "after": "pad", "splitter": "s"},
            {"id": "pad", "after": "entry", "pad": "2 dB"},
            {"id": "amp", "after": "two.1", "amplifier": "a"},
            {"id": "feed", "after": "amp.power", "cable": "c", "length": "50 ft"},
        ],
        "outlet": [
            {"id": "modem", "after": "amp.1", "device": "modem", "lifeline": true},
            {"id": "set", "after": "two.2", "device": "tv"},
        ],
        "supply": [{"id": "brick", "after": "feed", "volts": "15 V", "source_ohms": "1 ohm", "amps": "0.3 A"}],
        "spec": {
            "splitter": {"s": {"legs": 2, "loss": "4 dB", "isolation": "25 dB", "spread": "0.5 dB"}},
            "cable": {"c": {
                "loss": [["5 MHz", "1 dB"], ["1000 MHz", "7 dB"]], "per": "100 ft", "loop": "6 ohm", "velocity": 0.85,
            }},
            "amplifier": {"a": {
                "outputs": 1, "gain": "10 dB", "return_gain": "-1.5 dB", "noise_figure": "5 dB", "split": "42/54 MHz",
                "max_input_total": "8 dBmV", "draw": "3 W", "runs_on": ["10 V", "14 V"], "dc_ports": ["power"],
                "spread": "0.5 dB",
            }},
        },
        "limits": {
            "modem": {"transmit": ["17 dBmV", "51 dBmV"], "total": "30 dBmV"},
            "tv": {"neighbour": "20 dBmV"},
        },
    })
}

/// Asserts that a number of the report is what was worked out, to a ten-thousandth.
fn near(value: &Value, expected: f64) {
    let number = value.as_f64().unwrap_or(f64::NAN);
    assert!((number - expected).abs() < 1e-4, "{number} is not {expected}");
}

/// The finding of a code.
fn finding<'a>(report: &'a Value, code: &str) -> &'a Value {
    let mut all = report["findings"].as_array().expect("findings").iter();
    all.find(|row| row["code"] == code).unwrap_or_else(|| panic!("no {code}"))
}

#[test]
fn levels_are_what_is_left_and_the_extremes_add_every_spread() {
    let report = check(&small_home());
    let set = &report["outlets"][1];
    near(&set["forward"][0]["dbmv"], 6.0);
    near(&set["forward"][0]["low"], 4.5);
    near(&set["forward"][0]["high"], 7.5);
    near(&set["forward"][1]["dbmv"], -6.0);
    near(&set["tilt_db"], -12.0);
    let modem = &report["outlets"][0];
    near(&modem["forward"][0]["low"], 14.0);
    near(&modem["return"][0]["loss_db"], 7.5);
    near(&modem["return"][0]["transmit_dbmv"], 43.5);
    near(&modem["return"][0]["high"], 45.5);
    assert_eq!(modem["needs_power_at"], json!(["amp"]));
    assert_eq!(report["amplifiers"][0]["outlets_lost"], json!(["modem"]));
}

#[test]
fn the_total_is_the_sum_of_the_powers_with_the_offsets() {
    let report = check(&small_home());
    // The entry's line over the square root: 12 dBmV at 8, 0 dBmV at 20; 70 MHz is at 8.366600.
    let second = 6.0 - 0.366_600_3;
    let sum = 10f64.powf(0.6) + 10f64.powf(second / 10.0) + 10f64.powf(-0.9);
    near(&report["outlets"][1]["total_dbmv"], 10.0 * sum.log10());
    near(&report["amplifiers"][0]["input_total_dbmv"], 10.0 * sum.log10());
    near(&report["amplifiers"][0]["headroom_db"], 8.0 - 10.0 * sum.log10());
    let over = finding(&report, "amplifier-overdriven");
    assert_eq!(over["verdict"], "fail");
    near(&over["limit"], 8.0);
}

#[test]
fn noise_over_kept_thermal_noise_follows_the_excess_alone() {
    let report = check(&small_home());
    // kTB at 290 K in 4 MHz across 75 ohm is -59.177 dBmV.
    let thermal = 1.380_649e-23 * 290.0 * 4e6 * 75.0 * 1e6;
    let excess = 10f64.powf((12.0 - 45.0) / 10.0) - thermal;
    let at_set = excess / 10f64.powf(0.6) + thermal;
    near(&report["outlets"][1]["cnr"][0]["db"], 6.0 - 10.0 * at_set.log10());
    let at_modem = 10.0 * (at_set + thermal * (10f64.powf(0.5) - 1.0));
    near(&report["outlets"][0]["cnr"][0]["db"], 16.0 - 10.0 * at_modem.log10());
}

#[test]
fn a_constant_power_takes_the_higher_root() {
    let report = check(&small_home());
    // 1 ohm and 50 ft of 6 ohm per 100 ft: 4 ohm; V = (15 + sqrt(225 - 4 * 4 * 3)) / 2.
    let volts = (15.0 + 177f64.sqrt()) / 2.0;
    let feed = &report["feeds"][0];
    near(&feed["volts"], volts);
    near(&feed["amps"], 3.0 / volts);
    near(&feed["loop_ohms"], 4.0);
    near(&feed["drop_volts"], 15.0 - volts);
    assert_eq!(finding(&report, "feed-over-voltage")["other"], "amp");
    let at = |port: &str| report["dc"].as_array().and_then(|rows| rows.iter().find(|row| row["at"] == port));
    near(&at("feed").expect("the supply's port")["volts"], 15.0 - 3.0 / volts);
    near(&at("amp.power").expect("the amplifier's port")["volts"], volts);
}

#[test]
fn more_power_than_the_loop_can_carry_collapses_the_feed() {
    let mut home = small_home();
    // V * V / (4 * R) is 14.0625 W.
    home["spec"]["amplifier"]["a"]["draw"] = json!("14 W");
    assert!(check(&home)["feeds"][0]["volts"].is_number());
    home["spec"]["amplifier"]["a"]["draw"] = json!("14.1 W");
    let report = check(&home);
    assert!(report["feeds"][0]["volts"].is_null());
    assert_eq!(finding(&report, "feed-collapsed")["verdict"], "fail");
    home["spec"]["amplifier"]["a"]["draw"] = json!("14 W");
    home["supply"][0]["spread"] = json!("2 %");
    let report = check(&home);
    assert!(report["feeds"][0]["volts"].is_number());
    assert!(report["feeds"][0]["volts_low"].is_null());
    assert_eq!(finding(&report, "feed-collapsed")["verdict"], "marginal");
}

#[test]
fn a_modem_reaches_its_neighbour_through_the_isolation() {
    let report = check(&small_home());
    // 43.5 dBmV, four channels, 1.5 dB up through the amplifier and 25 dB across the splitter.
    let row = finding(&report, "neighbour-transmit");
    near(&row["value"], 43.5 + 10.0 * 4f64.log10() - 26.5);
    assert_eq!((&row["at"], &row["other"]), (&json!("set"), &json!("modem")));
}

#[test]
fn the_remaining_findings_are_those_that_the_drawing_shows() {
    let report = check(&small_home());
    let mut codes: Vec<&str> = Vec::new();
    for row in report["findings"].as_array().expect("findings") {
        codes.push(row["code"].as_str().expect("a code"));
    }
    codes.sort_unstable();
    let expected =
        ["amplifier-overdriven", "bond-missing", "feed-over-voltage", "lifeline-exposed", "neighbour-transmit"];
    assert_eq!(codes, expected);
}
