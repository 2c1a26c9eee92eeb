//! What is just at the edge of what may be is taken, and what a file says in part leaves the rest as it is built in.

use legwork_file::{Checker, Source};
use serde_json::Value;

/// A bonded home with a television and a modem on a splitter of its own, and a home network.
const HOME: &str = r#"
format = 1

[service]
split = "42/54 MHz"
carriers = [{ first = "57 MHz", last = "861 MHz", step = "6 MHz" }]

[entry]
forward = [["57 MHz", "10 dBmV"], ["861 MHz", "10 dBmV"]]
bonded = true

[spec.splitter.own]
leg_loss = ["4 dB", "4 dB"]

[spec.cable.own]
loss = [["5 MHz", "0.5 dB"], ["861 MHz", "6 dB"]]
per = "100 ft"
loop = "3 ohm"
velocity = 0.85

[[part]]
id = "fork"
after = "entry"
splitter = "own"

[[part]]
id = "run"
after = "fork.1"
cable = "own"
length = "20 ft"

[[outlet]]
id = "corner"
after = "run"
device = "tv"

[[outlet]]
id = "desk"
after = "fork.2"
device = "modem"
"#;

/// The report of the home with pieces exchanged and more behind; the message where it is refused.
fn report(edits: &[(&str, &str)], more: &str) -> Result<Value, String> {
    let text = edits.iter().fold(HOME.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replace(from, to)
    }) + more;
    let mut checker = Checker::new();
    let source = Source::new("home.toml", text.as_bytes()).map_err(|refusal| refusal.render(false))?;
    let checked = checker.check(&source, None).map_err(|refusal| refusal.render(false))?;
    Ok(serde_json::from_str(&checked.json()).expect("JSON"))
}

/// The codes of its findings.
fn codes(report: &Value) -> Vec<&str> {
    let findings = report["findings"].as_array().expect("findings");
    findings.iter().filter_map(|finding| finding["code"].as_str()).collect()
}

fn found(edits: &[(&str, &str)], more: &str) -> Vec<String> {
    let report = report(edits, more).unwrap_or_else(|message| panic!("{message}"));
    codes(&report).into_iter().map(str::to_owned).collect()
}

#[test]
fn a_table_holds_at_its_last_point() {
    assert!(found(&[], "").is_empty());
    assert_eq!(found(&[("[\"861 MHz\", \"6 dB\"]", "[\"860 MHz\", \"6 dB\"]")], ""), ["beyond-table"]);
}

#[test]
fn a_device_keeps_the_built_in_limits_that_a_file_does_not_name() {
    // Built in is 54 to 74 dBuV for the television, -15 to 15 dBmV for the modem, and a total for the modem alone.
    let at_corner = |level: &str, more: &str| {
        let report = report(&[("10 dBmV", level)], more).expect("a report");
        let findings = report["findings"].as_array().expect("findings").clone();
        let codes = findings.iter().filter(|finding| finding["at"] == "corner").map(|finding| finding["code"].clone());
        codes.collect::<Vec<Value>>()
    };
    for more in ["", "[limits.tv]\ntilt = \"16 dB\"\n", "[limits.modem]\ntilt = \"16 dB\"\n"] {
        assert_eq!(at_corner("19.5 dBmV", more), ["forward-high"]);
        assert_eq!(at_corner("17 dBmV", more), [] as [&str; 0]);
        assert_eq!(at_corner("-3.5 dBmV", more), ["forward-low"]);
    }
}

#[test]
fn a_range_may_be_one_value() {
    let at_6 = "[limits.modem]\nforward = [\"6 dBmV\", \"6 dBmV\"]\n";
    assert!(found(&[], at_6).is_empty());
    let upside_down = "[limits.modem]\nforward = [\"6 dBmV\", \"5.9 dBmV\"]\n";
    assert!(report(&[], upside_down).expect_err("a refusal").contains("upside down"));
    let amplifier = |runs_on: &str| {
        format!(
            "[spec.amplifier.own]\noutputs = 1\ngain = \"1 dB\"\nnoise_figure = \"5 dB\"\nmax_input_total = \"40 dBmV\"\n\
             draw = \"3 W\"\nruns_on = {runs_on}\ndc_ports = [\"power\"]\n"
        )
    };
    assert!(found(&[], &amplifier("[\"12 V\", \"12 V\"]")).is_empty());
    assert!(report(&[], &amplifier("[\"12 V\", \"11.9 V\"]")).expect_err("a refusal").contains("upside down"));
}

#[test]
fn a_splitter_may_have_as_many_legs_as_it_can() {
    let legs = |count: usize| format!("[{}]", vec!["\"4 dB\""; count].join(", "));
    let with = |count| report(&[("[\"4 dB\", \"4 dB\"]", legs(count).as_str())], "");
    assert!(with(16).is_ok());
    assert!(with(17).expect_err("a refusal").contains("17"));
}

#[test]
fn a_coupler_that_passes_no_dc_needs_no_resistance() {
    let coupler = |pass: &str| format!("[spec.coupler.own]\ntap = \"9 dB\"\nthrough = \"1 dB\"\n{pass}");
    assert!(found(&[], &coupler("")).is_empty());
    assert!(found(&[], &coupler("dc_pass = []\n")).is_empty());
    let refused = report(&[], &coupler("dc_pass = [\"tap\"]\n")).expect_err("a refusal");
    assert!(refused.contains("spec.coupler.own.dc_ohms: this key is missing"), "{refused}");
}

#[test]
fn a_home_network_may_lose_what_it_will() {
    let network = |loss: &str| {
        format!("[home_network]\nband = [\"1125 MHz\", \"1675 MHz\"]\nmembers = [\"corner\", \"desk\"]\n{loss}")
    };
    let without = found(&[], &network(""));
    assert!(!without.contains(&"home-link-weak".to_owned()));
    assert_eq!(found(&[], &network("max_loss = \"none\"\n")), without);
    assert!(found(&[], &network("max_loss = \"1 dB\"\n")).contains(&"home-link-weak".to_owned()));
    // The loss is told where nothing is asked of it, too.
    let losses = |more: &str| {
        let report = report(&[], &network(more)).expect("a report");
        let links = report["links"].as_array().expect("links").iter();
        links.map(|link| link["loss_db"].as_f64().expect("a loss")).collect::<Vec<f64>>()
    };
    assert_eq!(losses(""), losses("max_loss = \"50 dB\"\n"));
}

#[test]
fn an_id_may_be_written_with_escapes() {
    let network = "[home_network]\nband = [\"1125 MHz\", \"1675 MHz\"]\nmembers = [\"corner\", \"desk\"]\n";
    let plain: Value = toml::from_str(&format!("{HOME}{network}")).expect("a home");
    let plain = plain.to_string();
    let escaped = plain.replace("\"after\":\"run\"", "\"after\":\"\\u0072un\"").replace("\"tv\"", "\"\\u0074v\"");
    let escaped = escaped.replace("[\"corner\"", "[\"\\u0063orner\"");
    assert_ne!(escaped, plain);
    let [plain, escaped] = [plain, escaped].map(|text| {
        let source = Source::new("home.json", text.as_bytes()).expect("a text");
        let mut checker = Checker::new();
        let checked = checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
        checked.json()
    });
    assert_eq!(escaped, plain);
}
