//! Each caution is said where its danger is, and nowhere else.

use legwork::Db;
use legwork_file::caution::{self, Caution, Scene};
use legwork_file::{Checker, Finder, Source};

/// A bonded home with two televisions on a splitter, and nothing that calls for a caution of its own.
const PLAIN: &str = r#"
format = 1

[service]
split = "42/54 MHz"
carriers = [{ first = "57 MHz", last = "861 MHz", step = "6 MHz" }]

[entry]
forward = [["57 MHz", "10 dBmV"], ["861 MHz", "10 dBmV"]]
bonded = true

[spec.amplifier.own]
outputs = 1
gain = "4 dB"
return_gain = "0 dB"
noise_figure = "5 dB"
draw = "200 mA"
runs_on = ["10 V", "20 V"]
dc_ports = ["power", "1"]

[[part]]
id = "fork"
after = "entry"
splitter = "2-way"

[[outlet]]
id = "left"
after = "fork.1"
device = "tv"

[[outlet]]
id = "right"
after = "fork.2"
device = "tv"
"#;

/// All cautions, by the names that this test has for them.
const ALL: [(&str, &Caution); 16] = [
    ("DC on the coax", &caution::DC_ON_COAX),
    ("inside of a supply", &caution::SUPPLY_INSIDE),
    ("shield unbonded", &caution::SHIELD_UNBONDED),
    ("DC perhaps", &caution::DC_PERHAPS),
    ("shield open", &caution::SHIELD_OPEN),
    ("any work", &caution::ANY_WORK),
    ("phone drops", &caution::PHONE_DROPS),
    ("storm", &caution::STORM),
    ("shield at work", &caution::SHIELD_AT_WORK),
    ("shield at the bond", &caution::SHIELD_AT_BOND),
    ("neighbours", &caution::NEIGHBOURS),
    ("drill", &caution::DRILL),
    ("way open", &caution::WAY_OPEN),
    ("supply last", &caution::SUPPLY_LAST),
    ("DC at ports", &caution::DC_AT_PORTS),
    ("DC at a reading", &caution::DC_AT_READING),
];

/// The plain home with pieces exchanged and more behind.
fn home(edits: &[(&str, &str)], more: &str) -> String {
    edits.iter().fold(PLAIN.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    }) + more
}

fn holding(scene: &Scene<'_>) -> Vec<&'static str> {
    ALL.iter().filter(|(_, caution)| caution.holds(scene)).map(|(name, _)| *name).collect()
}

/// The cautions of a home beside "any work", which is always one.
fn of_home(edits: &[(&str, &str)], more: &str) -> Vec<&'static str> {
    let text = home(edits, more);
    let source = Source::new("home.toml", text.as_bytes()).expect("a text");
    let mut checker = Checker::new();
    let checked = checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let mut held = holding(&Scene::checked(&checked.report));
    let before = held.len();
    held.retain(|name| *name != "any work");
    assert_eq!(before, held.len() + 1);
    held
}

const FORK_AFTER_RUN: (&str, &str) = ("after = \"entry\"", "after = \"run\"");
const RUN: &str = "[[part]]\nid = \"run\"\nafter = \"entry\"\ncable = \"series-6\"\nlength = \"20 ft\"\n";
const FORK_AFTER_BOND: (&str, &str) = ("after = \"entry\"", "after = \"ground\"");
const BOND: &str = "[[part]]\nid = \"ground\"\nafter = \"entry\"\nbond = \"bond\"\nconductor = \"10 AWG\"\nconductor_length = \"8 ft\"\n";
const LEFT_AFTER_BOOSTER: (&str, &str) = ("after = \"fork.1\"", "after = \"booster.1\"");
const BOOSTER: &str = "[[part]]\nid = \"booster\"\nafter = \"fork.1\"\namplifier = \"own\"\n";
const PLUG: &str = "[[supply]]\nid = \"plug\"\nafter = \"booster.power\"\nvolts = \"15 V\"\namps = \"500 mA\"\n";

#[test]
fn a_plain_home_calls_for_none() {
    assert_eq!(of_home(&[], ""), [] as [&str; 0]);
}

#[test]
fn cable_calls_for_care_with_the_drill_and_outdoors_with_the_weather() {
    assert_eq!(of_home(&[FORK_AFTER_RUN], RUN), ["drill"]);
    assert_eq!(of_home(&[FORK_AFTER_RUN], &format!("{RUN}place = \"attic\"\n")), ["drill"]);
    assert_eq!(of_home(&[FORK_AFTER_RUN], &format!("{RUN}place = \"outdoor\"\n")), ["storm", "drill"]);
}

#[test]
fn a_bond_to_see_to_calls_for_a_test_of_the_shield() {
    let unbonded = ("bonded = true", "bonded = false");
    assert_eq!(of_home(&[unbonded], ""), ["shield unbonded", "shield at work", "shield at the bond"]);
    // Bonded by a part of this home, and bonded before it already.
    assert_eq!(of_home(&[unbonded, FORK_AFTER_BOND], BOND), ["shield at work", "shield at the bond"]);
    assert_eq!(of_home(&[FORK_AFTER_BOND], BOND), ["shield at work", "shield at the bond"]);
    let thin = BOND.replace("10 AWG", "18 AWG");
    assert_eq!(of_home(&[unbonded, FORK_AFTER_BOND], &thin)[0], "shield unbonded");
    let long = BOND.replace("8 ft", "80 ft");
    assert_eq!(of_home(&[unbonded, FORK_AFTER_BOND], &long)[0], "shield unbonded");
}

#[test]
fn whoever_has_a_telephone_is_asked() {
    let modem = "device = \"modem\"";
    assert_eq!(of_home(&[("device = \"tv\"", modem)], ""), [] as [&str; 0]);
    assert_eq!(of_home(&[("device = \"tv\"", "device = \"voice-modem\"")], ""), ["phone drops"]);
    assert_eq!(of_home(&[("device = \"tv\"", "device = \"modem\"\nlifeline = true")], ""), ["phone drops"]);
}

#[test]
fn a_home_network_and_open_ways_reach_others() {
    let network = "[home_network]\nband = [\"1125 MHz\", \"1675 MHz\"]\nmembers = [\"left\", \"right\"]\n";
    assert_eq!(of_home(&[], network), ["neighbours"]);
    let right = ("\n[[outlet]]\nid = \"right\"\nafter = \"fork.2\"\ndevice = \"tv\"\n", "");
    let ended = ("splitter = \"2-way\"", "splitter = \"2-way\"\nterminated = [2]");
    assert_eq!(of_home(&[right], ""), ["way open"]);
    assert_eq!(of_home(&[right, ended], ""), ["way open"]);
    assert_eq!(of_home(&[("device = \"tv\"", "device = \"unused\"")], ""), ["way open"]);
}

#[test]
fn a_supply_carries_mains_and_the_coax_its_dc() {
    assert_eq!(of_home(&[LEFT_AFTER_BOOSTER], BOOSTER), ["inside of a supply"]);
    // A power port is a port for coax too.
    let dc = ["DC on the coax", "supply last", "DC at ports", "DC at a reading"];
    assert_eq!(of_home(&[LEFT_AFTER_BOOSTER], &format!("{BOOSTER}{PLUG}")), dc);
    let distant = format!(
        "{BOOSTER}[[part]]\nid = \"feed\"\nafter = \"booster.1\"\ninserter = \"inserter\"\n{}",
        PLUG.replace("booster.power", "feed.dc")
    );
    let left_after_feed = ("after = \"fork.1\"", "after = \"feed.rf\"");
    assert_eq!(of_home(&[left_after_feed], &distant), dc);
    // Where two supplies meet no figures are worked out, but there is DC.
    let second = PLUG.replace("id = \"plug\"", "id = \"second\"");
    assert_eq!(of_home(&[left_after_feed], &format!("{distant}{second}")), dc);
}

#[test]
fn what_readings_accuse_is_opened_with_care() {
    let of_readings = |edits: &[(&str, &str)], more: &str, csv: &str| {
        let text = home(edits, more);
        let source = Source::new("home.toml", text.as_bytes()).expect("a text");
        let readings = Source::new("read.csv", csv.as_bytes()).expect("a text");
        let mut finder = Finder::new();
        let located = finder.locate(&source, &readings, Db::constant(0.2));
        let located = located.unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
        let mut held = holding(&Scene::read(&located));
        held.retain(|name| ["DC perhaps", "shield open"].contains(name));
        held
    };
    let lossy = "at,mhz,dbmv\nrun,57,2\nrun,861,-8\n";
    let sound = "at,mhz,dbmv\nleft,57,6\nleft,861,6\nright,57,6\nright,861,6\n";
    let outdoors = format!("{RUN}place = \"outdoor\"\n");
    assert_eq!(of_readings(&[FORK_AFTER_RUN], RUN, lossy), [] as [&str; 0]);
    assert_eq!(of_readings(&[FORK_AFTER_RUN], &outdoors, lossy), ["shield open"]);
    let bond = "at,mhz,dbmv\nground,57,2\nground,861,2\n";
    assert_eq!(of_readings(&[FORK_AFTER_BOND], BOND, bond), ["shield open"]);
    let supplied = format!("{RUN}{BOOSTER}{PLUG}");
    assert_eq!(of_readings(&[FORK_AFTER_RUN, LEFT_AFTER_BOOSTER], &supplied, lossy), ["DC perhaps"]);
    assert_eq!(of_readings(&[], "", sound), [] as [&str; 0]);
}
