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
fn a_carrier_may_be_one_step_beyond_the_readings() {
    // Carriers from 57 to 861 MHz, 6 MHz apart.
    let read = |first: &str, last: &str| {
        let edits = [("[\"57 MHz\"", format!("[\"{first}\"")), ("[\"861 MHz\", \"10", format!("[\"{last}\", \"10"))];
        found(&edits.each_ref().map(|(from, to)| (*from, to.as_str())), "").contains(&"beyond-readings".to_owned())
    };
    assert!(!read("63 MHz", "855 MHz"));
    assert!(read("63.5 MHz", "855 MHz"));
    assert!(read("63 MHz", "854.5 MHz"));
}

#[test]
fn a_bonding_conductor_may_be_of_twenty_feet() {
    // 20 ft are 6.096 m.
    for (length, is_long) in [("20 ft", false), ("6.096 m", false), ("20.01 ft", true)] {
        let edits = [("\"fork\"\nafter = \"entry\"", "\"fork\"\nafter = \"block\""), ("bonded = true", "")];
        let block = format!(
            "[[part]]\nid = \"block\"\nafter = \"entry\"\nbond = \"bond\"\nconductor = \"14 AWG\"\nconductor_length = \"{length}\"\n"
        );
        assert_eq!(found(&edits, &block).contains(&"bond-long".to_owned()), is_long, "{length}");
    }
}

#[test]
fn a_filter_keeps_in_a_network_that_it_reflects_as_a_whole() {
    for (reflects, keeps) in [("1125 MHz|1675 MHz", true), ("1126 MHz|1675 MHz", false), ("1125 MHz|1674 MHz", false)] {
        let reflects = reflects.replace('|', "\", \"");
        let more = format!(
            "[[part]]\nid = \"keeper\"\nafter = \"entry\"\nfilter = \"own\"\n\
             [spec.filter.own]\nloss = \"0.5 dB\"\nreflects = [\"{reflects}\"]\n\
             [home_network]\nband = [\"1125 MHz\", \"1675 MHz\"]\nmembers = [\"corner\", \"desk\"]\n"
        );
        let codes = found(&[("\"fork\"\nafter = \"entry\"", "\"fork\"\nafter = \"keeper\"")], &more);
        assert_eq!(!codes.contains(&"entry-filter-missing".to_owned()), keeps, "{reflects}");
    }
}

#[test]
fn a_cable_of_one_loss_loses_it_by_the_length() {
    let level = |length: &str| {
        let edits =
            [("loss = [[\"5 MHz\", \"0.5 dB\"], [\"861 MHz\", \"6 dB\"]]", "loss = \"6 dB\""), ("\"20 ft\"", length)];
        let report = report(&edits, "").expect("a report");
        report["outlets"][0]["forward"][0]["dbmv"].as_f64().expect("a level")
    };
    // 10 dBmV less 4 dB in the splitter, and 6 dB in 100 ft.
    for (length, dbmv) in [("100 ft", 0.0), ("50 ft", 3.0), ("150 ft", -3.0)] {
        assert!((level(&format!("\"{length}\"")) - dbmv).abs() < 1e-5, "{length}");
    }
}

#[test]
fn ids_that_can_not_be_told_apart_or_seen_are_refused() {
    for (id, why) in [
        (" ", "an id can't be empty"),
        ("\\u0007", "control characters"),
        ("a..b", "holds no `.`"),
        (".", "holds no `.`"),
        ("\u{e9}.", "holds no `.`"),
    ] {
        let message = report(&[("\"corner\"", format!("\"{id}\"").as_str())], "").expect_err("a refusal");
        assert!(message.contains(why), "{id}: {message}");
    }
    assert!(report(&[("\"corner\"", "\" \u{e9}\"")], "").is_ok());
}

#[test]
fn a_home_network_may_begin_where_the_last_carrier_ends() {
    // The carrier at 861 MHz is 6 MHz wide.
    for (low, overlaps) in [("864 MHz", false), ("863.9 MHz", true)] {
        let network = format!("[home_network]\nband = [\"{low}\", \"1675 MHz\"]\nmembers = [\"corner\", \"desk\"]\n");
        assert_eq!(found(&[], &network).contains(&"bands-overlap".to_owned()), overlaps, "{low}");
    }
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
    // A word where a quantity could stand, too.
    let lax = plain_network("none");
    assert_eq!(lax, plain_network("\\u006eone"));
    assert_ne!(lax, plain_network("1 dB"));
}

/// The report on the home with a network that may lose so much, read from JSON.
fn plain_network(loss: &str) -> String {
    let network =
        "[home_network]\nband = [\"1125 MHz\", \"1675 MHz\"]\nmembers = [\"corner\", \"desk\"]\nmax_loss = \"LOSS\"\n";
    let home: Value = toml::from_str(&format!("{HOME}{network}")).expect("a home");
    let home = home.to_string().replace("LOSS", loss);
    let source = Source::new("home.json", home.as_bytes()).expect("a text");
    let mut checker = Checker::new();
    checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false))).json()
}

/// The message about a home of JSON with a piece exchanged; none where it is taken.
fn refused(from: &str, to: &str) -> Option<String> {
    let home: Value = toml::from_str(HOME).expect("a home");
    let text = home.to_string();
    assert!(text.contains(from), "{from} in {text}");
    let text = text.replacen(from, to, 1);
    let source = Source::new("home.json", text.as_bytes()).expect("a text");
    Checker::new().check(&source, None).err().map(|refusal| refusal.render(false))
}

#[test]
fn null_is_as_good_as_nothing() {
    assert_eq!(refused("\"format\":1", "\"format\":1,\"name\":null,\"climate\":null"), None);
    // What is told of something else does not rest on it either.
    let message = refused("\"format\":1", "\"format\":1,\"name\":null,\"climat\":null").expect("a refusal");
    assert_eq!(message.matches("error:").count(), 1, "{message}");
    assert!(message.contains("did you mean `climate`?"), "{message}");
}

#[test]
fn a_control_character_is_refused_wherever_it_stands() {
    // At the end of a file, too, where texts are read byte by byte.
    for (name, taken) in [("a\\u0009b", true), ("a b", true), ("a\tb", false), ("\u{1}", false)] {
        let home: Value = toml::from_str(HOME).expect("a home");
        let home = home.to_string();
        let home = format!("{},\"name\":\"{name}\"}}", home.strip_suffix('}').expect("a table"));
        let source = Source::new("home.json", home.as_bytes()).expect("a text");
        assert_eq!(Checker::new().check(&source, None).is_ok(), taken, "{name:?}");
    }
}

#[test]
fn carriers_of_all_blocks_are_counted_together() {
    // Three blocks of so many and one carrier.
    let with = |last: &str| {
        let block =
            |from: &str, to: &str| format!("{{ first = \"{from} MHz\", last = \"{to} MHz\", step = \"0.1 MHz\" }}");
        let blocks = [block("57", "256.9"), block("257", "456.9"), block("457", last)].join(", ");
        report(&[("{ first = \"57 MHz\", last = \"861 MHz\", step = \"6 MHz\" }", blocks.as_str())], "")
    };
    with("466.5").expect("4,096 carriers");
    let message = with("466.6").expect_err("more");
    assert!(message.contains("all blocks together have 4097 carriers, more than 4096"), "{message}");
}

#[test]
fn what_lies_as_deep_as_may_be_is_told_by_its_key() {
    let told = |depth: usize, open: &str, close: &str, end: &str| {
        let value = format!("{}{end}{}", open.repeat(depth), close.repeat(depth));
        let toml = format!("{HOME}\n[foo]\nbar = {}", value.replace("\"a\":", "a = "));
        let toml =
            Source::new("home.toml", toml.as_bytes()).map(|source| Checker::new().check(&source, None).map(drop));
        let toml = toml.expect("a text").expect_err("a refusal").render(false);
        let json = refused("\"format\":1", &format!("\"format\":1,\"foo\":{{\"bar\":{value}}}")).expect("a refusal");
        [toml, json].map(|message| message.contains("too deep"))
    };
    for (open, close) in [("[", "]"), ("{\"a\":", "}")] {
        assert_eq!(told(30, open, close, "1"), [false, false], "{open}");
        assert_eq!(told(31, open, close, "1"), [true, true], "{open}");
    }
}

#[test]
fn an_amplifier_may_take_any_input_and_pass_dc_from_any_output() {
    let amplifier = |most: &str, ports: &str| {
        format!(
            "[[part]]\nid = \"booster\"\nafter = \"run\"\namplifier = \"own\"\n[[outlet]]\nid = \"nook\"\nafter = \"booster.1\"\ndevice = \"tv\"\n\
             [[supply]]\nid = \"plug\"\nafter = \"booster.2\"\nvolts = \"15 V\"\namps = \"1 A\"\n\
             [spec.amplifier.own]\noutputs = 2\ngain = \"1 dB\"\nreturn_gain = \"0 dB\"\nnoise_figure = \"4 dB\"\n\
             draw = \"3 W\"\nruns_on = [\"12 V\", \"18 V\"]\nmax_input_total = \"{most}\"\ndc_ports = [\"{ports}\"]\n"
        )
    };
    let home = |most, ports| {
        let text = HOME.replace("[[outlet]]\nid = \"corner\"\nafter = \"run\"\ndevice = \"tv\"\n", "");
        let source = text + &amplifier(most, ports);
        let source = Source::new("home.toml", source.as_bytes()).expect("a text");
        let mut checker = Checker::new();
        let checked = checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
        let report: Value = serde_json::from_str(&checked.json()).expect("JSON");
        (codes(&report).contains(&"amplifier-overdriven"), codes(&report).contains(&"amplifier-unpowered"))
    };
    assert_eq!(home("none", "2"), (false, false));
    assert_eq!(home("5 dBmV", "2"), (true, false));
    assert_eq!(home("none", "1"), (false, true));
}

#[test]
fn a_port_is_named_by_digits_alone() {
    let with = |port: &str| report(&[("\"fork.1\"", format!("\"fork.{port}\"").as_str())], "");
    assert!(with("1").is_ok());
    for port in ["01", "+1", "0", "-1", "1 ", "3", "one"] {
        let message = with(port).expect_err("a refusal");
        assert!(message.contains(&format!("part[1].after = `fork.{port}`")), "{message}");
    }
}

#[test]
fn the_only_way_out_is_closed_by_its_number_or_its_parts_name() {
    let pad = |closed: &str| {
        let edits = [("id = \"fork\"\nafter = \"entry\"", "id = \"fork\"\nafter = \"stub.1\"")];
        let more = format!(
            "[[part]]\nid = \"stub\"\nafter = \"entry\"\nsplitter = \"own\"\n[[part]]\nid = \"end\"\nafter = \"stub.2\"\npad = \"3 dB\"\nterminated = [\"{closed}\"]\n"
        );
        report(&edits, &more)
    };
    assert!(codes(&pad("1").expect("a home")).iter().all(|code| *code != "open-port"));
    assert_eq!(pad("end").expect("a home"), pad("1").expect("a home"));
    for other in ["2", "fork", "tap"] {
        assert!(pad(other).is_err_and(|message| message.contains("part[3].terminated[0]")), "{other}");
    }
}

#[test]
fn a_home_has_room_however_it_grows() {
    // So many parts ahead of the home, one behind the other, and what hangs on each.
    let takes = |count: usize, kind: &str, port: &str, on_each: &dyn Fn(usize) -> String| {
        let ahead = (0..count).map(|id| {
            let after = if id == 0 { "entry".to_owned() } else { format!("p{}{port}", id - 1) };
            format!("[[part]]\nid = \"p{id}\"\nafter = \"{after}\"\n{kind}\n{}", on_each(id))
        });
        let more = ahead.collect::<String>();
        let behind = format!("\"fork\"\nafter = \"p{}{port}\"", count - 1);
        report(&[("\"fork\"\nafter = \"entry\"", behind.as_str())], &more).map(|_| ())
    };
    let nothing = |_: usize| String::new();
    assert_eq!(takes(100, "joint = \"joint\"", "", &nothing), Ok(()), "many parts");
    assert_eq!(takes(62, "splitter = \"8-way\"", ".1", &nothing), Ok(()), "many ways out");
    let outlets = |id: usize| -> String {
        let outlet = |way| format!("[[outlet]]\nid = \"o{id}-{way}\"\nafter = \"p{id}.{way}\"\ndevice = \"tv\"\n");
        (2..=8).map(outlet).collect()
    };
    assert_eq!(takes(9, "splitter = \"8-way\"", ".1", &outlets), Ok(()), "many outlets");
    let supply = |id: usize| {
        let spec = "[spec.amplifier.own]\noutputs = 1\ngain = \"1 dB\"\nreturn_gain = \"0 dB\"\nnoise_figure = \"5 dB\"\n\
                    draw = \"3 W\"\nruns_on = [\"11 V\", \"18 V\"]\ndc_ports = [\"power\"]\n";
        let supply = format!("[[supply]]\nid = \"s{id}\"\nafter = \"p{id}.power\"\nvolts = \"15 V\"\namps = \"1 A\"\n");
        if id == 0 { spec.to_owned() + &supply } else { supply }
    };
    assert_eq!(takes(9, "amplifier = \"own\"", ".1", &supply), Ok(()), "many supplies");
}
