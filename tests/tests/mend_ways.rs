//! What is told of a change, and what is written of it: who goes to another way, where terminators are, what a new
//! supply is called.

use legwork_file::Source;
use legwork_file::plan::{Mending, STACK, mend};
use legwork_tests::deeply;

/// Two televisions on the last ways of a splitter that is too large for them.
const HOME: &str = r#"
format = 1
name = "Ropewalk 12"

[service]
split = "42/54 MHz"
carriers = [{ first = "57 MHz", last = "861 MHz", step = "6 MHz" }]

[entry]
forward = [["57 MHz", "0.5 dBmV"], ["861 MHz", "0.5 dBmV"]]
bonded = true

[[part]]
id = "split"
after = "entry"
splitter = "4-way"
terminated = [1, 2]

[[outlet]]
id = "loom"
after = "split.3"
device = "tv"

[[outlet]]
id = "yarn"
after = "split.4"
device = "tv"
"#;

/// What is told of the home with one item on the truck.
fn told(item: &str) -> Vec<String> {
    mended(HOME, item).changes.iter().map(|change| change.says.clone()).collect()
}

/// What becomes of a home with one item on the truck, and one change.
fn mended(home: &str, item: &str) -> Mending {
    mended_with(home, &format!("[stock]\nitem = [{{ {item}, count = 1, cost = 2 }}]\n"))
}

/// The same with a whole stock.
fn mended_with(home: &str, stock: &str) -> Mending {
    deeply(STACK, || {
        let home = Source::new("home.toml", home.as_bytes()).expect("a text");
        let stock = Source::new("stock.toml", stock.as_bytes()).expect("a text");
        mend(&home, &stock, 1, &mut |_| true).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)))
    })
}

#[test]
fn who_has_to_go_to_another_way_is_told_where() {
    let says = "Swap splitter `split` for a splitter `2-way`. What hung on split.3 goes on split.1. What hung on split.4 goes \
                on split.2.";
    assert_eq!(told("splitter = \"2-way\""), [says]);
}

#[test]
fn who_can_stay_stays_and_nothing_is_said_of_it() {
    let says = "Swap splitter `split` for a splitter `3-way`. What hung on split.4 goes on split.1.";
    assert_eq!(told("splitter = \"3-way\""), [says]);
}

#[test]
fn ways_are_called_by_the_names_of_the_part_that_has_them() {
    let says = "Swap splitter `split` for a coupler `6-dB`. What hung on split.3 goes on split.through. What hung on split.4 \
                goes on split.tap.";
    assert_eq!(told("coupler = \"6-dB\""), [says]);
}

#[test]
fn ways_that_are_closed_are_closed_in_the_file_too() {
    for (item, closed) in [("splitter = \"2-way\"", None), ("splitter = \"3-way\"", Some("[2]"))] {
        let home: toml::Table = toml::from_str(&mended(HOME, item).planned.premises).expect("a home");
        let part = home["part"].as_array().and_then(|parts| parts.first()).expect("a part");
        assert_eq!(part.get("terminated").map(ToString::to_string).as_deref(), closed, "{item}");
    }
}

#[test]
fn a_supply_is_put_at_a_power_port_under_a_name_of_its_own() {
    let amplifier = "[[part]]\nid = \"split\"\nafter = \"entry\"\namplifier = \"own\"\nterminated = [1, 2]\n";
    let spec = "[spec.amplifier.own]\noutputs = 4\ngain = \"8 dB\"\nreturn_gain = \"0 dB\"\nnoise_figure = \"5 dB\"\ndraw = \"3 W\"\n\
                runs_on = [\"11 V\", \"18 V\"]\ndc_ports = [\"power\"]\n";
    let splitter = "[[part]]\nid = \"split\"\nafter = \"entry\"\nsplitter = \"4-way\"\nterminated = [1, 2]\n";
    let home = HOME.replace(splitter, amplifier) + spec;
    let mending = mended(&home, "supply = { volts = \"15 V\", amps = \"500 mA\" }");
    let says: Vec<&str> = mending.changes.iter().map(|change| change.says.as_str()).collect();
    assert_eq!(says, ["Plug a supply of 15 V, 500 mA into split.power."]);
    let home: toml::Table = toml::from_str(&mending.planned.premises).expect("a home");
    let supply = "after = \"split.power\"\namps = \"500 mA\"\nid = \"new supply\"\nvolts = \"15 V\"\n";
    assert_eq!(home["supply"].as_array().map(Vec::as_slice), Some(&[toml::from_str(supply).expect("a supply")][..]));
}

#[test]
fn a_swapped_cable_is_as_long_and_a_swapped_bond_has_the_same_conductor() {
    let run = "[[part]]\nid = \"run\"\nafter = \"block\"\ncable = \"old\"\nlength = \"80 ft\"\n\
               [[part]]\nid = \"block\"\nafter = \"entry\"\nbond = \"old\"\nconductor = \"12 AWG\"\nconductor_length = \"9 ft\"\n\
               [spec.cable.old]\nloss = [[\"5 MHz\", \"1 dB\"], [\"1000 MHz\", \"LOSS\"]]\nper = \"100 ft\"\nloop = \"4 ohm\"\nvelocity = 0.8\n\
               [spec.bond.old]\nloss = \"WEAR\"\n";
    let home = HOME.replace("\"entry\"", "\"run\"").replace("bonded = true", "").replace("0.5 dBmV", "9 dBmV") + run;
    for (loss, wear, item, key) in
        [("20 dB", "0.2 dB", "cable = \"series-6\"", "length"), ("6 dB", "9 dB", "bond = \"bond\"", "conductor_length")]
    {
        let mending = mended(&home.replace("LOSS", loss).replace("WEAR", wear), item);
        let home: toml::Table = toml::from_str(&mending.planned.premises).expect("a home");
        let parts = home["part"].as_array().expect("parts").iter();
        let kept: Vec<&str> = parts.filter_map(|part| part.get(key)?.as_str()).collect();
        assert_eq!((mending.changes.len(), kept), (1, vec![if key == "length" { "80 ft" } else { "9 ft" }]), "{item}");
    }
}

#[test]
fn reasons_are_what_was_wrong_and_nothing_that_was_only_noted() {
    // The old cable's table ends before the last carrier, which is noted and no fault.
    let run = "[[part]]\nid = \"run\"\nafter = \"entry\"\ncable = \"old\"\nlength = \"80 ft\"\n\
               [spec.cable.old]\nloss = [[\"5 MHz\", \"1 dB\"], [\"800 MHz\", \"20 dB\"]]\nper = \"100 ft\"\nloop = \"4 ohm\"\n\
               velocity = 0.8\n";
    let home = HOME.replace("after = \"entry\"", "after = \"run\"").replace("0.5 dBmV", "9 dBmV") + run;
    let mending = mended(&home, "cable = \"series-6\"");
    let reasons: Vec<&String> = mending.changes.iter().flat_map(|change| &change.reasons).collect();
    assert!(reasons.len() > 1 && reasons.iter().all(|reason| !reason.contains("table")), "{reasons:?}");
}

#[test]
fn a_change_that_just_does_is_enough() {
    // 0.5 dBmV less 6.5 dB is a television's least, -6 dBmV; on the limit is within.
    for (loss, is_enough) in [("6.5 dB", true), ("6.51 dB", false)] {
        let stock = format!(
            "[spec.splitter.even]\nlegs = 2\nloss = \"{loss}\"\n[stock]\nmargin = \"0 dB\"\nitem = [{{ splitter = \"even\", count = 1, cost = 2 }}]\n"
        );
        let mending = mended_with(HOME, &stock);
        assert_eq!((mending.planned.feasible, mending.changes.len()), (is_enough, usize::from(is_enough)), "{loss}");
    }
}

#[test]
fn who_hangs_on_a_part_may_come_to_any_of_the_ways_of_another() {
    // Ways of 16, 12, 8 and 4 dB: the cellar, behind 22 dB, needs the last, and the yarn, behind 16 dB, one of the
    // last two.
    let pads = "[[part]]\nid = \"faint\"\nafter = \"split.2\"\npad = \"16 dB\"\n\
                [[part]]\nid = \"faintest\"\nafter = \"split.3\"\npad = \"22 dB\"\n\
                [[outlet]]\nid = \"cellar\"\nafter = \"faintest\"\ndevice = \"tv\"\n\
                [spec.splitter.dull]\nlegs = 4\nloss = \"30 dB\"\n";
    let home = HOME.replace("[1, 2]", "[4]").replace("\"4-way\"", "\"dull\"").replace("0.5 dBmV", "20 dBmV");
    let home = home.replace("\"split.3\"", "\"split.1\"").replace("\"split.4\"", "\"faint\"") + pads;
    let stock = "[spec.splitter.steps]\nleg_loss = [\"16 dB\", \"12 dB\", \"8 dB\", \"4 dB\"]\n\
                 [stock]\nitem = [{ splitter = \"steps\", count = 1, cost = 2 }]\n";
    let mending = mended_with(&home, stock);
    let says: Vec<&str> = mending.changes.iter().map(|change| change.says.as_str()).collect();
    assert_eq!(
        says,
        [
            "Swap splitter `split` for a splitter `steps`. What hung on split.2 goes on split.3. What hung on split.3 goes on split.4."
        ]
    );
}

#[test]
fn what_is_put_is_called_by_its_kind() {
    let mending = mended(&HOME.replace("0.5 dBmV", "23 dBmV"), "pad = \"3 dB\"");
    let home: toml::Table = toml::from_str(&mending.planned.premises).expect("a home");
    let ids = home["part"].as_array().expect("parts").iter().filter_map(|part| part["id"].as_str());
    assert_eq!(ids.collect::<Vec<_>>(), ["new pad", "split"]);
}

#[test]
fn a_home_with_a_jack_for_nothing_is_not_searched() {
    let jack = "[[outlet]]\nid = \"loft\"\nafter = \"split.1\"\ndevice = \"unused\"\n";
    let home = HOME.replace("[1, 2]", "[2]") + jack;
    let planned = mended(&home, "splitter = \"3-way\"").planned;
    assert_eq!((planned.feasible, planned.steps), (false, 0));
}

#[test]
fn a_margin_that_is_wanted_at_an_amplifier_is_found_there() {
    // 135 carriers of 10 dBmV are 31.3 dBmV together: 0.7 dB below the most. Nothing else is near its limit.
    let amplifier = "[[part]]\nid = \"split\"\nafter = \"entry\"\namplifier = \"own\"\nterminated = [1, 2]\n";
    let spec = "[spec.amplifier.own]\noutputs = 4\ngain = \"0 dB\"\nreturn_gain = \"0 dB\"\nnoise_figure = \"5 dB\"\n\
                max_input_total = \"32 dBmV\"\ndraw = \"3 W\"\nruns_on = [\"11 V\", \"18 V\"]\n\
                dc_ports = [\"power\"]\n[[supply]]\nid = \"brick\"\nafter = \"split.power\"\nvolts = \"15 V\"\namps = \"1 A\"\n";
    let splitter = "[[part]]\nid = \"split\"\nafter = \"entry\"\nsplitter = \"4-way\"\nterminated = [1, 2]\n";
    let home = HOME.replace(splitter, amplifier).replace("\"0.5 dBmV\"", "\"10 dBmV\"") + spec;
    let stock = "[stock]\nmargin = \"2 dB\"\nitem = [{ pad = \"3 dB\", count = 1, cost = 2 }]\n";
    let mending = mended_with(&home, stock);
    let says: Vec<&str> = mending.changes.iter().map(|change| change.says.as_str()).collect();
    assert_eq!(says, ["Put a pad of 3 dB on entry, before what hangs there."]);
}
