//! A home that is powered over the coax: which ports the current passes, and what stands in its way.

use legwork::Verdict;
use legwork_file::{Checked, Checker, Source};

/// An amplifier whose current comes from behind its first output, through an inserter at the other end of a cable.
const HOME: &str = r#"
format = 1

[service]
split = "42/54 MHz"
carriers = [{ first = "57 MHz", last = "861 MHz", step = "6 MHz" }]

[entry]
forward = [["57 MHz", "2 dBmV"], ["861 MHz", "2 dBmV"]]
bonded = true

[home_network]
band = ["1125 MHz", "1675 MHz"]
members = ["den", "attic"]

[[part]]
id = "fork"
after = "entry"
splitter = "2-way"

[[outlet]]
id = "attic"
after = "fork.2"
device = "tv"

[[part]]
id = "booster"
after = "fork.1"
amplifier = "own"

[[part]]
id = "long"
after = "booster.1"
cable = "own"
length = "100 ft"

[[part]]
id = "plug-in"
after = "long"
inserter = "own"

[[outlet]]
id = "den"
after = "plug-in.rf"
device = "set-top"

[[supply]]
id = "brick"
after = "plug-in.dc"
volts = "15 V"
source_ohms = "0.75 ohm"
amps = "1 A"

[[outlet]]
id = "hall"
after = "booster.2"
device = "tv"

[spec.amplifier.own]
outputs = 2
gain = "8 dB"
return_gain = "0 dB"
noise_figure = "5 dB"
max_input_total = "none"
draw = "200 mA"
runs_on = ["11 V", "18 V"]
dc_ports = ["1"]

[spec.inserter.own]
loss = "0.5 dB"
dc_ohms = "0.5 ohm"

[spec.cable.own]
loss = "4 dB"
per = "100 ft"
loop = "2 ohm"
velocity = 0.85
"#;

fn with<T>(read: impl FnOnce(&Checked<'_>) -> T) -> T {
    let source = Source::new("home.toml", HOME.as_bytes()).expect("a text");
    let mut checker = Checker::new();
    read(&checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false))))
}

#[test]
fn a_feed_passes_the_ports_between_its_supply_and_its_amplifier() {
    with(|checked| {
        let tree = checked.home.tree();
        let passed = (0..).map_while(|index| tree.port_id(index)).filter(|port| {
            let feeds: Vec<_> = checked.report.feeds_through(*port).collect();
            assert!(feeds.iter().all(|(_, verdict)| *verdict == Verdict::Pass));
            feeds.len() == 1
        });
        let passed: Vec<String> = passed.map(|port| checked.home.port(port)).collect();
        assert_eq!(passed, ["booster.1", "long", "plug-in.dc"]);
    });
}

#[test]
fn resistance_is_told_with_and_without_the_supplys_own() {
    with(|checked| {
        let told = checked.report.dc().map(|dc| (checked.home.port(dc.port), dc.loop_ohms, dc.plug_ohms));
        // 0.75 ohm in the supply, 0.5 in the inserter, 2 in 100 ft of cable.
        let wanted = [("booster.1", 3.25, 2.5), ("long", 1.25, 0.5), ("plug-in.dc", 0.75, 0.0)];
        let told: Vec<_> = told.collect();
        let told: Vec<_> = told.iter().map(|(port, whole, plug)| (port.as_str(), *whole, *plug)).collect();
        assert_eq!(told, wanted);
    });
}

#[test]
fn what_has_no_limit_and_what_does_not_pass_have_no_number() {
    with(|checked| {
        let headroom: Vec<_> = checked.report.amplifiers().map(|amplifier| amplifier.headroom).collect();
        assert_eq!(headroom, [None]);
        let links: Vec<_> = checked.report.links().map(|link| (link.loss, link.verdict)).collect();
        assert_eq!(links, [(None, Verdict::Pass); 2]);
    });
}

#[test]
fn what_is_near_its_limit_is_called_by_the_outlet_or_by_words() {
    let home = HOME.replace("max_input_total = \"none\"", "max_input_total = \"40 dBmV\"");
    let home = home.replace("members = [\"den\", \"attic\"]", "members = [\"den\", \"hall\"]\nmax_loss = \"50 dB\"");
    let source = Source::new("home.toml", home.as_bytes()).expect("a text");
    let mut checker = Checker::new();
    let checked = checker.check_margins(&source).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let near: Vec<String> = checked.report.near().map(|(near, _)| checked.home.near(near)).collect();
    assert_eq!(near, ["attic", "den", "hall", "at amplifiers", "between outlets"]);
    // What modems send has a place of its own.
    let sends =
        home.replace("\"set-top\"", "\"modem\"").replace("\"40 dBmV\"", "\"40 dBmV\"\nmax_return_total = \"60 dBmV\"");
    let sends = sends.replace("forward = [[", "transmit = [[\"30 MHz\", \"40 dBmV\"]]\nforward = [[");
    let source = Source::new("home.toml", sends.as_bytes()).expect("a text");
    let checked = checker.check_margins(&source).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let near: Vec<String> = checked.report.near().map(|(near, _)| checked.home.near(near)).collect();
    assert_eq!(near, ["attic", "den", "hall", "at amplifiers", "modems at amplifiers", "between outlets"]);
    // With one outlet, too.
    let alone = [
        "[home_network]\nband = [\"1125 MHz\", \"1675 MHz\"]\nmembers = [\"den\", \"hall\"]\nmax_loss = \"50 dB\"\n",
        "[[outlet]]\nid = \"attic\"\nafter = \"fork.2\"\ndevice = \"tv\"\n",
        "[[outlet]]\nid = \"hall\"\nafter = \"booster.2\"\ndevice = \"tv\"\n",
    ];
    let home = alone.iter().fold(home, |home, piece| {
        assert!(home.contains(piece), "{piece}");
        home.replace(piece, "")
    });
    let source = Source::new("home.toml", home.as_bytes()).expect("a text");
    let checked = checker.check_margins(&source).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let near: Vec<String> = checked.report.near().map(|(near, _)| checked.home.near(near)).collect();
    assert_eq!(near, ["den", "at amplifiers"]);
}

/// What is read off the report of the home with pieces exchanged and more behind.
fn with_edits<T>(edits: &[(&str, &str)], more: &str, read: impl FnOnce(&Checked<'_>) -> T) -> T {
    let home = edits.iter().fold(HOME.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replace(from, to)
    }) + more;
    let source = Source::new("home.toml", home.as_bytes()).expect("a text");
    let mut checker = Checker::new();
    read(&checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false))))
}

/// Whether the amplifier has a feed.
fn is_fed(edits: &[(&str, &str)], more: &str) -> bool {
    with_edits(edits, more, |checked| {
        let tree = checked.home.tree();
        (0..).map_while(|index| tree.port_id(index)).any(|port| checked.report.feeds_through(port).next().is_some())
    })
}

/// What is found, and where.
fn found(edits: &[(&str, &str)], more: &str) -> Vec<String> {
    with_edits(edits, more, |checked| {
        let report: serde_json::Value = serde_json::from_str(&checked.json()).expect("JSON");
        let findings = report["findings"].as_array().expect("findings").iter();
        let text = |value: &serde_json::Value| value.as_str().unwrap_or_default().to_owned();
        findings
            .map(|finding| {
                format!("{} {}: {}", text(&finding["verdict"]), text(&finding["code"]), text(&finding["at"]))
            })
            .collect()
    })
}

#[test]
fn a_terminator_is_told_of_the_current_that_reaches_it() {
    let splitter = |passes: &str| {
        let between = format!(
            "[[part]]\nid = \"between\"\nafter = \"booster.1\"\nsplitter = \"own\"\nterminated = [2]\n\
             [spec.splitter.own]\nlegs = 2\nloss = \"4 dB\"\ndc_pass = {passes}\ndc_ohms = \"0.1 ohm\"\n"
        );
        found(&[("after = \"booster.1\"\ncable", "after = \"between.1\"\ncable")], &between)
    };
    let told = "fail dc-at-device: between.2".to_owned();
    assert!(splitter("[1, 2]").contains(&told), "{:?}", splitter("[1, 2]"));
    assert!(!splitter("[1]").contains(&told));
}

#[test]
fn where_only_an_extreme_collapses_the_nominal_figures_stand() {
    // 3.25 ohm on the way: 15 V feed up to 15^2 / (4 * 3.25) = 17.3 W, a tenth less 14.0 W. At 15 V the amplifier
    // has (15 + sqrt(15^2 - 4 * 3.25 * 15)) / 2 = 10.2 V.
    let spread = [("volts = \"15 V\"", "volts = \"15 V\"\nspread = \"10 %\""), ("\"1 A\"", "\"3 A\"")];
    let draws = |runs_on: &str| {
        let runs_on = format!("\"15 W\"\nruns_on = [\"{runs_on}\"");
        let edits = [spread[0], spread[1], ("\"200 mA\"\nruns_on = [\"11 V\"", runs_on.as_str())];
        let mut found = found(&edits, "");
        found.retain(|finding| finding.contains(" feed-"));
        found
    };
    assert_eq!(draws("10 V"), ["marginal feed-collapsed: brick"]);
    assert_eq!(draws("10.5 V"), ["marginal feed-collapsed: brick", "fail feed-starved: brick"]);
}

#[test]
fn a_feed_holds_up_to_the_very_point_of_collapse() {
    // 2.5 ohm on the way: 10 V feed up to 10^2 / (4 * 2.5) = 10 W, and then half of them are left.
    let draws = |watts: &str| {
        let draw = format!("\"{watts} W\"\nruns_on = [\"4 V\"");
        let edits = [
            ("\"15 V\"\nsource_ohms = \"0.75 ohm\"", "\"10 V\"\nsource_ohms = \"0 ohm\""),
            ("\"1 A\"", "\"3 A\""),
            ("\"200 mA\"\nruns_on = [\"11 V\"", draw.as_str()),
        ];
        let mut found = found(&edits, "");
        found.retain(|finding| finding.contains(" feed-"));
        found
    };
    for holds in ["9.9", "9.999"] {
        assert_eq!(draws(holds), [""; 0], "{holds} W");
    }
    for collapses in ["10.001", "10.01", "10.1", "20"] {
        assert_eq!(draws(collapses), ["fail feed-collapsed: brick"], "{collapses} W");
    }
}

#[test]
fn where_nothing_passes_between_two_outlets_no_figure_is_told() {
    let says = |edits: &[(&str, &str)]| {
        with_edits(edits, "", |checked| {
            let weak = checked.report.findings().iter().find(|finding| finding.code == legwork::Code::HomeLinkWeak);
            weak.map(|finding| legwork_file::says(&checked.home, &checked.report, finding)).unwrap_or_default()
        })
    };
    let asked = ("members = [\"den\", \"attic\"]", "members = [\"den\", \"attic\"]\nmax_loss = \"5 dB\"");
    assert_eq!(says(&[]), "", "nothing is asked of it");
    let blocked = says(&[asked]);
    assert!(blocked.starts_with("Nothing passes between") && !blocked.contains("dB"), "{blocked}");
    let weak = says(&[asked, ("gain = \"8 dB\"\nreturn", "network_loss = \"4 dB\"\ngain = \"8 dB\"\nreturn")]);
    assert!(weak.contains("dB") && !weak.contains("Nothing"), "{weak}");
}

#[test]
fn a_coupler_passes_current_by_the_ways_that_it_says() {
    for passes in ["through", "tap"] {
        for way in ["through", "tap"] {
            let coupler = format!(
                "[[part]]\nid = \"between\"\nafter = \"booster.1\"\ncoupler = \"own\"\n\
                 [spec.coupler.own]\ntap = \"6 dB\"\nthrough = \"2 dB\"\ndc_pass = [\"{passes}\"]\ndc_ohms = \"0.1 ohm\"\n"
            );
            let behind = format!("after = \"between.{way}\"\ncable");
            let fed = is_fed(&[("after = \"booster.1\"\ncable", &behind)], &coupler);
            assert_eq!(fed, passes == way, "{passes}, behind {way}");
        }
    }
}

#[test]
fn an_amplifier_takes_no_current_by_its_passive_port() {
    let fed = |port: &str, takes: &str| {
        let behind = format!("after = \"booster.{port}\"\ncable");
        let takes = format!("passive = \"1 dB\"\ndc_ports = [\"{takes}\"]");
        is_fed(&[("after = \"booster.1\"\ncable", &behind), ("dc_ports = [\"1\"]", &takes)], "")
    };
    assert!(fed("1", "1"));
    assert!(!fed("passive", "1"));
    assert!(!fed("passive", "power"));
}
