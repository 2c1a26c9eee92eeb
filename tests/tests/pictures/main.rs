//! Drawings, plots and sheets as files: well-formed, complete, and the same as they were.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use legwork::{Part, Report, Verdict};
use legwork_file::{Checked, Checker, Home, Source, says};
use roxmltree::Document;
use serde_json::Value;

fn here() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn examples() -> PathBuf {
    here().join("../crates/cli/examples")
}

/// Does something with a home and its report.
fn with<T>(name: &str, text: &[u8], work: impl FnOnce(&Checked<'_>) -> T) -> T {
    let source = Source::new(name, text).unwrap_or_else(|refusal| panic!("{name}: {}", refusal.render(false)));
    let mut checker = Checker::new();
    let checked = checker.check(&source, None).unwrap_or_else(|refusal| panic!("{name}: {}", refusal.render(false)));
    work(&checked)
}

/// Fifty random homes, one whose names mean harm, and the same with one carrier, sending at one frequency.
fn homes() -> impl Iterator<Item = (String, Vec<u8>)> {
    let random = (0..50).map(|seed| (format!("home {seed}.json"), legwork_tests::home(seed).to_string().into_bytes()));
    let hostile = fs::read_to_string(here().join("data/pictures/hostile.toml")).expect("a file of this test");
    let single = hostile
        .replace("first = \"57 MHz\", last = \"861 MHz\"", "first = \"303 MHz\", last = \"303 MHz\"")
        .replace(", [\"36 MHz\", \"98 dBuV\"]", "");
    let replaced = single.contains("303 MHz") && !single.contains("36 MHz");
    assert!(replaced, "what is to be replaced in hostile.toml has changed");
    random.chain([("hostile.toml".to_owned(), hostile.into_bytes()), ("single.toml".to_owned(), single.into_bytes())])
}

/// All text of an XML document, tags' texts one after the other, titles aside.
fn text_of(document: &Document<'_>) -> Vec<String> {
    let texts = document.descendants().filter(|node| node.has_tag_name("text") || node.tag_name().name() == "text");
    texts
        .map(|node| node.descendants().filter(roxmltree::Node::is_text).filter_map(|node| node.text()).collect())
        .collect()
}

#[test]
fn drawings_are_well_formed_and_hold_every_id_length_level_and_finding() {
    let (mut ids, mut levels, mut findings) = (0, 0, 0);
    for (name, text) in homes() {
        with(&name, &text, |checked| {
            let Checked { home, report } = checked;
            let svg = legwork_draw::drawing(home, report);
            let document = Document::parse(&svg).unwrap_or_else(|error| panic!("{name}: {error}"));
            let texts = text_of(&document);
            let tree = home.tree();
            let has = |wanted: &str| texts.iter().any(|text| text == wanted);
            for (id, part) in tree.parts() {
                assert!(has(home.part(id)), "{name}: {}", home.part(id));
                if let Part::Cable { length, .. } = part {
                    let length = home.length(*length);
                    assert!(
                        texts.iter().any(|text| text.split(" \u{b7} ").any(|word| word == length)),
                        "{name}: {length}"
                    );
                }
                ids += 1;
                for port in tree.ways_out(id) {
                    for mhz in [tree.service.first_carrier(), tree.service.last_carrier()] {
                        let mhz = legwork::Frequency::new(mhz).expect("a carrier");
                        let Ok(figure) = tree.levels_at(port, mhz) else { continue };
                        // Halves go away from nought, as in sentences.
                        let tenths = (f64::from(home.level(figure.nominal).0) * 10.0).round() / 10.0;
                        let text = format!("{tenths:.1}");
                        assert!(has(text.strip_prefix("-0.0").map_or(&text, |_| "0.0")), "{name}: {text}");
                        levels += 1;
                    }
                }
            }
            for number in 0..tree.outlets().len() {
                let outlet = tree.outlet_id(number).expect("an outlet");
                assert!(has(home.outlet(outlet)), "{name}: {}", home.outlet(outlet));
            }
            let written: Value = serde_json::from_str(&checked.json()).expect("JSON");
            let written = written["findings"].as_array().expect("findings");
            for finding in written.iter().filter(|finding| finding["verdict"] != "pass") {
                let brief = finding["brief"].as_str().expect("a few words");
                assert!(texts.iter().any(|text| text.ends_with(brief)), "{name}: {brief}");
                findings += 1;
            }
        });
    }
    assert!(ids > 500 && levels > 1000 && findings > 200, "{ids} ids, {levels} levels, {findings} findings");
}

#[test]
fn plots_are_well_formed_and_hold_every_outlet() {
    let mut outlets = 0;
    for (name, text) in homes() {
        with(&name, &text, |Checked { home, report }| {
            let svg = legwork_draw::plot(home, report);
            let document = Document::parse(&svg).unwrap_or_else(|error| panic!("{name}: {error}"));
            let texts = text_of(&document);
            for outlet in report.outlets() {
                assert!(texts.iter().any(|text| text == home.outlet(outlet.outlet)), "{name}");
                outlets += 1;
            }
            let of_class = |class| document.descendants().filter(move |node| node.attribute("class") == Some(class));
            for curve in of_class("curve") {
                let points = curve.attribute("d").unwrap_or_default().trim_start_matches('M').split('L');
                let across: Vec<f32> = points.filter_map(|point| point.split_once(' ')?.0.parse().ok()).collect();
                let (Some(first), Some(last)) = (across.first(), across.last()) else { panic!("{name}: no points") };
                assert!(last - first > 100.0, "{name}: a curve from {first} to {last}");
            }
            let curves = of_class("curve").count();
            let heard = |outlet: &legwork::OutletReport<'_>| outlet.transmit.is_some_and(|rows| !rows.is_empty());
            let sends = |outlet: &legwork::OutletReport<'_>| {
                let spec = home.tree().outlets().get(outlet.outlet.index());
                spec.is_some_and(|spec| home.tree().limits(spec.device).sends())
            };
            let sending = report.outlets().filter(|outlet| heard(outlet) && sends(outlet)).count();
            assert_eq!(
                curves,
                report.outlets().count() + sending,
                "{name}: a curve for each outlet, and one for each that sends"
            );
            let bars: Vec<_> = of_class("carriers").collect();
            assert_eq!(bars.len(), report.outlets().count() * home.tree().service.blocks().len(), "{name}");
            for bar in bars {
                let width: f32 = bar.attribute("width").unwrap_or_default().parse().expect("a number");
                assert!(width > 0.0, "{name}: carriers that are not to be seen");
            }
            for d in document.descendants().filter_map(|node| node.attribute("d")) {
                assert!(!d.contains("NaN") && !d.contains("inf"), "{name}: {d}");
            }
        });
    }
    assert!(outlets > 100, "{outlets} outlets");
}

#[test]
fn sheets_have_every_section_and_fetch_nothing() {
    for (name, text) in homes() {
        with(&name, &text, |Checked { home, report }| {
            let html = legwork_draw::sheet(home, report);
            for section in ["Parts to take", "Cut lengths", "Tags to cut out", ">expected", ">read<", "Bonding"] {
                assert!(html.contains(section), "{name}: {section}");
            }
            assert_eq!(html.matches("<script").count(), 1, "{name}");
            for reference in [" href=", " src=", "url(", "@import"] {
                let escaped = html.replace("&lt;img src=x", "");
                assert!(!escaped.contains(reference), "{name}: {reference}");
            }
            for finding in report.findings().iter().filter(|finding| finding.verdict > Verdict::Pass) {
                let says = says(home, report, finding).replace('&', "&amp;").replace('<', "&lt;");
                let says = says.replace('>', "&gt;").replace('"', "&quot;");
                assert!(html.contains(&says), "{name}: {says}");
            }
        });
    }
}

#[test]
fn cautions_stand_only_where_their_condition_holds() {
    let sheet = |name: &str, edit: &dyn Fn(String) -> String| {
        let text = edit(fs::read_to_string(examples().join(name)).expect("an example"));
        with(name, text.as_bytes(), |Checked { home, report }| legwork_draw::sheet(home, report))
    };
    let as_shipped = |text| text;
    let barn = sheet("barn-fed-over-coax.toml", &as_shipped);
    let long_run = sheet("boathouse-long-run.toml", &as_shipped);
    for (words, in_barn, in_long_run) in [
        ("in a storm", false, true),
        ("supply is the last to be plugged in", true, false),
        ("DC on these ports", true, false),
        ("Phone and alarm drop", true, false),
        ("Test the shield against ground before", true, false),
        ("reaches the neighbours", false, false),
        ("Before you drill", true, true),
        ("Check for leakage", true, true),
        ("Do not unplug: feeds the amplifier cupboard", true, false),
        ("Phone line: ask before disconnecting", true, false),
    ] {
        assert_eq!(barn.contains(words), in_barn, "barn: {words}");
        assert_eq!(long_run.contains(words), in_long_run, "long run: {words}");
    }
    let met = fs::read_to_string(here().join("data/findings/two-supplies.toml")).expect("a file of the tests");
    let met = with("two-supplies.toml", met.as_bytes(), |Checked { home, report }| legwork_draw::sheet(home, report));
    assert!(met.contains("DC on these ports"), "where two supplies meet there is DC, though no figures");
    assert!(sheet("terrace-open-network.toml", &as_shipped).contains("reaches the neighbours"));
}

#[test]
fn three_drawings_and_a_plot_stay_as_they_were() {
    let drawing: fn(&Home<'_>, &Report<'_, '_>) -> String = legwork_draw::drawing;
    for (example, name, picture) in [
        ("barn-fed-over-coax", "barn-fed-over-coax", drawing),
        ("boathouse-long-run", "boathouse-long-run", drawing),
        ("annex-dc-at-tv", "annex-dc-at-tv", drawing),
        ("boathouse-long-run", "boathouse-long-run-plot", legwork_draw::plot),
    ] {
        let file = format!("{example}.toml");
        let text = fs::read(examples().join(&file)).expect("an example");
        let svg = with(&file, &text, |Checked { home, report }| picture(home, report)) + "\n";
        legwork_tests::hold_kept(&format!("data/pictures/{name}.svg"), &svg);
    }
}

#[test]
fn the_tree_as_text_holds_every_id_and_level() {
    for (name, text) in homes() {
        with(&name, &text, |Checked { home, report }| {
            for width in [40, 80, 120] {
                let tree = legwork_draw::tree(home, report, width);
                for (id, _) in home.tree().parts() {
                    assert!(tree.contains(home.part(id)), "{name}: {}", home.part(id));
                }
                let bad = report.findings().iter().filter(|finding| finding.verdict > Verdict::Pass).count();
                assert_eq!(tree.lines().filter(|line| line.contains("  ! ")).count(), bad, "{name}");
            }
        });
    }
}

/// The program.
fn program() -> Command {
    let mut command = Command::new(legwork_tests::program());
    command.stdin(Stdio::null());
    command
}

fn run(arguments: &[&Path]) -> Output {
    program().args(arguments).output().expect("it starts")
}

#[test]
fn the_commands_write_where_they_are_told_and_never_over_a_file() {
    let folder = std::env::temp_dir().join(format!("legwork-pictures-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder of this test");
    let fails = here().join("data/findings/forward-low.toml");
    let unusable = here().join("data/refused/length-negative.toml");
    for command in ["draw", "plot", "sheet"] {
        let out = folder.join(command);
        let to = |file: &Path, extra: &[&str]| {
            let mut all = vec![Path::new(command), file, Path::new("--out"), out.as_path()];
            all.extend(extra.iter().map(Path::new));
            run(&all)
        };
        assert_eq!(to(&unusable, &[]).status.code(), Some(2), "{command}: unusable input");
        assert!(!out.exists(), "{command}: nothing is written of unusable input");
        let first = to(&fails, &[]);
        assert_eq!((first.status.code(), first.stdout.len()), (Some(0), 0), "{command}: 0 whatever the verdict");
        let written = fs::read(&out).expect("the picture");
        fs::write(&out, b"mine").expect("it can be written");
        assert_eq!(to(&fails, &[]).status.code(), Some(2), "{command}: a file is in the way");
        assert_eq!(fs::read(&out).expect("it is there"), b"mine");
        assert_eq!(to(&fails, &["--force"]).status.code(), Some(0));
        assert_eq!(fs::read(&out).expect("it is there"), written);
        let printed = run(&[Path::new(command), &fails, Path::new("--out"), Path::new("-")]);
        assert_eq!(printed.stdout, written, "{command}: - is standard output");
    }
    fs::remove_dir_all(&folder).expect("it was this test's own");
}

#[test]
fn the_tree_on_the_command_line_keeps_the_exit_code_of_the_verdict() {
    for (name, code, holds) in [
        ("barn-fed-over-coax.toml", 0, "DC 15.7 V"),
        ("boathouse-long-run.toml", 1, "! FAIL low: 34.3 dBuV at 858 MHz"),
    ] {
        let said = run(&[Path::new("check"), &examples().join(name), Path::new("--tree")]);
        assert_eq!(said.status.code(), Some(code), "{name}");
        assert!(String::from_utf8_lossy(&said.stdout).contains(holds), "{name}");
    }
}
